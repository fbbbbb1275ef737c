/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_result_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/exposure.h>

static const double same_number = 1e-6; /* of it: sizes and apertures that were typed alike */

static void release_offset(ww_print_offset *offset) {
    free(offset->paper);
    free(offset->contrast);
    free(offset->lot);
    free(offset->tone);
}

void ww_print_offsets_release(ww_print_offset offset[], size_t n) {
    for (size_t i = 0; i < n; i++)
        release_offset(&offset[i]);
    free(offset);
}

void ww_print_miss_release(ww_print_miss *miss) {
    if (!miss)
        return;
    for (size_t i = 0; i < miss->n_tones; i++)
        free(miss->tone[i].tone);
    free(miss->tone);
    free(miss->besides);
    free(miss->paper);
    free(miss->contrast);
    free(miss->telling);
    free(miss->other);
    free(miss->odd);
    free(miss->why);
    release_offset(&miss->offset);
    ww_notes_release(&miss->notes);
    *miss = (ww_print_miss)WW_PRINT_MISS_INIT;
}

/* ------------------------------------------------------------- does it belong to the plan */

static ww_status check_kind(const ww_readings *print, ww_error *err) {
    const ww_meta *meta = &print->meta;
    const char *file = print->file;
    if (meta->process == WW_PROCESS_REVERSAL || meta->emulsion == WW_EMULSION_COLOUR_REVERSAL)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "these are readings of reversal material, and the plan is for a "
                               "print from a negative");
    if (meta->material != WW_MATERIAL_UNKNOWN && meta->material != WW_MATERIAL_PRINT &&
        meta->material != WW_MATERIAL_PAPER)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "these are readings of a %s, not of a print; --result takes those "
                               "of the print that came out",
                               ww_material_name(meta->material));
    if (meta->density == WW_DENSITY_TRANSMISSION || meta->relative == WW_RELATIVE_BASE)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "a print is read by reflection, absolute or relative to its white; "
                               "these readings are %s",
                               meta->relative == WW_RELATIVE_BASE ? "relative to a film's base"
                                                                  : "transmission densities");
    return WW_OK;
}

/* What was said of print and plan alike must agree. */
static ww_status check_number(const ww_readings *print, ww_optional said, ww_optional planned,
                              const char *what, const char *option, ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    if (!said.set || !planned.set ||
        fabs(said.value - planned.value) <= same_number * fabs(planned.value))
        return WW_OK;
    ww__print_format(text, sizeof text,
                     "the print was made at %s %g, and the plan is for %g; give the plan that it "
                     "was made to, with %s %g",
                     what, said.value, planned.value, option, said.value);
    return ww_error_set_at(err, WW_EMISMATCH, print->file, 0, "%s", text);
}

static ww_optional either(ww_optional first, ww_optional second) {
    return first.set ? first : second;
}

static ww_status check_paper(const ww_print_request *request, const ww__print_sheet *sheet,
                             const ww_readings *print, ww_error *err) {
    const ww_meta *meta = &sheet->curve->meta, *said = &print->meta;
    ww_status status;
    if (said->status != WW_STATUS_UNKNOWN && meta->status != WW_STATUS_UNKNOWN &&
        said->status != meta->status)
        return ww_error_set_at(err, WW_EMISMATCH, print->file, 0,
                               "the print was read in status %s and its paper's curve in status "
                               "%s, which are not one scale; read the print as the curve was",
                               ww_density_status_name(said->status),
                               ww_density_status_name(meta->status));
    if (said->read == WW_READ_WET && meta->read != WW_READ_WET)
        return ww_error_set_at(err, WW_EMISMATCH, print->file, 0,
                               "the print was read wet and its paper's curve is of dry paper; read "
                               "the print when it is dry");
    if (said->lot && *said->lot && meta->lot && *meta->lot && strcmp(said->lot, meta->lot) != 0)
        return ww_error_set_at(err, WW_EMISMATCH, print->file, 0,
                               "the print is on lot '%s' and the plan's paper is lot '%s'; give "
                               "the curve of that lot with --paper",
                               ww__print_show(said->lot).text, ww__print_show(meta->lot).text);
    status = check_number(print, said->scale, either(request->scale, meta->scale), "magnification",
                          "--scale", err);
    return status == WW_OK
               ? check_number(print, said->aperture, either(request->aperture, meta->aperture),
                              "f-number", "--aperture", err)
               : status;
}

