/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "support/print_case.h"
#include "support/split_case.h"
#include <wedgework/start.h>

/* Source: definition (the Status line of the header). */

/* As in test_fit.c: what GSL keeps of a workspace that it could not allocate whole. */
enum { GSL_LOSES = 60 };

static ww_status make(void *context, ww_error *err) {
    const print_case *c = context;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    const ww_status status = ww_print_plan_make(&c->request, &plan, err);
    test_true("all or nothing", (plan.n_papers > 0) == (status == WW_OK));
    test_true("notes too", (plan.notes.n > 0) == (status == WW_OK));
    if (status == WW_OK)
        test_true("burn", print_case_find(&plan.paper[0], "cloud")->burn_stops.set);
    ww_print_plan_release(&plan);
    return status;
}

static void start(print_case *c) {
    print_case_start(c);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.40);
    print_case_tone(c, "face", WW_PART_WHOLE, 0.90);
    print_case_tone(c, "cloud", WW_PART_THIN, 1.80);
    print_case_tone(c, "cloud", WW_PART_DENSE, 1.95);
    print_case_place(c, "face", 0.60);
}

static void measured_papers(void **state) {
    print_case c;
    (void)state;
    start(&c);
    print_case_paper(&c, "two", 1.05, 0.3);
    print_case_paper(&c, "three", 0.88, 0.3);
    inject_each("measured papers", make, &c);
}

/* Neighbours, with one half-way between them: a curve of its own. */
static void half_papers(void **state) {
    static char two[] = "filter 2", three[] = "filter 3";
    print_case c;
    (void)state;
    start(&c);
    print_case_paper(&c, "paper", 1.05, 0.3)->meta.contrast = two;
    print_case_paper(&c, "paper", 0.88, 0.3)->meta.contrast = three;
    c.request.test[0] = (ww_print_test){12.0, "face", 0.50};
    c.request.test[1] = (ww_print_test){16.0, "face", 0.70};
    c.request.n_tests = 2;
    inject_each_but("half-way", make, &c, GSL_LOSES);
}

/* Two pairs of a split table, six steps each, and the share between them: three fits. */
static void split_papers_of_two(void **state) {
    static split_case c;
    size_t kept = 1;
    (void)state;
    split_case_start(&c, &split_papers[0], 0.0);
    split_case_add(&c, 1.0, 300.0, NULL, 0.0);
    split_case_add(&c, 0.5, 300.0, NULL, 0.0);
    for (size_t i = 1; i < c.table.n; i++)
        if ((i - 1) % SPLIT_STEPS % 4 == 0)
            c.row[kept++] = c.row[i];
    c.table.n = kept;
    print_case_tone(&c.print, "shadow", WW_PART_WHOLE, 0.48);
    print_case_tone(&c.print, "face", WW_PART_WHOLE, 1.08);
    print_case_tone(&c.print, "cloud", WW_PART_THIN, 1.30);
    print_case_tone(&c.print, "cloud", WW_PART_DENSE, 1.42);
    print_case_place(&c.print, "face", 0.25);
    inject_each_but("split", make, &c.print, GSL_LOSES);
}

static void nominal_papers(void **state) {
    print_case c;
    (void)state;
    start(&c);
    inject_each("nominal papers", make, &c);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(measured_papers),
        cmocka_unit_test(half_papers),
        cmocka_unit_test(split_papers_of_two),
        cmocka_unit_test(nominal_papers),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print plan without memory", tests, NULL, NULL);
}
