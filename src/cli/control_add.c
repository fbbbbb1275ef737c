/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/control_add.h"
#include "base/escape.h"
#include "core/control_log.h"
#include "core/readings.h"
#include "io/lines.h"
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <wedgework/control_file.h>
#include <wedgework/control_log_file.h>
#include <wedgework/readings_file.h>

enum { SHOWN = 200 };

ww__control_times ww__control_now(void) {
    ww__control_times now = {"", ""};
    const time_t seconds = time(NULL);
    struct tm broken;
    if (gmtime_r(&seconds, &broken))
        strftime(now.entered, sizeof now.entered, "%Y-%m-%dT%H:%M:%SZ", &broken);
    if (localtime_r(&seconds, &broken))
        strftime(now.today, sizeof now.today, "%Y-%m-%d", &broken);
    return now;
}

void ww__control_added_release(ww__control_added *added) {
    free(added->process);
    free(added->machine);
    ww_notes_release(&added->notes);
    *added = (ww__control_added)WW__CONTROL_ADDED_INIT;
}

/* All that is read on the way to an entry. */
typedef struct work {
    const ww_arguments *arguments;
    ww__control_times now;
    ww_control_log log;
    ww_readings strip;
    ww_control_reference reference;
    ww_control_limits limits;
    ww_control_strip made;
    const ww_control_reference *against; /* the one given, or the log's */
    ww_notes *notes;
} work;

static void release(work *w) {
    ww_control_log_release(&w->log);
    ww_readings_release(&w->strip);
    ww_control_reference_release(&w->reference);
    ww_control_limits_release(&w->limits);
    ww_control_strip_release(&w->made);
}

/* --- names ----------------------------------------------------------------------------------- */

/* A log that is not there yet has nothing in it. */
static ww_status read_log(work *w, ww_error *err) {
    const char *path = ww__arguments_text(w->arguments, "--log");
    struct stat found;
    if (stat(path, &found) != 0 && errno == ENOENT)
        return WW_OK;
    return ww_control_log_read(path, &w->log, err);
}

static ww_status say_new(const work *w, const char *process, ww_error *err) {
    char shown[SHOWN], other[SHOWN];
    for (size_t i = 0; i < w->log.n_strips; i++)
        if (strcmp(w->log.strip[i].process, process) == 0)
            return WW_OK;
    if (w->log.n_strips == 0)
        return WW_OK;
    return ww_notes_add(w->notes, err,
                        "A process '%s' begins with this strip; the log had '%s' until now.",
                        ww__escape_message(process, shown, sizeof shown),
                        ww__escape_message(w->log.strip[0].process, other, sizeof other));
}

static ww_status take_names(work *w, ww_error *err) {
    const char *process = ww__arguments_text(w->arguments, "--process");
    const char *machine = ww__arguments_text(w->arguments, "--machine");
    ww_status status = ww_control_choose(&w->log, &process, &machine, err);
    if (status == WW_OK)
        status = say_new(w, process, err);
    if (status == WW_OK)
        status = ww__readings_text_copy(process, &w->made.process, err);
    return status == WW_OK ? ww__readings_text_copy(machine, &w->made.machine, err) : status;
}

/* A day or more ahead is a slip, or a clock that is wrong; either way it orders the strips. */
static ww_status say_date(const work *w, const char *date, bool said, ww_error *err) {
    if (!said)
        return ww_notes_add(w->notes, err,
                            "Neither the strip nor --date says when it was processed: today, %s, "
                            "is taken.",
                            date);
    if (strncmp(date, w->now.today, strlen(w->now.today)) > 0)
        return ww_notes_add(w->notes, err, "The strip's date, %s, is yet to come.", date);
    return WW_OK;
}

static ww_status take_date(work *w, ww_error *err) {
    const char *asked = ww__arguments_text(w->arguments, "--date");
    const char *said = asked ? asked : w->strip.meta.date;
    char date[WW_CONTROL_DATE_SIZE], shown[SHOWN];
    ww_status status;
    if (ww_control_date_check(said ? said : w->now.today, date, err) != WW_OK)
        return ww_error_set_at(err, WW_EINPUT, w->strip.file, 0,
                               "the date '%s' puts no strip in order; write it as 2026-11-30, or "
                               "2026-11-30T08:15, or give --date",
                               ww__escape_message(said, shown, sizeof shown));
    status = say_date(w, date, said != NULL, err);
    if (status == WW_OK)
        status = ww__readings_text_copy(date, &w->made.date, err);
    return status == WW_OK ? ww__readings_text_copy(w->now.entered, &w->made.entered, err) : status;
}

static ww_status take_lot(work *w, ww_error *err) {
    const char *asked = ww__arguments_text(w->arguments, "--lot");
    const char *said = asked ? asked : w->strip.meta.lot;
    return ww__readings_text_copy(said ? said : w->against->lot, &w->made.lot, err);
}

/* --- reference and limits -------------------------------------------------------------------- */

