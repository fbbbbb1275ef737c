/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_slip.h"
#include "scanner_noise.h"
#include "scanner_wedge.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/number.h>

static const double worth_a_look = 0.01; /* D, rms: less is no slip of a row */
static const double far_better = 1.0 / 3.0;
static const double tells = 0.05; /* D: a step that a code and noise place worse says nothing */

enum { EITHER_SIDE = 2 /* rows that count */ };

/* A copy of the strips, on which densities are tried. */
static ww_status copy_strips(const ww__scanner_strips *from, ww__scanner_strips *to,
                             ww_error *err) {
    *to = *from;
    for (size_t s = 0; s < from->n; s++)
        to->strip[s].row = NULL;
    for (size_t s = 0; s < from->n; s++) {
        const size_t n = from->strip[s].n;
        to->strip[s].row = calloc(n, sizeof *to->strip[s].row);
        if (!to->strip[s].row)
            return ww_error_set(err, WW_EMEMORY, "no memory for a calibration of %zu steps", n);
    }
    return WW_OK;
}

/* From row `first` on each takes the density of the row before it (by = -1: the table has the next
 * one's) or behind it (by = 1); what then has none is left out. first = n: the table as it is. */
static void move_rows(const ww__scanner_strips *from, size_t first, int by,
                      ww__scanner_strips *to) {
    for (size_t s = 0; s < from->n; s++) {
        const ww__scanner_strip *strip = &from->strip[s];
        ww__scanner_row *row = to->strip[s].row;
        memcpy(row, strip->row, strip->n * sizeof *row);
        for (size_t i = 0; i < strip->n; i++)
            row[i].suspect = false;
        if (first >= strip->n)
            continue;
        for (size_t i = by < 0 ? first + 1 : first; i < strip->n - (by > 0); i++)
            row[i].density = strip->row[by < 0 ? i - 1 : i + 1].density;
        row[by < 0 ? first : strip->n - 1].clipped = true;
    }
}

/* first = 0: all of the table moves, and there is no other side. */
static bool both_sides_count(const ww__scanner_strips *strips, size_t first) {
    for (size_t s = 0; s < strips->n; s++) {
        size_t before = 0, behind = 0;
        for (size_t i = 0; i < strips->strip[s].n; i++)
            *(i < first ? &before : &behind) += !strips->strip[s].row[i].clipped;
        if ((first > 0 && before < EITHER_SIDE) || behind < EITHER_SIDE ||
            before + behind < WW__SCANNER_STEPS_LEAST)
            return false;
    }
    return true;
}

/* What the model leaves, rms, of the steps that codes can tell. */
static double left_by(const ww__scanner_strips *strips, const ww__scanner_model *model) {
    double sum = 0.0;
    size_t n = 0;
    for (size_t s = 0; s < strips->n; s++) {
        const ww__scanner_light light = ww__scanner_model_light(model, s);
        for (size_t i = 0; i < strips->strip[s].n; i++) {
            const ww__scanner_row *row = &strips->strip[s].row[i];
            const double code = ww__scanner_noise_code(&light, row->density,
                                                       fmax(strips->strip[s].step, row->mean_sd));
            if (row->clipped || !(code < tells))
                continue;
            sum += pow(ww__scanner_dense(&light, row->share, row->density) - row->density, 2.0);
            n++;
        }
    }
    return n > 0 ? sqrt(sum / (double)n) : HUGE_VAL;
}

/* One table on trial; infinite where no model fits it. */
static ww_status try_rows(const ww__scanner_strips *strips, double *left, ww_error *err) {
    const double scatter[WW_CHANNEL_COUNT] = {0.0};
    ww__scanner_model model;
    ww_error trouble = WW_ERROR_INIT;
    const ww_status status = ww__scanner_model_fit(strips, scatter, NULL, &model, &trouble);
    if (status == WW_EMEMORY)
        return ww_error_set(err, status, "%s", trouble.msg);
    *left = status == WW_OK ? left_by(strips, &model) : HUGE_VAL;
    return WW_OK;
}

/* The table as it is, without either end: a move of all of it leaves out the density of one end and
 * gives none to the other, which alone would explain one step that is off. */
