/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "io/control_table.h"
#include <assert.h>
#include <wedgework/control_table.h>

const char *const ww__control_column[WW__CONTROL_COLUMNS] = {
    "record",  "number", "of",   "process", "machine", "lot",  "date",   "entered", "status",
    "density", "step",   "tone", "red",     "green",   "blue", "visual", "text"};
const char *const ww__control_record[WW__CONTROL_RECORDS] = {
    "reference", "correction", "strip", "deleted", "note", "baseline", "limits"};
const char *const ww__control_side[WW__CONTROL_SIDES] = {"below", "above", "action below",
                                                         "action above"};

/* A row on its way: texts by column, numbers by channel; what is not set is empty. */
typedef struct row {
    const char *cell[WW__CONTROL_COLUMNS];
    long number, of; /* 0: empty */
    long first;      /* baselines: in the column step; -1: none */
    ww_optional value[WW_CHANNEL_COUNT];
    bool over[WW_CHANNEL_COUNT];
} row;

static void add_number(ww__text *text, long number) {
    if (number > 0)
        ww__text_add_format(text, "%ld", number);
}

static void add_value(ww__text *text, const row *r, int channel) {
    if (r->over[channel])
        ww__text_add(text, "over");
    else if (r->value[channel].set)
        ww__text_add_exact(text, r->value[channel].value);
}

static void add_row(ww__text *text, ww__control_record_kind kind, const row *r) {
    for (int c = 0; c < WW__CONTROL_COLUMNS; c++) {
        ww__text_add(text, c > 0 ? "," : "");
        if (c == WW__CONTROL_RECORD)
            ww__text_add(text, ww__control_record[kind]);
        else if (c == WW__CONTROL_NUMBER)
            add_number(text, r->number);
        else if (c == WW__CONTROL_OF)
            add_number(text, r->of);
        else if (c >= WW__CONTROL_RED && c <= WW__CONTROL_VISUAL)
            add_value(text, r, c - WW__CONTROL_RED);
        else if (c == WW__CONTROL_STEP && kind == WW__CONTROL_BASELINE)
            ww__text_add_format(text, "%ld", r->first);
        else if (r->cell[c])
            ww__escape_csv(text, r->cell[c]);
    }
    ww__text_add(text, "\n");
}

static void add_reference(ww__text *text, const ww_control_reference *reference) {
    for (size_t i = 0; i < reference->patches.n; i++) {
        const ww_control_patch *patch = &reference->patches.patch[i];
        row r = {.number = reference->number};
        row correction = {.number = reference->number};
        bool corrected = false;
        r.cell[WW__CONTROL_LOT] = reference->lot;
        r.cell[WW__CONTROL_ENTERED] = reference->entered;
        r.cell[WW__CONTROL_STATUS] = ww_density_status_name(reference->status);
        r.cell[WW__CONTROL_DENSITY] = ww_density_kind_name(reference->density);
        r.cell[WW__CONTROL_STEP] = correction.cell[WW__CONTROL_STEP] = patch->step;
        r.cell[WW__CONTROL_TONE] = patch->tone;
        r.cell[WW__CONTROL_TEXT] = reference->reversal ? "reversal" : "";
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const bool set = patch->state[c] == WW_CELL_VALUE;
            const bool zero = !(patch->correction[c] < 0.0) && !(patch->correction[c] > 0.0);
            r.value[c] = (ww_optional){set, patch->density[c]};
            correction.value[c] = (ww_optional){set && !zero, patch->correction[c]};
            corrected = corrected || (set && !zero);
        }
        add_row(text, WW__CONTROL_REFERENCE, &r);
        if (corrected)
            add_row(text, WW__CONTROL_CORRECTION, &correction);
    }
}

static void add_strip(ww__text *text, const ww_control_log *log, const ww_control_strip *strip) {
    for (size_t i = 0; i < strip->patches.n; i++) {
        const ww_control_patch *patch = &strip->patches.patch[i];
        row r = {.number = strip->number, .of = log->reference[strip->reference].number};
        r.cell[WW__CONTROL_PROCESS] = strip->process;
        r.cell[WW__CONTROL_MACHINE] = strip->machine;
        r.cell[WW__CONTROL_LOT] = strip->lot;
        r.cell[WW__CONTROL_DATE] = strip->date;
        r.cell[WW__CONTROL_ENTERED] = strip->entered;
        r.cell[WW__CONTROL_STEP] = patch->step;
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            r.value[c] = (ww_optional){patch->state[c] == WW_CELL_VALUE, patch->density[c]};
            r.over[c] = patch->state[c] == WW_CELL_OVER;
        }
        add_row(text, WW__CONTROL_STRIP, &r);
    }
}

