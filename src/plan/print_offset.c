/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <math.h>
#include <string.h>

static const double same_scale = 1e-6; /* of the scale: sizes that were typed alike */
/* How far a filter or a developer moves a paper's range, at most; common practice. */
static const double least_stretch = 0.5, most_stretch = 2.0;

/* 1 where a text says what is looked for, 0 where it says nothing, -1 where it says otherwise. */
static int match_text(const char *said, const char *wanted) {
    if (!said || !*said)
        return 0;
    return strcmp(said, wanted ? wanted : "") == 0 ? 1 : -1;
}

static int match_scale(ww_optional said, ww_optional wanted) {
    if (!said.set || !wanted.set)
        return 0;
    return fabs(said.value - wanted.value) <= same_scale * wanted.value ? 1 : -1;
}

/* How closely an entry fits, below 0 where it does not. */
static int match(const ww_print_request *request, const ww__print_sheet *sheet, bool tested,
                 const ww_print_offset *offset) {
    const ww_meta *meta = &sheet->curve->meta;
    const int part[] = {
        match_text(offset->paper, sheet->name), match_text(offset->contrast, meta->contrast),
        match_text(offset->lot, meta->lot), match_scale(offset->scale, request->scale)};
    int sum = 0;
    if (offset->tested != tested)
        return -1;
    for (size_t i = 0; i < sizeof part / sizeof part[0]; i++) {
        if (part[i] < 0)
            return -1;
        sum += part[i];
    }
    return sum;
}

/* The entry that fits most closely; NULL for none. */
static const ww_print_offset *find(const ww_print_request *request, const ww__print_sheet *sheet,
                                   bool tested) {
    const ww_print_offset *found = NULL;
    int best = -1;
    for (size_t i = 0; i < request->n_offsets; i++) {
        const ww_print_offset *next = &request->offset[i];
        const int fits = match(request, sheet, tested, next);
        if (fits < 0 || fits < best || (fits == best && next->prints <= found->prints))
            continue;
        best = fits;
        found = next;
    }
    return found;
}

const ww_print_offset *ww__print_offset_elsewhere(const ww_print_request *request,
                                                  const ww__print_sheet *sheet) {
    const ww_meta *meta = &sheet->curve->meta;
    for (size_t i = 0; i < request->n_offsets; i++) {
        const ww_print_offset *offset = &request->offset[i];
        if (offset->tested == (request->n_tests > 0) &&
            match_text(offset->paper, sheet->name) > 0 &&
            match_text(offset->contrast, meta->contrast) >= 0)
            return offset;
    }
    return NULL;
}

const ww_print_offset *ww__print_offset_sister(const ww_print_request *request,
                                               const ww__print_sheet *sheet) {
    for (size_t i = 0; i < request->n_offsets; i++) {
        const ww_print_offset *offset = &request->offset[i];
        if (offset->tested == (request->n_tests > 0) &&
            match_text(offset->paper, sheet->name) > 0 &&
            match_text(offset->contrast, sheet->curve->meta.contrast) < 0)
            return offset;
    }
    return NULL;
}

/* What a print taught beside a test print is no more than that beside the same one. */
static bool is_same_test(const ww_print_request *request, const ww__print_test *test,
                         const ww_print_offset *offset) {
    const ww_print_test *now = &request->test[test->which];
    return test->used && offset->test_s.set && offset->test_density.set &&
           now->time_s == offset->test_s.value && now->density == offset->test_density.value;
}

bool ww__print_offset_place(const ww_print_request *request, const ww__print_sheet *sheet,
                            const ww__print_test *test, double *log_h) {
    const ww_print_offset *offset = sheet->offset;
    if (!offset || !offset->tone || !*offset->tone)
        return false;
    if (request->n_tests > 0 && !is_same_test(request, test, offset))
        return false;
    return ww__print_papers_log_h(sheet, offset->density, log_h);
}

bool ww__print_offset_range(const ww__print_sheet *sheet, double *range) {
    double light = 0.0, dark = 0.0;
    if (!ww__print_papers_log_h(sheet, fmax(WW__PRINT_FIRST_TONE, sheet->lightest), &light) ||
        !ww__print_papers_log_h(sheet, fmin(WW__PRINT_BLACK * sheet->dmax, sheet->darkest), &dark))
        return false;
    *range = dark - light;
    return *range > 0.0;
}

static ww_status refuse(const ww__print_sheet *sheet, const char *what, double value,
                        ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    return ww_error_set(err, WW_EDOMAIN, "%s",
                        ww__print_format(text, sizeof text,
                                         "earlier prints on '%s' are said to have taught %s of %g, "
                                         "which no print teaches; take that entry out",
                                         ww__print_show(sheet->name).text, what, value));
}

static ww_status check(const ww__print_sheet *sheet, const ww_print_offset *offset, ww_error *err) {
    if (offset && !(fabs(offset->log_h) <= WW_PRINT_OFFSET_MOST))
        return refuse(sheet, "an offset in log H", offset->log_h, err);
    if (offset && !(offset->sd >= 0.0 && offset->sd <= WW_PRINT_OFFSET_MOST))
        return refuse(sheet, "a standard deviation", offset->sd, err);
    return WW_OK;
}

/* A test print has the speed in it that other prints taught, but not the range: that holds beside
 * it, unless prints made by a test have taught it anew. */
ww_status ww__print_offset_apply(const ww_print_request *request, double first_log_h,
                                 ww__print_sheet *sheet, ww_error *err) {
    const ww_print_offset *offset = find(request, sheet, request->n_tests > 0);
    const ww_print_offset *witness = request->n_tests > 0 ? find(request, sheet, false) : NULL;
    double range = 0.0, stretch;
    ww_status status = check(sheet, offset, err);
    if (status == WW_OK)
        status = check(sheet, witness, err);
    if (status != WW_OK)
        return status;
    sheet->offset = offset;
    sheet->witness = witness;
    sheet->taught_range = offset ? offset->range : witness ? witness->range : 0.0;
    if (sheet->taught_range == 0.0 || !ww__print_offset_range(sheet, &range))
        return WW_OK;
    stretch = (range - sheet->taught_range) / range;
    if (!(stretch >= least_stretch && stretch <= most_stretch))
        return refuse(sheet, "a range shorter by a log H", sheet->taught_range, err);
    ww__print_papers_harden(sheet, first_log_h, stretch);
    return WW_OK;
}
