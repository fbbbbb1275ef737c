/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_trial.h"
#include "support/support.h"
#include <math.h>
#include <string.h>
#include <wedgework/start.h>

/*
 * Which reading would tell. Source: the truth; a cloud alone, up by half a stop, may have been
 * fogged or have had more exposure, and of the tones not read those of the middle, where the paper
 * is steepest, are farthest apart between the two.
 */
static void test_unread(void **state) {
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    print_trial trial;
    dice d = {1};
    size_t most = 0;
    double apart = 0.0, time_s;
    (void)state;
    print_trial_start(&trial, &d, 0.0);
    time_s = print_trial_time(&trial);
    trial.truth.log_h = 0.15;
    print_trial_print(&trial, &d, time_s, 0x40);
    print_trial_explain(&trial, &miss);
    for (size_t i = 0; i < TRIAL_TONES; i++) { /* density added as fog leaves all these be */
        const double log_h = log10(time_s) - trial.density[i];
        const double more = print_trial_net(&trial.truth, log_h);
        const double as_it_is = print_trial_net(&(trial_truth){.log_h = 0.0}, log_h);
        if (more - as_it_is > apart)
            apart = more - as_it_is, most = i;
    }
    test_text("telling", miss.telling, trial_tone[most]);
    test_true("said", strstr(miss.why, trial_tone[most]) != NULL);
    ww_print_miss_release(&miss);
    /* That read, it does tell. */
    print_trial_print(&trial, &d, time_s, 0x40U | 1U << most);
    print_trial_explain(&trial, &miss);
    test_true("told", miss.n_supported == 1 && miss.best == WW_MISS_EXPOSURE);
    test_text("no more", miss.telling, "");
    ww_print_miss_release(&miss);
}

/* What is left under the best cause: nothing, where it is the truth. */
static void test_left(void **state) {
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    print_trial trial;
    dice d = {1};
    (void)state;
    print_trial_start(&trial, &d, 0.0);
    trial.truth.range = 0.11;
    print_trial_print(&trial, &d, print_trial_time(&trial), 0x7f);
    print_trial_explain(&trial, &miss);
    for (size_t i = 0; i < miss.n_tones; i++) {
        test_close(miss.tone[i].tone, miss.tone[i].left, 0.0, 2e-3);
        test_true("off", fabs(miss.tone[i].came - miss.tone[i].foretold) > 0.02 ||
                             strcmp(miss.tone[i].tone, "cloud") == 0 ||
                             strcmp(miss.tone[i].tone, "sail") == 0);
    }
    ww_print_miss_release(&miss);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_unread),
        cmocka_unit_test(test_left),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print_result_telling", tests, NULL, NULL);
}
