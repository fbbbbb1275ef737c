/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_trial.h"
#include "support/support.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/start.h>

enum { ALL = 0x7f, TRIALS = 400, NEXT_TRIALS = 200, PRINTS = 3 };

/* Explains the print and takes what it teaches into the plan; the offsets of before are released.
 */
static void learn(print_trial *trial, ww_print_offset **known, size_t *n, ww_print_miss *miss) {
    ww_print_offset *learned = NULL;
    size_t n_learned = 0;
    ww_error err = WW_ERROR_INIT;
    print_trial_explain(trial, miss);
    test_status("learn", ww_print_offsets_learn(miss, *known, *n, &learned, &n_learned, &err),
                WW_OK, &err);
    ww_print_offsets_release(*known, *n);
    *known = learned;
    *n = n_learned;
    trial->plan.request.offset = learned;
    trial->plan.request.n_offsets = n_learned;
}

/* The cloud's density that the next print would really have, with the time as the timer sets it. */
static double next_cloud(const print_trial *trial) {
    return print_trial_net(&trial->truth,
                           log10(print_trial_time(trial)) - trial->density[TRIAL_TONES - 1]);
}

/* Source: the truth. Without scatter the next print is on its aim, but for the timer's 0.1 s. */
static void test_corrected(void **state) {
    static const trial_truth rows[] = {
        {.log_h = 0.0903}, {.log_h = -0.17}, {.range = 0.14}, {.log_h = 0.08, .range = 0.12}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        print_trial trial;
        ww_print_miss miss = WW_PRINT_MISS_INIT;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        ww_print_offset *known = NULL;
        size_t n = 0;
        dice d = {1};
        double time_s;
        print_trial_start(&trial, &d, 0.0);
        trial.truth = rows[i];
        print_trial_print(&trial, &d, print_trial_time(&trial), ALL);
        learn(&trial, &known, &n, &miss);
        test_true("learned", miss.learned && n == 1 && known[0].prints == 1);
        test_close("log H", known[0].log_h, rows[i].log_h, 2e-3);
        test_close("range", known[0].range, rows[i].range, 2e-3);
        ww_print_miss_release(&miss);
        test_close("cloud", next_cloud(&trial), TRIAL_AIM, 0.002);
        /* A shadow that is placed, burned or dodged by the new plan, comes to its aim as well. */
        print_case_place(&trial.plan, "shadow", 1.60);
        print_case_make("next", &trial.plan, &plan);
        time_s = plan.paper[0].time_s.value;
        test_close(
            "shadow",
            print_trial_net(&trial.truth,
                            log10(time_s) - trial.density[0] +
                                log10(2.0) *
                                    print_case_find(&plan.paper[0], "shadow")->burn_stops.value),
            1.60, 0.005);
        ww_print_plan_release(&plan);
        ww_print_offsets_release(known, n);
    }
}

/* What would land the cloud on its aim: the truth, and what the cloud was misread by. */
static double needed(const print_trial *trial) {
    const size_t cloud = TRIAL_TONES - 1;
    return trial->truth.log_h + trial->plan.row[cloud].cell[WW_COLUMN_VISUAL].value -
           trial->density[cloud];
}

/*
 * With scatter, three prints one after the other, each made to the plan that the ones before
 * corrected: the interval holds the truth in 95 % (the bound is 2.5 sd of counting) and shrinks.
 * The highlight lands within 0.01 D in 93 % at best: the 0.01 D of scatter in the cloud's own
 * reading on the negative stays, times the paper's slope of 0.55 there.
 */
static void test_interval(void **state) {
    size_t held[PRINTS] = {0}, learned[PRINTS] = {0}, landed[PRINTS] = {0};
    double sd[PRINTS] = {0.0};
    dice d = {5};
    (void)state;
    if (test_quick())
        skip();
    for (size_t i = 0; i < TRIALS; i++) {
        print_trial trial;
        ww_print_offset *known = NULL;
        size_t n = 0;
        print_trial_start(&trial, &d, 0.01);
        trial.truth.log_h = dice_even(&d, -0.15, 0.15);
        for (size_t k = 0; k < PRINTS; k++) {
            ww_print_miss miss = WW_PRINT_MISS_INIT;
            print_trial_print(&trial, &d, print_trial_time(&trial), ALL);
            learn(&trial, &known, &n, &miss);
            ww_print_miss_release(&miss);
            if (n == 0)
                continue;
            learned[k]++;
            held[k] += fabs(known[0].log_h - needed(&trial)) <= 1.959964 * known[0].sd;
            landed[k] += fabs(next_cloud(&trial) - TRIAL_AIM) <= 0.01;
            sd[k] += known[0].sd;
        }
        ww_print_offsets_release(known, n);
    }
    for (size_t k = 0; k < PRINTS; k++) {
        const double share = (double)held[k] / (double)learned[k];
        print_message("%zu prints: learned by %zu of %d, interval held %.3f, sd %.4f log H, "
                      "highlight within 0.01 D %.3f\n",
                      k + 1, learned[k], TRIALS, share, sd[k] / (double)learned[k],
                      (double)landed[k] / (double)learned[k]);
        test_true("95 %", share >= 0.95 - 2.5 * sqrt(0.95 * 0.05 / TRIALS));
        test_true("learned", (double)learned[k] >= 0.85 * TRIALS);
        test_true("lands", (double)landed[k] >= 0.80 * (double)learned[k]);
    }
    test_true("shrinks", sd[2] / (double)learned[2] < sd[0] / (double)learned[0]);
}