static ww_status read_reference(work *w, const char *path, ww_error *err) {
    ww_readings readings = WW_READINGS_INIT;
    ww_status status = ww_readings_file_read(path, &readings, err);
    if (status == WW_OK)
        status = ww_control_reference_make(&readings, NULL, w->now.entered, &w->reference, err);
    if (status == WW_OK)
        status = ww_notes_copy_of(&readings.notes, "of the reference", w->notes, err);
    w->against = &w->reference;
    ww_readings_release(&readings);
    return status;
}

static ww_status find_reference(work *w, ww_error *err) {
    const char *path = ww__arguments_text(w->arguments, "--reference");
    size_t last = 0;
    if (path)
        return read_reference(w, path, err);
    if (!ww_control_reference_last(&w->log, w->made.process, w->made.machine, &last))
        return ww_error_set(err, WW_EUSAGE,
                            "the first strip of a process needs its reference; give --reference "
                            "REF.csv, the readings of the reference strip");
    w->against = &w->log.reference[last];
    return WW_OK;
}

static bool same_patches(const ww_control_patches *a, const ww_control_patches *b) {
    bool same = a->n == b->n;
    for (size_t i = 0; i < a->n && same; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT && same; c++)
            same = a->patch[i].state[c] == b->patch[i].state[c] &&
                   a->patch[i].density[c] == b->patch[i].density[c];
    return same;
}

static ww_status say_twin(const work *w, ww_error *err) {
    for (size_t i = w->log.n_strips; i > 0; i--) {
        const ww_control_strip *one = &w->log.strip[i - 1];
        if (!one->deleted && strcmp(one->process, w->made.process) == 0 &&
            strcmp(one->machine, w->made.machine) == 0 && strcmp(one->date, w->made.date) == 0 &&
            same_patches(&one->patches, &w->made.patches))
            return ww_notes_add(w->notes, err,
                                "Strip %ld of the same date reads the same throughout: if this is "
                                "the same strip once more, take one out (control delete).",
                                one->number);
    }
    return WW_OK;
}

/* --- how many strips make limits ------------------------------------------------------------- */

/* The lot of the strip's reference, as it is before; NULL where there is none. */
static const ww_control_lot *lot_of(const ww_control *control, const ww_control_reference *of) {
    for (size_t i = 0; control->n > 0 && i < control->series[0].n_lots; i++)
        if (control->series[0].lot[i].reference == of)
            return &control->series[0].lot[i];
    return NULL;
}

static ww_status check_baseline(const work *w, size_t asked, ww_error *err) {
    const ww_control_request request = {.process = w->made.process, .machine = w->made.machine};
    ww_control control = WW_CONTROL_INIT;
    const ww_control_reference *against = w->against;
    const ww_control_lot *lot;
    size_t last = 0;
    ww_status status = ww_control_judge(&w->log, &request, &control, err);
    if (status != WW_OK)
        return status;
    if (against == &w->reference &&
        ww_control_reference_last(&w->log, w->made.process, w->made.machine, &last))
        against = &w->log.reference[last];
    lot = lot_of(&control, against);
    if (lot && lot->found >= lot->wanted && asked != lot->wanted)
        status = ww_error_set(err, WW_EUSAGE,
                              "the limits stand, made of %zu strips; `control baseline --baseline "
                              "%zu` makes them anew of the last %zu",
                              lot->wanted, asked, asked);
    ww_control_release(&control);
    return status;
}

/* --- entries --------------------------------------------------------------------------------- */

static ww_status prepare(work *w, ww_error *err) {
    const char *limits = ww__arguments_text(w->arguments, "--limits");
    ww_status status = ww_readings_file_read(w->arguments->file[0], &w->strip, err);
    if (status == WW_OK)
        status = ww_notes_copy(&w->strip.notes, w->notes, err);
    if (status == WW_OK)
        status = read_log(w, err);
    if (status == WW_OK)
        status = take_names(w, err);
    if (status == WW_OK)
        status = find_reference(w, err);
    if (status == WW_OK)
        status =
            ww_control_strip_make(&w->strip, w->against, ww__arguments_text(w->arguments, "--lot"),
                                  &w->made.patches, w->notes, err);
    if (status == WW_OK)
        status = take_date(w, err);
    if (status == WW_OK)
        status = take_lot(w, err);
    if (status == WW_OK && limits)
        status = ww_control_limits_read(limits, w->now.entered, &w->limits, err);
    return status == WW_OK ? say_twin(w, err) : status;
}

static ww_status enter(work *w, ww__control_added *added, ww_error *err) {
    const ww_optional baseline = ww__arguments_number(w->arguments, "--baseline");
    const size_t asked = baseline.set ? (size_t)baseline.value : 0;
    ww_status status = asked > 0 ? check_baseline(w, asked, err) : WW_OK;
    const ww_control_entry entry = {.strip = &w->made,
                                    .reference = w->against,
                                    .limits = w->limits.n > 0 ? &w->limits : NULL,
                                    .baseline = asked};
    if (status == WW_OK)
        status = ww__readings_text_copy(w->made.process, &added->process, err);
    if (status == WW_OK)
        status = ww__readings_text_copy(w->made.machine, &added->machine, err);
    return status == WW_OK ? ww_control_log_add(ww__arguments_text(w->arguments, "--log"), &entry,
                                                &added->number, err)
                           : status;
}

