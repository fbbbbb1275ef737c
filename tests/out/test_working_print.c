/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_case.h"
#include "working_read.h"
#include <math.h>

static char *make_working(print_case *c) {
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    ww__report report = WW__REPORT_INIT;
    print_case_make("plan", c, &plan);
    ww__working_print(&plan, &c->request, &report);
    ww_print_plan_release(&plan);
    return read_working(&report);
}

static void start(print_case *c) {
    print_case_start(c);
    print_case_paper(c, "Gloss", 1.05, 0.5);
    print_case_tone(c, "wall", WW_PART_WHOLE, 1.081);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.431);
    print_case_place(c, "wall", 0.25);
}

/* Source: closed form of the paper (print_case.h): log H at net 0.25; log t = log H + D. */
static void time_is_worked_from_the_curve(void **state) {
    const double log_h = print_case_log_h(1.05, 0.5, 0.25), sum = log_h + 1.081;
    print_case c;
    char *html, expected[80];
    (void)state;
    start(&c);
    html = make_working(&c);
    snprintf(expected, sizeof expected, "%.3f + 1.081 = %.3f, %.2f s; set: ", log_h, sum,
             pow(10, sum));
    test_holds("time", html, expected);
    test_holds("seen", html, "Q = 1, f = 0; &#39;wall&#39;: 1.081 becomes 1.081");
    test_holds("range", html, "1.081 - 0.431 = 0.650");
    test_holds("doubt", html, "root of the sum of the squares");
    free(html);
}

/* Source: definition of flare and the Callier factor, by hand: Q 1.2 makes 1.2972 of 1.081, flare
 * of 0.01 -log10((10^-1.2972 + 0.01) / 1.01) = 1.2230. */
static void flare_and_callier_are_put_in(void **state) {
    print_case c;
    char *html;
    (void)state;
    start(&c);
    c.request.callier = 1.2;
    c.request.enlarger_flare = 0.01;
    html = make_working(&c);
    test_holds("seen", html, "Q = 1.2, f = 0.01; &#39;wall&#39;: 1.081 becomes 1.223");
    free(html);
}

/* Source: size ((6 + 1) / (4 + 1))^2 = 1.96, Clerc; f-numbers (11 / 8)^2 by their marks. A test
 * print at the aim itself is the time. */
static void factors_and_tests_are_put_in(void **state) {
    print_case c;
    char *html;
    (void)state;
    start(&c);
    c.request.from_scale = given(4.0);
    c.request.scale = given(6.0);
    c.request.dry_down_percent = 8.0;
    c.request.reciprocity = given(1.1);
    html = make_working(&c);
    test_holds("size", html, "((6 + 1) / (4 + 1))^2 = 1.960");
    test_holds("dry-down", html, "p = 8 %");
    test_holds("reciprocity", html, "P = 1.1");
    free(html);
    start(&c);
    c.request.test[0] = (ww_print_test){16.0, "wall", 0.25};
    c.request.n_tests = 1;
    html = make_working(&c);
    test_holds("test print", html, "= 1.204, 16.00 s; set: 16.00 s");
    free(html);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(time_is_worked_from_the_curve),
        cmocka_unit_test(flare_and_callier_are_put_in),
        cmocka_unit_test(factors_and_tests_are_put_in),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
