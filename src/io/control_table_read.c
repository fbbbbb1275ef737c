/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/control_log.h"
#include "core/readings.h"
#include "io/control_cells.h"
#include "io/input.h"
#include <assert.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/control_table.h>

enum { FILE_MOST = 64 << 20 };

/* Names of a process and its machine, and when it was entered. */
static ww_status take_names(const ww__control_cells *t, char **process, char **machine,
                            char **entered, ww_error *err) {
    ww_status status = ww__control_cells_text(t, WW__CONTROL_PROCESS, process, err);
    if (status == WW_OK && machine)
        status = ww__control_cells_text(t, WW__CONTROL_MACHINE, machine, err);
    return status == WW_OK ? ww__control_cells_text(t, WW__CONTROL_ENTERED, entered, err) : status;
}

/* --- records ------------------------------------------------------------ */

#define GROW(list, n) grow((void **)&(list), &(n), sizeof *(list), err)
static void *grow(void **list, size_t *n, size_t size, ww_error *err) {
    char *grown = ww__control_room(list, *n, size);
    if (!grown) {
        (void)ww_error_set(err, WW_EMEMORY, "no memory for a control log");
        return NULL;
    }
    return grown + (*n)++ * size;
}

static ww_status find_reference(const ww__control_cells *t, int column, size_t *index,
                                ww_error *err) {
    long number = 0;
    const ww_status status = ww__control_cells_whole(t, column, 1, &number, err);
    if (status != WW_OK)
        return status;
    for (size_t i = 0; i < t->made.n_references; i++)
        if (t->made.reference[i].number == number) {
            *index = i;
            return WW_OK;
        }
    return ww__control_cells_refuse(t, "its reference does not stand above", err);
}

static ww_control_strip *find_strip(const ww__control_cells *t, long number) {
    for (size_t i = t->made.n_strips; i > 0; i--)
        if (t->made.strip[i - 1].number == number)
            return &t->made.strip[i - 1];
    return NULL;
}

static ww_status take_patch(const ww__control_cells *t, ww_control_patches *patches, bool over,
                            ww_error *err) {
    ww_control_patch *patch = NULL;
    const char *problem = ww__lines_text_problem(ww__control_cells_at(t, WW__CONTROL_STEP));
    ww_status status;
    if (problem || ww__lines_text_problem(ww__control_cells_at(t, WW__CONTROL_TONE)))
        return ww__control_cells_refuse(t, "a label is too long, or holds what is no text", err);
    if (ww__control_patch_find(patches, ww__control_cells_at(t, WW__CONTROL_STEP)))
        return ww__control_cells_refuse(t, "the step stands here a second time", err);
    status = ww__control_patch_add(patches, ww__control_cells_at(t, WW__CONTROL_STEP),
                                   ww__control_cells_at(t, WW__CONTROL_TONE), &patch, err);
    for (int c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++) {
        const char *text = ww__control_cells_at(t, WW__CONTROL_RED + c);
        if (!*text || strcmp(text, "-") == 0)
            continue;
        patch->state[c] = over && ww__words_equal(text, "over") ? WW_CELL_OVER : WW_CELL_VALUE;
        if (patch->state[c] == WW_CELL_VALUE)
            status = ww__control_cells_number(t, WW__CONTROL_RED + c, -0.1, 6.0, &patch->density[c],
                                              err);
    }
    return status;
}