/* Every tone that was read must be one of the negative's. */
static ww_status check_tones(const ww__print_negative *negative, const ww_readings *print,
                             ww_error *err) {
    for (size_t i = 0; i < print->n; i++) {
        const ww_row *row = &print->row[i];
        char names[WW__PRINT_TEXT_SIZE / 2];
        if (row->is_base || row->tone[0] == '\0' ||
            ww__print_tones_named(negative, row->tone) != NULL)
            continue;
        ww__print_placing_names(negative, names, sizeof names);
        return ww_error_set_at(err, WW_ENODATA, print->file, row->line,
                               "the print's tone '%s' is none of the negative's: %s; correct the "
                               "name, or read that tone on the negative too",
                               ww__print_show(row->tone).text, names);
    }
    return WW_OK;
}

/* A density without a tone can be set beside nothing that was foretold. */
static ww_status note_nameless(const ww__result *result, ww_print_miss *miss, ww_error *err) {
    for (size_t i = 0; i < result->print->n; i++) {
        const ww_row *row = &result->print->row[i];
        const ww_cell *cell = &row->cell[result->channel];
        if (row->is_base || row->tone[0] != '\0' || cell->state == WW_CELL_MISSING)
            continue;
        return ww__print_say(&miss->notes, err,
                             "What the print's readings hold without a tone, from line %zu on, was "
                             "left out: name the place in column tone to have it weighed.",
                             row->line);
    }
    return WW_OK;
}

/* The paper that it was made on: the plan's choice, or the one of the contrast that is said. */
static ww_status choose(const ww__print_desk *desk, const ww_readings *print,
                        const ww__print_candidate **candidate, ww_error *err) {
    const char *said = print->meta.contrast;
    *candidate = &desk->candidate[0];
    if (said && *said) {
        size_t i = 0;
        while (i < desk->n && !(desk->candidate[i].paper.contrast &&
                                strcmp(desk->candidate[i].paper.contrast, said) == 0))
            i++;
        if (i == desk->n)
            return ww_error_set_at(err, WW_ENODATA, print->file, 0,
                                   "the print is on contrast '%s', which no paper of the plan is; "
                                   "give that paper's curve with --paper, or correct the print's "
                                   "contrast",
                                   ww__print_show(said).text);
        *candidate = &desk->candidate[i];
    }
    if ((*candidate)->paper.time_s.set)
        return WW_OK;
    return ww_error_set_at(err, WW_ENODATA, print->file, 0,
                           "the plan had no time, so the print can't have missed it; give a tone "
                           "of the print as a test print instead: --test SECONDS:TONE=DENSITY");
}

/* ---------------------------------------------------------------------- channel and white */

static ww_status find_channel(ww__result *result, ww_error *err) {
    const ww__print_sheet *sheet = result->candidate->sheet;
    result->channel = (ww_channel)(sheet->channel - sheet->curve->channel);
    if (result->print->has[result->channel])
        return WW_OK;
    return ww_error_set_at(err, WW_ENODATA, result->print->file, 0,
                           "the print has no %s densities, by which its paper's curve goes; read "
                           "it through that filter",
                           ww_channel_name(result->channel));
}

static ww__print_end base_of(const ww__result *result) {
    ww__print_end base = {.rows = 0};
    for (size_t i = 0; i < result->print->n; i++) {
        const ww_row *row = &result->print->row[i];
        if (row->is_base && row->cell[result->channel].state == WW_CELL_VALUE)
            ww__print_tones_add(&base, &row->cell[result->channel], row->line);
    }
    return base;
}

