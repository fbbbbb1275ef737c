/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/exposure.h>

void ww__print_negative_release(ww__print_negative *negative) {
    if (!negative)
        return;
    ww_readings_release(&negative->pooled);
    free(negative->spot);
    *negative = (ww__print_negative)WW__PRINT_NEGATIVE_INIT;
}

const ww__print_spot *ww__print_tones_first(const ww__print_negative *negative) {
    return &negative->spot[negative->first];
}

double ww__print_tones_range_width(const ww__print_negative *negative) {
    const ww__print_spot *first = &negative->spot[negative->first];
    const ww__print_spot *other = &negative->spot[negative->other];
    return WW__PRINT_95 * hypot(first->error * first->seen_slope, other->error * other->seen_slope);
}

bool ww__print_tones_whole(const ww__print_spot *spot) {
    return spot->end[WW_PART_WHOLE].state == WW_CELL_VALUE &&
           spot->end[WW_PART_THIN].state == WW_CELL_MISSING &&
           spot->end[WW_PART_DENSE].state == WW_CELL_MISSING;
}

const ww__print_spot *ww__print_tones_named(const ww__print_negative *negative, const char *name) {
    for (size_t i = 0; i < negative->n; i++)
        if (strcmp(negative->spot[i].name, name) == 0)
            return &negative->spot[i];
    return NULL;
}

ww_status ww__print_tones_check(const ww_readings *readings, ww_error *err) {
    const ww_meta *meta = &readings->meta;
    const char *file = readings->file;
    if (meta->process == WW_PROCESS_REVERSAL || meta->emulsion == WW_EMULSION_COLOUR_REVERSAL)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "these are readings of reversal film; grades and ranges of papers "
                               "that print negatives say nothing about a positive");
    if (meta->material != WW_MATERIAL_UNKNOWN && meta->material != WW_MATERIAL_FILM &&
        meta->material != WW_MATERIAL_NEGATIVE)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "these are readings of a %s, not of a negative; give readings of "
                               "the negative's tones",
                               ww_material_name(meta->material));
    if (meta->density == WW_DENSITY_REFLECTION || meta->relative == WW_RELATIVE_WHITE)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "a negative is read in transmission, absolute or relative to its "
                               "base; these readings are %s. Give readings of the film, or, if "
                               "these are, correct their line '%s'",
                               meta->relative == WW_RELATIVE_WHITE ? "relative to paper white"
                                                                   : "reflection densities",
                               meta->relative == WW_RELATIVE_WHITE ? "relative to" : "density");
    return WW_OK;
}

void ww__print_tones_add(ww__print_end *end, const ww_cell *cell, size_t line) {
    end->line = end->line > 0 ? end->line : line;
    if (cell->state == WW_CELL_OVER) {
        end->state = WW_CELL_OVER;
    } else if (cell->state == WW_CELL_VALUE && end->state != WW_CELL_OVER) {
        const double rows = (double)++end->rows;
        const double away = cell->value - end->density;
        end->density += away / rows;
        end->error = hypot(end->error * (rows - 1.0), ww_readings_error(cell)) / rows;
        end->state = WW_CELL_VALUE;
    }
}

static ww__print_spot *spot_of(ww__print_negative *negative, const ww_row *row) {
    const char *name = row->is_base ? "base" : row->tone;
    for (size_t i = 0; i < negative->n; i++)
        if (strcmp(negative->spot[i].name, name) == 0)
            return &negative->spot[i];
    negative->spot[negative->n] = (ww__print_spot){.name = name, .base = row->is_base};
    return &negative->spot[negative->n++];
}

/* A density that nobody can place would be missed only by whoever typed it. */
static ww_status refuse_nameless(const ww_readings *pooled, const ww_row *row, const ww_cell *cell,
                                 ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE], density[32] = "over";
    if (cell->state == WW_CELL_VALUE)
        ww__print_format(density, sizeof density, "%.2f", cell->value);
    ww__print_format(text, sizeof text,
                     "this density, %s, has no tone: name the place in the picture in column tone, "
                     "or take the row out",
                     density);
    return ww_error_set_at(err, WW_EINPUT, pooled->file, row->line, "%s", text);
}