static ww_status take_reference(ww__control_cells *t, ww_error *err) {
    ww_control_log *made = &t->made;
    long number = 0;
    ww_status status = ww__control_cells_whole(t, WW__CONTROL_NUMBER, 1, &number, err);
    ww_control_reference *one =
        made->n_references > 0 ? &made->reference[made->n_references - 1] : NULL;
    if (status == WW_OK && (!one || one->number != number)) {
        one = GROW(made->reference, made->n_references);
        if (!one)
            return WW_EMEMORY;
        one->number = number;
        for (int i = 0; i <= WW_STATUS_SCANNER; i++)
            if (ww__words_equal(ww__control_cells_at(t, WW__CONTROL_STATUS),
                                ww_density_status_name((ww_density_status)i)))
                one->status = (ww_density_status)i;
        for (int i = 0; i <= WW_DENSITY_REFLECTION; i++)
            if (ww__words_equal(ww__control_cells_at(t, WW__CONTROL_DENSITY),
                                ww_density_kind_name((ww_density_kind)i)))
                one->density = (ww_density_kind)i;
        one->reversal = ww__words_equal(ww__control_cells_at(t, WW__CONTROL_TEXT), "reversal");
        status = ww__control_cells_text(t, WW__CONTROL_LOT, &one->lot, err);
        if (status == WW_OK)
            status = ww__control_cells_text(t, WW__CONTROL_ENTERED, &one->entered, err);
    }
    return status == WW_OK ? take_patch(t, &one->patches, false, err) : status;
}

static ww_status take_correction(ww__control_cells *t, ww_error *err) {
    size_t at = 0;
    ww_status status = find_reference(t, WW__CONTROL_NUMBER, &at, err);
    ww_control_patches *patches = status == WW_OK ? &t->made.reference[at].patches : NULL;
    ww_control_patch *patch = NULL;
    for (size_t i = 0; patches && i < patches->n; i++)
        if (strcmp(patches->patch[i].step, ww__control_cells_at(t, WW__CONTROL_STEP)) == 0)
            patch = &patches->patch[i];
    if (status == WW_OK && !patch)
        return ww__control_cells_refuse(t, "the step of this correction does not stand above", err);
    for (int c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++)
        if (*ww__control_cells_at(t, WW__CONTROL_RED + c))
            status = ww__control_cells_number(t, WW__CONTROL_RED + c, -1.0, 1.0,
                                              &patch->correction[c], err);
    return status;
}

static ww_status take_strip(ww__control_cells *t, ww_error *err) {
    ww_control_log *made = &t->made;
    long number = 0;
    ww_status status = ww__control_cells_whole(t, WW__CONTROL_NUMBER, 1, &number, err);
    ww_control_strip *one = made->n_strips > 0 ? &made->strip[made->n_strips - 1] : NULL;
    if (status == WW_OK && (!one || one->number != number)) {
        if (one && number < one->number)
            return ww__control_cells_refuse(t, "strips do not stand by their number", err);
        one = GROW(made->strip, made->n_strips);
        if (!one)
            return WW_EMEMORY;
        one->number = number;
        status = take_names(t, &one->process, &one->machine, &one->entered, err);
        if (status == WW_OK)
            status = ww__control_cells_text(t, WW__CONTROL_LOT, &one->lot, err);
        if (status == WW_OK)
            status = ww__control_cells_date(t, &one->date, err);
        if (status == WW_OK)
            status = find_reference(t, WW__CONTROL_OF, &one->reference, err);
    }
    return status == WW_OK ? take_patch(t, &one->patches, true, err) : status;
}

static ww_status take_deleted(ww__control_cells *t, ww_error *err) {
    long number = 0;
    ww_status status = ww__control_cells_whole(t, WW__CONTROL_OF, 1, &number, err);
    ww_control_strip *strip = status == WW_OK ? find_strip(t, number) : NULL;
    if (status == WW_OK && (!strip || strip->deleted))
        return ww__control_cells_refuse(
            t, "its strip does not stand above, or is taken out already", err);
    if (status == WW_OK)
        status = ww__control_cells_text(t, WW__CONTROL_TEXT, &strip->why, err);
    return status == WW_OK ? ww__control_cells_text(t, WW__CONTROL_ENTERED, &strip->deleted, err)
                           : status;
}

