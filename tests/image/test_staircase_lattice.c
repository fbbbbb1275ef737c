/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_lattice.h"
#include "support/emulsion.h"
#include "support/support.h"

#include <math.h>

/* Line nearest to x. */
static double nearest(const ww__lattice *l, double x) {
    double best = HUGE_VAL;
    for (size_t k = 0; k < l->n; k++)
        if (fabs(l->at[k] - x) < fabs(best - x))
            best = l->at[k];
    return best;
}

/* Source: the drawing. Edges at 31.7 + 17.35 k, some missing, some too many, each off a little. */
static void even_steps(void **state) {
    static const struct {
        const char *name;
        size_t every, more; /* every n-th edge is missing; additional ones */
        double off, hint;   /* places; about the pitch */
        double tolerance;
    } rows[] = {
        {"all there", 0, 0, 0.0, 17.0, 1e-9},    {"off", 0, 0, 1.0, 17.0, 0.8},
        {"missing", 4, 0, 0.5, 19.0, 0.8},       {"too many", 0, 4, 0.5, 16.0, 1.2},
        {"half the pitch", 0, 0, 0.3, 8.7, 0.5}, {"twice the pitch", 0, 0, 0.3, 34.0, 0.5},
    };
    (void)state;
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        ww__edges e = {.n = 0};
        ww__lattice l;
        dice d = {r + 5};
        for (size_t k = 0; k < 20; k++) {
            if (rows[r].every > 0 && k % rows[r].every == 2)
                continue;
            e.at[e.n] = 31.7 + 17.35 * (double)k + rows[r].off * dice_even(&d, -1.0, 1.0);
            e.fall[e.n++] = 0.15;
        }
        for (size_t k = 0; k < rows[r].more; k++) {
            e.at[e.n] = dice_even(&d, 30.0, 360.0);
            e.fall[e.n++] = 0.05;
        }
        ww__lattice_even(&e, rows[r].hint, 420.0, &l);
        test_close(rows[r].name, l.pitch, 17.35, rows[r].tolerance / 8.0);
        for (size_t k = 0; k < 20; k++) {
            const double at = 31.7 + 17.35 * (double)k;
            test_close(rows[r].name, nearest(&l, at), at, rows[r].tolerance);
        }
        test_true(rows[r].name, l.order > 0.85);
    }
}

static void chance_has_no_order(void **state) {
    ww__edges e = {.n = 24};
    ww__lattice l;
    dice d = {3};
    (void)state;
    for (size_t k = 0; k < e.n; k++)
        e.at[k] = dice_even(&d, 0.0, 500.0), e.fall[k] = 0.1;
    ww__lattice_even(&e, 20.0, 500.0, &l);
    test_true("order", l.order < 0.75);
}

/* Source: the drawing: widths in either order. */
static void known_widths(void **state) {
    const double widths[] = {3.0, 1.0, 1.0, 2.0, 1.5, 4.0, 1.0, 2.5};
    (void)state;
    for (int turned = 0; turned < 2; turned++) {
        ww__edges e = {.n = 0};
        ww__lattice l;
        double at = 50.0, want[9];
        for (size_t k = 0; k <= 8; k++) {
            want[k] = at;
            if (k > 0 && k < 8)
                e.at[e.n] = at + (k % 2 == 0 ? 0.4 : -0.4), e.fall[e.n++] = 0.2;
            if (k < 8)
                at += 14.3 * widths[turned == 1 ? 7 - k : k];
        }
        ww__lattice_given(&e, widths, 8, 26.0, &l);
        test_true("lines", l.n == 9 && l.order > 0.9);
        for (size_t k = 0; k <= 8; k++)
            test_close(turned == 1 ? "turned" : "in order", l.at[k], want[k], 1.5);
    }
}

static void edges_of_a_flight(void **state) {
    const ww__part part[] = {{0, 40, 0.0, 0.0, 0.0},   {40, 50, -0.1, 0.0, 0.0},
                             {50, 61, -0.2, 0.0, 0.0}, {61, 70, -0.3, 0.0, 0.0},
                             {70, 99, -2.0, 0.0, 0.0}, {99, 120, 0.0, 0.0, 0.0}};
    const ww__flight flight = {.n = 4, .part = {1, 2, 3, 4}, .pitch = 10.0};
    ww__edges e;
    ww__lattice l;
    (void)state;
    ww__edges_of(part, 6, &flight, &e);
    test_true("three", e.n == 3);
    test_close("where", e.at[1], 61.0, 0.0);
    test_close("great falls count as two", e.fall[2], 0.2, 1e-12);
    ww__lattice_free(part, &flight, &l);
    test_true("lines", l.n == 5);
    test_close("first", l.at[0], 40.0, 0.0);
    test_close("last", l.at[4], 99.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(even_steps),
        cmocka_unit_test(chance_has_no_order),
        cmocka_unit_test(known_widths),
        cmocka_unit_test(edges_of_a_flight),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
