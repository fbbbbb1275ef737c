/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/choice.h"
#include "core/model.h"
#include "core/series_made.h"
#include <math.h>
#include <wedgework/start.h>

static bool has(const ww__choice *choice, ww_model_kind model) {
    for (size_t c = 0; c < choice->n; c++)
        if (choice->candidate[c].fit.shape.model == model)
            return true;
    return false;
}

/*
 * Source: the rules in the header, from AICc of each model fitted by itself: the least wins, a
 * spline only by 2 or more; shares e^(-(AICc - least)/3), none under 2 % of the best one's.
 */
static void shares_by_hand(void **state) {
    (void)state;
    dice d = {11};
    for (size_t k = 0; k < (test_quick() ? 2u : 12u); k++) {
        const emulsion e = emulsion_draw(&d, (emulsion_kind)(k % EMULSION_KINDS), false);
        ww__series s = made_of_emulsion(&e, &d, 0.006);
        ww__choice choice;
        test_status("choice", ww__choice_make(&s, false, NULL, &choice, NULL), WW_OK, NULL);
        double least = HUGE_VAL, best = HUGE_VAL, sum = 0.0, all = 0.0;
        ww_model_kind chosen = WW_MODEL_COUNT;
        for (size_t c = 0; c < choice.n; c++) {
            ww__shape_fit fit;
            const ww_model_kind model = choice.candidate[c].fit.shape.model;
            test_status("alone", ww__shape_fit_solve(&s, model, false, NULL, &fit, NULL), WW_OK,
                        NULL);
            test_close("AICc", choice.candidate[c].fit.aicc, fit.aicc, 1e-9);
            const double asked = fit.aicc + (model == WW_MODEL_SPLINE ? 2.0 : 0.0);
            least = fmin(least, fit.aicc);
            if (asked < best) {
                best = asked;
                chosen = model;
            }
        }
        assert_int_equal(choice.candidate[choice.best].fit.shape.model, chosen);
        double share[WW_MODEL_COUNT] = {0};
        for (size_t c = 0; c < choice.n; c++) {
            share[c] = exp(-(choice.candidate[c].fit.aicc - least) / 3.0);
            if (share[c] < 0.02 && c != choice.best)
                share[c] = 0.0;
            sum += share[c];
        }
        for (size_t c = 0; c < choice.n; c++) {
            test_close("share", choice.candidate[c].share, share[c] / sum, 1e-9);
            all += choice.candidate[c].share;
        }
        test_close("all of it", all, 1.0, 1e-12);
        ww__series_release(&s);
    }
}

/* Readings of a known model, with scatter: it is among the candidates, and mostly the one. */
static void the_true_model(void **state) {
    (void)state;
    static const ww_shape truth[] = {
        {WW_MODEL_TOE_LINE, false, 4, {0.25, 0.61, -2.0, 0.25}, 0, 0},
        {WW_MODEL_TOE_LINE_SHOULDER, false, 6, {0.25, 0.93, -2.2, 0.2, 1.4, 0.12}, 0, 0},
        {WW_MODEL_LOGISTIC, false, 5, {0.2, 1.9, 2.9, -1.3, 0.45}, 0, 0},
    };
    const size_t sets = test_quick() ? 2 : 20;
    dice d = {21};
    for (size_t m = 0; m < sizeof truth / sizeof *truth; m++) {
        size_t right = 0;
        for (size_t k = 0; k < sets; k++) {
            ww__series s = made_series(21, -3.05, 0.15);
            ww__choice choice;
            made_of_shape(&truth[m], &s);
            made_base(&s, truth[m].parameter[0]);
            for (size_t i = 0; i < s.n; i++)
                s.density[i] += dice_normal(&d, 0.004);
            test_status("choice", ww__choice_make(&s, false, NULL, &choice, NULL), WW_OK, NULL);
            test_true("a candidate", has(&choice, truth[m].model));
            right += choice.candidate[choice.best].fit.shape.model == truth[m].model;
            ww__series_release(&s);
        }
        test_true(ww_model_name(truth[m].model), 10 * right >= 7 * sets);
    }
}

/* Films read no further than the straight part: a candidate that has a shoulder knows where it is,
 * to a factor of two and one standard error (the guard); and on a straight line there is none. */