static ww_status take_note(ww__control_cells *t, ww_error *err) {
    ww_control_note *one = GROW(t->made.note, t->made.n_notes);
    ww_status status;
    if (!one)
        return WW_EMEMORY;
    one->number = (long)t->made.n_notes;
    status = ww__control_cells_whole(t, WW__CONTROL_OF, 0, &one->strip, err);
    if (status == WW_OK && one->strip > 0 && !find_strip(t, one->strip))
        status = ww__control_cells_refuse(t, "its strip does not stand above", err);
    if (status == WW_OK)
        status = take_names(t, &one->process, &one->machine, &one->entered, err);
    if (status == WW_OK)
        status = ww__control_cells_date(t, &one->date, err);
    return status == WW_OK ? ww__control_cells_text(t, WW__CONTROL_TEXT, &one->text, err) : status;
}

static ww_status take_baseline(ww__control_cells *t, ww_error *err) {
    ww_control_baseline *one = GROW(t->made.baseline, t->made.n_baselines);
    double strips = 0.0, first = 0.0;
    ww_status status;
    if (!one)
        return WW_EMEMORY;
    status = ww__control_cells_number(t, WW__CONTROL_NUMBER, 10.0, 20.0, &strips, err);
    if (status == WW_OK)
        status = ww__control_cells_number(t, WW__CONTROL_STEP, 0.0, 1e9, &first, err);
    if (status == WW_OK)
        status = find_reference(t, WW__CONTROL_OF, &one->reference, err);
    if (status == WW_OK)
        status = take_names(t, &one->process, &one->machine, &one->entered, err);
    one->number = (long)t->made.n_baselines;
    one->strips = (size_t)strips;
    one->first = (long)first;
    if (status == WW_OK && one->first > 0 && !find_strip(t, one->first))
        status = ww__control_cells_refuse(t, "its first strip does not stand above", err);
    return status == WW_OK ? ww__control_cells_text(t, WW__CONTROL_TEXT, &one->why, err) : status;
}

/* A row a side; the sides of a measure and channel make one limit. */
static ww_control_limit *find_limit(ww_control_limits *set, const char *measure,
                                    ww_channel channel) {
    for (size_t i = 0; i < set->n; i++)
        if (strcmp(set->limit[i].measure, measure) == 0 && set->limit[i].channel == channel)
            return &set->limit[i];
    return NULL;
}

static ww_status take_limit(ww__control_cells *t, ww_control_limits *set, ww_channel channel,
                            int value, ww_error *err) {
    ww_control_limit *one = find_limit(set, ww__control_cells_at(t, WW__CONTROL_STEP), channel);
    int side = 0;
    double size = 0.0;
    ww_status status = ww__control_cells_number(t, WW__CONTROL_RED + value, -2.0, 2.0, &size, err);
    while (side < WW__CONTROL_SIDES &&
           strcmp(ww__control_cells_at(t, WW__CONTROL_TONE), ww__control_side[side]) != 0)
        side++;
    if (status == WW_OK && side == WW__CONTROL_SIDES)
        status = ww__control_cells_refuse(t, "a limit is neither below nor above", err);
    if (status == WW_OK && !one) {
        one = GROW(set->limit, set->n);
        if (!one)
            return WW_EMEMORY;
        one->channel = channel;
        status = ww__control_cells_text(t, WW__CONTROL_STEP, &one->measure, err);
    }
    if (status == WW_OK) {
        ww_optional *const sides[] = {&one->below, &one->above, &one->action_below,
                                      &one->action_above};
        *sides[side] = (ww_optional){true, size};
    }
    return status;
}

static ww_status take_limits(ww__control_cells *t, ww_error *err) {
    ww_control_limits *set = t->made.n_limits > 0 ? &t->made.limits[t->made.n_limits - 1] : NULL;
    const bool all = ww__words_equal(ww__control_cells_at(t, WW__CONTROL_TEXT), "all");
    long number = 0;
    ww_status status = ww__control_cells_whole(t, WW__CONTROL_NUMBER, 1, &number, err);
    if (status == WW_OK && (!set || set->number != number)) {
        set = GROW(t->made.limits, t->made.n_limits);
        if (!set)
            return WW_EMEMORY;
        set->number = number;
        status = take_names(t, &set->process, NULL, &set->entered, err);
    }
    for (int c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++)
        if (*ww__control_cells_at(t, WW__CONTROL_RED + c))
            status = take_limit(t, set, all ? WW_CHANNEL_COUNT : (ww_channel)c, c, err);
    return status;
}