/* A white that is another than the curve's tells of fog or stain all over, or of another paper. */
static ww_status note_white(const ww__result *result, ww_print_miss *miss, ww_error *err) {
    const ww__print_sheet *sheet = result->candidate->sheet;
    const double off = result->white - sheet->white;
    const double doubt = 2.0 * hypot(result->white_sd, sheet->white_sd);
    if (sheet->nominal || sheet->curve->meta.relative == WW_RELATIVE_WHITE ||
        result->print->meta.relative == WW_RELATIVE_WHITE ||
        fabs(off) <= fmax(WW__RESULT_WHITE, doubt))
        return WW_OK;
    return ww__print_say(&miss->notes, err,
                         "The print's paper white reads %.2f and that of the curve %.2f: %s, or "
                         "another paper. Its tones count above its own white.",
                         result->white, sheet->white,
                         off > 0.0 ? "fog or stain over the whole sheet"
                                   : "the curve's paper was fogged or stained");
}

static ww_status find_white(ww__result *result, ww_print_miss *miss, ww_error *err) {
    const ww__print_sheet *sheet = result->candidate->sheet;
    const bool relative = result->print->meta.relative == WW_RELATIVE_WHITE;
    const ww__print_end base = base_of(result);
    result->white = 0.0;
    if (relative)
        return WW_OK;
    if (base.state == WW_CELL_VALUE) {
        result->white = base.density;
        result->white_sd = base.error;
        return note_white(result, miss, err);
    }
    if (sheet->nominal || sheet->curve->meta.relative == WW_RELATIVE_WHITE)
        return ww_error_set_at(err, WW_EMISMATCH, result->print->file, 0,
                               "the print's densities are absolute, and nothing says what its "
                               "paper white reads; add a row 'base', or '# relative to: white'");
    result->white = sheet->white;
    return ww__print_say(&miss->notes, err,
                         "The print has no row 'base': the white of its paper's curve, %.2f, "
                         "stands in for its own.",
                         sheet->white);
}

/* ------------------------------------------------------------------------------- explain */

/* The print's own time; else that of the plan, as the timer was set to it. */
static ww_status find_time(ww__result *result, ww_error *err) {
    const ww_optional said = result->print->meta.exposure_time_s;
    char text[WW__PRINT_TEXT_SIZE];
    result->time_s = said.value;
    if (!said.set) {
        const ww_status status =
            ww_exposure_round(result->candidate->paper.time_s.value, result->request->timer_step_s,
                              &result->time_s, err);
        if (status != WW_OK)
            return status;
    }
    if (result->time_s >= WW_PRINT_TEST_LEAST && result->time_s <= WW_PRINT_TEST_MOST)
        return WW_OK;
    ww__print_format(text, sizeof text, "a print is not exposed for %g s; correct 'exposure time'",
                     result->time_s);
    return ww_error_set_at(err, WW_EDOMAIN, result->print->file, 0, "%s", text);
}

static char *copy_text(const char *text, ww_status *status, ww_error *err) {
    char *copy = *status == WW_OK ? strdup(text ? text : "") : NULL;
    if (!copy && *status == WW_OK)
        *status = ww_error_set(err, WW_EMEMORY, "no memory for a name");
    return copy;
}

/* Where the tones fell far from where they were foretold, all is judged by the errors that negative
 * and curve have there. */
static ww_status try_causes(ww__result *result, ww__result_fit *fit, ww_print_miss *miss,
                            ww_error *err) {
    const ww_optional *log_h = &miss->hypothesis[WW_MISS_EXPOSURE].log_h;
    ww_status status = ww__result_causes_try(result, fit, miss, err);
    if (status != WW_OK || !log_h->set || fabs(log_h->value) < WW__RESULT_ALIKE)
        return status;
    status = ww__result_points_move(result, log_h->value, err);
    return status == WW_OK ? ww__result_causes_try(result, fit, miss, err) : status;
}

