/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_trial.h"
#include "support/support.h"
#include <math.h>
#include <string.h>
#include <wedgework/start.h>

enum { ALL = 0x7f, PRINTS = 200, WATER = 3, SAIL = 5, CLOUD = TRIAL_TONES - 1 };

static void exchange(print_trial *trial, size_t one, size_t other) {
    ww_cell *a = &trial->print.row[one + 1].cell[WW_COLUMN_VISUAL];
    ww_cell *b = &trial->print.row[other + 1].cell[WW_COLUMN_VISUAL];
    const ww_cell kept = *a;
    *a = *b;
    *b = kept;
}

/* Two rows exchanged are told as that, and nothing is learned of them; put right they are as
 * foretold. Source: definition, a denser tone of a negative prints lighter. */
static void test_swapped(void **state) {
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    print_trial trial;
    dice d = {1};
    (void)state;
    for (unsigned all = 0; all < 2; all++) {
        print_trial_start(&trial, &d, 0.0);
        print_trial_print(&trial, &d, print_trial_time(&trial), all ? 0x7f : 0x41);
        print_trial_explain(&trial, &miss);
        test_true("in order", miss.sight == WW_MISS_SEEN);
        ww_print_miss_release(&miss);
        exchange(&trial, 0, all ? 3 : 1);
        print_trial_explain(&trial, &miss);
        test_true("swapped", miss.sight == WW_MISS_SWAPPED && !miss.learned);
        test_text("one", miss.telling, trial_tone[0]);
        test_text("other", miss.other, trial_tone[all ? 3 : 6]);
        test_true("said", strstr(miss.why, "look swapped") != NULL);
        ww_print_miss_release(&miss);
    }
}

/* A print of a plan that burns the sail in to 0.30 above white, and of a burn longer by so many log
 * H; the lamp is off as well. */
static void print_burned(print_trial *trial, dice *d, double scatter, double longer) {
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    double time_s, burn;
    print_trial_start(trial, d, scatter);
    print_case_place(&trial->plan, trial_tone[SAIL], 0.30);
    trial->truth.log_h = scatter > 0.0 ? dice_even(d, -0.12, 0.12) : 0.06;
    print_case_make("burned", &trial->plan, &plan);
    time_s = plan.paper[0].time_s.value;
    burn = log10(2.0) * print_case_find(&plan.paper[0], trial_tone[SAIL])->burn_stops.value;
    ww_print_plan_release(&plan);
    print_trial_print(trial, d, time_s, ALL);
    trial->print.row[SAIL + 1].cell[WW_COLUMN_VISUAL].value =
        0.05 + (scatter > 0.0 ? dice_normal(d, scatter) : 0.0) +
        print_trial_net(&trial->truth, log10(time_s) - trial->density[SAIL] + burn + longer);
}

/* A burn far too long puts its tone beyond darker ones: that is told of it, beside the lamp, and
 * not that it was taken for another. Source: definition, exposures of one place add. */
static void test_burned(void **state) {
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    print_trial trial;
    dice d = {1};
    (void)state;
    print_burned(&trial, &d, 0.0, 0.25);
    print_trial_explain(&trial, &miss);
    test_true("out of order", trial.print.row[SAIL + 1].cell[WW_COLUMN_VISUAL].value >
                                  trial.print.row[WATER + 1].cell[WW_COLUMN_VISUAL].value + 0.10);
    test_true("seen", miss.sight == WW_MISS_SEEN && miss.learned);
    test_true("lamp", miss.n_supported == 1 && miss.best == WW_MISS_EXPOSURE);
    test_text("besides", miss.besides, trial_tone[SAIL]);
    test_true("said", strstr(miss.why, "'sail' does not go with that") && strstr(miss.why, "burn"));
    ww_print_miss_release(&miss);
}

/* The same with scatter, and right burns of which the reading was exchanged with another's. */
static void test_scatter(void **state) {
    static const size_t others[] = {0, 1, 2, CLOUD};
    dice d = {41};
    (void)state;
    if (test_quick())
        skip();
    for (int swap = 0; swap < 2; swap++) {
        size_t right = 0, wrong = 0;
        for (size_t i = 0; i < PRINTS; i++) {
            const size_t other = others[i % (sizeof others / sizeof others[0])];
            ww_print_miss miss = WW_PRINT_MISS_INIT;
            print_trial trial;
            bool sight;
            print_burned(&trial, &d, 0.01, swap ? 0.0 : dice_even(&d, 0.15, 0.30));
            if (swap)
                exchange(&trial, SAIL, other);
            print_trial_explain(&trial, &miss);
            sight = miss.sight == WW_MISS_SWAPPED;
            if (swap)
                right += sight &&
                         (strcmp(miss.telling, trial_tone[SAIL]) == 0 ||
                          strcmp(miss.other, trial_tone[SAIL]) == 0) &&
                         (strcmp(miss.telling, trial_tone[other]) == 0 ||
                          strcmp(miss.other, trial_tone[other]) == 0);
            else
                right += !sight && miss.n_supported == 1 && miss.learned;
            wrong += swap ? !sight && miss.learned : sight;
            ww_print_miss_release(&miss);
        }
        print_message("%s: right %zu of %d, wrong %zu\n", swap ? "exchanged" : "burned too long",
                      right, PRINTS, wrong);
        test_true(
            "right",
            right >=
                0.85 * PRINTS); /* a small lamp error and a large one of the hand leave some open */
        test_true("wrong", wrong <= 0.02 * PRINTS);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_swapped),
        cmocka_unit_test(test_burned),
        cmocka_unit_test(test_scatter),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print_result_swapped", tests, NULL, NULL);
}
