/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "io/log_write.h"
#include <assert.h>
#include <stdlib.h>

/* What the other log's numbers are in this one. */
typedef struct numbers {
    long *reference, *strip; /* by index */
    bool *known;             /* a strip was there */
} numbers;

/* A strip entered at the same second for the same day, process and reference, of the same rank
 * among these in both logs, is the same. */
static ww_status find_strip(ww__log *log, const ww_control_log *from, size_t at, long reference,
                            long *number, ww_error *err) {
    const ww_control_strip *strip = &from->strip[at];
    long before = 0;
    for (size_t i = 0; i < at; i++) {
        const ww_control_strip *one = &from->strip[i];
        before +=
            one->reference == strip->reference && ww__text_same(one->process, strip->process) &&
            ww__text_same(one->machine, strip->machine) && ww__text_same(one->date, strip->date) &&
            ww__text_same(one->entered, strip->entered);
    }
    *number = 0;
    return ww__log_rows(log, ww__log_take_number, number, err,
                        "SELECT number FROM strip WHERE process = ? AND machine = ? AND date = ?"
                        " AND entered = ? AND reference = ? ORDER BY number LIMIT 1 OFFSET ?",
                        "ttttii", strip->process, strip->machine, strip->date, strip->entered,
                        reference, before);
}

static ww_status add_strip(ww__log *log, const ww_control_log *from, size_t at, numbers *n,
                           ww_error *err) {
    const ww_control_strip *strip = &from->strip[at];
    const long reference = n->reference[strip->reference];
    long gone = 0;
    ww_status status = find_strip(log, from, at, reference, &n->strip[at], err);
    n->known[at] = n->strip[at] > 0;
    if (status == WW_OK && !n->known[at])
        status = ww__log_write_strip(log, strip, reference, &n->strip[at], err);
    if (status == WW_OK && strip->deleted)
        status = ww__log_rows(log, ww__log_take_number, &gone, err,
                              "SELECT count(*) FROM deletion WHERE strip = ?", "i", n->strip[at]);
    if (status == WW_OK && strip->deleted && gone == 0)
        status = ww__log_write_deletion(log, n->strip[at], strip->why, strip->deleted, err);
    return status;
}

static long strip_of(const ww_control_log *from, const numbers *n, long number) {
    for (size_t i = 0; i < from->n_strips; i++)
        if (from->strip[i].number == number)
            return n->strip[i];
    return 0;
}

static ww_status add_notes(ww__log *log, const ww_control_log *from, const numbers *n,
                           ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < from->n_notes && status == WW_OK; i++) {
        const ww_control_note *note = &from->note[i];
        long there = 0;
        status = ww__log_rows(log, ww__log_take_number, &there, err,
                              "SELECT count(*) FROM note WHERE entered = ? AND text = ?", "tt",
                              note->entered, note->text);
        if (status == WW_OK && there == 0)
            status = ww__log_write_note(log, note, strip_of(from, n, note->strip), err);
    }
    return status;
}

static ww_status add_baselines(ww__log *log, const ww_control_log *from, const numbers *n,
                               ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < from->n_baselines && status == WW_OK; i++) {
        const ww_control_baseline *one = &from->baseline[i];
        const long reference = n->reference[one->reference];
        long there = 0;
        status = ww__log_rows(log, ww__log_take_number, &there, err,
                              "SELECT count(*) FROM baseline WHERE entered = ? AND process = ? AND"
                              " machine = ? AND reference = ?",
                              "ttti", one->entered, one->process, one->machine, reference);
        if (status == WW_OK && there == 0)
            status =
                ww__log_write_baseline(log, one, reference, strip_of(from, n, one->first), err);
    }
    return status;
}

static ww_status add_limits(ww__log *log, const ww_control_log *from, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < from->n_limits && status == WW_OK; i++) {
        const ww_control_limits *set = &from->limits[i];
        long there = 0;
        status = ww__log_rows(log, ww__log_take_number, &there, err,
                              "SELECT count(*) FROM limits WHERE entered = ? AND process = ?", "tt",
                              set->entered, set->process);
        if (status == WW_OK && there == 0)
            status = ww__log_write_limits(log, set, set->process, err);
    }
    return status;
}

static ww_status add_all(ww__log *log, const ww_control_log *from, numbers *n, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < from->n_references && status == WW_OK; i++)
        status = ww__log_write_reference(log, &from->reference[i], &n->reference[i], err);
    for (size_t i = 0; i < from->n_strips && status == WW_OK; i++)
        status = add_strip(log, from, i, n, err);
    if (status == WW_OK)
        status = add_notes(log, from, n, err);
    if (status == WW_OK)
        status = add_baselines(log, from, n, err);
    return status == WW_OK ? add_limits(log, from, err) : status;
}

ww_status ww_control_log_import(const char *path, const ww_control_log *from, size_t *added,
                                size_t *known, ww_error *err) {
    numbers n = {calloc(from->n_references + 1, sizeof *n.reference),
                 calloc(from->n_strips + 1, sizeof *n.strip),
                 calloc(from->n_strips + 1, sizeof *n.known)};
    ww__log log = WW__LOG_INIT;
    ww_status status = n.reference && n.strip && n.known
                           ? ww__log_begin(path, true, &log, err)
                           : ww_error_set(err, WW_EMEMORY, "no memory for a control log");
    assert(added && known);
    if (status == WW_OK)
        status = ww__log_commit(&log, add_all(&log, from, &n, err), err);
    if (status == WW_OK) {
        *added = *known = 0;
        for (size_t i = 0; i < from->n_strips; i++)
            *(n.known[i] ? known : added) += 1;
    }
    free(n.reference);
    free(n.strip);
    free(n.known);
    return status;
}
