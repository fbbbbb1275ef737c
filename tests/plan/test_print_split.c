/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_split.h"
#include "support/print_case.h"
#include "support/support.h"
#include <math.h>

/*
 * One emulsion, on which H adds to H: net density is a function of a t_soft + b t_hard alone, so
 * that T = 1 / (s a + (1 - s) b) times what the density asks for. Source: definition, closed form.
 */
static const double range = 1.05, by_soft = 0.2371, by_hard = 0.0813; /* H of a second */

static double rate(double soft) {
    return soft * by_soft + (1.0 - soft) * by_hard;
}

/* So many pairs of it, softest first, as sheets on curves of closed form. */
static void start(print_case *c, ww__print_sheets *sheets, const double soft[], size_t n) {
    ww_notes notes = WW_NOTES_INIT;
    print_case_start(c);
    for (size_t i = 0; i < n; i++)
        print_case_paper(c, "pair", range, -log10(rate(soft[i])));
    assert_int_equal(ww__print_papers_read(&c->request, sheets, &notes, NULL), WW_OK);
    ww_notes_release(&notes);
    for (size_t i = 0; i < n; i++)
        sheets->sheet[i].soft = soft[i];
    ww__print_split_join(sheets->sheet, n);
}

static void test_h_adds_to_h(void **state) {
    static const double soft[] = {1.0, 0.613, 0.4, 0.1};
    static const double share[] = {1.0, 0.95, 0.7, 0.613, 0.5, 0.2731, 0.1};
    (void)state;
    for (size_t n = 2; n <= 4; n++) {
        print_case c;
        ww__print_sheets sheets = WW__PRINT_SHEETS_INIT;
        start(&c, &sheets, soft, n);
        for (size_t i = 0; i < sizeof share / sizeof share[0]; i++)
            for (double net = 0.02; net < 1.96; net += 0.173) {
                const double want = print_case_log_h(range, -log10(rate(share[i])), net);
                double log_h = -77.0, back = -77.0;
                const bool inside = share[i] >= soft[n - 1];
                test_true("inside",
                          ww__print_split_log_h(sheets.sheet, share[i], net, &log_h) == inside);
                test_close("log H", log_h, inside ? want : -77.0, 1e-8);
                test_true("net",
                          ww__print_split_net(sheets.sheet, share[i], want, &back) == inside);
                test_close("net", back, inside ? net : -77.0, 1e-7);
            }
        ww__print_sheets_release(&sheets);
    }
}

/* Beyond what both neighbours reach nothing is known. */
static void test_beyond(void **state) {
    static const double soft[] = {1.0, 0.5, 0.0};
    print_case c;
    ww__print_sheets sheets = WW__PRINT_SHEETS_INIT;
    double log_h = -77.0;
    (void)state;
    start(&c, &sheets, soft, 3);
    test_true("black", !ww__print_split_log_h(sheets.sheet, 0.7, 2.1, &log_h));
    test_true("light", !ww__print_split_net(sheets.sheet, 0.7, -9.0, &log_h));
    test_true("dark", !ww__print_split_net(sheets.sheet, 0.7, 9.0, &log_h));
    test_true("no share", !ww__print_split_log_h(sheets.sheet, 1.01, 1.0, &log_h) &&
                              !ww__print_split_log_h(sheets.sheet, -0.01, 1.0, &log_h));
    sheets.sheet[0].n_splits = 1;
    test_true("one pair", !ww__print_split_log_h(sheets.sheet, 1.0, 1.0, &log_h));
    test_close("untouched", log_h, -77.0, 0.0);
    ww__print_sheets_release(&sheets);
}

/* One white, the mean; one D-max, the darkest that was measured; by hand. */
static void test_join(void **state) {
    ww__print_sheet sheet[] = {
        {.white = 0.05, .dmax = 1.90, .black_measured = true, .lightest = 0.00, .darkest = 1.90},
        {.white = 0.07, .dmax = 2.03, .black_measured = true, .lightest = -0.01, .darkest = 2.03},
        {.white = 0.06, .dmax = 1.40, .black_measured = false, .lightest = 0.01, .darkest = 1.40}};
    (void)state;
    ww__print_split_join(sheet, 3);
    for (int i = 0; i < 3; i++) {
        test_close("white", sheet[i].white, 0.06, 1e-12);
        test_close("D-max", sheet[i].dmax, 2.04, 1e-12);
        test_true("measured", sheet[i].black_measured && sheet[i].splits == sheet);
    }
    test_close("lightest", sheet[1].lightest, 0.0, 1e-12);
    test_close("darkest", sheet[0].darkest, 1.89, 1e-12);
    sheet[0].black_measured = sheet[1].black_measured = sheet[2].black_measured = false;
    ww__print_split_join(sheet, 3);
    test_close("the darkest step stands in", sheet[0].dmax, 2.04, 1e-12);
    test_true("and is no black", !sheet[0].black_measured);
}

