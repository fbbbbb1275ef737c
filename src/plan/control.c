/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/control_log.h"
#include "plan/control_parts.h"
#include <assert.h>
#include <stdlib.h>
#include <string.h>

static ww_status no_memory(ww_error *err) {
    return ww_error_set(err, WW_EMEMORY, "no memory for control charts");
}

static void release_lot(ww_control_lot *lot) {
    for (size_t i = 0; i < lot->n_charts; i++)
        ww__control_chart_release(&lot->chart[i]);
    free(lot->chart);
    free(lot->in_baseline);
    free((void *)lot->strip);
}

static void release_series(ww_control_series *series) {
    for (size_t i = 0; i < series->n_lots; i++)
        release_lot(&series->lot[i]);
    free(series->lot);
    free(series->row);
}

void ww_control_release(ww_control *control) {
    if (!control)
        return;
    for (size_t i = 0; i < control->n; i++)
        release_series(&control->series[i]);
    free(control->series);
    ww_notes_release(&control->causes);
    ww_notes_release(&control->notes);
    *control = (ww_control)WW_CONTROL_INIT;
}

/* --- which strips go together ---------------------------------------------------------------- */

static bool is_of(const ww_control_series *series, const ww_control_strip *strip) {
    return strcmp(series->process, strip->process) == 0 &&
           strcmp(series->machine, strip->machine) == 0;
}

static bool is_asked(const ww_control_request *request, const ww_control_strip *strip) {
    return (!request->process || strcmp(request->process, strip->process) == 0) &&
           (!request->machine || strcmp(request->machine, strip->machine) == 0);
}

static ww_control_series *series_of(ww_control *control, const ww_control_strip *strip) {
    void *list = control->series;
    for (size_t i = 0; i < control->n; i++)
        if (is_of(&control->series[i], strip))
            return &control->series[i];
    if (!ww__control_room(&list, control->n, sizeof *control->series))
        return NULL;
    control->series = list;
    control->series[control->n].process = strip->process;
    control->series[control->n].machine = strip->machine;
    return &control->series[control->n++];
}

static ww_status add_row(ww_control *control, const ww_control_strip *strip, ww_error *err) {
    ww_control_series *series = series_of(control, strip);
    void *list = series ? series->row : NULL;
    if (!series || !ww__control_room(&list, series->n_rows, sizeof *series->row))
        return no_memory(err);
    series->row = list;
    series->row[series->n_rows++].strip = strip;
    return WW_OK;
}

static int by_date(const void *a, const void *b) {
    const ww_control_strip *one = ((const ww_control_row *)a)->strip;
    const ww_control_strip *two = ((const ww_control_row *)b)->strip;
    const int date = strcmp(one->date, two->date);
    return date != 0 ? date : (one->number > two->number) - (one->number < two->number);
}

static ww_control_lot *lot_of(const ww_control_log *log, ww_control_series *series,
                              const ww_control_strip *strip, size_t *at) {
    const ww_control_reference *reference = &log->reference[strip->reference];
    void *list = series->lot;
    for (*at = 0; *at < series->n_lots; (*at)++)
        if (series->lot[*at].reference == reference)
            return &series->lot[*at];
    if (!ww__control_room(&list, series->n_lots, sizeof *series->lot))
        return NULL;
    series->lot = list;
    series->lot[*at].reference = reference;
    series->n_lots++;
    return &series->lot[*at];
}

/* Rows in order of date, and each strip that counts in its lot. */
static ww_status sort_series(const ww_control_log *log, ww_control_series *series, ww_error *err) {
    if (series->n_rows > 1)
        qsort(series->row, series->n_rows, sizeof *series->row, by_date);
    for (size_t i = 0; i < series->n_rows; i++) {
        ww_control_row *row = &series->row[i];
        ww_control_lot *lot;
        void *list;
        if (row->strip->deleted)
            continue;
        lot = lot_of(log, series, row->strip, &row->lot);
        list = lot ? (void *)lot->strip : NULL;
        if (!lot || !ww__control_room(&list, lot->n, sizeof *lot->strip))
            return no_memory(err);
        lot->strip = list;
        row->at = lot->n;
        lot->strip[lot->n++] = row->strip;
        series->any = true;
    }
    return WW_OK;
}

/* --- what is known of them ------------------------------------------------------------------- */

static const ww_control_limits *limits_of(const ww_control_log *log, const char *process) {
    for (size_t i = log->n_limits; i > 0; i--)
        if (strcmp(log->limits[i - 1].process, process) == 0)
            return &log->limits[i - 1];
    return NULL;
}

static void find_baseline(const ww_control_log *log, const ww_control_series *series, size_t asked,
                          ww_control_lot *lot) {
    const ww_control_baseline *last = NULL;
    for (size_t i = 0; i < log->n_baselines; i++) {
        const ww_control_baseline *one = &log->baseline[i];
        if (strcmp(one->process, series->process) == 0 &&
            strcmp(one->machine, series->machine) == 0 &&
            &log->reference[one->reference] == lot->reference)
            last = one;
    }
    lot->wanted = last ? last->strips : WW_CONTROL_BASELINE_LEAST;
    lot->baseline = last && last->first > 0 ? last : NULL;
    if (asked > 0 && !lot->baseline)
        lot->wanted = asked;
}

