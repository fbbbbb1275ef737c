/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_notes.h"
#include "scanner_made.h"
#include "support/support.h"
#include <stdlib.h>
#include <wedgework/start.h>

/* Source of every expectation: the truth that made the scan, and the interface conventions. */

static void brightened(made_scan *s) { /* the first two steps are clipped */
    for (size_t i = 0; i < 2; i++) {
        s->patch[i].channel[WW_RED].code = s->measured.white;
        s->patch[i].channel[WW_RED].clipped = 1.0;
    }
}

static void blackened(made_scan *s) {
    for (size_t i = 17; i < 21; i++) {
        s->patch[i].channel[WW_RED].code = 0.0;
        s->patch[i].channel[WW_RED].clipped = 1.0;
    }
}

static void dusty(made_scan *s) {
    s->patch[6].channel[WW_RED].code *= 0.741; /* log10(1/0.741) = 0.130 D, and the wedge's own */
}

static void dusty_twice(made_scan *s) { /* step 7 reads as 8 should, but not 8 as 7 */
    s->patch[6].channel[WW_RED].code *= 0.715;
    s->patch[7].channel[WW_RED].code *= 0.715;
}

static void exchange(made_scan *s, size_t a, size_t b) { /* two rows of the wedge file */
    const double was = s->row[a].cell[WW_VISUAL].value;
    s->row[a].cell[WW_VISUAL].value = s->row[b].cell[WW_VISUAL].value;
    s->row[b].cell[WW_VISUAL].value = was;
}

static void swapped(made_scan *s) {
    exchange(s, 6, 7);
}

static void swapped_apart(made_scan *s) {
    exchange(s, 4, 11);
}

static void nominal(made_scan *s) {
    s->wedge.meta.wedge = WW_WEDGE_NOMINAL;
    s->wedge.meta.wedge_sd.set = false;
}

static void silent(made_scan *s) {
    s->wedge.meta.wedge = WW_WEDGE_UNKNOWN;
    s->wedge.meta.wedge_sd.set = false;
}

static void certified(made_scan *s) {
    s->wedge.meta.wedge_sd.set = false;
}

static void relative(made_scan *s) {
    s->wedge.meta.relative = WW_RELATIVE_BASE;
}

static void scaled(made_scan *s) { /* the certificate is 2.5 % too high */
    for (size_t i = 0; i < 21; i++)
        s->row[i].cell[WW_VISUAL].value *= 1.025;
}

static void scattered(made_scan *s) { /* by 0.03 D of both signs */
    for (size_t i = 0; i < 21; i++)
        s->row[i].cell[WW_VISUAL].value += i % 3 == 0 ? 0.04 : -0.02;
}

static void as_it_is(made_scan *s) {
    (void)s;
}

typedef struct case_of_notes {
    const char *row;
    double gamma, flare, dark, bend;
    unsigned bits;
    void (*change)(made_scan *s);
    const char *says;
} case_of_notes;

static const case_of_notes cases[] = {
    {"linear", 1, .002, 0, 0, 16, as_it_is, "Codes are proportional to light"},
    {"2.2", 2.2, .002, 0, 0, 16, as_it_is, "to the power of 2.20 (2."},
    {"2.2 read as linear", 2.2, .002, 0, 0, 16, as_it_is, "come out as about 0.45"},
    {"sRGB", 0, .002, 0, 0, 16, as_it_is, "encoded as sRGB"},
    {"sRGB read as linear", 0, .002, 0, 0, 16, as_it_is, "come out as about 0.46"},
    {"clipped", 1, .002, 0, 0, 16, brightened, "Steps 1, 2 (red) clipped at the bright end"},
    {"black", 1, .0, 0, 0, 16, blackened, "Steps 18 to 21 (red) clipped at the dark end"},
    {"compressed", 1, .0095, 0, 0, 16, as_it_is, "Steps 15 to 21 (red) compressed"},
    {"suspect", 1, .002, 0, 0, 16, dusty, "Step 7 (red) reads 0.1"},
    {"two suspects", 1, .002, 0, 0, 16, dusty_twice, "Step 7 (red) reads 0.1"},
    {"swapped", 1, .002, 0, 0, 16, swapped, "Steps 7 and 8 (red) look swapped"},
    {"swapped apart", 1, .002, 0, 0, 16, swapped_apart, "Steps 5 and 12 (red) look swapped"},
    {"flare or dark", 1, .002, 0, 0, 16, as_it_is, "dark is taken as 0"},
    {"black cut", 1, 0, -.0005, 0, 16, as_it_is, "by 0.050 % of full light"},
    {"coarse codes", 1, 0, 0, 0, 10, as_it_is, "10 bits are too coarse"},
    {"wedge ends", 1, .002, 0, 0, 16, as_it_is, "ends at density 3.05 (red) before the scanner"},
    {"nominal", 1, .002, 0, 0, 16, nominal, "The wedge is nominal: it may be off by 0.01"},
    {"nothing said", 1, .002, 0, 0, 16, silent, "nominal, as its file says nothing"},
    {"certified", 1, .002, 0, 0, 16, certified, "certified without a figure"},
    {"sd", 1, .002, 0, 0, 16, as_it_is, "off by 0.003 D (one sd)"},
    {"visual for red", 1, .002, 0, 0, 16, as_it_is, "no column for (red); its visual"},
    {"relative", 1, .002, 0, 0, 16, relative, "densities are relative"},
    {"scaled", 1, .002, 0, 0, 16, scaled, "most likely light, but the wedge's densities are 2."},
    {"scaled which way", 1, .002, 0, 0, 16, scaled, " % less than its file says"},
    {"scattered", 1, .002, 0, 0, 16, scattered, "said to be off by 0.003 D (one sd), but its"},
    {"bent", 1, .0002, 0, .04, 16, as_it_is, "smooth correction of up to 0.0"},
};

