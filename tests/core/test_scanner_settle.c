/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_settle.h"
#include "scanner_made.h"
#include "support/support.h"
#include <stdlib.h>
#include <wedgework/start.h>

static void settle(const made_scan *s, ww__scanner_settled *settled) {
    ww_error err = WW_ERROR_INIT;
    *settled = (ww__scanner_settled)WW__SCANNER_SETTLED_INIT;
    test_status("match", ww__scanner_steps_match(&s->measured, &s->wedge, &settled->strips, &err),
                WW_OK, &err);
    test_status("settle", ww__scanner_settle(settled, &err), WW_OK, &err);
}

static size_t suspects(const ww__scanner_strip *strip) {
    size_t n = 0;
    for (size_t i = 0; i < strip->n; i++)
        n += strip->row[i].suspect;
    return n;
}

static void make(made_scan *s, double gamma, uint64_t *seed) {
    const made_truth truth = made_usual(gamma);
    made_wedge(s, 21, 0.05, 0.15, 16);
    s->wedge.meta.wedge_sd = (ww_optional){true, 0.004};
    made_scan_channel(s, WW_RED, &truth, 0.004, seed);
    made_scan_channel(s, WW_GREEN, &truth, 0.004, seed);
}

static double code_of(double gamma, double density) {
    const made_truth truth = made_usual(gamma);
    return 65535.0 * made_share(&truth, density);
}

/* Source: the truth that made the scan; the limits of the interface conventions. */
static void one_step_that_is_off_is_suspect_and_moves_nothing(void **state) {
    static const struct {
        const char *row;
        double gamma, off;
        size_t step;
        bool found;
    } rows[] = {
        {"dust", 1.0, 0.12, 7, true},         {"thinner", 1.0, -0.12, 11, true},
        {"first step", 1.0, 0.15, 0, true},   {"last but two", 1.0, 0.3, 18, true},
        {"encoded", 2.2, 0.12, 7, true},      {"sRGB", 0.0, 0.12, 7, true},
        {"a slip of 1 D", 1.0, 1.0, 4, true}, {"under 0.02 D", 1.0, 0.012, 9, false},
    };
    (void)state;
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        made_scan s;
        ww__scanner_settled settled, clean;
        uint64_t seed = made_seed(777u + r);
        make(&s, rows[r].gamma, &seed);
        settle(&s, &clean);
        s.patch[rows[r].step].channel[WW_GREEN].code =
            code_of(rows[r].gamma, 0.05 + 0.15 * (double)rows[r].step + rows[r].off);
        settle(&s, &settled);
        assert_int_equal(suspects(&clean.strips.strip[0]), 0);
        assert_int_equal(suspects(&settled.strips.strip[0]), 0);
        assert_int_equal(suspects(&settled.strips.strip[1]), rows[r].found);
        if (settled.strips.strip[1].row[rows[r].step].suspect != rows[r].found)
            fail_msg("%s: another step is suspect", rows[r].row);
        test_close(rows[r].row, log10(settled.model.k[1] / clean.model.k[1]), 0.0, 0.004);
        ww__scanner_settled_release(&settled);
        ww__scanner_settled_release(&clean);
    }
}

/*
 * Scans in 8 bits without noise or flare, densities exact. Source: by hand; the code of density
 * 1.85 is 255 x 0.9 x 10^-1.85 = 3.24 and is worth 1 / (3.24 ln 10) = 0.134 D. At density 0.95
 * one is worth 0.017 D.
 */
static void a_code_is_no_fault_of_a_step(void **state) {
    static const struct {
        const char *row;
        size_t step;
        double off; /* D */
        bool found;
    } rows[] = {
        {"nothing", 0, 0.0, false},
        {"under a code", 12, -0.1, false},
        {"over a code", 12, -0.2, true},
        {"where codes are fine", 6, 0.08, true},
    };
    (void)state;
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        made_truth truth = made_usual(1.0);
        made_scan s;
        ww__scanner_settled settled;
        truth.flare = 0.0;
        made_wedge(&s, 13, 0.05, 0.15, 8);
        s.wedge.meta.wedge_sd = (ww_optional){true, 0.001};
        made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
        for (size_t i = 0; i < 13; i++) {
            ww_patch_channel *p = &s.patch[i].channel[WW_VISUAL];
            const double off = i == rows[r].step ? rows[r].off : 0.0;
            p->step = 1.0;
            p->code = 255.0 * made_share(&truth, 0.05 + 0.15 * (double)i + off);
        }
        settle(&s, &settled);
        test_close(rows[r].row, (double)suspects(&settled.strips.strip[0]), rows[r].found, 0.0);
        assert_int_equal(settled.strips.strip[0].row[rows[r].step].suspect, rows[r].found);
        ww__scanner_settled_release(&settled);
    }
}

static void two_steps_exchanged_are_suspect(void **state) {
    made_scan s;
    ww__scanner_settled settled;
    uint64_t seed = made_seed(31u);
    (void)state;
    make(&s, 1.0, &seed);
    const ww_patch_channel swap = s.patch[8].channel[WW_RED];
    s.patch[8].channel[WW_RED] = s.patch[9].channel[WW_RED];
    s.patch[9].channel[WW_RED] = swap;
    settle(&s, &settled);
    test_true("both",
              settled.strips.strip[0].row[8].suspect && settled.strips.strip[0].row[9].suspect);
    assert_int_equal(suspects(&settled.strips.strip[0]), 2);
    test_close("k", settled.model.k[0], 0.9, 0.012);
    ww__scanner_settled_release(&settled);
}

/* Source: chance of a false alarm, common practice: under one step in a hundred. */
static void clean_wedges_have_few_suspects(void **state) {
    const size_t n = test_quick() ? 10 : 60;
    uint64_t seed = made_seed(5150u);
    size_t accused = 0;
    (void)state;
    for (size_t i = 0; i < n; i++) {
        const made_truth truth = made_usual(1.0);
        made_scan s;
        ww__scanner_settled settled;
        made_wedge(&s, 21, 0.05, 0.15, 16);
        s.wedge.meta.wedge_sd = (ww_optional){true, 0.012};
        made_scan_channel(&s, WW_VISUAL, &truth, 0.012, &seed);
        settle(&s, &settled);
        accused += suspects(&settled.strips.strip[0]);
        ww__scanner_settled_release(&settled);
    }
    test_true("few", accused * 100 < n * 21);
}

/* A wedge that is nonsense all over: no more than a quarter can be to blame, six remain. */
static void most_steps_are_not_suspect(void **state) {
    made_scan s;
    ww__scanner_settled settled;
    uint64_t seed = made_seed(8u);
    (void)state;
    make(&s, 1.0, &seed);
    s.measured.n = s.wedge.n = 8;
    for (size_t i = 0; i < 8; i += 2)
        s.patch[i].channel[WW_RED].code *= 0.8;
    settle(&s, &settled);
    test_true("a quarter", suspects(&settled.strips.strip[0]) <= 2);
    ww__scanner_settled_release(&settled);
    ww__scanner_settled_release(NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_step_that_is_off_is_suspect_and_moves_nothing),
        cmocka_unit_test(a_code_is_no_fault_of_a_step),
        cmocka_unit_test(two_steps_exchanged_are_suspect),
        cmocka_unit_test(clean_wedges_have_few_suspects),
        cmocka_unit_test(most_steps_are_not_suspect),
    };
    (void)ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