static void add_deleted(ww__text *text, const ww_control_strip *strip) {
    row r = {.of = strip->number};
    r.cell[WW__CONTROL_ENTERED] = strip->deleted;
    r.cell[WW__CONTROL_TEXT] = strip->why;
    if (strip->deleted)
        add_row(text, WW__CONTROL_DELETED, &r);
}

static void add_note(ww__text *text, const ww_control_note *note) {
    row r = {.number = note->number, .of = note->strip};
    r.cell[WW__CONTROL_PROCESS] = note->process;
    r.cell[WW__CONTROL_MACHINE] = note->machine;
    r.cell[WW__CONTROL_DATE] = note->date;
    r.cell[WW__CONTROL_ENTERED] = note->entered;
    r.cell[WW__CONTROL_TEXT] = note->text;
    add_row(text, WW__CONTROL_NOTE, &r);
}

static void add_baseline(ww__text *text, const ww_control_log *log,
                         const ww_control_baseline *baseline) {
    row r = {.number = (long)baseline->strips,
             .of = log->reference[baseline->reference].number,
             .first = baseline->first};
    r.cell[WW__CONTROL_PROCESS] = baseline->process;
    r.cell[WW__CONTROL_MACHINE] = baseline->machine;
    r.cell[WW__CONTROL_ENTERED] = baseline->entered;
    r.cell[WW__CONTROL_TEXT] = baseline->why;
    add_row(text, WW__CONTROL_BASELINE, &r);
}

static void add_limits(ww__text *text, const ww_control_limits *limits) {
    for (size_t i = 0; i < limits->n; i++) {
        const ww_control_limit *limit = &limits->limit[i];
        const ww_optional side[WW__CONTROL_SIDES] = {limit->below, limit->above,
                                                     limit->action_below, limit->action_above};
        const bool all = limit->channel == WW_CHANNEL_COUNT;
        for (int s = 0; s < WW__CONTROL_SIDES; s++) {
            row r = {.number = limits->number};
            r.cell[WW__CONTROL_PROCESS] = limits->process;
            r.cell[WW__CONTROL_ENTERED] = limits->entered;
            r.cell[WW__CONTROL_STEP] = limit->measure;
            r.cell[WW__CONTROL_TONE] = ww__control_side[s];
            r.cell[WW__CONTROL_TEXT] = all ? "all" : "";
            r.value[all ? WW_VISUAL : limit->channel] = side[s];
            if (side[s].set)
                add_row(text, WW__CONTROL_LIMITS, &r);
        }
    }
}

ww_status ww_control_table_text(const ww_control_log *log, char **text, size_t *n, ww_error *err) {
    ww__text made = WW__TEXT_INIT;
    ww_status status;
    assert(log && text && n);
    ww__text_add(&made, "# wedgework: control log\n");
    for (int c = 0; c < WW__CONTROL_COLUMNS; c++)
        ww__text_add_format(&made, "%s%s", c > 0 ? "," : "", ww__control_column[c]);
    ww__text_add(&made, "\n");
    for (size_t i = 0; i < log->n_references; i++)
        add_reference(&made, &log->reference[i]);
    for (size_t i = 0; i < log->n_strips; i++)
        add_strip(&made, log, &log->strip[i]);
    for (size_t i = 0; i < log->n_strips; i++)
        add_deleted(&made, &log->strip[i]);
    for (size_t i = 0; i < log->n_notes; i++)
        add_note(&made, &log->note[i]);
    for (size_t i = 0; i < log->n_baselines; i++)
        add_baseline(&made, log, &log->baseline[i]);
    for (size_t i = 0; i < log->n_limits; i++)
        add_limits(&made, &log->limits[i]);
    status = ww__text_status(&made, err);
    if (status == WW_OK) {
        *text = made.bytes;
        *n = made.n;
    } else {
        ww__text_release(&made);
    }
    return status;
}