static ww_status judge_lot(const ww_control *control, const ww_control_series *series,
                           const ww_control_request *request, ww_control_lot *lot, ww_error *err) {
    const ww_control_limits *limits = limits_of(control->log, series->process);
    ww_status status;
    lot->in_baseline = calloc(lot->n, sizeof *lot->in_baseline);
    if (!lot->in_baseline)
        return no_memory(err);
    find_baseline(control->log, series, request->baseline, lot);
    status = ww__control_measure(lot, limits, err);
    return status == WW_OK ? ww__control_break(lot, request->slow, err) : status;
}

static void judge_row(const ww_control_lot *lot, ww_control_row *row) {
    for (size_t c = 0; c < lot->n_charts; c++) {
        const ww_control_chart *chart = &lot->chart[c];
        const ww_control_point *point = &chart->point[row->at];
        if (point->read && (chart->has_history || chart->below.set || chart->above.set))
            row->judged = true;
        if (point->rules & WW_CONTROL_RULE_LIMIT)
            row->state = WW_CONTROL_OUT;
        else if (point->rules && row->state == WW_CONTROL_IN)
            row->state = WW_CONTROL_WARNING;
    }
}

/* Whether both strips of a chart lie beyond its limit, to one side. */
static bool out_again(const ww_control_lot *lot, size_t at) {
    for (size_t c = 0; c < lot->n_charts && at > 0; c++) {
        const ww_control_point *now = &lot->chart[c].point[at], *before = now - 1;
        if ((now->rules & before->rules & WW_CONTROL_RULE_LIMIT) &&
            now->deviation * before->deviation > 0.0)
            return true;
    }
    return false;
}

/* What was out of control stays so until a strip is judged to be in: one that has no limits yet,
 * as of a new lot, clears nothing. */
static void judge_rows(ww_control_series *series, long asked) {
    const ww_control_row *judged = NULL;
    for (size_t i = 0; i < series->n_rows; i++) {
        ww_control_row *row = &series->row[i];
        if (row->strip->deleted)
            continue;
        judge_row(&series->lot[row->lot], row);
        if (asked == 0 || row->strip->number == asked)
            series->row_at = i;
        judged = row->judged ? row : judged;
    }
    if (asked == 0 && judged && judged->state == WW_CONTROL_OUT)
        series->row_at = (size_t)(judged - series->row);
    if (series->any) {
        const ww_control_row *row = &series->row[series->row_at];
        series->again = out_again(&series->lot[row->lot], row->at);
    }
}

/* The worst of all; and all have limits, or they are not judged. */
static void add_verdict(ww_control *control, const ww_control_row *row) {
    control->state = row->state > control->state ? row->state : control->state;
    control->judged = (control->judged || !control->any) && row->judged;
    control->any = true;
}

static ww_status judge_series(ww_control *control, ww_control_series *series,
                              const ww_control_request *request, ww_error *err) {
    ww_status status = sort_series(control->log, series, err);
    for (size_t i = 0; i < series->n_lots && status == WW_OK; i++)
        status = judge_lot(control, series, request, &series->lot[i], err);
    if (status != WW_OK || !series->any)
        return status;
    judge_rows(series, request->strip);
    add_verdict(control, &series->row[series->row_at]);
    return WW_OK;
}

static ww_status check(const ww_control_log *log, const ww_control_request *request,
                       ww_error *err) {
    const size_t n = request->baseline;
    if (n != 0 && (n < WW_CONTROL_BASELINE_LEAST || n > WW_CONTROL_BASELINE_MOST))
        return ww_error_set(err, WW_EDOMAIN, "a baseline of %zu strips; it takes 10 to 20", n);
    for (size_t i = 0; i < log->n_strips && request->strip > 0; i++)
        if (log->strip[i].number == request->strip && !log->strip[i].deleted &&
            is_asked(request, &log->strip[i]))
            return WW_OK;
    return request->strip > 0
               ? ww_error_set_at(err, WW_ENODATA, log->file, 0,
                                 "strip %ld is not in this log, or does not count", request->strip)
               : WW_OK;
}

ww_status ww_control_judge(const ww_control_log *log, const ww_control_request *request,
                           ww_control *control, ww_error *err) {
    ww_control made = {
        .log = log, .view = request->view, .deleted = request->deleted, .slow = request->slow};
    ww_status status = check(log, request, err);
    assert(control);
    for (size_t i = 0; i < log->n_strips && status == WW_OK; i++)
        if (is_asked(request, &log->strip[i]))
            status = add_row(&made, &log->strip[i], err);
    for (size_t i = 0; i < made.n && status == WW_OK; i++)
        status = judge_series(&made, &made.series[i], request, err);
    if (status == WW_OK)
        status = ww__control_causes(&made, err);
    if (status == WW_OK)
        status = ww__control_notes(&made, err);
    if (status == WW_OK)
        *control = made;
    else
        ww_control_release(&made);
    return status;
}