static ww_status gather(ww__print_negative *negative, ww_error *err) {
    const ww_readings *pooled = &negative->pooled;
    ww_status status = WW_OK;
    negative->spot = calloc(pooled->n + 1, sizeof *negative->spot);
    if (!negative->spot)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu tones", pooled->n);
    for (size_t i = 0; i < pooled->n && status == WW_OK; i++) {
        const ww_row *row = &pooled->row[i];
        const ww_cell *cell = &row->cell[negative->channel];
        if (cell->state == WW_CELL_MISSING)
            continue;
        if (row->tone[0] == '\0' && !row->is_base)
            status = refuse_nameless(pooled, row, cell, err);
        else
            ww__print_tones_add(&spot_of(negative, row)->end[row->part], cell, row->line);
    }
    return status;
}

/*
 * The middle: the mean of both ends, else the whole, else the end that is there. Where an end lies
 * beyond the instrument, the other one does not stand for the tone's middle, but it can be printed.
 */
static void find_middle(ww__print_spot *spot) {
    const ww__print_end *whole = &spot->end[WW_PART_WHOLE];
    const ww__print_end *thin = &spot->end[WW_PART_THIN], *dense = &spot->end[WW_PART_DENSE];
    const ww__print_end *one = whole;
    spot->judged = thin->state == WW_CELL_VALUE && dense->state == WW_CELL_VALUE;
    spot->known = true;
    if (spot->judged) {
        spot->density = 0.5 * (thin->density + dense->density);
        spot->error = 0.5 * hypot(thin->error, dense->error);
        return;
    }
    spot->over = whole->state == WW_CELL_OVER ||
                 (whole->state == WW_CELL_MISSING &&
                  (thin->state == WW_CELL_OVER || dense->state == WW_CELL_OVER));
    if (whole->state != WW_CELL_VALUE)
        one = thin->state == WW_CELL_VALUE ? thin : dense;
    spot->known = one->state == WW_CELL_VALUE;
    spot->density = one->density;
    spot->error = one->error;
}

static ww_status check_ends(const ww__print_spot *spot, const char *file, ww_error *err) {
    const ww__print_end *thin = &spot->end[WW_PART_THIN], *dense = &spot->end[WW_PART_DENSE];
    char text[WW__PRINT_TEXT_SIZE];
    if (!spot->judged || thin->density - dense->density <= 2.0 * hypot(thin->error, dense->error))
        return WW_OK;
    ww__print_format(
        text, sizeof text,
        "the thin part of '%s' reads %.2f and its dense part %.2f; the thin part is the "
        "one of less density: change them over",
        ww__print_show(spot->name).text, thin->density, dense->density);
    return ww_error_set_at(err, WW_EMISMATCH, file, dense->line, "%s", text);
}

const ww__print_spot *ww__print_tones_base(const ww__print_negative *negative) {
    for (size_t i = 0; i < negative->n; i++)
        if (negative->spot[i].base && negative->spot[i].known)
            return &negative->spot[i];
    return NULL;
}

/* No place on a film is thinner than its base+fog: one of the two was misread or mistyped. */
static ww_status check_end_over(const ww__print_negative *negative, const ww__print_spot *spot,
                                const ww__print_end *end, double base, double error,
                                ww_error *err) {
    const double doubt = fmax(WW__PRINT_UNDER_BASE, 2.0 * hypot(end->error, error));
    char text[WW__PRINT_TEXT_SIZE];
    if (spot->base || end->state != WW_CELL_VALUE || end->density >= base - doubt)
        return WW_OK;
    ww__print_format(text, sizeof text,
                     "'%s' reads %.2f, thinner than the film's base+fog, %.2f, which nothing on a "
                     "film is; read both again and correct the row",
                     ww__print_show(spot->name).text, end->density, base);
    return ww_error_set_at(err, WW_EMISMATCH, negative->pooled.file, end->line, "%s", text);
}

