/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_trial.h"
#include "support/support.h"
#include <math.h>
#include <string.h>
#include <wedgework/start.h>

/* What a reading of every tone is set to. */
static void read_all(print_trial *trial, double density) {
    for (size_t i = 1; i < trial->print.negative.n; i++)
        trial->print.row[i].cell[WW_COLUMN_VISUAL].value = density;
}

/* A sheet all black or all white bounds the exposure. Source: closed form of the trial's paper, log
 * H of net 0.04 for white and of D-max less 0.05 for black; what is left is by the 0.1 s of the
 * timer and the fit of the curve. */
static void test_ends(void **state) {
    (void)state;
    for (int black = 0; black < 2; black++) {
        const char *name = black ? "black" : "white";
        ww_print_miss miss = WW_PRINT_MISS_INIT;
        print_trial trial;
        dice d = {1};
        double time_s;
        print_trial_start(&trial, &d, 0.0);
        time_s = print_trial_time(&trial);
        print_trial_print(&trial, &d, time_s, 0x41); /* shadow and cloud */
        read_all(&trial, black ? 2.5 : 0.05);
        print_trial_explain(&trial, &miss);
        test_true(name, miss.sight == (black ? WW_MISS_ALL_BLACK : WW_MISS_ALL_WHITE));
        test_true(name, !miss.learned && miss.n_supported == 0 && miss.least > 0.0);
        if (!black)
            test_close(name, miss.least,
                       log10(time_s) - trial.density[0] -
                           print_case_log_h(TRIAL_RANGE, TRIAL_X0, 0.04),
                       0.02);
        test_true(name, strstr(miss.why, "at least") && strstr(miss.why, name));
        test_text("the one to read", miss.telling, trial_tone[black ? 5 : 1]);
        ww_print_miss_release(&miss);
    }
}

/* The negative's densities in place of the print's: refused, and named. All tones in order again
 * are not. Source: definition, as above. */
static void test_reversed(void **state) {
    (void)state;
    for (unsigned three = 0; three < 2; three++) {
        ww_print_miss miss = WW_PRINT_MISS_INIT;
        ww_error err = WW_ERROR_INIT;
        print_trial trial;
        dice d = {1};
        print_trial_start(&trial, &d, 0.0);
        print_trial_print(&trial, &d, print_trial_time(&trial), three ? 0x49 : 0x7f);
        for (size_t i = 1; i < trial.print.negative.n; i++)
            for (size_t k = 0; k < TRIAL_TONES; k++)
                if (strcmp(trial.print.row[i].tone, trial_tone[k]) == 0)
                    trial.print.row[i].cell[WW_COLUMN_VISUAL].value = trial.density[k];
        test_status(
            "reversed",
            ww_print_result_explain(&trial.plan.request, &trial.print.negative, &miss, &err),
            WW_EMISMATCH, &err);
        test_true("said", strstr(err.msg, "the other way round") && strstr(err.msg, "'shadow'"));
        test_true("nothing", !miss.set);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_ends),
        cmocka_unit_test(test_reversed),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print_result_plain", tests, NULL, NULL);
}
