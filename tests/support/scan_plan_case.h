/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_SCAN_PLAN_CASE_H
#define WEDGEWORK_TESTS_SCAN_PLAN_CASE_H

#include "support/scan_pixels.h"
#include "support/support.h"
#include <string.h>
#include <wedgework/scan.h>

/* A negative and a scanner of known noise, for tests of scan plans; nothing to release but those.
 */
enum { SCAN_PLAN_CASE_ROWS = 8 };

typedef struct scan_plan_case {
    struct scan_pixels made;
    ww_row row[SCAN_PLAN_CASE_ROWS];
    ww_readings negative;
    ww_scan_request request;
} scan_plan_case;

/* A scanner of middling noise, as light. */
#define SCAN_PLAN_CASE_TRUTH                                                                       \
    (scan_pixels_truth) {                                                                          \
        0.71, 0.002, 0.002, 4e-4, 2e-3, 4e-3, 16, 1.0                                              \
    }

/* An empty negative and a grey scanner. */
static inline void scan_plan_case_start(scan_plan_case *c, scan_pixels_truth truth) {
    *c = (scan_plan_case){.request = WW_SCAN_REQUEST_INIT};
    scan_pixels_scanner(&c->made, truth);
    c->negative.row = c->row;
    c->negative.meta.status = WW_STATUS_SCANNER;
    c->request.negative = &c->negative;
    c->request.scanner = &c->made.scanner;
}

/* The scanner in red, green and blue in place of grey. */
static inline void scan_plan_case_colour(scan_plan_case *c, scan_pixels_truth truth) {
    c->made.scanner.channel[WW_VISUAL].present = false;
    for (int k = WW_RED; k <= WW_BLUE; k++)
        scan_pixels_channel(&c->made, (ww_channel)k, &truth);
}

/* A row in the channels from `first` on, n of them; "base" is the base row. */
static inline ww_row *scan_plan_case_tone(scan_plan_case *c, const char *tone, ww_part part,
                                          ww_channel first, size_t n, const double density[]) {
    static char none[] = "";
    ww_row *row = &c->row[c->negative.n++];
    *row = (ww_row){.step = none,
                    .tone = (char *)tone,
                    .pack = none,
                    .part = part,
                    .is_base = strcmp(tone, "base") == 0};
    for (size_t i = 0; i < n; i++) {
        row->cell[(size_t)first + i] =
            (ww_cell){.state = WW_CELL_VALUE, .value = density[i], .n = 1};
        c->negative.has[(size_t)first + i] = true;
    }
    return row;
}

static inline ww_cell *scan_plan_case_grey(scan_plan_case *c, const char *tone, ww_part part,
                                           double density) {
    return &scan_plan_case_tone(c, tone, part, WW_VISUAL, 1, &density)->cell[WW_VISUAL];
}

/* Base 0.25, shadow 0.45, and a cloud. */
static inline void scan_plan_case_usual(scan_plan_case *c, double cloud) {
    scan_plan_case_start(c, SCAN_PLAN_CASE_TRUTH);
    scan_plan_case_grey(c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(c, "shadow", WW_PART_WHOLE, 0.45);
    scan_plan_case_grey(c, "cloud", WW_PART_WHOLE, cloud);
}

/* Makes the plan, which must succeed. */
static inline void scan_plan_case_make(const char *row, const scan_plan_case *c,
                                       ww_scan_plan *plan) {
    ww_error err = WW_ERROR_INIT;
    *plan = (ww_scan_plan)WW_SCAN_PLAN_INIT;
    test_status(row, ww_scan_plan_make(&c->request, plan, &err), WW_OK, &err);
}

/* It must be refused with this status and these words. */
static inline void scan_plan_case_refused(const char *row, const scan_plan_case *c,
                                          ww_status status, const char *words) {
    ww_scan_plan plan = WW_SCAN_PLAN_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_scan_plan_make(&c->request, &plan, &err), status, &err);
    test_holds(row, err.msg, words);
}

/* A note of the plan has, or has not, these words. */
static inline void scan_plan_case_says(const char *row, const scan_plan_case *c, const char *words,
                                       bool said) {
    ww_scan_plan plan;
    scan_plan_case_make(row, c, &plan);
    if (test_noted(&plan.notes, words) != said)
        for (size_t i = 0; i < plan.notes.n; i++)
            print_message("note: %s\n", plan.notes.text[i]);
    test_true(row, test_noted(&plan.notes, words) == said);
    ww_scan_plan_release(&plan);
}

#endif
