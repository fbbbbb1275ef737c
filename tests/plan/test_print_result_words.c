/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_trial.h"
#include "support/support.h"
#include <string.h>
#include <wedgework/start.h>

/* Source: definition; what a printer needs to be told. */
static const struct {
    const char *name;
    trial_truth truth;
    unsigned read;
    double odd; /* of the wall */
    const char *words[4];
} rows[] = {
    {"nothing",
     {.log_h = 0.0},
     0x7f,
     0.0,
     {"came out as foretold", "7 readings", "would not show"}},
    {"more", {.log_h = 0.0903}, 0x7f, 0.0, {"0.30 stop more", "lamp", "That was learned"}},
    {"less", {.log_h = -0.1505}, 0x7f, 0.0, {"0.50 stop less", "lamp", "That was learned"}},
    {"harder", {.range = 0.12}, 0x7f, 0.0, {"'cloud' is right", "0.12 log H shorter", "harder"}},
    {"softer", {.range = -0.12}, 0x7f, 0.0, {"'cloud' is right", "0.12 log H longer", "softer"}},
    {"fog",
     {.light = 0.8},
     0x7f,
     0.0,
     {"light tones came up, 'cloud' by 0.28 and 'face' by 0.36,", "fog", "flare", "plan stands"}},
    {"open",
     {.log_h = 0.15},
     0x40,
     0.0,
     {"leave it open", "Either", "Whatever it was, 'cloud'", "Read '"}},
    {"none",
     {.log_h = 0.0},
     0x7f,
     0.25,
     {"nothing tried explains it", "Read 'wall' again", "darker"}},
    {"one",
     {.log_h = 0.0},
     0x7f,
     0.12,
     {"'wall' alone is off, 0.12 darker", "its reading", "Read"}},
};

/* What fog adds, in closed form of the trial's paper: cloud and face fall 0.2553 and 0.1583 log H
 * further on. */
static void test_said(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_print_miss miss = WW_PRINT_MISS_INIT;
        print_trial trial;
        dice d = {1};
        print_trial_start(&trial, &d, 0.0);
        trial.truth = rows[i].truth;
        print_trial_print(&trial, &d, print_trial_time(&trial), rows[i].read);
        if (rows[i].odd > 0.0)
            trial.print.row[3].cell[WW_COLUMN_VISUAL].value += rows[i].odd;
        if (rows[i].odd > 0.2) /* and another, the other way */
            trial.print.row[5].cell[WW_COLUMN_VISUAL].value -= 0.5 * rows[i].odd;
        print_trial_explain(&trial, &miss);
        for (size_t k = 0; k < 4 && rows[i].words[k]; k++)
            if (!strstr(miss.why, rows[i].words[k]))
                fail_msg("%s: '%s' does not say '%s'", rows[i].name, miss.why, rows[i].words[k]);
        test_true(rows[i].name, miss.why[strlen(miss.why) - 1] == '.');
        ww_print_miss_release(&miss);
    }
}

/* A reading darker than the paper's black, net 2.00, was misread: no light does that. Source:
 * definition of D-max; within 0.05 of it a tone is black. */
static void test_past_black(void **state) {
    (void)state;
    for (int past = 0; past < 2; past++) {
        ww_print_miss miss = WW_PRINT_MISS_INIT;
        print_trial trial;
        dice d = {1};
        print_trial_start(&trial, &d, 0.0);
        print_trial_print(&trial, &d, print_trial_time(&trial), 0x7f);
        trial.print.row[1].cell[WW_COLUMN_VISUAL].value = past ? 2.80 : 2.09;
        print_trial_explain(&trial, &miss);
        test_true("named", strstr(miss.why, "'shadow'") != NULL);
        test_true("past black", (strstr(miss.why, "2.75 above white is darker than the paper's "
                                                  "black, 2.00, and no light") != NULL) == past);
        ww_print_miss_release(&miss);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_said),
        cmocka_unit_test(test_past_black),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print_result_words", tests, NULL, NULL);
}
