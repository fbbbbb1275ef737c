/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_trial.h"
#include "support/support.h"
#include <math.h>
#include <wedgework/fit.h>
#include <wedgework/start.h>

/* Source of what is expected: the truth that the prints were made with (support/print_trial.h). */

enum { ALL = 0x7f, PRINTS = 400 };

static double either_way(dice *d, double low, double high) {
    const double size = dice_even(d, low, high);
    return dice_even(d, 0.0, 1.0) < 0.5 ? -size : size;
}

/* A lamp 0.2 to 0.5 stop off, a paper half a grade to a grade off, a highlight up by 0.04 to 0.08.
 */
static trial_truth draw(dice *d, ww_miss_cause cause) {
    trial_truth truth = {.log_h = 0.0};
    if (cause == WW_MISS_EXPOSURE || cause == WW_MISS_BOTH)
        truth.log_h = either_way(d, 0.06, 0.15);
    if (cause == WW_MISS_CONTRAST || cause == WW_MISS_BOTH)
        truth.range = either_way(d, 0.08, 0.18);
    if (cause == WW_MISS_LIGHT_END && dice_even(d, 0.0, 1.0) < 0.5)
        truth.light = dice_even(d, 0.4, 0.8);
    else if (cause == WW_MISS_LIGHT_END)
        truth.fog = dice_even(d, 0.05, 0.10);
    return truth;
}

/* Without scatter every cause is told as what it is, to its size. */
static void test_exact(void **state) {
    static const struct {
        trial_truth truth;
        ww_miss_cause cause;
    } rows[] = {{{.log_h = 0.0}, WW_MISS_NOTHING},
                {{.log_h = 0.0903}, WW_MISS_EXPOSURE},
                {{.log_h = -0.21}, WW_MISS_EXPOSURE},
                {{.range = 0.13}, WW_MISS_CONTRAST},
                {{.range = -0.17}, WW_MISS_CONTRAST},
                {{.light = 0.6}, WW_MISS_LIGHT_END},
                {{.fog = 0.07}, WW_MISS_LIGHT_END},
                {{.log_h = 0.09, .range = 0.13}, WW_MISS_BOTH},
                {{.log_h = -0.11, .range = -0.14}, WW_MISS_BOTH}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const trial_truth *truth = &rows[i].truth;
        const char *name = ww_miss_cause_name(rows[i].cause);
        const ww_miss_hypothesis *h;
        ww_print_miss miss = WW_PRINT_MISS_INIT;
        print_trial trial;
        dice d = {1};
        print_trial_start(&trial, &d, 0.0);
        trial.truth = *truth;
        print_trial_print(&trial, &d, print_trial_time(&trial), ALL);
        print_trial_explain(&trial, &miss);
        h = &miss.hypothesis[rows[i].cause];
        test_true(name, miss.n_supported == 1 && miss.best == rows[i].cause);
        test_true(name,
                  h->freedom ==
                      7U - (rows[i].cause == WW_MISS_BOTH ? 2U : rows[i].cause != WW_MISS_NOTHING));
        test_close(name, h->chi_squared, 0.0, 0.02);
        if (h->log_h.set)
            test_close(name, h->log_h.value, truth->log_h, 2e-3);
        if (h->range.set)
            test_close(name, h->range.value, truth->range, 2e-3);
        if (rows[i].cause == WW_MISS_LIGHT_END) /* of the cloud, at its aim within 0.1 s */
            test_close(name, h->lift.value,
                       print_trial_net(truth, print_case_log_h(TRIAL_RANGE, TRIAL_X0, TRIAL_AIM)) -
                           TRIAL_AIM,
                       1e-3);
        ww_print_miss_release(&miss);
    }
}

