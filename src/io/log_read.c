/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/control_log.h"
#include "core/readings.h"
#include "io/log.h"
#include <assert.h>
#include <stdlib.h>
#include <string.h>

static ww_status no_memory(ww_error *err) {
    return ww_error_set(err, WW_EMEMORY, "no memory for a control log");
}

/* Room for one more in a list of the log; counted at once, so that what is half filled is released
 * with the log. */
#define TAKE(list, count) take((void **)&(list), &(count), sizeof *(list), err)
static void *take(void **list, size_t *n, size_t size, ww_error *err) {
    void *grown = ww__control_room(list, *n, size);
    if (!grown) {
        (void)no_memory(err);
        return NULL;
    }
    return (char *)grown + (*n)++ * size;
}

static ww_status texts(ww__log *log, sqlite3_stmt *row, int from, char **const text[], int n,
                       ww_error *err) {
    ww_status status = WW_OK;
    for (int i = 0; i < n && status == WW_OK; i++)
        status = ww__log_text(log, row, from + i, text[i], err);
    return status;
}

static long number(sqlite3_stmt *row, int column) {
    return (long)sqlite3_column_int64(row, column);
}

/* The word among names of an enumerator's n values; 0, which is "unknown", where it is none. */
static int word_of(sqlite3_stmt *row, int column, const char *(*name)(int), int n) {
    const char *found = (const char *)sqlite3_column_text(row, column);
    for (int i = 0; found && i < n; i++)
        if (strcmp(found, name(i)) == 0)
            return i;
    return 0;
}

static const char *status_name(int i) {
    return ww_density_status_name((ww_density_status)i);
}
static const char *kind_name(int i) {
    return ww_density_kind_name((ww_density_kind)i);
}

/* --- references ------------------------------------------------------------------------------- */

static ww_status take_reference(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err) {
    ww_control_log *made = of;
    ww_control_reference *one = TAKE(made->reference, made->n_references);
    if (!one)
        return WW_EMEMORY;
    one->number = number(row, 0);
    one->status = (ww_density_status)word_of(row, 3, status_name, WW_STATUS_SCANNER + 1);
    one->density = (ww_density_kind)word_of(row, 4, kind_name, WW_DENSITY_REFLECTION + 1);
    one->reversal = sqlite3_column_int(row, 5) != 0;
    return texts(log, row, 1, (char **const[]){&one->lot, &one->entered}, 2, err);
}

static ww_status find_reference(ww__log *log, const ww_control_log *made, long wanted,
                                size_t *found, ww_error *err) {
    for (size_t i = 0; i < made->n_references; i++)
        if (made->reference[i].number == wanted) {
            *found = i;
            return WW_OK;
        }
    return ww__log_damaged(log, "a reference is missing", err);
}

/* Steps come by their place and then by channel: the next step begins where the place is new. */
static ww_status take_step(ww__log *log, sqlite3_stmt *row, ww_control_patches *patches,
                           int tone_column, ww_control_patch **patch, ww_error *err) {
    const long place = number(row, 1);
    char *step = NULL, *tone = NULL;
    ww_status status = WW_OK;
    if (place == (long)patches->n - 1) {
        *patch = &patches->patch[patches->n - 1];
        return WW_OK;
    }
    if (place != (long)patches->n)
        return ww__log_damaged(log, "a step is missing", err);
    status = ww__log_text(log, row, 3, &step, err);
    if (status == WW_OK && tone_column >= 0)
        status = ww__log_text(log, row, tone_column, &tone, err);
    if (status == WW_OK)
        status = ww__control_patch_add(patches, step, tone ? tone : "", patch, err);
    free(step);
    free(tone);
    return status;
}

static ww_status take_reference_step(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err) {
    ww_control_log *made = of;
    ww_control_patch *patch = NULL;
    ww_optional density = {false, 0.0}, correction = {false, 0.0};
    ww_channel channel = WW_RED;
    size_t at = 0;
    ww_status status = find_reference(log, made, number(row, 0), &at, err);
    if (status == WW_OK)
        status = take_step(log, row, &made->reference[at].patches, 4, &patch, err);
    if (status == WW_OK)
        status = ww__log_channel(log, row, 2, &channel, err);
    if (status == WW_OK)
        status = ww__log_real(log, row, 5, &density, err);
    if (status == WW_OK)
        status = ww__log_real(log, row, 6, &correction, err);
    if (status != WW_OK)
        return status;
    patch->state[channel] = WW_CELL_VALUE;
    patch->density[channel] = density.value;
    patch->correction[channel] = correction.value;
    return WW_OK;
}

/* --- strips ----------------------------------------------------------------------------------- */

static ww_status take_strip(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err) {
    ww_control_log *made = of;
    char date[WW_CONTROL_DATE_SIZE];
    ww_control_strip *one = TAKE(made->strip, made->n_strips);
    ww_status status;
    if (!one)
        return WW_EMEMORY;
    one->number = number(row, 0);
    status =
        texts(log, row, 1,
              (char **const[]){&one->process, &one->machine, &one->lot, &one->date, &one->entered},
              5, err);
    if (status == WW_OK && ww_control_date_check(one->date, date, NULL) != WW_OK)
        status = ww__log_damaged(log, "a date is none", err);
    return status == WW_OK ? find_reference(log, made, number(row, 6), &one->reference, err)
                           : status;
}

static int by_number(const void *a, const void *b) {
    const ww_control_strip *one = a, *two = b;
    return (one->number > two->number) - (one->number < two->number);
}

/* Strips stand by their number. */
static ww_control_strip *find_strip(const ww_control_log *made, long wanted) {
    const ww_control_strip key = {.number = wanted};
    return made->n_strips > 0 ? bsearch(&key, made->strip, made->n_strips, sizeof key, by_number)
                              : NULL;
}

