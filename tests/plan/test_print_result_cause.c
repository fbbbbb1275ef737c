/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_trial.h"
#include "support/support.h"
#include <math.h>
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
    } rows[] = {{{.log_h = 0.0}, WW_MISS_NOTHING},       {{.log_h = 0.0903}, WW_MISS_EXPOSURE},
                {{.log_h = -0.21}, WW_MISS_EXPOSURE},    {{.range = 0.13}, WW_MISS_CONTRAST},
                {{.range = -0.17}, WW_MISS_CONTRAST},    {{.light = 0.6}, WW_MISS_LIGHT_END},
                {{.fog = 0.07}, WW_MISS_LIGHT_END},      {{0.09, 0.13, 0.0, 0.0}, WW_MISS_BOTH},
                {{-0.11, -0.14, 0.0, 0.0}, WW_MISS_BOTH}};
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
    test_true("not learned", !miss.learned);
    ww_print_miss_release(&miss);

    trial.truth = (trial_truth){.log_h = 0.0};
    print_trial_print(&trial, &d, print_trial_time(&trial), ALL);
    trial.print.row[3].cell[WW_COLUMN_VISUAL].value += 0.25;
    print_trial_explain(&trial, &miss);
    test_true("none", miss.n_supported == 0 && !miss.learned);
    test_text("the odd one", miss.telling, trial_tone[2]);
    ww_print_miss_release(&miss);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_exact),
        cmocka_unit_test(test_scatter),
        cmocka_unit_test(test_open),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print_result_cause", tests, NULL, NULL);
}
