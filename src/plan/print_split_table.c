/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_split.h"
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/fit.h>

void ww__split_table_release(ww__split_table *table) {
    for (size_t i = 0; i < table->n; i++) {
        if (table->pair[i].curve)
            ww_curve_release(table->pair[i].curve);
        free(table->pair[i].curve);
    }
    free(table->pair);
    *table = (ww__split_table){.pair = NULL};
}

char *ww__split_label(double soft, char label[WW__SPLIT_LABEL]) {
    if (soft > 1.0 - WW__SPLIT_SAME)
        snprintf(label, WW__SPLIT_LABEL, "soft alone");
    else if (soft < WW__SPLIT_SAME)
        snprintf(label, WW__SPLIT_LABEL, "hard alone");
    else
        ww__print_format(label, WW__SPLIT_LABEL, "soft %.0f %%", 100.0 * soft);
    return label;
}

static ww_status check_table(const ww_readings *readings, ww_notes *notes, ww_error *err) {
    const ww_meta *meta = &readings->meta;
    const char *file = readings->file;
    ww_status status = ww__print_readings_check(readings, "a split table", err);
    if (status != WW_OK)
        return status;
    if (readings->exposure != WW_EXPOSURE_WEDGE)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "a split table is made of prints of a step wedge; give the density "
                               "of its steps in a column 'wedge'");
    for (int c = WW_COLUMN_SOFT; c <= WW_COLUMN_HARD; c++)
        if (!readings->has[c])
            return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                                   "a split table gives the seconds through each filter in columns "
                                   "'soft' and 'hard', and '%s' is not here",
                                   ww_column_name((ww_column)c));
    if (!meta->exposure_time_s.set && !meta->log_h0.set)
        return WW_OK;
    return ww__print_say(notes, err,
                         "The split table's %s is not used: its columns soft and hard say what "
                         "each print got.",
                         meta->log_h0.set ? "log h0" : "exposure time");
}

/* ------------------------------------------------------------------------------------- pairs */

/* Seconds of a row; its message names what is missing. */
static ww_status find_seconds(const ww_readings *readings, const ww_row *row, double *total,
                              double *soft, ww_error *err) {
    const ww_cell *one = &row->cell[WW_COLUMN_SOFT], *two = &row->cell[WW_COLUMN_HARD];
    const ww_cell *missing = one->state != WW_CELL_VALUE ? one : two;
    if (missing->state != WW_CELL_VALUE)
        return ww_error_set_at(err, WW_ENODATA, readings->file, row->line,
                               "step '%s' of the split table has no seconds in '%s'; write 0 "
                               "where that filter was not used",
                               ww__print_show(row->step).text, missing == one ? "soft" : "hard");
    *total = one->value + two->value;
    if (!(one->value >= 0.0 && two->value >= 0.0 && *total > 0.0 && isfinite(*total)))
        return ww_error_set_at(err, WW_EDOMAIN, readings->file, row->line,
                               "step '%s' of the split table can't have had those seconds; give "
                               "0 or more, and more than 0 together",
                               ww__print_show(row->step).text);
    *soft = one->value / *total;
    return WW_OK;
}

static int by_share(const void *left, const void *right) {
    const ww__split_pair *a = left, *b = right;
    return (a->soft < b->soft) - (a->soft > b->soft);
}

