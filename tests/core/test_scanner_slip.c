/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_made.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

/* Source: definition. A certificate typed with one row left out, or one twice, from `first` on. */
typedef struct slip_case {
    const char *row, *says;
    size_t first; /* of the steps, from 0 */
    int by;       /* 1: it has the next row's density */
    double gamma;
    ww_wedge_kind wedge;
    bool colour;
} slip_case;

static const slip_case cases[] = {
    {"left out", "from step 11 on", 10, 1, 1.0, WW_WEDGE_CERTIFIED, false},
    {"left out near the thin end", "from step 4 on", 3, 1, 1.0, WW_WEDGE_CERTIFIED, false},
    {"left out near the dense end", "from step 18 on", 17, 1, 1.0, WW_WEDGE_CERTIFIED, false},
    {"typed twice", "from step 11 on", 10, -1, 1.0, WW_WEDGE_CERTIFIED, false},
    {"typed twice near the thin end", "from step 4 on", 3, -1, 1.0, WW_WEDGE_CERTIFIED, false},
    {"sRGB", "from step 9 on", 8, 1, 0.0, WW_WEDGE_CERTIFIED, false},
    {"three channels", "from step 11 on", 10, 1, 1.0, WW_WEDGE_CERTIFIED, true},
    {"nominal", "from step 11 on", 10, 1, 1.0, WW_WEDGE_NOMINAL, false},
};

static void scan(const slip_case *c, made_scan *s) {
    const made_truth truth = made_usual(c->gamma);
    uint64_t seed = made_seed(23);
    made_wedge(s, 21, 0.05, 0.15, 16);
    s->wedge.meta.wedge = c->wedge;
    if (c->wedge == WW_WEDGE_CERTIFIED)
        s->wedge.meta.wedge_sd = (ww_optional){true, 0.005};
    made_scan_channel(s, WW_RED, &truth, 0.004, &seed);
    if (c->colour)
        made_scan_channel(s, WW_GREEN, &truth, 0.004, &seed);
    for (size_t i = c->first; i < s->wedge.n; i++)
        s->row[i].cell[WW_COLUMN_VISUAL].value += 0.15 * (double)c->by;
}

static void a_table_that_slipped_by_a_row_is_named(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        made_scan s;
        ww_scanner scanner = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        scan(&cases[i], &s);
        test_status(cases[i].row, ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, &err),
                    WW_OK, &err);
        test_true(cases[i].row, scanner.misfit && scanner.notes.n > 0);
        test_true(scanner.notes.text[0], strstr(scanner.notes.text[0], cases[i].says) != NULL);
        test_true(scanner.notes.text[0],
                  strstr(scanner.notes.text[0],
                         cases[i].by > 0 ? "a row left out" : "a row typed twice"));
        test_true("no dust", !test_noted(&scanner.notes, "was left out;"));
        ww_scanner_release(&scanner);
    }
}

/* Source: definition. A table that is off by a row from its first on: its first row twice and the
 * last lost, or the first lost and an invented last. Steps lie 0.15 D apart, by up to 0.02 more or
 * less; where they lie apart evenly nothing but light less or more would show. */
static void a_table_that_slipped_from_its_first_row_is_named(void **state) {
    const made_truth truth = made_usual(1.0);
    (void)state;
    for (int twice = 0; twice < 2; twice++) {
        made_scan s;
        ww_scanner scanner = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        uint64_t seed = made_seed(31);
        made_wedge(&s, 21, 0.05, 0.15, 16);
        s.wedge.meta.wedge_sd = (ww_optional){true, 0.005};
        for (size_t i = 0; i < 21; i++)
            s.row[i].cell[WW_COLUMN_VISUAL].value += 0.02 * sin(2.3 * (double)i);
        made_scan_channel(&s, WW_VISUAL, &truth, 0.004, &seed);
        for (size_t i = 1; i < 21 && !twice; i++)
            s.row[i - 1].cell[WW_COLUMN_VISUAL].value = s.row[i].cell[WW_COLUMN_VISUAL].value;
        for (size_t i = 20; i > 0 && twice; i--)
            s.row[i].cell[WW_COLUMN_VISUAL].value = s.row[i - 1].cell[WW_COLUMN_VISUAL].value;
        if (!twice)
            s.row[20].cell[WW_COLUMN_VISUAL].value += 0.15;
        test_status("fit", ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, &err), WW_OK,
                    &err);
        test_true("misfit", scanner.misfit && scanner.notes.n > 0);
        test_true(scanner.notes.text[0],
                  strstr(scanner.notes.text[0], twice ? "from step 2 on" : "from step 1 on"));
        test_true(scanner.notes.text[0],
                  strstr(scanner.notes.text[0], twice ? "a row typed twice" : "a row left out"));
        ww_scanner_release(&scanner);
    }
}

