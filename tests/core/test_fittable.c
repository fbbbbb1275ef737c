/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/fittable.h"
#include "core/series_made.h"
#include <string.h>

/* Source of every row: the limits of the header (common practice). */
static const struct {
    const char *name;
    size_t steps;
    double gap, rise;
    bool paper, reversal;
    ww_status status;
    bool can;
    const char *note;
} rows[] = {
    {"a film", 11, 0.15, 0.1, false, false, WW_OK, true, NULL},
    {"a short film", 9, 0.15, 0.1, false, false, WW_OK, true, "9 steps (red) are few"},
    {"a paper", 8, 0.15, 0.1, true, false, WW_OK, true, NULL},
    {"a short paper", 7, 0.15, 0.1, true, false, WW_OK, true, "wants 8 or more"},
    {"too few", 4, 0.15, 0.2, false, false, WW_OK, false, "no curve (red): 4 exposed readings"},
    {"one", 1, 0.15, 0.2, false, false, WW_OK, false, "1 exposed reading,"},
    {"one exposure", 11, 0.0, 0.1, false, false, WW_OK, false, "the same exposure"},
    {"flat", 11, 0.15, 0.0015, false, false, WW_OK, false, "longer scale of steps"},
    {"falls", 11, 0.15, -0.05, false, false, WW_EMISMATCH, false, NULL},
    {"falls, reversal", 11, 0.15, -0.05, false, true, WW_EMISMATCH, false, NULL},
    {"too many", 1001, 0.001, 0.001, false, false, WW_EDOMAIN, false, NULL},
};

static void what_can_be_fitted(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const ww_figure_rules rules = {.paper = rows[i].paper, .reversal = rows[i].reversal};
        ww__series s = made_series(rows[i].steps, -2.0, rows[i].gap);
        ww_notes notes = WW_NOTES_INIT;
        ww_error err = WW_ERROR_INIT;
        bool can = !rows[i].can;
        for (size_t k = 0; k < s.n; k++)
            s.density[k] = 1.3 + rows[i].rise * (double)k;
        test_status(rows[i].name, ww__fittable(&s, &rules, " (red)", &notes, &can, &err),
                    rows[i].status, &err);
        test_true(rows[i].name, can == rows[i].can);
        test_true(rows[i].name, notes.n == (rows[i].note ? 1 : 0));
        if (notes.n)
            test_true(rows[i].name, strstr(notes.text[0], rows[i].note) != NULL);
        if (rows[i].status == WW_EMISMATCH)
            test_true(rows[i].name,
                      (strstr(err.msg, "take '# process") != NULL) == rows[i].reversal);
        ww_notes_release(&notes);
        ww__series_release(&s);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_can_be_fitted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
