/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/base_check.h"
#include "support/emulsion.h"
#include "support/support.h"

#include <math.h>
#include <wedgework/start.h>

/* A softplus curve of base 0.25 (closed curve A of facts), read at 21 steps from `low` on with a
 * scatter of 0.006 D; falling: the same on a mirrored axis, which a series does not show. */
static void curve_a(double low, ww__series *s) {
    dice d = {31};
    assert_int_equal(ww__series_new(21, s, NULL), WW_OK);
    for (size_t i = 0; i < s->n; i++) {
        s->u[i] = low + 0.15 * (double)i;
        s->density[i] = 0.25 + 0.25 * log1p(exp(2.8 * (s->u[i] + 2.0))) + dice_normal(&d, 0.006);
    }
    s->has_base = true;
    s->base_weight = 1.0;
    assert_int_equal(ww__series_sort(s, NULL), WW_OK);
}

typedef struct base_row {
    const char *name;
    double low, base;
    bool falling;
    ww__base_verdict verdict;
    double expected; /* 0: not asked */
} base_row;

/* Source: the curve's own base, 0.25; limits of the header (common practice). */
static const base_row rows[] = {
    {"the base itself", -3.6, 0.25, false, WW__BASE_FITS, 0.0},
    {"a little off is scatter", -3.6, 0.262, false, WW__BASE_FITS, 0.0},
    {"mistyped, too dense", -3.6, 0.60, false, WW__BASE_OFF, 0.25},
    {"mistyped, too thin", -3.6, 0.05, false, WW__BASE_OFF, 0.25},
    {"no toe: thinner than all steps", -1.7, 0.25, false, WW__BASE_FITS, 0.0},
    {"no toe: several steps are thinner", -1.7, 0.95, false, WW__BASE_OFF, 0.55},
    {"reversal: the unexposed piece", -3.6, 2.90, true, WW__BASE_UNEXPOSED, 0.0},
    {"reversal: clear support", -3.6, 0.25, true, WW__BASE_FITS, 0.0},
};

static void verdicts(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const base_row *row = &rows[i];
        ww__series s;
        ww__base_verdict verdict = WW__BASE_FITS;
        double expected = -1.0;
        ww_error err = WW_ERROR_INIT;
        curve_a(row->low, &s);
        s.base = row->base;
        test_status(row->name, ww__base_check(&s, row->falling, NULL, &verdict, &expected, &err),
                    WW_OK, &err);
        test_close(row->name, verdict, row->verdict, 0.0);
        if (row->expected > 0.0)
            test_close(row->name, expected, row->expected, 0.03);
        test_true("unchanged", s.has_base && s.base == row->base && s.base_weight == 1.0);
        ww__series_release(&s);
    }
}

static void without_a_base(void **state) {
    (void)state;
    ww__series s;
    ww__base_verdict verdict = WW__BASE_OFF;
    double expected;
    curve_a(-3.6, &s);
    s.has_base = false;
    test_status("none", ww__base_check(&s, false, NULL, &verdict, &expected, NULL), WW_OK, NULL);
    test_close("none", verdict, WW__BASE_FITS, 0.0);
    ww__series_release(&s);
}

/* Clean films (tests/support/emulsion.h) keep their base. */
static void clean_bases_stay(void **state) {
    (void)state;
    dice d = {17};
    size_t off = 0;
    const size_t films = test_quick() ? 3 : 150;
    for (size_t i = 0; i < films; i++) {
        const emulsion e = emulsion_draw(&d, (emulsion_kind)(i % EMULSION_KINDS), false);
        ww__series s;
        ww__base_verdict verdict;
        double expected;
        assert_int_equal(ww__series_new(21, &s, NULL), WW_OK);
        for (size_t k = 0; k < s.n; k++) {
            s.u[k] = -3.05 + 0.15 * (double)k;
            s.density[k] = emulsion_density(&e, s.u[k]) + dice_normal(&d, 0.006);
        }
        s.has_base = true;
        s.base_weight = 1.0;
        s.base = e.base + dice_normal(&d, 0.006);
        assert_int_equal(ww__series_sort(&s, NULL), WW_OK);
        assert_int_equal(ww__base_check(&s, false, NULL, &verdict, &expected, NULL), WW_OK);
        off += verdict != WW__BASE_FITS;
        ww__series_release(&s);
    }
    test_true("under one in a hundred", 100 * off <= films);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(verdicts),
        cmocka_unit_test(without_a_base),
        cmocka_unit_test(clean_bases_stay),
    };
    if (ww_start() != WW_OK)
        return 1;
    return cmocka_run_group_tests(tests, NULL, NULL);
}