static void leave_ends(const ww__scanner_strips *from, ww__scanner_strips *to) {
    move_rows(from, from->strip[0].n, 1, to);
    for (size_t s = 0; s < to->n; s++) {
        to->strip[s].row[0].clipped = true;
        to->strip[s].row[to->strip[s].n - 1].clipped = true;
    }
}

/* Infinite also where all of the table is moved and no better for it. */
static ww_status try_move(const ww__scanner_strips *strips, size_t first, int by,
                          ww__scanner_strips *trial, double *left, ww_error *err) {
    double unmoved = HUGE_VAL;
    move_rows(strips, first, by, trial);
    if (!both_sides_count(trial, first))
        return WW_OK;
    ww_status status = try_rows(trial, left, err);
    if (first > 0 || status != WW_OK)
        return status;
    leave_ends(strips, trial);
    if (both_sides_count(trial, first))
        status = try_rows(trial, &unmoved, err);
    if (!(unmoved < HUGE_VAL) || *left > far_better * unmoved)
        *left = HUGE_VAL;
    return status;
}

/* Of two rows alike the first has its own density yet: the second is the slip. */
static const char *label_of(const ww__scanner_strip *strip, size_t first, int by) {
    const ww__scanner_row *row = &strip->row[first];
    return by > 0 && row[0].density == row[1].density ? row[1].label : row[0].label;
}

/* The last of those that are equally good: of a row typed twice, the second is the slip. */
static ww_status search(const ww__scanner_strips *strips, ww__scanner_strips *trial,
                        ww__scanner_slip *best, ww_error *err) {
    const size_t n = strips->strip[0].n;
    ww_status status = WW_OK;
    for (size_t first = 0; first + 1 < n && status == WW_OK; first++)
        for (int by = -1; by <= 1 && status == WW_OK; by += 2) {
            double left = HUGE_VAL;
            status = try_move(strips, first, by, trial, &left, err);
            if (left < HUGE_VAL && left <= 1.05 * best->left) {
                best->label = label_of(&strips->strip[0], first, by);
                best->next = by < 0;
                best->left = fmin(left, best->left);
            }
        }
    return status;
}

ww_status ww__scanner_slip_find(const ww__scanner_strips *strips, ww__scanner_slip *slip,
                                ww_error *err) {
    assert(strips && strips->n > 0 && slip);
    ww__scanner_strips trial;
    ww__scanner_slip best = {.left = HUGE_VAL};
    *slip = (ww__scanner_slip){.label = NULL};
    for (size_t s = 1; s < strips->n; s++)
        if (strips->strip[s].n != strips->strip[0].n) /* rows do not stand side by side */
            return WW_OK;
    ww_status status = copy_strips(strips, &trial, err);
    if (status == WW_OK) {
        move_rows(strips, strips->strip[0].n, 1, &trial);
        status = try_rows(&trial, &best.before, err);
    }
    if (status == WW_OK && best.before > worth_a_look)
        status = search(strips, &trial, &best, err);
    ww__scanner_steps_release(&trial);
    if (status == WW_OK && best.label && best.left < far_better * best.before)
        *slip = best;
    return status;
}

ww_status ww__scanner_slip_note(const ww__scanner_slip *slip, const ww_readings *wedge,
                                ww_scanner *scanner, ww_error *err) {
    char before[32], left[32], shown[200];
    assert(slip && slip->label && wedge && scanner);
    scanner->misfit = true;
    ww_number_format(slip->before, 3, before, sizeof before);
    ww_number_format(slip->left, 3, left, sizeof left);
    return ww_notes_add(&scanner->notes, err,
                        "Before all else: from step %.40s on the densities in '%s' look like those "
                        "of the %s: was a row %s? The model leaves %s D (rms of all steps), and "
                        "%s D where they are moved by a row. Put the file right and calibrate "
                        "again; until then trust nothing that is read by this calibration",
                        slip->label, ww__scanner_wedge_name(wedge, shown, sizeof shown),
                        slip->next ? "next row" : "row before",
                        slip->next ? "left out" : "typed twice", before, left);
}