static ww_status take_strip_step(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err) {
    ww_control_strip *strip = find_strip(of, number(row, 0));
    ww_control_patch *patch = NULL;
    ww_optional density = {false, 0.0};
    ww_channel channel = WW_RED;
    ww_status status;
    if (!strip)
        return ww__log_damaged(log, "a strip is missing", err);
    status = take_step(log, row, &strip->patches, -1, &patch, err);
    if (status == WW_OK)
        status = ww__log_channel(log, row, 2, &channel, err);
    if (status == WW_OK)
        status = ww__log_real(log, row, 4, &density, err);
    if (status != WW_OK)
        return status;
    patch->state[channel] = density.set ? WW_CELL_VALUE : WW_CELL_OVER;
    patch->density[channel] = density.value;
    return WW_OK;
}

static ww_status take_deletion(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err) {
    ww_control_strip *strip = find_strip(of, number(row, 0));
    if (!strip)
        return ww__log_damaged(log, "a strip is missing", err);
    return texts(log, row, 1, (char **const[]){&strip->deleted, &strip->why}, 2, err);
}

/* --- all else --------------------------------------------------------------------------------- */

static ww_status take_note(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err) {
    ww_control_log *made = of;
    ww_control_note *one = TAKE(made->note, made->n_notes);
    if (!one)
        return WW_EMEMORY;
    one->number = number(row, 0);
    one->strip = number(row, 1);
    return texts(
        log, row, 2,
        (char **const[]){&one->process, &one->machine, &one->date, &one->text, &one->entered}, 5,
        err);
}

static ww_status take_baseline(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err) {
    ww_control_log *made = of;
    ww_control_baseline *one = TAKE(made->baseline, made->n_baselines);
    ww_status status;
    if (!one)
        return WW_EMEMORY;
    one->number = number(row, 0);
    one->first = number(row, 2);
    one->strips = (size_t)number(row, 3);
    status = find_reference(log, made, number(row, 1), &one->reference, err);
    return status == WW_OK
               ? texts(log, row, 4,
                       (char **const[]){&one->process, &one->machine, &one->why, &one->entered}, 4,
                       err)
               : status;
}

static ww_status take_limits(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err) {
    ww_control_log *made = of;
    ww_control_limits *one = TAKE(made->limits, made->n_limits);
    if (!one)
        return WW_EMEMORY;
    one->number = number(row, 0);
    return texts(log, row, 1, (char **const[]){&one->process, &one->entered}, 2, err);
}

static ww_status take_limit(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err) {
    ww_control_log *made = of;
    ww_control_limits *set = NULL;
    ww_control_limit *one;
    ww_status status;
    for (size_t i = 0; i < made->n_limits; i++)
        if (made->limits[i].number == number(row, 0))
            set = &made->limits[i];
    if (!set)
        return ww__log_damaged(log, "a set of limits is missing", err);
    one = TAKE(set->limit, set->n);
    if (!one)
        return WW_EMEMORY;
    one->channel = WW_CHANNEL_COUNT;
    status = ww__log_text(log, row, 1, &one->measure, err);
    if (status == WW_OK && sqlite3_column_type(row, 2) != SQLITE_NULL)
        status = ww__log_channel(log, row, 2, &one->channel, err);
    if (status == WW_OK)
        status = ww__log_real(log, row, 3, &one->below, err);
    if (status == WW_OK)
        status = ww__log_real(log, row, 4, &one->above, err);
    if (status == WW_OK)
        status = ww__log_real(log, row, 5, &one->action_below, err);
    return status == WW_OK ? ww__log_real(log, row, 6, &one->action_above, err) : status;
}

ww_status ww_control_log_read(const char *path, ww_control_log *log, ww_error *err) {
    static const struct {
        const char *sql;
        ww__log_row *take;
    } parts[] = {
        {"SELECT number, lot, entered, status, density, process = 'reversal' FROM reference"
         " ORDER BY number",
         take_reference},
        {"SELECT reference, place, channel, step, tone, density, correction FROM reference_step"
         " ORDER BY reference, place, channel",
         take_reference_step},
        {"SELECT number, process, machine, lot, date, entered, reference FROM strip"
         " ORDER BY number",
         take_strip},
        {"SELECT strip, place, channel, step, density FROM strip_step"
         " ORDER BY strip, place, channel",
         take_strip_step},
        {"SELECT strip, entered, why FROM deletion", take_deletion},
        {"SELECT number, ifnull(strip, 0), process, machine, date, text, entered FROM note"
         " ORDER BY number",
         take_note},
        {"SELECT number, reference, first, strips, process, machine, why, entered FROM baseline"
         " ORDER BY number",
         take_baseline},
        {"SELECT number, process, entered FROM limits ORDER BY number", take_limits},
        {"SELECT limits, measure, channel, below, above, action_below, action_above"
         " FROM limit_line ORDER BY limits, place",
         take_limit},
    };
    ww__log open = WW__LOG_INIT;
    ww_control_log made = WW_CONTROL_LOG_INIT;
    ww_status status = ww__log_open(path, &open, err);
    assert(path && log);
    if (status == WW_OK)
        status = ww__readings_text_copy(path, &made.file, err);
    for (size_t i = 0; i < sizeof parts / sizeof *parts && status == WW_OK && !open.empty; i++)
        status = ww__log_rows(&open, parts[i].take, &made, err, parts[i].sql, "");
    ww__log_close(&open);
    if (status == WW_OK)
        *log = made;
    else
        ww_control_log_release(&made);
    return status;
}