/*
 * A blunder of over a stop, in which nothing is wrong but the exposure: what is kept is what all
 * tones say, and the plan is as sure of it, though in its own time the print was foretold where the
 * curve is flat. Source: the truth; intervals hold it in 95 % (2.5 sd of counting).
 */
static void test_large(void **state) {
    static const struct {
        double log_h, time;
    } rows[] = {{0.45, 1.0}, {-0.35, 1.0}, {0.55, 0.32}, {-0.40, 2.0}};
    dice d = {7};
    (void)state;
    if (test_quick())
        skip();
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        size_t held = 0, landed = 0, learned = 0;
        double sd = 0.0, apart = 0.0;
        for (size_t i = 0; i < NEXT_TRIALS; i++) {
            print_trial trial;
            ww_print_miss miss = WW_PRINT_MISS_INIT;
            ww_print_offset *known = NULL;
            size_t n = 0;
            print_trial_start(&trial, &d, 0.01);
            trial.truth.log_h = rows[r].log_h + dice_even(&d, -0.05, 0.05);
            print_trial_print(&trial, &d, rows[r].time * print_trial_time(&trial), ALL);
            learn(&trial, &known, &n, &miss);
            if (n == 1 && miss.n_supported == 1 && miss.best == WW_MISS_EXPOSURE) {
                learned++;
                held += fabs(known[0].log_h - needed(&trial)) <= 1.959964 * known[0].sd;
                landed += fabs(next_cloud(&trial) - TRIAL_AIM) <= 0.01;
                sd += known[0].sd;
                apart += fabs(known[0].log_h - miss.hypothesis[WW_MISS_EXPOSURE].log_h.value);
            }
            ww_print_miss_release(&miss);
            ww_print_offsets_release(known, n);
        }
        print_message(
            "%+.2f log H in %.2f of the time: told and learned %zu of %d, held %.3f, "
            "sd %.4f log H, kept off what is told by %.4f, highlight within 0.01 D %.3f\n",
            rows[r].log_h, rows[r].time, learned, NEXT_TRIALS, (double)held / (double)learned,
            sd / (double)learned, apart / (double)learned, (double)landed / (double)learned);
        test_true("told", (double)learned >= 0.90 * NEXT_TRIALS);
        test_true("95 %",
                  (double)held >= (0.95 - 2.5 * sqrt(0.95 * 0.05 / NEXT_TRIALS)) * (double)learned);
        test_true("sure", sd < 0.02 * (double)learned);
        test_true("one number", apart < 0.01 * (double)learned);
    }
}

/* Fog or flare that was told is remembered, and what leaves it open whether it is that again
 * teaches nothing; told of no print before, it does. Source: flare says nothing of a paper. */
static void test_lit_again(void **state) {
    (void)state;
    for (int before = 0; before < 2; before++) {
        ww_print_miss miss = WW_PRINT_MISS_INIT;
        print_trial trial;
        dice d = {1};
        print_trial_start(&trial, &d, 0.0);
        trial.truth.light = 0.3;
        print_trial_print(&trial, &d, print_trial_time(&trial), ALL);
        print_trial_explain(&trial, &miss);
        test_true("told", miss.n_supported == 1 && miss.best == WW_MISS_LIGHT_END);
        test_true("remembered", miss.lift.set && !miss.learned);
        if (before)
            trial.plan.request.lift = miss.lift;
        ww_print_miss_release(&miss);
        print_trial_print(&trial, &d, print_trial_time(&trial), 0x60); /* two light tones */
        print_trial_explain(&trial, &miss);
        test_true("open", miss.n_supported > 1 && miss.hypothesis[WW_MISS_LIGHT_END].supported);
        test_true("taught", miss.learned == !before && miss.lift.set == (before == 1));
        test_true("said", (strstr(miss.why, "told to have fog or flare") != NULL) == (before == 1));
        ww_print_miss_release(&miss);
    }
}

/* Seconds that print the cloud at a density, by halving. */
static double true_time(const print_trial *trial, double net) {
    double low = -3.0, high = 5.0;
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (low + high);
        if (print_trial_net(&trial->truth, middle - trial->density[TRIAL_TONES - 1]) < net)
            low = middle;
        else
            high = middle;
    }
    return pow(10.0, low);
}