/*
 * The doubt of the way between: with two pairs, the way down to what the better of both exposures
 * does alone; with three that lie on one line nothing is left of it, and the pairs' own stays.
 */
static void test_width(void **state) {
    static const double soft[] = {1.0, 0.5, 0.0};
    const double at = 0.6173, net = 0.4;
    print_case c;
    ww__print_sheets sheets = WW__PRINT_SHEETS_INIT;
    ww__print_sheet between;
    (void)state;
    start(&c, &sheets, (const double[]){1.0, 0.0}, 2);
    between = sheets.sheet[0];
    between.soft = at;
    between.low = -9.0, between.high = 9.0;
    const double alone = fmax(at * by_soft, (1.0 - at) * by_hard) / rate(at);
    test_close("two",
               ww__print_split_width(&between, print_case_log_h(range, -log10(by_soft), net)),
               (1.0 - alone) / log(10.0), 1e-7);
    ww__print_sheets_release(&sheets);
    start(&c, &sheets, soft, 3);
    between = sheets.sheet[0];
    between.soft = at;
    test_close("three in a line",
               ww__print_split_width(&between, print_case_log_h(range, -log10(by_soft), net)), 0.0,
               1e-9);
    for (size_t i = 0; i < 3; i++)
        print_case_white_sd(&c, &c.paper[i], 0.003);
    const double slope = 6.089045 / range * net * (1.0 - net / 2.0);
    const double width =
        ww__print_split_width(&between, print_case_log_h(range, -log10(by_soft), net));
    /* Parts of 1 that add up in squares: no less than each a third, no more than one of them. */
    test_true("theirs", width > 1.96 * 0.003 / slope / sqrt(3.0) && width < 1.96 * 0.003 / slope);
    test_close("not on the curve", ww__print_split_width(&between, 99.0), 0.0, 0.0);
    ww__print_sheets_release(&sheets);
}

/* A pair that its neighbours miss: half of that at the most, half-way. */
static void test_bent(void **state) {
    static const double soft[] = {1.0, 0.5, 0.0};
    const double bent = 1.3; /* the middle pair is faster than the line */
    print_case c;
    ww__print_sheets sheets = WW__PRINT_SHEETS_INIT;
    ww__print_sheet between;
    double log_h = 0.0;
    (void)state;
    start(&c, &sheets, soft, 3);
    c.paper[1].channel[WW_VISUAL].shape.parameter[3] -= log10(bent);
    between = sheets.sheet[0];
    between.soft = 0.75;
    const double middle = bent * rate(0.5), off = middle - rate(0.5);
    const double all = 0.375 * by_soft + 0.75 * middle - 0.125 * by_hard; /* parabola, by hand */
    test_true("known", ww__print_split_log_h(&between, 0.75, 0.4, &log_h));
    test_close("the parabola", log_h, print_case_log_h(range, -log10(all), 0.4), 1e-8);
    test_close("half of what is missed",
               ww__print_split_width(&between, print_case_log_h(range, -log10(by_soft), 0.4)),
               0.5 * off / all / log(10.0), 1e-7);
    ww__print_sheets_release(&sheets);
}

/* u = (a t_soft + b t_hard) T: half a step on either moves it by its part. */
static void test_timer(void **state) {
    static const double soft[] = {1.0, 0.5, 0.0};
    print_case c;
    ww__print_sheets sheets = WW__PRINT_SHEETS_INIT;
    ww__print_sheet at;
    (void)state;
    start(&c, &sheets, soft, 3);
    at = sheets.sheet[1];
    for (double share = 0.2; share < 1.0; share += 0.217) {
        at.soft = share;
        test_close("both", ww__print_split_timer(&at, 0.6, 0.5, 12.0),
                   log10(1.0 + hypot(by_soft, by_hard) / rate(share) * 0.25 / 12.0), 1e-9);
    }
    at.soft = 1.0;
    test_close("soft alone", ww__print_split_timer(&at, 0.6, 0.5, 12.0), log10(1.0 + 0.25 / 12.0),
               1e-9);
    test_close("beyond", ww__print_split_timer(&at, 2.1, 0.5, 12.0), log10(1.0 + 0.25 / 12.0),
               1e-12);
    ww__print_sheets_release(&sheets);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_h_adds_to_h), cmocka_unit_test(test_beyond),
        cmocka_unit_test(test_join),        cmocka_unit_test(test_width),
        cmocka_unit_test(test_bent),        cmocka_unit_test(test_timer),
    };
    return cmocka_run_group_tests_name("print_split", tests, NULL, NULL);
}