static void no_shoulder_reached(void **state) {
    (void)state;
    const ww_shape truth = {WW_MODEL_TOE_LINE, false, 4, {0.25, 0.7, -2.0, 0.2}, 0, 0};
    const size_t sets = test_quick() ? 2 : 40;
    dice d = {31};
    size_t shouldered = 0;
    for (size_t k = 0; k < sets; k++) {
        ww__series s = made_series(21, -3.05, 0.15);
        ww__choice choice;
        made_of_shape(&truth, &s);
        made_base(&s, 0.25);
        for (size_t i = 0; i < s.n; i++)
            s.density[i] += dice_normal(&d, 0.006);
        test_status("choice", ww__choice_make(&s, false, NULL, &choice, NULL), WW_OK, NULL);
        for (size_t c = 0; c < choice.n; c++) {
            const ww__shape_fit *fit = &choice.candidate[c].fit;
            const size_t i = fit->shape.model == WW_MODEL_LOGISTIC ? WW__LOGISTIC_RANGE
                                                                   : (size_t)WW__LINE_LENGTH;
            if (fit->shape.model != WW_MODEL_LOGISTIC &&
                fit->shape.model != WW_MODEL_TOE_LINE_SHOULDER)
                continue;
            const double sd = fit->residual_sd * sqrt(fit->unscaled[i * fit->shape.n + i]);
            test_true("determined", sd > 0.0 && sd < log(2.0) + 0.01);
        }
        shouldered += choice.candidate[choice.best].fit.shape.model == WW_MODEL_TOE_LINE_SHOULDER ||
                      choice.candidate[choice.best].fit.shape.model == WW_MODEL_LOGISTIC;
        ww__series_release(&s);
    }
    test_true("a straight line has no shoulder", 10 * shouldered <= sets);

    /* Without scatter nothing is left to doubt: the shoulder's place has no effect at all. */
    ww__series s = made_series(21, -3.05, 0.15);
    ww__choice choice;
    made_of_shape(&truth, &s);
    test_status("exact", ww__choice_make(&s, false, NULL, &choice, NULL), WW_OK, NULL);
    assert_int_equal(choice.candidate[choice.best].fit.shape.model, WW_MODEL_TOE_LINE);
    ww__series_release(&s);
}

/* The model that is asked for is taken, determined or not. */
static void only_one(void **state) {
    (void)state;
    const ww_shape truth = {WW_MODEL_TOE_LINE, true, 4, {0.25, 0.7, -2.0, 0.2}, 0, 0};
    dice d = {41};
    ww__series s = made_series(21, -3.05, 0.15);
    made_of_shape(&truth, &s);
    for (size_t i = 0; i < s.n; i++)
        s.density[i] += dice_normal(&d, 0.006);
    for (int m = 0; m < WW_MODEL_COUNT; m++) {
        const ww_model_kind model = (ww_model_kind)m;
        ww__choice choice;
        test_status("only", ww__choice_make(&s, true, &model, &choice, NULL), WW_OK, NULL);
        assert_int_equal(choice.n, 1);
        assert_int_equal(choice.best, 0);
        assert_int_equal(choice.candidate[0].fit.shape.model, model);
        test_true("falling", choice.candidate[0].fit.shape.falling);
        test_close("all of it", choice.candidate[0].share, 1.0, 0.0);
    }
    ww__series_release(&s);
}

/* Five readings leave no AICc (5 - 5 - 1 < 0): the simplest model stands alone. */
static void few_readings(void **state) {
    (void)state;
    ww_error err = WW_ERROR_INIT;
    ww__choice choice = {.n = 77};
    ww__series s = made_series(5, -2.0, 0.4);
    for (size_t i = 0; i < s.n; i++)
        s.density[i] = 0.2 + 0.06 * (double)(i * i) + 0.003 * (double)(i % 2);
    test_status("five", ww__choice_make(&s, false, NULL, &choice, &err), WW_OK, &err);
    assert_int_equal(choice.n, 1);
    assert_int_equal(choice.candidate[0].fit.shape.model, WW_MODEL_TOE_LINE);
    test_close("all of it", choice.candidate[0].share, 1.0, 0.0);
    choice.n = 77;
    s.weight[3] = 0.0;
    test_status("four", ww__choice_make(&s, false, NULL, &choice, &err), WW_ENODATA, &err);
    const ww_model_kind spline = WW_MODEL_SPLINE;
    s.weight[3] = 1.0;
    test_status("five are no spline", ww__choice_make(&s, false, &spline, &choice, &err),
                WW_ENODATA, &err);
    s.density[1] = (double)NAN;
    const ww_model_kind line = WW_MODEL_TOE_LINE;
    test_status("no number", ww__choice_make(&s, false, &line, &choice, &err), WW_ECONVERGE, &err);
    test_true("untouched", choice.n == 77);
    ww__series_release(&s);
}

int main(void) {
    ww_start();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shares_by_hand),      cmocka_unit_test(the_true_model),
        cmocka_unit_test(no_shoulder_reached), cmocka_unit_test(only_one),
        cmocka_unit_test(few_readings),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
