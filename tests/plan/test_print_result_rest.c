/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_trial.h"
#include "support/support.h"
#include <math.h>
#include <string.h>
#include <wedgework/start.h>

/* Source of what is expected: the truth that the prints were made with (support/print_trial.h). */

enum { ALL = 0x7f, PRINTS = 400, CLOUD = TRIAL_TONES - 1 };

/* All tones printed and read, one of them misread by so much. */
static void misread(print_trial *trial, dice *d, size_t tone, double off, ww_print_miss *miss) {
    print_trial_print(trial, d, print_trial_time(trial), ALL);
    trial->print.row[tone + 1].cell[WW_COLUMN_VISUAL].value += off;
    print_trial_explain(trial, miss);
}

/* A cause and a tone misread: both are told, and what the others say is learned; not where the
 * tone sets the time. */
static void test_besides(void **state) {
    static const struct {
        trial_truth truth;
        ww_miss_cause cause;
    } rows[] = {{{.log_h = 0.09}, WW_MISS_EXPOSURE},
                {{.log_h = -0.14}, WW_MISS_EXPOSURE},
                {{.range = 0.17}, WW_MISS_CONTRAST}};
    (void)state;
    for (size_t i = 0; i < 3 * TRIAL_TONES; i++) {
        const size_t r = i / TRIAL_TONES, tone = i % TRIAL_TONES;
        const char *name = trial_tone[tone];
        ww_print_miss miss = WW_PRINT_MISS_INIT;
        print_trial trial;
        dice d = {1};
        print_trial_start(&trial, &d, 0.0);
        trial.truth = rows[r].truth;
        misread(&trial, &d, tone, tone == 0 ? -0.20 : 0.20, &miss);
        test_true(name, miss.n_supported == 1 && miss.best == rows[r].cause);
        test_text(name, miss.besides, name);
        test_true(name, miss.learned == (tone != CLOUD));
        test_true(name, miss.hypothesis[rows[r].cause].freedom == 5);
        test_true(name, strstr(miss.why, tone == CLOUD ? "which sets the time, says otherwise"
                                                       : "does not go with that") != NULL);
        if (miss.learned) {
            test_close(name, miss.offset.log_h, rows[r].truth.log_h, 0.003);
            test_close(name, miss.offset.range, rows[r].truth.range, 0.006);
        }
        ww_print_miss_release(&miss);
    }
}

/* Five readings leave four of which one cause can be told; three leave too few to deny any. */
static void test_few(void **state) {
    (void)state;
    for (size_t n = 3; n <= 5; n += 2) {
        ww_print_miss miss = WW_PRINT_MISS_INIT;
        print_trial trial;
        dice d = {1};
        print_trial_start(&trial, &d, 0.0);
        trial.truth.log_h = 0.12;
        print_trial_print(&trial, &d, print_trial_time(&trial), n == 5 ? 0x5b : 0x49);
        trial.print.row[n == 5 ? 3 : 2].cell[WW_COLUMN_VISUAL].value += 0.20; /* water */
        print_trial_explain(&trial, &miss);
        test_true("few", (miss.besides != NULL) == (n == 5));
        ww_print_miss_release(&miss);
    }
}

/* What would land the cloud on its aim: the truth, and what the cloud was misread by. */
static double needed(const print_trial *trial) {
    return trial->truth.log_h + trial->plan.row[CLOUD].cell[WW_COLUMN_VISUAL].value -
           trial->density[CLOUD];
}

/* What is off besides one tone. */
static const struct {
    const char *name;
    ww_miss_cause cause;
} scatter_rows[] = {
    {"alone", WW_MISS_ONE}, {"and lamp", WW_MISS_EXPOSURE}, {"and contrast", WW_MISS_CONTRAST}};

/*
 * With scatter, and one tone misread by ten to twenty times that: alone, or beside a lamp or a
 * contrast that was off. What is told is not wrong in more than 3 %, and what is learned of the
 * others holds the truth in 95 % (the bound is 2.5 sd of counting).
 */
static void test_scatter(void **state) {
    dice d = {23};
    (void)state;
    if (test_quick())
        skip();
    for (size_t r = 0; r < sizeof scatter_rows / sizeof scatter_rows[0]; r++) {
        const ww_miss_cause cause = scatter_rows[r].cause;
        size_t right = 0, unseen = 0, wrong = 0, learned = 0, held = 0;
        for (size_t i = 0; i < PRINTS; i++) {
            const size_t odd = i % TRIAL_TONES;
            const double way = dice_even(&d, 0.0, 1.0) < 0.5 && odd < 4 ? -1.0 : 1.0;
            const double more = dice_even(&d, 0.0, 1.0) < 0.5 ? -1.0 : 1.0;
            ww_print_miss miss = WW_PRINT_MISS_INIT;
            print_trial trial;
            bool told;
            print_trial_start(&trial, &d, 0.01);
            if (cause == WW_MISS_EXPOSURE)
                trial.truth.log_h = more * dice_even(&d, 0.05, 0.15);
            else if (cause == WW_MISS_CONTRAST)
                trial.truth.range = more * dice_even(&d, 0.10, 0.20);
            misread(&trial, &d, odd, way * dice_even(&d, 0.10, 0.20), &miss);
            told = miss.n_supported == 1 && miss.best == cause &&
                   (cause == WW_MISS_ONE || !miss.besides ||
                    strcmp(miss.besides, trial_tone[odd]) == 0);
            right += told;
            unseen += miss.n_supported == 1 && miss.best == WW_MISS_NOTHING;
            wrong += miss.n_supported == 1 && miss.best != WW_MISS_NOTHING && !told;
            learned += miss.learned;
            held += miss.learned &&
                    fabs(miss.offset.log_h - needed(&trial)) <= 1.959964 * miss.offset.sd;
            ww_print_miss_release(&miss);
        }
        print_message(
            "one tone %s: right %zu, unseen %zu, wrong %zu of %d; learned %zu, held %.3f\n",
            scatter_rows[r].name, right, unseen, wrong, PRINTS, learned,
            (double)held / (double)learned);
        test_true("wrong", (double)wrong <= 0.03 * PRINTS);
        test_true("right", (double)right >= 0.75 * PRINTS);
        test_true("held", (double)held / (double)learned >=
                              0.95 - 2.5 * sqrt(0.95 * 0.05 / (double)learned));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_besides),
        cmocka_unit_test(test_few),
        cmocka_unit_test(test_scatter),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print_result_rest", tests, NULL, NULL);
}