/* One step off by as much is dust; a bent scanner and scattered densities are no slip either. */
static void what_is_no_slip_is_not_called_one(void **state) {
    (void)state;
    for (int kind = 0; kind < 6; kind++) {
        made_truth truth = made_usual(1.0);
        made_scan s;
        ww_scanner scanner = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        uint64_t seed = made_seed(29);
        truth.bend = kind == 1 ? 0.04 : 0.0;
        made_wedge(&s, 21, 0.05, 0.15, 16);
        s.wedge.meta.wedge_sd = (ww_optional){true, 0.005};
        made_scan_channel(&s, WW_VISUAL, &truth, kind == 2 ? 0.015 : 0.004, &seed);
        if (kind == 0)
            s.row[7].cell[WW_COLUMN_VISUAL].value += 0.15;
        if (kind == 3)
            s.row[20].cell[WW_COLUMN_VISUAL].value += 0.15;
        if (kind > 3)
            s.row[0].cell[WW_COLUMN_VISUAL].value += kind == 4 ? 0.08 : -0.08;
        test_status("fit", ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, &err), WW_OK,
                    &err);
        test_true("none", !test_noted(&scanner.notes, "look like those of the"));
        test_true("no misfit", !scanner.misfit);
        ww_scanner_release(&scanner);
    }
}

/* By simulation: wedges as good as they say, light and encoded, certified and nominal, of other
 * scatter and tilt (a nominal one's steps up to 0.03 D off on their own). At most 1 in 100. */
static void an_honest_table_has_not_slipped(void **state) {
    const size_t n = 200;
    (void)state;
    if (test_quick())
        skip();
    for (int nominal = 0; nominal < 2; nominal++) {
        uint64_t seed = made_seed(61);
        size_t slipped = 0;
        for (size_t k = 0; k < n; k++) {
            made_truth truth = made_usual(k % 2 ? 1.0 : 2.2);
            made_scan s;
            ww_scanner scanner = WW_SCANNER_INIT;
            ww_error err = WW_ERROR_INIT;
            const double tilt = nominal ? 0.017 * made_normal(&seed) : 0.0;
            truth.flare = pow(10.0, -3.5 + made_uniform(&seed));
            made_wedge(&s, k % 3 ? 21 : 11, 0.05, (k % 3 ? 0.15 : 0.30) * (1.0 + tilt), 16);
            made_scan_channel(&s, WW_VISUAL, &truth, nominal ? 0.03 * made_uniform(&seed) : 0.005,
                              &seed);
            for (size_t i = 0; i < s.wedge.n; i++)
                s.row[i].cell[WW_COLUMN_VISUAL].value = 0.05 + (k % 3 ? 0.15 : 0.30) * (double)i;
            s.wedge.meta.wedge = nominal ? WW_WEDGE_NOMINAL : WW_WEDGE_CERTIFIED;
            s.wedge.meta.wedge_sd = (ww_optional){!nominal, 0.005};
            test_status("fit", ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, &err), WW_OK,
                        &err);
            slipped += test_noted(&scanner.notes, "look like those of the");
            ww_scanner_release(&scanner);
        }
        print_message("%s: %zu of %zu called slipped\n", nominal ? "nominal" : "certified", slipped,
                      n);
        test_true("1 in 100", 100 * slipped <= n);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_table_that_slipped_by_a_row_is_named),
        cmocka_unit_test(a_table_that_slipped_from_its_first_row_is_named),
        cmocka_unit_test(what_is_no_slip_is_not_called_one),
        cmocka_unit_test(an_honest_table_has_not_slipped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