static ww_status check_base(const ww__print_negative *negative, ww_error *err) {
    const bool relative = negative->pooled.meta.relative == WW_RELATIVE_BASE;
    const ww__print_spot *spot = ww__print_tones_base(negative);
    /* In a relative set a base row that gives the base's own density is not the zero. */
    const bool row = spot && !(relative && spot->density >= WW__PRINT_BASE_LEAST);
    const double base = row ? spot->density : 0.0;
    ww_status status = WW_OK;
    if (!row && !relative)
        return WW_OK;
    for (size_t i = 0; i < negative->n && status == WW_OK; i++)
        for (size_t part = 0; part < 3 && status == WW_OK; part++)
            status = check_end_over(negative, &negative->spot[i], &negative->spot[i].end[part],
                                    base, row ? spot->error : 0.0, err);
    return status;
}

/* Relative readings can be brought to open light by a base row that gives the base's own density.
 */
static ww_status find_base(ww__print_negative *negative, ww_notes *notes, ww_error *err) {
    const ww__print_spot *spot = ww__print_tones_base(negative);
    negative->absolute = negative->pooled.meta.relative != WW_RELATIVE_BASE;
    if (negative->absolute)
        return WW_OK;
    if (spot && spot->density >= WW__PRINT_BASE_LEAST) {
        negative->absolute = true;
        negative->base = spot->density;
        return ww__print_say(notes, err,
                             "The negative's densities are relative to its base; the base row's "
                             "%.2f was added for the time. Where they are absolute, take the line "
                             "'relative to' out: it would be counted twice.",
                             spot->density);
    }
    return ww_notes_add(notes, err,
                        "The negative's densities are relative to its base, whose own density is "
                        "not given: range and contrast follow, seconds do not.");
}

static ww_status see(const ww_print_request *request, double density, double *seen, ww_error *err) {
    return ww_exposure_flare(request->callier * density, request->enlarger_flare, seen, err);
}

static ww_status see_spot(const ww_print_request *request, const ww__print_negative *negative,
                          ww__print_spot *spot, ww_error *err) {
    /* A base row in a relative set is the base itself, whichever way it was read. */
    const double added = spot->base && negative->base > 0.0 ? 0.0 : negative->base;
    const double light = pow(10.0, -request->callier * (spot->density + added));
    ww_status status = see(request, spot->density + added, &spot->seen, err);
    for (size_t part = 0; part < 3 && status == WW_OK; part++)
        if (spot->end[part].state == WW_CELL_VALUE)
            status = see(request, spot->end[part].density + added, &spot->end[part].seen, err);
    spot->seen_slope = request->callier * light / (light + request->enlarger_flare);
    return status;
}

/* What could not be read in full, as the end of a sentence that begins with the tone's name. */
static const char *shortfall(const ww__print_spot *spot) {
    const ww__print_end *end = spot->end;
    if (spot->over && !spot->known)
        return "reads beyond the instrument, so nothing is foretold of it; read it on one that "
               "reaches further.";
    if (end[WW_PART_THIN].state == WW_CELL_OVER || end[WW_PART_DENSE].state == WW_CELL_OVER)
        return "has an end beyond the instrument: its figures are those of what was read, and its "
               "detail is not judged.";
    if (spot->known && !spot->judged && end[WW_PART_WHOLE].state != WW_CELL_VALUE)
        return "was read at one end only: its figures are those of that end, and its detail is not "
               "judged.";
    if (spot->judged && end[WW_PART_WHOLE].state == WW_CELL_VALUE)
        return "is taken by the mean of its two ends; its whole reading was not used.";
    return NULL;
}