/* Every share once, softest first. */
static ww_status find_pairs(const ww_readings *pooled, ww__split_table *table, ww_error *err) {
    ww_status status = WW_OK;
    table->pair = calloc(pooled->n + 1, sizeof *table->pair);
    if (!table->pair)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu steps", pooled->n);
    for (size_t i = 0; i < pooled->n && status == WW_OK; i++) {
        double total = 0.0, soft = 0.0;
        size_t k = 0;
        if (pooled->row[i].is_base)
            continue;
        status = find_seconds(pooled, &pooled->row[i], &total, &soft, err);
        while (k < table->n && fabs(table->pair[k].soft - soft) > WW__SPLIT_SAME)
            k++;
        if (status == WW_OK && k == table->n)
            table->pair[table->n++].soft = soft;
    }
    if (status == WW_OK && table->n < 2)
        status = ww_error_set_at(
            err, WW_ENODATA, pooled->file, 0,
            "the split table has %s, so there is nothing to choose between; print the wedge with "
            "other shares of the seconds too, from soft alone to hard alone",
            table->n == 0 ? "no step" : "the steps of one share of soft only");
    qsort(table->pair, table->n, sizeof *table->pair, by_share);
    return status;
}

/* ------------------------------------------------------------------------------------ curves */

/* The rows of one share, their log H in seconds of both exposures; the base rows go with each. */
static ww_status gather(const ww_readings *pooled, double soft, ww_row row[], ww_readings *block,
                        ww_error *err) {
    double seconds = 0.0, steps = 0.0;
    ww_status status = WW_OK;
    block->row = row;
    for (size_t i = 0; i < pooled->n && status == WW_OK; i++) {
        ww_row *next = &row[block->n];
        double total = 0.0, share = soft;
        *next = pooled->row[i];
        if (!next->is_base)
            status = find_seconds(pooled, next, &total, &share, err);
        if (status != WW_OK || fabs(share - soft) > WW__SPLIT_SAME)
            continue;
        block->n++;
        for (int c = WW_COLUMN_SOFT; c <= WW_COLUMN_HARD; c++)
            next->cell[c] = (ww_cell){.state = WW_CELL_MISSING};
        if (next->is_base)
            continue;
        next->exposure.value = log10(total) - next->exposure.value;
        seconds += total;
        steps += 1.0;
    }
    block->meta.exposure_time_s = (ww_optional){true, seconds / fmax(steps, 1.0)};
    return status;
}

static ww_status check_fit(const ww_readings *pooled, const ww_curve *curve, const char *label,
                           ww_error *err) {
    ww_channel name = WW_VISUAL;
    const ww_channel_curve *channel;
    if (ww_curve_black_and_white_channel(curve, &name, NULL) != WW_OK ||
        !curve->channel[name].fitted)
        return ww_error_set_at(err, WW_ENODATA, pooled->file, 0,
                               "'%s' of the split table has no curve: it needs %d steps that were "
                               "read, from white to black",
                               label, WW__SPLIT_STEPS);
    channel = &curve->channel[name];
    for (size_t i = 0; i < channel->n_points; i++)
        if (channel->point[i].cut)
            return ww_error_set_at(err, WW_EMISMATCH, pooled->file, 0,
                                   "'%s' of the split table: density falls again at step '%s' "
                                   "although it got more light; read that print again, or make it "
                                   "anew",
                                   label, ww__print_show(channel->point[i].step).text);
    return WW_OK;
}

/* What is said of one step. */
static ww_status say_suspect(const ww_channel_curve *channel, const ww_suspect *suspect,
                             const char *label, ww_notes *notes, ww_error *err) {
    const ww_curve_point *point = &channel->point[suspect->point];
    return ww__print_say(notes, err,
                         "Split table, %s: step '%s' reads %.2f, %.2f D %s its curve (%s), and did "
                         "not move the result; read it again.",
                         label, ww__print_show(point->step).text, point->density,
                         fabs(suspect->residual), suspect->residual > 0.0 ? "over" : "under",
                         ww_cause_name(suspect->cause));
}