/* What the next plan is made for, after one print whose densities were read. */
static const struct {
    const char *name;
    double aim;
    bool tested, another, wedge;
    bool toe; /* tested on the cloud at 0.07, and the next time on the wall */
} next_rows[] = {
    {"the same again", TRIAL_AIM, false, false, true, false},
    {"another aim", 0.35, false, false, true, false},
    {"the negative read anew", TRIAL_AIM, false, true, true, false},
    {"through a certified wedge", TRIAL_AIM, false, false, false, false},
    {"by a test print", TRIAL_AIM, true, false, true, false},
    {"by a test print, another aim", 0.35, true, false, true, false},
    {"by another test print", TRIAL_AIM, true, false, false, true},
    {"by another test print, another aim", 0.35, true, false, false, true},
};

static void plan_by_test(print_trial *trial, dice *d, double time_s, size_t tone) {
    const double net = print_trial_net(&trial->truth, log10(time_s) - trial->density[tone]);
    trial->plan.request.test[0] = (ww_print_test){
        time_s, trial_tone[tone], round(100.0 * (net + dice_normal(d, 0.01))) / 100};
    trial->plan.request.n_tests = 1;
}

static ww_print_paper first_of(const print_trial *trial) {
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    ww_print_paper paper;
    print_case_make("next", &trial->plan, &plan);
    paper = plan.paper[0];
    ww_print_plan_release(&plan);
    return paper; /* its numbers; the rest is gone */
}

/*
 * The time after one print, judged by a reading of 0.01 D as the budget has it: its interval holds
 * the true one in 95 % (the bound is 2.5 sd of counting), and is narrower than where the place of
 * that print is not known. Beside another test print the place is of no use: there the readings of
 * both are in the time. The lamp is off by up to half a stop, the wedge as nominal ones are.
 */
static void test_next_time(void **state) {
    (void)state;
    if (test_quick())
        skip();
    for (size_t r = 0; r < sizeof next_rows / sizeof next_rows[0]; r++) {
        size_t held = 0, n_taught = 0;
        double width = 0.0, loose = 0.0;
        dice d = {31 + r};
        for (size_t i = 0; i < NEXT_TRIALS; i++) {
            print_trial trial;
            ww_print_miss miss = WW_PRINT_MISS_INIT;
            ww_print_offset *known = NULL;
            ww_print_paper paper;
            size_t n = 0;
            print_trial_start(&trial, &d, 0.01);
            trial.truth.log_h = dice_even(&d, -0.15, 0.15);
            trial.truth.wedge = next_rows[r].wedge ? dice_normal(&d, 1.0) : 0.0;
            if (next_rows[r].wedge)
                trial.plan.paper[0].meta.wedge = WW_WEDGE_NOMINAL;
            if (next_rows[r].tested && next_rows[r].toe)
                plan_by_test(&trial, &d, 12.8, 6);
            else if (next_rows[r].tested)
                plan_by_test(&trial, &d, 20.0, 2);
            print_trial_print(&trial, &d, print_trial_time(&trial), ALL);
            learn(&trial, &known, &n, &miss);
            ww_print_miss_release(&miss);
            if (n == 0) {
                ww_print_offsets_release(known, n);
                continue;
            }
            trial.plan.place[0].aim = next_rows[r].aim;
            if (next_rows[r].toe)
                plan_by_test(&trial, &d, 20.0, 2);
            if (next_rows[r].another)
                trial.plan.row[TRIAL_TONES - 1].cell[WW_COLUMN_VISUAL].value =
                    trial.density[TRIAL_TONES - 1] + dice_normal(&d, 0.01);
            paper = first_of(&trial);
            held += fabs(log2(paper.time_s.value /
                              true_time(&trial, next_rows[r].aim + dice_normal(&d, 0.01)))) <=
                    paper.doubt_stops.value;
            width += paper.doubt_stops.value;
            known[0].tone[0] = '\0';
            loose += first_of(&trial).doubt_stops.value;
            n_taught++;
            ww_print_offsets_release(known, n);
        }
        print_message("%s: held %.3f of %zu, doubt %.3f stop, without the place %.3f\n",
                      next_rows[r].name, (double)held / (double)n_taught, n_taught,
                      width / (double)n_taught, loose / (double)n_taught);
        test_true(next_rows[r].name, (double)held / (double)n_taught >=
                                         0.95 - 2.5 * sqrt(0.95 * 0.05 / (double)n_taught));
        test_true(next_rows[r].name, next_rows[r].toe || width < 0.95 * loose);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_corrected), cmocka_unit_test(test_interval),
        cmocka_unit_test(test_lit_again), cmocka_unit_test(test_large),
        cmocka_unit_test(test_next_time),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print_result_learn", tests, NULL, NULL);
}