ww_status ww__control_add(const ww_arguments *arguments, ww__control_added *added, ww_error *err) {
    work w = {.arguments = arguments, .now = ww__control_now(), .notes = &added->notes};
    ww_status status = prepare(&w, err);
    if (status == WW_OK)
        status = enter(&w, added, err);
    release(&w);
    return status;
}

/* The note's process: the strip's where it is of one, else the one that is meant. */
static ww_status note_names(const ww_arguments *arguments, const ww_control_log *log, long strip,
                            ww_control_note *note, ww_error *err) {
    const char *process = ww__arguments_text(arguments, "--process");
    const char *machine = ww__arguments_text(arguments, "--machine");
    ww_status status;
    for (size_t i = 0; i < log->n_strips; i++)
        if (log->strip[i].number == strip) {
            process = log->strip[i].process;
            machine = log->strip[i].machine;
        }
    status = ww_control_choose(log, &process, &machine, err);
    note->process = (char *)process;
    note->machine = (char *)machine;
    return status;
}

ww_status ww__control_note(const ww_arguments *arguments, ww_error *err) {
    ww__control_times now = ww__control_now();
    const char *path = ww__arguments_text(arguments, "--log");
    const char *said = ww__arguments_text(arguments, "--date");
    const ww_optional strip = ww__arguments_number(arguments, "--strip");
    char date[WW_CONTROL_DATE_SIZE];
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control_note note = {.strip = strip.set ? (long)strip.value : 0,
                            .text = (char *)ww__arguments_text(arguments, "--text"),
                            .date = date,
                            .entered = now.entered};
    ww_status status = ww_control_date_check(said ? said : now.today, date, err);
    if (status == WW_OK)
        status = ww_control_log_read(path, &log, err);
    if (status == WW_OK)
        status = note_names(arguments, &log, note.strip, &note, err);
    if (status == WW_OK)
        status = ww_control_log_note(path, &note, err);
    ww_control_log_release(&log);
    return status;
}

static int greatest_first(const void *a, const void *b) {
    const long one = *(const long *)a, two = *(const long *)b;
    return (one < two) - (one > two);
}

/* The number of the n-th last strip of a lot, as they were entered. */
static ww_status nth_last(const ww_control_lot *lot, size_t n, long *number, ww_error *err) {
    long *all = malloc(lot->n * sizeof *all);
    if (!all)
        return ww_error_set(err, WW_EMEMORY, "no memory for a baseline");
    for (size_t i = 0; i < lot->n; i++)
        all[i] = lot->strip[i]->number;
    qsort(all, lot->n, sizeof *all, greatest_first);
    *number = all[n - 1];
    free(all);
    return WW_OK;
}

static ww_status baseline_of(const ww_control_log *log, const char *process, const char *machine,
                             ww_control_baseline *made, ww_error *err) {
    const ww_control_request request = {.process = process, .machine = machine};
    ww_control control = WW_CONTROL_INIT;
    const ww_control_lot *lot;
    size_t last = 0;
    const bool any = ww_control_reference_last(log, process, machine, &last);
    ww_status status = ww_control_judge(log, &request, &control, err);
    if (status != WW_OK)
        return status;
    lot = any ? lot_of(&control, &log->reference[last]) : NULL;
    made->reference = last;
    if (!lot || lot->n < made->strips)
        status = ww_error_set_at(err, WW_ENODATA, log->file, 0,
                                 "a baseline takes %zu strips, and %zu count against the present "
                                 "reference; enter more first",
                                 made->strips, lot ? lot->n : 0);
    else
        status = nth_last(lot, made->strips, &made->first, err);
    ww_control_release(&control);
    return status;
}

ww_status ww__control_baseline(const ww_arguments *arguments, ww_error *err) {
    static char none[] = "";
    ww__control_times now = ww__control_now();
    const char *path = ww__arguments_text(arguments, "--log");
    const char *process = ww__arguments_text(arguments, "--process");
    const char *machine = ww__arguments_text(arguments, "--machine");
    const char *why = ww__arguments_text(arguments, "--why");
    const ww_optional asked = ww__arguments_number(arguments, "--baseline");
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control_baseline made = {.strips =
                                    asked.set ? (size_t)asked.value : WW_CONTROL_BASELINE_LEAST,
                                .why = why ? (char *)why : none,
                                .entered = now.entered};
    ww_status status = ww_control_log_read(path, &log, err);
    if (status == WW_OK)
        status = ww_control_choose(&log, &process, &machine, err);
    if (status == WW_OK)
        status = baseline_of(&log, process, machine, &made, err);
    if (status == WW_OK) {
        made.process = (char *)process;
        made.machine = (char *)machine;
        status = ww_control_log_baseline(path, &made, log.reference[made.reference].number, err);
    }
    ww_control_log_release(&log);
    return status;
}