/* Fog or flare is remembered once it was told, for as long as prints leave it possible. */
static void remember_light(const ww__result *result, ww_print_miss *miss) {
    const ww_miss_hypothesis *light = &miss->hypothesis[WW_MISS_LIGHT_END];
    if (miss->sight != WW_MISS_SEEN)
        miss->lift = result->request->lift;
    else if (light->supported && (miss->n_supported == 1 || result->request->lift.set))
        miss->lift = light->lift;
}

static ww_status explain(ww__result *result, ww_print_miss *miss, ww_error *err) {
    ww__result_fit fit = {.fog = false};
    ww__result_rest rest = {.used = false};
    ww_status status = find_channel(result, err);
    if (status == WW_OK)
        status = note_nameless(result, miss, err);
    if (status == WW_OK)
        status = find_white(result, miss, err);
    if (status == WW_OK)
        status = find_time(result, err);
    if (status == WW_OK && !ww__print_offset_range(result->candidate->sheet, &result->range))
        result->range = 0.0;
    if (status == WW_OK)
        status = ww__result_points_set(result, err);
    if (status == WW_OK)
        status = ww__result_plain_find(result, miss, err);
    if (status == WW_OK && miss->sight == WW_MISS_SEEN)
        status = try_causes(result, &fit, miss, err);
    if (status == WW_OK && miss->sight == WW_MISS_SEEN)
        status = ww__result_rest_try(result, &fit, miss, &rest, err);
    if (status == WW_OK)
        status = ww__result_telling_find(result, &fit, miss, err);
    if (status == WW_OK)
        status = ww__result_rest_learn(result, &rest, &fit, miss, err);
    if (status == WW_OK)
        status = ww__result_words(result, &fit, miss, err);
    ww__result_rest_release(&rest);
    remember_light(result, miss);
    miss->time_s = result->time_s;
    miss->paper = copy_text(result->candidate->paper.paper, &status, err);
    miss->contrast = copy_text(result->candidate->paper.contrast, &status, err);
    return status;
}

static ww_status read_and_explain(const ww_print_request *request, const ww__print_desk *desk,
                                  const ww_readings *pooled, ww_print_miss *miss, ww_error *err) {
    ww__result result = {.request = request, .negative = &desk->negative, .print = pooled};
    ww_status status = check_kind(pooled, err);
    if (status == WW_OK)
        status = check_tones(&desk->negative, pooled, err);
    if (status == WW_OK)
        status = choose(desk, pooled, &result.candidate, err);
    if (status == WW_OK)
        status = check_paper(request, result.candidate->sheet, pooled, err);
    if (status == WW_OK)
        status = explain(&result, miss, err);
    ww__result_release(&result);
    return status;
}

ww_status ww_print_result_explain(const ww_print_request *request, const ww_readings *print,
                                  ww_print_miss *miss, ww_error *err) {
    ww__print_desk desk = WW__PRINT_DESK_INIT;
    ww_readings pooled = WW_READINGS_INIT;
    ww_print_miss made = {.set = true};
    ww_notes notes = {.text = NULL}; /* of the plan, which is not ours to tell */
    ww_status status;
    assert(request && request->negative && print && miss);
    status = ww__print_desk_fill(request, &desk, &notes, err);
    if (status == WW_OK)
        status = ww_readings_pool(print, &pooled, err);
    if (status == WW_OK)
        status = ww_notes_copy(&pooled.notes, &made.notes, err);
    if (status == WW_OK)
        status = read_and_explain(request, &desk, &pooled, &made, err);
    ww_readings_release(&pooled);
    ww_notes_release(&notes);
    ww__print_desk_release(&desk);
    if (status == WW_OK)
        *miss = made;
    else
        ww_print_miss_release(&made);
    return status;
}
