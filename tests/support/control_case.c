/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/control_case.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/control_file.h>
#include <wedgework/readings_file.h>

static char *copy(const char *text) {
    const size_t n = strlen(text) + 1;
    char *made = malloc(n);
    assert_non_null(made);
    memcpy(made, text, n);
    return made;
}

static void *grow(void *list, size_t n, size_t size) {
    char *grown = realloc(list, (n + 1) * size);
    assert_non_null(grown);
    memset(grown + n * size, 0, size);
    return grown;
}

static ww_readings parse(const char *text) {
    ww_readings readings = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("readings", ww_readings_file_parse("case.csv", text, strlen(text), &readings, &err),
                WW_OK, &err);
    return readings;
}

ww_status control_case_reference(ww_control_log *log, const char *text, ww_error *err) {
    ww_readings readings = parse(text);
    ww_control_reference made = WW_CONTROL_REFERENCE_INIT;
    const ww_status status =
        ww_control_reference_make(&readings, NULL, "2026-11-01T08:00:00Z", &made, err);
    ww_readings_release(&readings);
    if (status != WW_OK)
        return status;
    made.number = (long)log->n_references + 1;
    log->reference = grow(log->reference, log->n_references, sizeof *log->reference);
    log->reference[log->n_references++] = made;
    return WW_OK;
}

void control_case_strip(ww_control_log *log, const char *process, const char *machine,
                        const char *date, const char *text) {
    ww_readings readings = parse(text);
    ww_control_strip made = {.number = (long)log->n_strips + 1,
                             .process = copy(process),
                             .machine = copy(machine),
                             .date = copy(date),
                             .entered = copy("2026-11-30T08:00:00Z"),
                             .reference = log->n_references - 1};
    ww_notes notes = WW_NOTES_INIT;
    ww_error err = WW_ERROR_INIT;
    made.lot = copy(log->reference[made.reference].lot);
    test_status("strip",
                ww_control_strip_make(&readings, &log->reference[made.reference], NULL,
                                      &made.patches, &notes, &err),
                WW_OK, &err);
    ww_notes_release(&notes);
    ww_readings_release(&readings);
    log->strip = grow(log->strip, log->n_strips, sizeof *log->strip);
    log->strip[log->n_strips++] = made;
}

void control_case_series(ww_control_log *log, double aim, const double value[], size_t n) {
    char text[80], date[40];
    snprintf(text, sizeof text, "step,visual\nLD,%.5f\n", aim);
    test_status("reference", control_case_reference(log, text, NULL), WW_OK, NULL);
    for (size_t i = 0; i < n; i++) {
        snprintf(text, sizeof text, "step,visual\nLD,%.5f\n", value[i]);
        snprintf(date, sizeof date, "2026-11-%02u", (unsigned)(i + 1));
        control_case_strip(log, "main", "", date, text);
    }
}

void control_case_limits(ww_control_log *log, const char *process, const char *text) {
    ww_control_limits made = WW_CONTROL_LIMITS_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("limits",
                ww_control_limits_parse("limits.csv", text, strlen(text), "2026-11-01T08:00:00Z",
                                        &made, &err),
                WW_OK, &err);
    free(made.process);
    made.process = copy(process);
    made.number = (long)log->n_limits + 1;
    log->limits = grow(log->limits, log->n_limits, sizeof *log->limits);
    log->limits[log->n_limits++] = made;
}

void control_case_delete(ww_control_log *log, long number, const char *why) {
    ww_control_strip *strip = &log->strip[number - 1];
    strip->deleted = copy("2026-11-30T09:00:00Z");
    strip->why = copy(why);
}

const ww_control_chart *control_case_chart(const ww_control *control, const char *measure,
                                           ww_channel channel) {
    size_t at;
    const ww_control_lot *lot = ww_control_focus(&control->series[0], &at);
    for (size_t c = 0; lot && c < lot->n_charts; c++)
        if (strcmp(lot->chart[c].measure, measure) == 0 && lot->chart[c].channel == channel)
            return &lot->chart[c];
    fail_msg("no chart of %s", measure);
    return NULL;
}

ww_control control_case_judge(const ww_control_log *log, const ww_control_request *request) {
    static const ww_control_request plain = {.strip = 0};
    ww_control made = WW_CONTROL_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("judged", ww_control_judge(log, request ? request : &plain, &made, &err), WW_OK,
                &err);
    return made;
}