static ww_status note_shortfalls(const ww__print_negative *negative, ww_notes *notes,
                                 ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < negative->n && status == WW_OK; i++) {
        const char *what = shortfall(&negative->spot[i]);
        if (what)
            status = ww_notes_add(notes, err, "'%s' %s",
                                  ww__print_show(negative->spot[i].name).text, what);
    }
    return status;
}

static bool is_colour_paper(const ww_curve *paper) {
    return paper->channel[WW_RED].present && paper->channel[WW_GREEN].present &&
           paper->channel[WW_BLUE].present;
}

static ww_status note_reading(const ww_print_request *request, const ww__print_negative *negative,
                              ww_notes *notes, ww_error *err) {
    const ww_meta *meta = &negative->pooled.meta;
    /* A silver image is grey: the eye's filter sees of it what the paper does. */
    const bool alike = meta->status == WW_STATUS_UNKNOWN || meta->status == WW_STATUS_PRINTING ||
                       (meta->status == WW_STATUS_VISUAL && meta->grain == WW_GRAIN_SILVER);
    ww_status status = WW_OK;
    bool colour = false;
    for (size_t i = 0; i < request->n_papers; i++)
        colour = colour || is_colour_paper(request->paper[i]);
    if (colour)
        status = ww_notes_add(notes, err,
                              "A colour paper's time alone was sought, by %s densities of the "
                              "negative: one time cannot set its colour. Give the first print's "
                              "readings to balance for pack and time.",
                              ww_channel_name(negative->channel));
    else if (negative->channel != WW_VISUAL)
        status = ww_notes_add(notes, err,
                              "The negative's %s densities stand in for what a "
                              "black-and-white paper sees.",
                              ww_channel_name(negative->channel));
    if (status == WW_OK && !alike)
        status = ww_notes_add(notes, err,
                              "The negative's densities of status %s stand in for the paper's own "
                              "view of it; dye and stain can differ.",
                              ww_density_status_name(meta->status));
    return status;
}

ww_status ww__print_tones_gather(const ww_readings *readings, ww_channel channel,
                                 ww__print_negative *negative, ww_error *err) {
    ww_status status = ww_readings_pool(readings, &negative->pooled, err);
    negative->channel = channel;
    if (status == WW_OK)
        status = gather(negative, err);
    for (size_t i = 0; i < negative->n && status == WW_OK; i++) {
        find_middle(&negative->spot[i]);
        status = check_ends(&negative->spot[i], negative->pooled.file, err);
    }
    return status == WW_OK ? check_base(negative, err) : status;
}

static ww_status read_into(const ww_print_request *request, ww__print_negative *negative,
                           ww_notes *notes, ww_error *err) {
    ww_channel channel = WW_VISUAL;
    ww_status status = ww__print_tones_check(request->negative, err);
    if (status == WW_OK)
        status = ww_readings_black_and_white_channel(request->negative, &channel, err);
    if (status == WW_OK)
        status = ww__print_tones_gather(request->negative, channel, negative, err);
    if (status == WW_OK)
        status = ww_notes_copy(&negative->pooled.notes, notes, err);
    if (status == WW_OK)
        status = find_base(negative, notes, err);
    for (size_t i = 0; i < negative->n && status == WW_OK; i++)
        status = see_spot(request, negative, &negative->spot[i], err);
    if (status == WW_OK)
        status = note_reading(request, negative, notes, err);
    if (status == WW_OK)
        status = note_shortfalls(negative, notes, err);
    return status == WW_OK ? ww__print_placing_set(request, negative, notes, err) : status;
}

ww_status ww__print_tones_read(const ww_print_request *request, ww__print_negative *negative,
                               ww_notes *notes, ww_error *err) {
    ww__print_negative made = WW__PRINT_NEGATIVE_INIT;
    const ww_status status = read_into(request, &made, notes, err);
    assert(negative);
    if (status == WW_OK)
        *negative = made;
    else
        ww__print_negative_release(&made);
    return status;
}
