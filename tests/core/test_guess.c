/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/guess.h"
#include "core/model.h"
#include "core/series_made.h"
#include "core/shape_fit.h"
#include "core/shapes.h"
#include <math.h>

/* Every start of every model: numbers, and parameters for which the model rises. */
static void usable(const char *name, const ww__series *s) {
    for (int model = 0; model < WW_MODEL_COUNT; model++) {
        for (size_t which = 0; which < WW__GUESS_COUNT; which++) {
            ww_shape shape = {.model = (ww_model_kind)model};
            double working[WW_MODEL_PARAMETERS_MAX];
            ww__guess_layout(s, &shape);
            ww__guess_make(s, &shape, which, working);
            ww__shape_fit_natural(working, &shape);
            for (size_t i = 0; i < shape.n; i++)
                test_true(name, isfinite(working[i]) && isfinite(shape.parameter[i]));
            test_true(name, ww__model_valid(&shape));
        }
    }
}

static void always_usable(void **state) {
    (void)state;
    for (size_t k = 0; k < sizeof shapes / sizeof *shapes; k++) {
        const named_shape *named = &shapes[k];
        ww__series s = made_series(21, 0.0, 0.0);
        for (size_t i = 0; i < s.n; i++)
            s.u[i] = (named->shape.falling ? -1.0 : 1.0) * position(named, 3 * (int)i);
        made_of_shape(&named->shape, &s);
        test_status(named->name, ww__series_sort(&s, NULL), WW_OK, NULL);
        usable(named->name, &s);
        ww__series_release(&s);
    }
}

static void awkward_series(void **state) {
    (void)state;
    ww__series one = made_series(5, -1.7, 0.0), flat = made_series(7, -1.7, 0.3);
    ww__series down = made_series(9, 1.3, 0.2), left_out = made_series(40, 0.1, 0.7);
    for (size_t i = 0; i < 5; i++)
        one.density[i] = 0.3 + 0.1 * (double)i;
    usable("one exposure", &one);
    usable("flat at zero", &flat);
    for (size_t i = 0; i < 9; i++)
        down.density[i] = 2.1 - 0.2 * (double)i;
    usable("the wrong way round", &down);
    for (size_t i = 6; i < 40; i++)
        left_out.weight[i] = 0.0;
    usable("the fewest that a spline takes", &left_out);
    ww__series_release(&one);
    ww__series_release(&flat);
    ww__series_release(&down);
    ww__series_release(&left_out);
}

/* Source: geometry. A straight ramp of slope 0.7 from (0.4, 0.31) over 3 log H has that slope, that
 * toe and that length, whatever the softness that is tried; by eye's rules within a tenth. */
static void a_ramp(void **state) {
    (void)state;
    ww__series s = made_series(31, 0.4, 0.1);
    ww_shape shape = {.model = WW_MODEL_TOE_LINE_SHOULDER};
    for (size_t i = 0; i < s.n; i++)
        s.density[i] = 0.31 + 0.7 * (s.u[i] - 0.4);
    ww__guess_layout(&s, &shape);
    for (size_t which = 0; which < WW__GUESS_COUNT; which++) {
        double w[WW_MODEL_PARAMETERS_MAX];
        ww__guess_make(&s, &shape, which, w);
        test_close("base+fog", w[0], 0.31, 1e-12);
        test_close("gamma", exp(w[WW__LINE_GAMMA]), 0.7, 0.07);
        test_close("toe", w[WW__LINE_TOE], 0.4, 0.1);
        test_close("length", exp(w[WW__LINE_LENGTH]), 3.0, 0.3);
    }
    /* A reading left out does not count, wherever it lies; a base below all is the thinnest. */
    double before[WW_MODEL_PARAMETERS_MAX], after[WW_MODEL_PARAMETERS_MAX];
    ww__guess_make(&s, &shape, 0, before);
    s.weight[17] = 0.0;
    s.density[17] = 5.9;
    ww__guess_make(&s, &shape, 0, after);
    for (size_t i = 0; i < shape.n; i++)
        test_close("left out", after[i], before[i], 1e-9);
    made_base(&s, 0.17);
    ww__guess_make(&s, &shape, 0, after);
    test_close("base read", after[0], 0.17, 0.0);
    ww__series_release(&s);
}

/* Shifting u moves positions and knots, and nothing else. */
static void shifts(void **state) {
    (void)state;
    const double by = 2.731;
    ww__series s = made_series(21, -3.05, 0.15);
    made_of_shape(&shapes[0].shape, &s);
    for (int model = 0; model < WW_MODEL_COUNT; model++) {
        ww_shape here = {.model = (ww_model_kind)model}, there = here;
        double a[WW_MODEL_PARAMETERS_MAX], b[WW_MODEL_PARAMETERS_MAX];
        ww__guess_layout(&s, &here);
        ww__guess_make(&s, &here, 1, a);
        for (size_t i = 0; i < s.n; i++)
            s.u[i] += by;
        ww__guess_layout(&s, &there);
        ww__guess_make(&s, &there, 1, b);
        for (size_t i = 0; i < s.n; i++)
            s.u[i] -= by;
        assert_int_equal(here.n, there.n);
        test_close("knots", there.knot_low, here.knot_low + by, 1e-12);
        test_close("knots", there.knot_high, here.knot_high + by, 1e-12);
        for (size_t i = 0; i < here.n; i++) {
            const bool place =
                model == WW_MODEL_LOGISTIC ? i == WW__LOGISTIC_MIDDLE : i == WW__LINE_TOE;
            const bool moves = model != WW_MODEL_SPLINE && place;
            test_close("shifted", b[i], a[i] + (moves ? by : 0.0), 1e-9);
        }
    }
    ww__series_release(&s);
}

/* Source: definition. Counts of parameters; a spline has as many as it can hold at the most. */
static void layouts(void **state) {
    (void)state;
    static const size_t counts[WW_MODEL_COUNT] = {
        [WW_MODEL_LOGISTIC] = 5, [WW_MODEL_TOE_LINE_SHOULDER] = 6, [WW_MODEL_TOE_LINE] = 4};
    for (size_t n = 6; n < 200; n += 31) {
        ww__series s = made_series(n, -2.0, 0.02);
        for (int model = 0; model < WW_MODEL_COUNT; model++) {
            ww_shape shape = {.model = (ww_model_kind)model};
            ww__guess_layout(&s, &shape);
            test_close("knots", shape.knot_low, -2.0, 0.0);
            test_close("knots", shape.knot_high, s.u[n - 1], 0.0);
            if (model != WW_MODEL_SPLINE)
                assert_int_equal(shape.n, counts[model]);
            else
                test_true("spline", shape.n >= 5 && shape.n <= WW_MODEL_PARAMETERS_MAX &&
                                        (n < 99 || shape.n == WW_MODEL_PARAMETERS_MAX));
        }
        ww__series_release(&s);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(always_usable), cmocka_unit_test(awkward_series), cmocka_unit_test(a_ramp),
        cmocka_unit_test(shifts),        cmocka_unit_test(layouts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
