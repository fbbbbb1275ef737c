/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "support/print_case.h"
#include "support/support.h"
#include <math.h>

static double straight(double one, double two, double way) {
    return one + way * (two - one);
}

/* Log H in proportion, at each share of what either has. */
static bool in_proportion(const ww__print_between *between, double share, double *log_h) {
    double one = 0.0, two = 0.0;
    if (!ww__print_papers_log_h(between->one, share * between->one->dmax, &one) ||
        !ww__print_papers_log_h(between->two, share * between->two->dmax, &two))
        return false;
    *log_h = straight(one, two, between->way);
    return true;
}

/* Two logistic papers as sheets. */
static void start(print_case *c, ww__print_sheets *sheets) {
    ww_notes notes = WW_NOTES_INIT;
    print_case_start(c);
    print_case_paper(c, "soft", 1.20, 0.02);
    print_case_paper(c, "hard", 0.80, 0.17);
    assert_int_equal(ww__print_papers_read(&c->request, sheets, &notes, NULL), WW_OK);
    ww_notes_release(&notes);
}

/*
 * Between logistic papers of one white and black, log H at each share lies in proportion: the
 * logistic paper of the range and middle in the same proportion. Source: closed form.
 */
static void test_proportion(void **state) {
    static const double ways[] = {0.0, 0.2731, 0.5, 0.9};
    print_case c;
    ww__print_sheets sheets = WW__PRINT_SHEETS_INIT;
    (void)state;
    start(&c, &sheets);
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        ww_curve curve = WW_CURVE_INIT;
        bool made = false;
        const double range = straight(1.20, 0.80, ways[i]), middle = straight(0.02, 0.17, ways[i]);
        const ww__print_between between = {&sheets.sheet[0], &sheets.sheet[1], ways[i],
                                           in_proportion};
        assert_int_equal(ww__print_between_fit(&between, &curve, &made, NULL), WW_OK);
        test_true("made", made);
        for (double net = 0.02; net < 1.96; net += 0.0731) {
            double log_h = 0.0;
            assert_int_equal(ww_curve_log_h(&curve.channel[WW_VISUAL], 0.05 + net, &log_h, NULL),
                             WW_OK);
            test_close("fitted", log_h, print_case_log_h(range, middle, net), 0.004);
        }
        test_true("seconds stay", curve.meta.exposure_unit == WW_UNIT_SECOND);
        test_true("no covariance", curve.channel[WW_VISUAL].covariance == NULL);
        ww_curve_release(&curve);
    }
    ww__print_sheets_release(&sheets);
}

/* Where the two were measured in different parts of their range there is nothing between. */
static void test_none(void **state) {
    print_case c;
    ww__print_sheets sheets = WW__PRINT_SHEETS_INIT;
    ww_curve curve = WW_CURVE_INIT;
    bool made = true;
    double low = 0.0, high = 0.0;
    (void)state;
    start(&c, &sheets);
    test_true("shares", ww__print_between_shares(&sheets.sheet[0], &sheets.sheet[1], &low, &high));
    test_close("the lightest that both have", low,
               fmax(sheets.sheet[0].lightest, sheets.sheet[1].lightest) / 2.0, 1e-12);
    sheets.sheet[0].darkest = 0.4;
    sheets.sheet[1].lightest = 0.5;
    test_true("no shares",
              !ww__print_between_shares(&sheets.sheet[0], &sheets.sheet[1], &low, &high));
    const ww__print_between between = {&sheets.sheet[0], &sheets.sheet[1], 0.5, in_proportion};
    assert_int_equal(ww__print_between_fit(&between, &curve, &made, NULL), WW_OK);
    test_true("none", !made);
    ww__print_sheets_release(&sheets);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_proportion),
                                       cmocka_unit_test(test_none)};
    return cmocka_run_group_tests_name("print_between", tests, NULL, NULL);
}