static void fit(const case_of_notes *c, made_scan *s, bool two, ww_scanner *scanner) {
    made_truth truth = made_usual(c->gamma);
    ww_error err = WW_ERROR_INIT;
    uint64_t seed = made_seed(7);
    truth.flare = c->flare;
    truth.dark = c->dark;
    truth.bend = c->bend;
    made_wedge(s, 21, 0.05, 0.15, c->bits);
    s->wedge.meta.wedge_sd = (ww_optional){true, 0.003};
    made_scan_channel(s, WW_RED, &truth, 0.003, &seed);
    if (two)
        made_scan_channel(s, WW_GREEN, &truth, 0.003, &seed);
    c->change(s);
    test_status(c->row, ww_scanner_fit(&s->measured, &s->wedge, NULL, scanner, &err), WW_OK, &err);
}

static void each_matter_is_said(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        made_scan s;
        ww_scanner scanner = WW_SCANNER_INIT;
        fit(&cases[i], &s, false, &scanner);
        if (!test_noted(&scanner.notes, cases[i].says)) {
            for (size_t n = 0; n < scanner.notes.n; n++)
                print_message("%s\n", scanner.notes.text[n]);
            fail_msg("%s: no note says '%s'", cases[i].row, cases[i].says);
        }
        ww_scanner_release(&scanner);
    }
}

static void what_does_not_hold_is_not_said(void **state) {
    static const char *const never[] = {
        "clipped",      "black was taken", "too coarse", "nominal",     "suspect",   "sRGB",
        "was left out", "relative",        "correction", "most likely", "said to be"};
    made_scan s;
    ww_scanner scanner = WW_SCANNER_INIT;
    (void)state;
    fit(&cases[0], &s, false, &scanner);
    for (size_t i = 0; i < sizeof never / sizeof never[0]; i++)
        test_true(never[i], !test_noted(&scanner.notes, never[i]));
    ww_scanner_release(&scanner);
}

/* Where its codes end at black, no wedge ended before the scanner. */
static void a_wedge_does_not_end_where_its_steps_are_clipped(void **state) {
    static const case_of_notes cut = {"black", 1, 0, 0, 0, 16, blackened, ""};
    made_scan s;
    ww_scanner scanner = WW_SCANNER_INIT;
    (void)state;
    fit(&cut, &s, false, &scanner);
    test_true("clipped", test_noted(&scanner.notes, "clipped at the dark end"));
    test_true("no end", !test_noted(&scanner.notes, "before the scanner does"));
    ww_scanner_release(&scanner);
}

/* Source: at least 10 steps, base included, common practice. */
static void few_steps_are_told(void **state) {
    (void)state;
    for (size_t steps = 9; steps <= 11; steps++) {
        const made_truth truth = made_usual(1.0);
        made_scan s;
        ww_scanner scanner = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        uint64_t seed = made_seed(11);
        made_wedge(&s, steps, 0.05, 0.24, 16);
        s.wedge.meta.wedge_sd = (ww_optional){true, 0.003};
        made_scan_channel(&s, WW_RED, &truth, 0.003, &seed);
        made_scan_channel(&s, WW_GREEN, &truth, 0.003, &seed);
        if (steps == 11) /* two of them clipped leave nine */
            brightened(&s);
        test_status("fit", ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, &err), WW_OK,
                    &err);
        test_true("9 of 9, 10 of 10, 9 of 11",
                  test_noted(&scanner.notes, "Only 9 steps (red) carry") == (steps != 10));
        test_true("once", !test_noted(&scanner.notes, "(green) carry"));
        ww_scanner_release(&scanner);
    }
}

static void channels_that_say_the_same_say_it_once(void **state) {
    made_scan s;
    ww_scanner scanner = WW_SCANNER_INIT;
    (void)state;
    fit(&cases[7], &s, true, &scanner);
    test_true("merged", test_noted(&scanner.notes, "Steps 15 to 21 (red, green) compressed"));
    ww_scanner_release(&scanner);
}

static void numbers_have_points_whatever_the_locale(void **state) {
    made_scan s;
    ww_scanner scanner = WW_SCANNER_INIT;
    (void)state;
    if (!test_comma_locale())
        skip();
    fit(&cases[1], &s, false, &scanner);
    test_true("2.20", test_noted(&scanner.notes, "2.20"));
    test_true("no 2,20", !test_noted(&scanner.notes, "2,20"));
    ww_scanner_release(&scanner);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_matter_is_said),
        cmocka_unit_test(what_does_not_hold_is_not_said),
        cmocka_unit_test(a_wedge_does_not_end_where_its_steps_are_clipped),
        cmocka_unit_test(few_steps_are_told),
        cmocka_unit_test(channels_that_say_the_same_say_it_once),
        cmocka_unit_test(numbers_have_points_whatever_the_locale),
    };
    (void)ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
