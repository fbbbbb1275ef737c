/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/log_write.h"
#include "base/text.h"
#include <assert.h>

/* --- references ------------------------------------------------------------------------------- */

/* What makes one reference the same as another, in a text that compares as it does. */
static void add_content(const ww_control_reference *reference, ww__text *text) {
    ww__text_add_format(text, "%s\t%d\t%d\t%d", reference->lot, (int)reference->status,
                        (int)reference->density, reference->reversal);
    for (size_t i = 0; i < reference->patches.n; i++) {
        const ww_control_patch *patch = &reference->patches.patch[i];
        ww__text_add_format(text, "\n%s\t%s", patch->step, patch->tone);
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            if (patch->state[c] != WW_CELL_VALUE)
                continue;
            ww__text_add_format(text, "\t%s\t", ww_channel_name((ww_channel)c));
            ww__text_add_exact(text, patch->density[c]);
            ww__text_add(text, "\t");
            ww__text_add_exact(text, patch->correction[c]);
        }
    }
}

static ww_status add_reference(ww__log *log, const ww_control_reference *reference,
                               const char *content, ww_error *err) {
    static const char step[] = "INSERT INTO reference_step VALUES (?, ?, ?, ?, ?, ?, ?)";
    ww_status status = ww__log_do(
        log, err,
        "INSERT INTO reference (lot, entered, status, density, process, content)"
        " VALUES (?, ?, ?, ?, ?, ?)",
        "tttttc", reference->lot, reference->entered, ww_density_status_name(reference->status),
        ww_density_kind_name(reference->density), reference->reversal ? "reversal" : "negative",
        content);
    const long number = ww__log_number(log);
    for (size_t i = 0; i < reference->patches.n; i++) {
        const ww_control_patch *patch = &reference->patches.patch[i];
        for (int c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++)
            if (patch->state[c] == WW_CELL_VALUE)
                status = ww__log_do(log, err, step, "iitttdd", number, (long)i,
                                    ww_channel_name((ww_channel)c), patch->step, patch->tone,
                                    patch->density[c], patch->correction[c]);
    }
    return status;
}

ww_status ww__log_write_reference(ww__log *log, const ww_control_reference *reference, long *number,
                                  ww_error *err) {
    static const char find[] = "SELECT number FROM reference WHERE content = ?";
    ww__text content = WW__TEXT_INIT;
    long found = 0;
    ww_status status;
    add_content(reference, &content);
    status = ww__text_status(&content, err);
    if (status == WW_OK)
        status = ww__log_rows(log, ww__log_take_number, &found, err, find, "c",
                              ww__text_string(&content));
    if (status == WW_OK && found == 0) {
        status = add_reference(log, reference, ww__text_string(&content), err);
        if (status == WW_OK)
            status = ww__log_rows(log, ww__log_take_number, &found, err, find, "c",
                                  ww__text_string(&content));
    }
    if (status == WW_OK)
        *number = found;
    ww__text_release(&content);
    return status;
}

/* --- all else --------------------------------------------------------------------------------- */

ww_status ww__log_write_strip(ww__log *log, const ww_control_strip *strip, long reference,
                              long *number, ww_error *err) {
    ww_status status =
        ww__log_do(log, err,
                   "INSERT INTO strip (process, machine, lot, date, entered, reference)"
                   " VALUES (?, ?, ?, ?, ?, ?)",
                   "ttttti", strip->process, strip->machine, strip->lot, strip->date,
                   strip->entered, reference);
    const long made = ww__log_number(log);
    for (size_t i = 0; i < strip->patches.n; i++) {
        const ww_control_patch *patch = &strip->patches.patch[i];
        for (int c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++) {
            const ww_optional density = {patch->state[c] == WW_CELL_VALUE, patch->density[c]};
            if (patch->state[c] != WW_CELL_MISSING)
                status =
                    ww__log_do(log, err, "INSERT INTO strip_step VALUES (?, ?, ?, ?, ?)", "iitto",
                               made, (long)i, ww_channel_name((ww_channel)c), patch->step, density);
        }
    }
    if (status == WW_OK)
        *number = made;
    return status;
}

ww_status ww__log_write_limits(ww__log *log, const ww_control_limits *limits, const char *process,
                               ww_error *err) {
    ww_status status = ww__log_do(log, err, "INSERT INTO limits (process, entered) VALUES (?, ?)",
                                  "tt", process, limits->entered);
    const long number = ww__log_number(log);
    for (size_t i = 0; i < limits->n && status == WW_OK; i++) {
        const ww_control_limit *one = &limits->limit[i];
        status = ww__log_do(log, err, "INSERT INTO limit_line VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                            "iitnoooo", number, (long)i, one->measure,
                            one->channel == WW_CHANNEL_COUNT ? "" : ww_channel_name(one->channel),
                            one->below, one->above, one->action_below, one->action_above);
    }
    return status;
}