/* What the fit found wrong with a pair's readings. */
static ww_status say_found(const ww_curve *curve, const char *label, ww_notes *notes,
                           ww_error *err) {
    ww_channel name = WW_VISUAL;
    const ww_channel_curve *channel = &curve->channel[WW_VISUAL];
    ww_status status = WW_OK;
    if (ww_curve_black_and_white_channel(curve, &name, NULL) == WW_OK)
        channel = &curve->channel[name];
    for (size_t i = 0; i < channel->n_suspects && status == WW_OK; i++)
        status = say_suspect(channel, &channel->suspect[i], label, notes, err);
    for (size_t i = 0; i < channel->n_points && status == WW_OK; i++)
        if (channel->point[i].moved != 0.0)
            return ww__print_say(notes, err,
                                 "Split table, %s: a step was skipped or read twice; from step "
                                 "'%s' on they were moved by %.2f log H to where they fit. Read "
                                 "that print again.",
                                 label, ww__print_show(channel->point[i].step).text,
                                 channel->point[i].moved);
    return status;
}

/* The curve of one share; a row array of all rows is lent for it. */
static ww_status fit_pair(const ww_readings *pooled, ww_row row[], ww__split_pair *pair,
                          ww_notes *notes, ww_error *err) {
    static const ww_fit_options options = {.resamples = 0, .seed = 1, .threads = 1};
    ww_readings block = *pooled;
    ww_error why = WW_ERROR_INIT;
    char label[WW__SPLIT_LABEL];
    ww_status status;
    block.file = NULL;
    block.n = 0;
    block.exposure = WW_EXPOSURE_LOG_H;
    block.has[WW_COLUMN_SOFT] = block.has[WW_COLUMN_HARD] = false;
    block.notes = (ww_notes)WW_NOTES_INIT;
    block.meta.material = WW_MATERIAL_PAPER;
    block.meta.exposure_unit = WW_UNIT_SECOND;
    block.meta.log_h0.set = false;
    block.meta.contrast = ww__split_label(pair->soft, label);
    status = gather(pooled, pair->soft, row, &block, err);
    if (status != WW_OK)
        return status;
    pair->curve = malloc(sizeof *pair->curve);
    if (!pair->curve)
        return ww_error_set(err, WW_EMEMORY, "no memory for a curve");
    *pair->curve = (ww_curve)WW_CURVE_INIT;
    status = ww_fit_readings(&block, &options, pair->curve, &why);
    if (status == WW_EMEMORY)
        return ww_error_set(err, status, "%s", why.msg);
    if (status != WW_OK)
        return ww_error_set_at(err, status, pooled->file, 0, "'%s' of the split table: %s", label,
                               why.msg);
    status = check_fit(pooled, pair->curve, label, err);
    return status == WW_OK ? say_found(pair->curve, label, notes, err) : status;
}

static ww_status read_into(const ww_readings *readings, ww_readings *pooled, ww__split_table *table,
                           ww_notes *notes, ww_error *err) {
    ww_row *row = NULL;
    ww_channel channel = WW_VISUAL;
    double white = 0.0;
    ww_status status = check_table(readings, notes, err);
    if (status == WW_OK)
        status = ww_readings_pool(readings, pooled, err);
    if (status == WW_OK)
        status = ww_readings_black_and_white_channel(pooled, &channel, err);
    if (status == WW_OK)
        status = find_pairs(pooled, table, err);
    if (status != WW_OK)
        return status;
    (void)ww__print_readings_white(pooled, channel, &white, &table->white_error);
    row = calloc(pooled->n, sizeof *row);
    if (!row)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu steps", pooled->n);
    for (size_t i = 0; i < table->n && status == WW_OK; i++)
        status = fit_pair(pooled, row, &table->pair[i], notes, err);
    free(row);
    return status;
}

ww_status ww__split_table_read(const ww_readings *readings, ww__split_table *table, ww_notes *notes,
                               ww_error *err) {
    ww_readings pooled = WW_READINGS_INIT;
    ww__split_table made = {.pair = NULL};
    const ww_status status = read_into(readings, &pooled, &made, notes, err);
    assert(table);
    ww_readings_release(&pooled);
    if (status == WW_OK)
        *table = made;
    else
        ww__split_table_release(&made);
    return status;
}
