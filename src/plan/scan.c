/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner.h"
#include "plan/print_parts.h"
#include "plan/scan_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* Open light reads 0; so far below it is no error of reading (common practice). */
static const double clearer_least = 0.02; /* D */

void ww_scan_plan_release(ww_scan_plan *plan) {
    if (!plan)
        return;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        for (size_t i = 0; i < plan->channel[c].n_tones; i++)
            free(plan->channel[c].tone[i].tone);
        free(plan->channel[c].tone);
    }
    ww_notes_release(&plan->notes);
    *plan = (ww_scan_plan)WW_SCAN_PLAN_INIT;
}

static ww_status check(const ww_scan_request *request, ww_error *err) {
    const ww_meta *meta = &request->negative->meta;
    const double separate = request->separate;
    char text[WW__PRINT_TEXT_SIZE];
    if (!(separate >= WW_SCAN_SEPARATE_LEAST && separate <= WW_SCAN_SEPARATE_MOST))
        return ww_error_set(err, WW_EDOMAIN, "%s",
                            ww__print_format(text, sizeof text,
                                             "%g D cannot be asked for; ask for a difference of "
                                             "%g to %g D",
                                             separate, WW_SCAN_SEPARATE_LEAST,
                                             WW_SCAN_SEPARATE_MOST));
    if (request->scanner->density == WW_DENSITY_REFLECTION)
        return ww_error_set(err, WW_EMISMATCH,
                            "the scanner was calibrated by reflected light, and a negative is "
                            "scanned in transmission; calibrate it on a film wedge");
    if (meta->process == WW_PROCESS_REVERSAL || meta->emulsion == WW_EMULSION_COLOUR_REVERSAL)
        return ww_error_set_at(err, WW_EMISMATCH, request->negative->file, 0,
                               "these are readings of reversal film, whose clouds are its thinnest "
                               "tones; give readings of a negative");
    return ww__print_tones_check(request->negative, err);
}

static ww_status make_channel(const ww_scan_request *request, ww_channel channel, bool first,
                              ww_scan_plan *plan, ww_error *err) {
    ww_scan_channel *made = &plan->channel[channel];
    double error = 0.0;
    ww_status status = ww__scan_tones_column(request, channel, &made->read, err);
    if (status == WW_OK)
        status = ww__scan_tones_read(request, made, &error, first ? &plan->notes : NULL, err);
    if (status != WW_OK)
        return status;
    ww__scan_channel_fill(request, channel, error, made);
    made->present = true;
    return WW_OK;
}

/* One that is not read at all tells less than any. */
static bool tells_less(const ww_scan_channel *a, const ww_scan_channel *b) {
    const bool over = a->tone[a->highlight].over, other = b->tone[b->highlight].over;
    return !other && (over || a->told > b->told);
}

/* The exposure that suits all, and the channel that is worst off. */
static void put_together(const ww_scan_request *request, ww_scan_plan *plan) {
    bool any = false;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        if (!channel->present)
            continue;
        if (!any || tells_less(channel, &plan->channel[plan->weakest]))
            plan->weakest = (ww_channel)c;
        plan->off |= channel->base_density < -clearer_least;
        plan->stops = any ? fmin(plan->stops, channel->stops.value) : channel->stops.value;
        any = true;
    }
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (plan->channel[c].present)
            ww__scan_channel_together(request, (ww_channel)c, plan->stops, &plan->channel[c]);
}

static ww_status make(const ww_scan_request *request, ww_scan_plan *plan, ww_error *err) {
    const ww_scanner *scanner = request->scanner;
    ww_status status = check(request, err);
    bool first = true;
    plan->separate = request->separate;
    plan->bits = scanner->bits;
    plan->white = scanner->white;
    plan->held = scanner->step > 1.0 ? (unsigned)lround(log2(scanner->white / scanner->step + 1.0))
                                     : scanner->bits;
    plan->encoded = ww__scanner_is_encoded(scanner);
    for (int c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++) {
        if (!scanner->channel[c].present)
            continue;
        status = make_channel(request, (ww_channel)c, first, plan, err);
        first = false;
    }
    if (status == WW_OK && first)
        status = ww_error_set(err, WW_ENODATA,
                              "the scanner file has no channel; calibrate the scanner again");
    if (status != WW_OK)
        return status;
    put_together(request, plan);
    status = ww__scan_more(request, plan, err);
    plan->holds &= !plan->off;
    return status == WW_OK ? ww__scan_remarks(request, plan, err) : status;
}

ww_status ww_scan_plan_make(const ww_scan_request *request, ww_scan_plan *plan, ww_error *err) {
    ww_scan_plan made = WW_SCAN_PLAN_INIT;
    assert(request && request->negative && request->scanner && plan);
    const ww_status status = make(request, &made, err);
    if (status == WW_OK)
        *plan = made;
    else
        ww_scan_plan_release(&made);
    return status;
}
