/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/lesson_class.h>

enum { SHOWN_SIZE = 200 };
static const double reading_sd = 0.015;   /* [D], as lessons expect it */
static const double typings_apart = 0.02; /* [D] */
static const double robust_limit = 3.5, to_sd = 1.4826;

void ww_lesson_class_release(ww_lesson_class *made) {
    if (!made)
        return;
    for (size_t i = 0; i < made->n; i++) {
        free(made->member[i].log_h);
        free(made->member[i].density);
    }
    free(made->member);
    free(made->copied);
    ww_notes_release(&made->notes);
    *made = (ww_lesson_class)WW_LESSON_CLASS_INIT;
}

/* --- one file --------------------------------------------------------------------------------- */

static ww_status note_typings(const ww_readings *r, ww_channel channel, ww_notes *notes,
                              ww_error *err) {
    char file[SHOWN_SIZE], step[SHOWN_SIZE];
    ww_status status = WW_OK;
    for (size_t i = 0; i < r->n && status == WW_OK; i++)
        for (size_t k = 0; k < i && status == WW_OK; k++) {
            const ww_cell *a = &r->row[i].cell[channel], *b = &r->row[k].cell[channel];
            if (strcmp(r->row[i].step, r->row[k].step) != 0 || a->state != WW_CELL_VALUE ||
                b->state != WW_CELL_VALUE || fabs(a->value - b->value) <= typings_apart + 1e-9)
                continue;
            status = ww_notes_add(notes, err,
                                  "'%s': step %s was typed as %.2f and as %.2f, more than 0.02 D "
                                  "apart; read it again",
                                  ww__escape_message(r->file ? r->file : "", file, sizeof file),
                                  ww__escape_message(r->row[i].step, step, sizeof step), b->value,
                                  a->value);
        }
    return status;
}

/* In among those that are there, by rising log H. */
static void insert(ww_lesson_member *member, double log_h, double density) {
    size_t at = member->n++;
    for (; at > 0 && member->log_h[at - 1] > log_h; at--) {
        member->log_h[at] = member->log_h[at - 1];
        member->density[at] = member->density[at - 1];
    }
    member->log_h[at] = log_h;
    member->density[at] = density;
}

static ww_status take_rows(const ww_readings *pooled, ww_channel channel, ww_lesson_member *member,
                           ww_error *err) {
    for (size_t i = 0; i < pooled->n; i++) {
        const ww_cell *cell = &pooled->row[i].cell[channel];
        double log_h;
        if (cell->state != WW_CELL_VALUE)
            continue;
        if (pooled->row[i].is_base) {
            member->base = (ww_optional){true, cell->value};
            continue;
        }
        const ww_status status = ww_readings_log_h(pooled, i, &log_h, err);
        if (status != WW_OK)
            return status;
        insert(member, log_h, cell->value);
    }
    return WW_OK;
}

static ww_status take_member(const ww_readings *readings, ww_lesson_class *made, ww_error *err) {
    ww_lesson_member *member = &made->member[made->n];
    ww_readings pooled = WW_READINGS_INIT;
    ww_channel channel;
    *member = (ww_lesson_member){.file = readings->file ? readings->file : ""};
    member->log_h = malloc((readings->n + 1) * sizeof *member->log_h);
    member->density = malloc((readings->n + 1) * sizeof *member->density);
    made->n++;
    if (!member->log_h || !member->density)
        return ww_error_set(err, WW_EMEMORY, "no memory for a class's readings");
    ww_status status = ww_readings_black_and_white_channel(readings, &channel, err);
    if (status == WW_OK)
        status = note_typings(readings, channel, &made->notes, err);
    if (status == WW_OK)
        status = ww_readings_pool(readings, &pooled, err);
    if (status == WW_OK)
        status = take_rows(&pooled, channel, member, err);
    ww_readings_release(&pooled);
    if (status == WW_OK && member->n < 2)
        return ww_error_set_at(err, WW_ENODATA, member->file, 0,
                               "fewer than two steps were read; a student's file needs the whole "
                               "strip");
    return status;
}

static void work(ww_lesson_member *member, bool paper) {
    const size_t beside = paper ? 1 : 2;
    const double step = (member->log_h[member->n - 1] - member->log_h[0]) / (double)(member->n - 1);
    const double doubt = step > 0.0 ? reading_sd / step / sqrt(paper ? 2.0 : 10.0) : 0.0;
    const ww_lesson_points points = {member->log_h, member->density, member->n, member->base};
    ww_lesson_work(&points, paper, beside, doubt, &member->working);
}

/* --- the class -------------------------------------------------------------------------------- */

static int rising(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y;
}

static double median_of(double value[], size_t n) {
    qsort(value, n, sizeof *value, rising);
    return (value[(n - 1) / 2] + value[n / 2]) / 2.0;
}

static void spread_of(ww_lesson_class *made, ww_lesson_figure f) {
    double value[WW_LESSON_CLASS_MOST], off[WW_LESSON_CLASS_MOST];
    const ww_lesson_rule *rule = ww_lesson_rule_of(f, made->paper);
    ww_lesson_spread *spread = &made->spread[f];
    for (size_t i = 0; i < made->n; i++)
        if (made->member[i].working.result[f].there)
            value[spread->n++] = made->member[i].working.result[f].value;
    if (!rule || spread->n == 0)
        return;
    spread->median = median_of(value, spread->n);
    spread->least = value[0];
    spread->greatest = value[spread->n - 1];
    for (size_t i = 0; i < spread->n; i++)
        off[i] = fabs(value[i] - spread->median);
    spread->sd = to_sd * median_of(off, spread->n);
    for (size_t i = 0; i < made->n; i++) {
        ww_lesson_member *member = &made->member[i];
        const double apart = fabs(member->working.result[f].value - spread->median);
        member->departs[f] = !member->working.result[f].there ||
                             (apart > robust_limit * spread->sd && apart > rule->trust + 1e-9);
    }
}

ww_status ww_lesson_class_make(const ww_readings readings[], size_t n, ww_lesson_class *made,
                               ww_error *err) {
    ww_lesson_class c = WW_LESSON_CLASS_INIT;
    ww_status status = WW_OK;
    assert(readings && n >= 2 && n <= WW_LESSON_CLASS_MOST && made);
    c.member = calloc(n, sizeof *c.member);
    if (!c.member)
        return ww_error_set(err, WW_EMEMORY, "no memory for a class of %zu", n);
    c.paper = readings[0].meta.material == WW_MATERIAL_PAPER;
    c.exposure_unit = readings[0].meta.exposure_unit;
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        if ((readings[i].meta.material == WW_MATERIAL_PAPER) != c.paper)
            status = ww_error_set_at(err, WW_EMISMATCH, readings[i].file ? readings[i].file : "", 0,
                                     "film and paper don't go into one class; give files of one");
        if (status == WW_OK)
            status = take_member(&readings[i], &c, err);
        if (status == WW_OK)
            work(&c.member[i], c.paper);
    }
    for (int f = 0; f < WW_LESSON_FIGURES && status == WW_OK; f++)
        spread_of(&c, (ww_lesson_figure)f);
    if (status == WW_OK)
        status = ww_lesson_class_copied(&c, err);
    if (status != WW_OK) {
        ww_lesson_class_release(&c);
        return status;
    }
    *made = c;
    return WW_OK;
}