/* With scatter: right in 95 % or left open, wrong in under 3 %. Four tones read, and all seven. */
static void test_scatter(void **state) {
    static const unsigned read[] = {ALL, 0x55};
    dice d = {31};
    (void)state;
    if (test_quick())
        skip();
    for (size_t k = 0; k < sizeof read / sizeof read[0]; k++) {
        for (ww_miss_cause cause = WW_MISS_NOTHING; cause <= WW_MISS_LIGHT_END; cause++) {
            size_t right = 0, open = 0, wrong = 0;
            for (size_t i = 0; i < PRINTS; i++) {
                ww_print_miss miss = WW_PRINT_MISS_INIT;
                print_trial trial;
                print_trial_start(&trial, &d, 0.01);
                trial.truth = draw(&d, cause);
                print_trial_print(&trial, &d, print_trial_time(&trial), read[k]);
                print_trial_explain(&trial, &miss);
                open += miss.n_supported != 1;
                right += miss.n_supported == 1 && miss.best == cause;
                wrong += miss.n_supported == 1 && miss.best != cause;
                ww_print_miss_release(&miss);
            }
            print_message("%s tones, %-10s right %zu, open %zu, wrong %zu of %d\n",
                          k == 0 ? "seven" : "four", ww_miss_cause_name(cause), right, open, wrong,
                          PRINTS);
            test_true(ww_miss_cause_name(cause), (double)wrong < 0.03 * PRINTS);
            if (k == 0)
                test_true(ww_miss_cause_name(cause), (double)right >= 0.95 * PRINTS);
        }
    }
}

/* ---------------------------------------------------------------- papers of other shapes */

enum { PAPERS = 30, PRINTS_EACH = 12 };

/* A print of a paper that is none of the program's models (support/emulsion.h), by the plan of its
 * fitted curve: the log H of the cloud's aim in truth is where contrast turns. */
static void print_emulsion(const emulsion *e, dice *d, const print_trial *negative, double time_s,
                           const trial_truth *truth, print_case *print) {
    double low = -4.0, high = 1.0;
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (low + high);
        *(emulsion_density(e, middle) - e->base < TRIAL_AIM ? &low : &high) = middle;
    }
    print_case_start(print);
    print->negative.meta.material = WW_MATERIAL_PRINT;
    print->negative.meta.exposure_time_s = (ww_optional){true, time_s};
    print_case_tone(print, "base", WW_PART_WHOLE, e->base + dice_normal(d, 0.005));
    for (size_t i = 0; i < TRIAL_TONES; i++) {
        const double log_h = log10(time_s) - negative->density[i] + truth->log_h;
        const double at = low + (log_h - low) * TRIAL_RANGE / (TRIAL_RANGE - truth->range);
        const double net = emulsion_density(e, at) - e->base;
        print_case_tone(print, trial_tone[i], WW_PART_WHOLE,
                        e->base + net + truth->fog * (1.0 - net / e->range) + dice_normal(d, 0.01));
    }
}

/* The plan is made by the curve that was fitted to 21 steps of the paper. */
static void explain_emulsion(const emulsion *e, dice *d, const ww_curve *curve,
                             const trial_truth *truth, ww_print_miss *miss) {
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    ww_error err = WW_ERROR_INIT;
    print_trial trial;
    double time_s;
    print_trial_start(&trial, d, 0.01);
    trial.plan.list[0] = curve;
    trial.plan.request.timer_step_s = 0.001; /* the emulsions are fast */
    print_case_make("plan", &trial.plan, &plan);
    test_true("a time", plan.paper[0].time_s.set);
    time_s = plan.paper[0].time_s.value;
    ww_print_plan_release(&plan);
    print_emulsion(e, d, &trial, time_s, truth, &trial.print);
    test_status("explain",
                ww_print_result_explain(&trial.plan.request, &trial.print.negative, miss, &err),
                WW_OK, &err);
}

/*
 * A fitted curve of another shape than the paper's is a little off, all along. Even so no more than
 * 4 in 100 prints are explained by what was not the cause. (Fog of 0.05 is hidden by readings of
 * 0.01 where the toe is steep; that nothing was seen of it is no wrong explanation.)
 */