ww_status ww__log_write_baseline(ww__log *log, const ww_control_baseline *baseline, long reference,
                                 long first, ww_error *err) {
    return ww__log_do(
        log, err,
        "INSERT INTO baseline (process, machine, reference, first, strips, why, entered)"
        " VALUES (?, ?, ?, ?, ?, ?, ?)",
        "ttiiitt", baseline->process, baseline->machine, reference, first, (long)baseline->strips,
        baseline->why, baseline->entered);
}

ww_status ww__log_write_note(ww__log *log, const ww_control_note *note, long strip, ww_error *err) {
    static const char with[] = "INSERT INTO note (strip, process, machine, date, text, entered)"
                               " VALUES (nullif(?, 0), ?, ?, ?, ?, ?)";
    return ww__log_do(log, err, with, "ittttt", strip, note->process, note->machine, note->date,
                      note->text, note->entered);
}

ww_status ww__log_write_deletion(ww__log *log, long strip, const char *why, const char *entered,
                                 ww_error *err) {
    return ww__log_do(log, err, "INSERT INTO deletion (strip, entered, why) VALUES (?, ?, ?)",
                      "itt", strip, entered, why);
}

/* --- entries ---------------------------------------------------------------------------------- */

static ww_status add_entry(ww__log *log, const ww_control_entry *entry, long *number,
                           ww_error *err) {
    const ww_control_strip *strip = entry->strip;
    long reference = 0;
    ww_status status = ww__log_write_reference(log, entry->reference, &reference, err);
    if (status == WW_OK && entry->limits)
        status = ww__log_write_limits(log, entry->limits, strip->process, err);
    if (status == WW_OK && entry->baseline > 0) {
        static char why[] = "";
        const ww_control_baseline first = {.process = strip->process,
                                           .machine = strip->machine,
                                           .strips = entry->baseline,
                                           .why = why,
                                           .entered = strip->entered};
        status = ww__log_write_baseline(log, &first, reference, 0, err);
    }
    return status == WW_OK ? ww__log_write_strip(log, strip, reference, number, err) : status;
}

ww_status ww_control_log_add(const char *path, const ww_control_entry *entry, long *number,
                             ww_error *err) {
    ww__log log = WW__LOG_INIT;
    long made = 0;
    ww_status status = ww__log_begin(path, true, &log, err);
    assert(entry && number);
    if (status != WW_OK)
        return status;
    status = ww__log_commit(&log, add_entry(&log, entry, &made, err), err);
    if (status == WW_OK)
        *number = made;
    return status;
}

/* Whether the strip is in the log, and whether it counts. */
static ww_status look_up(ww__log *log, long strip, bool *there, bool *deleted, ww_error *err) {
    long found = 0;
    ww_status status = ww__log_rows(log, ww__log_take_number, &found, err,
                                    "SELECT count(*) FROM strip WHERE number = ?", "i", strip);
    *there = found > 0;
    if (status == WW_OK)
        status = ww__log_rows(log, ww__log_take_number, &found, err,
                              "SELECT count(*) FROM deletion WHERE strip = ?", "i", strip);
    *deleted = found > 0;
    return status;
}

static ww_status no_strip(const ww__log *log, long strip, ww_error *err) {
    return ww_error_set_at(err, WW_EINPUT, log->name, 0,
                           "there is no strip %ld in this log; `control list` has the numbers",
                           strip);
}

ww_status ww_control_log_note(const char *path, const ww_control_note *note, ww_error *err) {
    ww__log log = WW__LOG_INIT;
    bool there = true, deleted = false;
    ww_status status = ww__log_begin(path, false, &log, err);
    if (status == WW_OK && note->strip > 0)
        status = look_up(&log, note->strip, &there, &deleted, err);
    if (status == WW_OK && !there)
        status = no_strip(&log, note->strip, err);
    if (status == WW_OK)
        status = ww__log_write_note(&log, note, note->strip, err);
    return ww__log_commit(&log, status, err);
}

ww_status ww_control_log_delete(const char *path, long strip, const char *why, const char *entered,
                                ww_error *err) {
    ww__log log = WW__LOG_INIT;
    bool there = false, deleted = false;
    ww_status status = ww__log_begin(path, false, &log, err);
    if (status == WW_OK)
        status = look_up(&log, strip, &there, &deleted, err);
    if (status == WW_OK && !there)
        status = no_strip(&log, strip, err);
    if (status == WW_OK && deleted)
        status = ww_error_set_at(err, WW_EINPUT, log.name, 0,
                                 "strip %ld does not count already; `control list --deleted` says "
                                 "why",
                                 strip);
    if (status == WW_OK)
        status = ww__log_write_deletion(&log, strip, why, entered, err);
    return ww__log_commit(&log, status, err);
}

ww_status ww_control_log_baseline(const char *path, const ww_control_baseline *baseline,
                                  long reference, ww_error *err) {
    ww__log log = WW__LOG_INIT;
    ww_status status = ww__log_begin(path, false, &log, err);
    if (status == WW_OK)
        status = ww__log_write_baseline(&log, baseline, reference, baseline->first, err);
    return ww__log_commit(&log, status, err);
}
