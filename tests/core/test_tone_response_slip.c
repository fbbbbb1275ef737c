/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/tone_response_slip.h"
#include "support/support.h"
#include <math.h>

enum { GREYS = 9 };

static void fill(const double density[], ww__series *s) {
    assert_int_equal(ww__series_new(GREYS, s, NULL), WW_OK);
    for (size_t i = 0; i < GREYS; i++) {
        s->u[i] = (double)i / (GREYS - 1);
        s->density[i] = density[i];
    }
    assert_int_equal(ww__series_sort(s, NULL), WW_OK);
}

/* Source: by hand; densities rise by 0.2 a step. Other places may be named besides. */
static void places(void **state) {
    (void)state;
    static const struct {
        const char *row;
        double density[GREYS];
        int moved;
        size_t at; /* grey */
    } rows[] = {
        {"honest", {0.1, 0.3, 0.5, 0.7, 0.9, 1.1, 1.3, 1.5, 1.7}, 0, 0},
        {"bends", {0.1, 0.2, 0.35, 0.55, 0.8, 1.1, 1.45, 1.85, 2.3}, 0, 0},
        {"the fifth skipped", {0.1, 0.3, 0.5, 0.7, 1.1, 1.3, 1.5, 1.7, 1.9}, 1, 4},
        {"the fourth twice", {0.1, 0.3, 0.5, 0.7, 0.7, 0.9, 1.1, 1.3, 1.5}, -1, 4},
        {"an ink limit on a grey", {0.1, 0.3, 0.5, 0.7, 0.9, 1.1, 1.11, 1.1, 1.11}, 0, 0},
        {"an ink limit between", {0.1, 0.3, 0.5, 0.7, 0.9, 1.05, 1.06, 1.05, 1.05}, 0, 0},
        {"a limit just beyond one", {0.1, 0.3, 0.5, 0.7, 0.9, 0.95, 0.96, 0.95, 0.95}, 0, 0},
        {"too near the end", {0.1, 0.3, 0.5, 0.7, 0.9, 1.1, 1.3, 1.7, 1.9}, 0, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__series s = WW__SERIES_INIT;
        ww__tone_slip slip[WW__TONE_SLIPS];
        size_t n = 7;
        fill(rows[i].density, &s);
        test_status(rows[i].row, ww__tone_response_slip_places(&s, slip, &n, NULL), WW_OK, NULL);
        test_true(rows[i].row, (n == 0) == (rows[i].moved == 0));
        bool named = false;
        for (size_t k = 0; k < n; k++)
            named = named || (slip[k].moved == rows[i].moved &&
                              fabs(slip[k].drive - (double)rows[i].at / (GREYS - 1)) < 1e-12);
        test_true(rows[i].row, named == (rows[i].moved != 0));
        ww__series_release(&s);
    }
}

static void moves(void **state) {
    (void)state;
    static const double density[GREYS] = {0.1, 0.3, 0.5, 0.7, 1.1, 1.3, 1.5, 1.7, 1.9};
    static const double on[GREYS] = {0, 1, 2, 3, 5, 6, 7, 8, 8},
                        back[GREYS] = {0, 1, 2, 3, 3, 4, 5, 6, 7};
    ww__series s = WW__SERIES_INIT, moved = WW__SERIES_INIT;
    fill(density, &s);
    for (int by = -1; by <= 1; by += 2) {
        const ww__tone_slip slip = {by, 0.5};
        test_status("move", ww__tone_response_slip_move(&s, slip, &moved, NULL), WW_OK, NULL);
        for (size_t i = 0; i < GREYS; i++) {
            test_close("drive", moved.u[i], (by > 0 ? on : back)[i] / (GREYS - 1), 1e-12);
            test_close("density", moved.density[i], density[i], 0.0);
        }
        ww__series_release(&moved);
    }
    ww__series_release(&s);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(places), cmocka_unit_test(moves)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
