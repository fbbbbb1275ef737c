/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "out/scripts.h"
#include "plot_data.h"
#include "support/scan_plan_case.h"
#include <math.h>
#include <wedgework/plot.h>

static rows found;

/* Read noise alone, k 0.95, base 0.30: noise of a pixel is 0.001 10^(D - 0.30) / (0.95 ln 10).
 * Source: hand calculation. */
static char *make(scan_plan_case *c, double separate) {
    ww_scan_plan plan;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    scan_plan_case_start(c, (scan_pixels_truth){0.95, 0.0, 0.0, 1e-3, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(c, "base", WW_PART_WHOLE, 0.30);
    scan_plan_case_grey(c, "shade", WW_PART_WHOLE, 0.31);
    scan_plan_case_grey(c, "cloud", WW_PART_WHOLE, 1.30);
    c->request.separate = separate;
    scan_plan_case_make("plan", c, &plan);
    test_status("data", ww__plot_scan_plan_data(&plan, &c->made.scanner, &script, &size, NULL),
                WW_OK, NULL);
    ww_scan_plan_release(&plan);
    return script.bytes;
}

static double noise_at(double density) {
    return 0.001 * pow(10.0, density - 0.30) / (0.95 * log(10.0));
}

static void curves_and_tones(void **state) {
    scan_plan_case c;
    char *script = make(&c, 0.01);
    (void)state;
    rows_of(script, "one", WW_VISUAL, &found);
    test_true("a curve", found.n > 150);
    for (size_t i = 0; i < found.n; i++)
        test_close("noise", found.cell[i][2] / noise_at(found.cell[i][1]), 1.0, 1e-6);
    rows_of(script, "tones", WW_VISUAL, &found);
    assert_int_equal(found.n, 3);
    test_close("cloud", found.cell[2][1], 1.30, 1e-9);
    test_close("cloud", found.cell[2][2], noise_at(1.30), 1e-9);
    test_true("kept", found.cell[2][3] == 1.0 && found.cell[0][3] == 0.0);
    test_close("level", number_of(script, "told"), 0.03 / 2.8, 1e-9);
    test_holds("no more", script, "more_text = ''");
    test_close("named on the left", number_of(script, "told_right"), 0.0, 0.0);
    test_close("within the wedge", number_of(script, "n_beyond"), 0.0, 0.0);
    test_holds("names", script, "name[3] = 'cloud'");
    free(script);
}

/* Two that are nearly as dense: their names stand 15 px apart. */
static void names_do_not_meet(void **state) {
    scan_plan_case c;
    char *script = make(&c, 0.01);
    const double px = (number_of(script, "x_to") - number_of(script, "x_from")) / 640.0;
    (void)state;
    test_close("apart", number_of(script, "name_at[2]") - number_of(script, "name_at[1]"),
               15.0 * px, 1e-6);
    free(script);
}

/* The noise of the mean of m scans merged with n of a stop more, over that of one, with weights 1/5
 * and 4/5: from where base at 95 % and a stop more come to 98 %, within 0.1 D. Source: hand
 * calculation. */
static double merged(double density, double m, double n) {
    const double from = 0.30 + log10(0.95 / 0.98 * 2.0);
    const double w = 0.8 * fmin(fmax((density - from) / 0.1, 0.0), 1.0);
    return sqrt((1.0 - w) * (1.0 - w) / m + w * w / (4.0 * n));
}

/* A second scan with a stop more (as in test_scan_plan_report.c), from where it counts. */
static void second_scan(void **state) {
    scan_plan_case c;
    char *script = make(&c, 0.0022);
    (void)state;
    test_holds("second", script, "more_text = 'thin: both scans, merged'");
    test_close("named on the right", number_of(script, "told_right"), 1.0, 0.0);
    rows_of(script, "more", WW_VISUAL, &found);
    test_true("a curve", found.n > 100);
    for (size_t i = 0; i < found.n; i++) {
        const double density = found.cell[i][1];
        test_close("noise", found.cell[i][2] / noise_at(density), merged(density, 1, 1), 1e-4);
        test_true("from where it counts", density >= 0.30 + log10(0.95 / 0.98 * 2.0) - 1e-9);
    }
    free(script);
}

/* The wedge ends at D 4 and begins at 0: no noise was seen beyond. Source: definition. */
static void beyond_the_wedge(void **state) {
    scan_plan_case c;
    size_t within = 0;
    (void)state;
    scan_plan_case_usual(&c, 1.3);
    c.made.scanner.channel[WW_VISUAL].point += 15;  /* from D 1.0 */
    c.made.scanner.channel[WW_VISUAL].n_points = 5; /* to D 0.2 */
    ww_scan_plan plan;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    scan_plan_case_make("plan", &c, &plan);
    test_status("data", ww__plot_scan_plan_data(&plan, &c.made.scanner, &script, &size, NULL),
                WW_OK, NULL);
    rows_of(script.bytes, "one", WW_VISUAL, &found);
    for (size_t i = 0; i < found.n; i++) {
        const double density = found.cell[i][1];
        const bool beyond = found.cell[i][3] > 0.0;
        test_true("marked", beyond ? density < 0.2 + 1e-9 || density > 1.0 - 1e-9
                                   : density > 0.2 - 1e-9 && density < 1.0 + 1e-9);
        within += !beyond;
    }
    test_true("both", within > 10 && within < found.n - 10);
    rows_of(script.bytes, "ends", WW_VISUAL, &found);
    test_true("its dense end", found.n == 1 && fabs(found.cell[0][1] - 1.0) < 1e-9);
    rows_of(script.bytes, "one", WW_VISUAL, &found);
    test_close("told", number_of(script.bytes, "n_beyond"), (double)(found.n - within), 0.0);
    ww__text_release(&script);
    ww_scan_plan_release(&plan);
}

/* Averaged: the mean of the first exposure, and of both where they are merged. */
static void averaged(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    (void)state;
    scan_plan_case_start(&c, (scan_pixels_truth){0.95, 0.0, 0.0, 1e-3, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.30);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 1.30);
    scan_plan_case_make("plan", &c, &plan);
    plan.way = WW_SCAN_BOTH, plan.first = 4, plan.second = 16;
    plan.channel[WW_VISUAL].second_stops = 1.0;
    plan.channel[WW_VISUAL].switch_at = 1.0;
    test_status("data", ww__plot_scan_plan_data(&plan, &c.made.scanner, &script, &size, NULL),
                WW_OK, NULL);
    test_holds("title", script.bytes, "more_text = 'thin: both exposures, averaged and merged'");
    rows_of(script.bytes, "more", WW_VISUAL, &found);
    test_true("a curve", found.n > 100 && found.cell[0][1] < 0.31);
    for (size_t i = 0; i < found.n; i++)
        test_close("noise", found.cell[i][2] / noise_at(found.cell[i][1]),
                   merged(found.cell[i][1], 4, 16), 1e-4);
    ww__text_release(&script);
    ww_scan_plan_release(&plan);
}

/* Dots mean what lies beyond the wedge, and nothing else: other lines have dashes of 6 and more.
 * Source: definition (the legend's "dotted: beyond the wedge"). */
static void dots_mean_one_thing(void **state) {
    const char *at = NULL;
    size_t dotted = 0;
    (void)state;
    for (size_t i = 0; i < ww__plot_scripts_count; i++)
        if (strcmp(ww__plot_scripts[i].name, "scan") == 0)
            at = ww__plot_scripts[i].text;
    assert_non_null(at);
    while ((at = strstr(at, " dt (")) != NULL) {
        at += strlen(" dt (");
        const bool dots = strncmp(at, "1,5)", 4) == 0;
        test_true(at, dots || strtol(at, NULL, 10) >= 6);
        dotted += dots;
    }
    test_true("curves and legend", dotted == 3);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(curves_and_tones), cmocka_unit_test(names_do_not_meet),
        cmocka_unit_test(second_scan),      cmocka_unit_test(beyond_the_wedge),
        cmocka_unit_test(averaged),         cmocka_unit_test(dots_mean_one_thing)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