/* --- the whole ------------------------------------------------------------ */

static ww_status take_header(ww__control_cells *t, ww_error *err) {
    for (int c = 0; c < WW__CONTROL_COLUMNS; c++)
        t->at[c] = -1;
    for (size_t i = 0; i < t->cells.n; i++) {
        int c = 0;
        while (c < WW__CONTROL_COLUMNS &&
               !ww__words_equal(ww__cells_at(&t->cells, i), ww__control_column[c]))
            c++;
        if (c == WW__CONTROL_COLUMNS || t->at[c] >= 0)
            return ww__control_cells_refuse(t, "a column is not known, or there twice", err);
        t->at[c] = (int)i;
    }
    return t->at[WW__CONTROL_RECORD] >= 0
               ? WW_OK
               : ww__control_cells_refuse(t, "there is no column record", err);
}

static ww_status take_row(ww__control_cells *t, ww_error *err) {
    static ww_status (*const take[WW__CONTROL_RECORDS])(ww__control_cells * t, ww_error * err) = {
        take_reference, take_correction, take_strip, take_deleted,
        take_note,      take_baseline,   take_limits};
    int kind = 0;
    while (kind < WW__CONTROL_RECORDS &&
           !ww__words_equal(ww__control_cells_at(t, WW__CONTROL_RECORD), ww__control_record[kind]))
        kind++;
    return kind == WW__CONTROL_RECORDS
               ? ww__control_cells_refuse(t, "the record is of no kind known", err)
               : take[kind](t, err);
}

static ww_status take_lines(ww__control_cells *t, const char *bytes, size_t n, ww_error *err) {
    ww__lines lines = ww__lines_of(bytes, n);
    ww_status status = WW_OK;
    const char *start;
    size_t length;
    while (status == WW_OK && ww__lines_next(&lines, &start, &length)) {
        const char *inner = start;
        size_t rest = length;
        ww__lines_trim(&inner, &rest);
        t->line = lines.line;
        if (rest == 0 || *inner == '#')
            continue;
        if (!t->mark) {
            t->mark = memchr(start, '\t', length) ? '\t' : memchr(start, ';', length) ? ';' : ',';
            csv_set_delim(&t->parser, (unsigned char)t->mark);
            status = ww__control_cells_split(t, start, length, err);
            status = status == WW_OK ? take_header(t, err) : status;
            continue;
        }
        status = ww__control_cells_split(t, start, length, err);
        if (status == WW_OK)
            status = take_row(t, err);
    }
    t->line = 0;
    return status == WW_OK && !t->mark ? ww__control_cells_refuse(t, "there is no table", err)
                                       : status;
}

ww_status ww_control_table_parse(const char *name, const char bytes[], size_t n,
                                 ww_control_log *log, ww_error *err) {
    static const char mark[] = "\xEF\xBB\xBF";
    const size_t skip = n >= 3 && memcmp(bytes, mark, 3) == 0 ? 3 : 0;
    ww__control_cells t = {.file = name, .cells = WW__CELLS_INIT};
    ww_status status = WW_OK;
    assert(log);
    if (csv_init(&t.parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
        return ww_error_set(err, WW_EMEMORY, "no memory for a control log");
    status = ww__readings_text_copy(name, &t.made.file, err);
    if (status == WW_OK)
        status = take_lines(&t, bytes + skip, n - skip, err);
    csv_free(&t.parser);
    ww__cells_release(&t.cells);
    if (status == WW_OK)
        *log = t.made;
    else
        ww_control_log_release(&t.made);
    return status;
}

ww_status ww_control_table_read(const char *path, ww_control_log *log, ww_error *err) {
    char *bytes = NULL;
    size_t n = 0;
    ww_status status = ww__input_read(path, FILE_MOST, &bytes, &n, err);
    if (status == WW_OK)
        status = ww_control_table_parse(ww__input_name(path), bytes, n, log, err);
    free(bytes);
    return status;
}