static void test_other_shapes(void **state) {
    static const ww_fit_options options = {.seed = 1, .threads = 1};
    size_t right = 0, open = 0, unseen = 0, wrong = 0;
    dice d = {11};
    (void)state;
    if (test_quick())
        skip();
    for (size_t i = 0; i < PAPERS; i++) {
        const emulsion e = emulsion_draw(&d, (emulsion_kind)(i % EMULSION_KINDS), true);
        ww_readings readings;
        ww_curve curve = WW_CURVE_INIT;
        emulsion_read(&e, &d, 21, -3.0, 0.15, 0.008, true, &readings);
        readings.meta.exposure_unit = WW_UNIT_SECOND;
        assert_int_equal(ww_fit_readings(&readings, &options, &curve, NULL), WW_OK);
        for (size_t k = 0; k < PRINTS_EACH; k++) {
            const ww_miss_cause cause = (ww_miss_cause)(k % (WW_MISS_LIGHT_END + 1));
            trial_truth truth = draw(&d, cause);
            ww_print_miss miss = WW_PRINT_MISS_INIT;
            if (cause == WW_MISS_LIGHT_END)
                truth = (trial_truth){.fog = dice_even(&d, 0.05, 0.10)};
            explain_emulsion(&e, &d, &curve, &truth, &miss);
            if (miss.n_supported != 1)
                open++;
            else if (miss.best == cause)
                right++;
            else if (miss.best == WW_MISS_NOTHING)
                unseen++;
            else
                wrong++;
            ww_print_miss_release(&miss);
        }
        ww_curve_release(&curve);
        ww_readings_release(&readings);
    }
    print_message("other shapes: right %zu, open %zu, unseen %zu, wrong %zu of %d\n", right, open,
                  unseen, wrong, PAPERS * PRINTS_EACH);
    test_true("wrong", (double)wrong <= 0.04 * PAPERS * PRINTS_EACH);
    test_true("right", (double)right >= 0.80 * PAPERS * PRINTS_EACH);
}

/* One tone alone, off by 0.3 stop: exposure and fog explain it alike, and both are named. Two
 * tones, each off in a way that no cause has: none is. */
static void test_open(void **state) {
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    print_trial trial;
    dice d = {1};
    (void)state;
    print_trial_start(&trial, &d, 0.0);
    trial.truth = (trial_truth){.log_h = 0.15};
    print_trial_print(&trial, &d, print_trial_time(&trial), 0x40);
    print_trial_explain(&trial, &miss);
    test_true("two", miss.n_supported == 2 && miss.hypothesis[WW_MISS_EXPOSURE].supported &&
                         miss.hypothesis[WW_MISS_LIGHT_END].supported);
    test_true("contrast would not show", !miss.hypothesis[WW_MISS_CONTRAST].tried);
    test_true("too few for both", !miss.hypothesis[WW_MISS_BOTH].tried);
    /* Which it was is open; the cloud needs that much less all the same. Source: the truth. */
    test_true("learned", miss.learned && miss.offset.sd >= 0.5 * 0.15);
    test_close("put right", miss.offset.log_h, 0.15, 0.01);
    ww_print_miss_release(&miss);

    trial.truth = (trial_truth){.log_h = 0.0};
    print_trial_print(&trial, &d, print_trial_time(&trial), ALL);
    trial.print.row[3].cell[WW_COLUMN_VISUAL].value += 0.25;
    trial.print.row[5].cell[WW_COLUMN_VISUAL].value -= 0.12;
    print_trial_explain(&trial, &miss);
    test_true("none", miss.n_supported == 0 && miss.learned);
    test_close("the cloud stands", miss.offset.log_h, 0.0, 0.01);
    test_close("no contrast comes of it", miss.offset.range, 0.0, 0.0);
    test_text("the odd one", miss.telling, trial_tone[2]);
    ww_print_miss_release(&miss);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_exact),
        cmocka_unit_test(test_scatter),
        cmocka_unit_test(test_other_shapes),
        cmocka_unit_test(test_open),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print_result_cause", tests, NULL, NULL);
}
