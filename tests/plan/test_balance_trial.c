/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "support/colour_paper.h"
#include "support/support.h"
#include <math.h>
#include <stdlib.h>

/*
 * Prints of simulated papers and heads unlike the usual one, whose prior was revised with their
 * spectra in view, from
 * starts that are up to 15 CC in each filter and half a stop off, as a printer's are; from 40 CC
 * and a stop a print more is counted. Source of the limits: the project's issue: neutral within
 * 0.02 D in two prints with packs as exact as they come and readings that are averages, in one
 * with a ring-around; within 0.04 D as set in 2.5 CC with readings that scatter by 0.01.
 */
enum { STARTS = 20, PRINTS = 3 };

static const double negative[] = {0.90, 0.55, 0.35};

/* The print that was approved: of the paper at hand, at the setting that it shall come back to. */
static const ww_balance_setting approved = {{{60, 45, 0}}, 11.0};

typedef struct trial {
    colour_paper paper;
    ww_curve curve;
    balance_case c;
    double filter_step, timer_step_s, sd;         /* sd of a reading */
    size_t n;                                     /* readings behind an average */
    enum { NO_RING, NEAR_RING, START_RING } ring; /* about which print */
    double far_cc, far_stops;                     /* how far starts are off */
    size_t said, said_wrong, foretold, held;      /* "within"; densities foretold, and so */
} trial;

static void read_print(const trial *t, dice *d, const ww_balance_setting *setting,
                       double density[3]) {
    colour_paper_print(&t->paper, negative, setting, density);
    for (int k = 0; k < 3; k++)
        density[k] += dice_normal(d, t->sd);
}

/* How far the true print is off its aim, at the worst. */
static double miss(const trial *t, const ww_balance_setting *setting) {
    double aim[3], got[3], worst = 0.0;
    colour_paper_print(&t->paper, negative, &approved, aim);
    colour_paper_print(&t->paper, negative, setting, got);
    for (int k = 0; k < 3; k++)
        worst = fmax(worst, fabs(got[k] - aim[k]));
    return worst;
}

/* What was foretold of the next print, and said of it, against what comes. */
static void judge(trial *t, const ww_balance *balance) {
    const ww_balance_tone *tone = &balance->tone[0];
    double got[3];
    colour_paper_print(&t->paper, negative, &balance->settable, got);
    for (int k = 0; k < 3 && tone->foretold; k++) {
        t->foretold++;
        t->held += fabs(got[k] - tone->predicted[k]) <= tone->predicted_half[k];
    }
    t->said += tone->within;
    t->said_wrong += tone->within && miss(t, &balance->settable) > WW_BALANCE_WITHIN;
}

/* A ring-around as one makes it: about a print that is nearly right, or about the one that is to be
 * mended, with 10 CC more of each filter and 1/3 stop less. */
static void add_ring(trial *t, dice *d, const ww_balance_setting *start) {
    static const ww_balance_setting near = {{{67.5, 40, 0}}, 9.5};
    for (int k = 0; k < 5; k++) {
        ww_balance_setting to = t->ring == START_RING ? *start : near;
        double density[3];
        if (k < 3)
            to.pack.cc[k] += 10.0;
        else if (k == 3)
            to.time_s *= exp2(-1.0 / 3.0);
        read_print(t, d, &to, density);
        colour_readings_ring(&t->c.ring, "card", &to, density, t->n);
    }
    t->c.request.ring = &t->c.ring.readings;
}

/* Prints from one start; off[i] after i changes. */
static void run(trial *t, dice *d, ww_balance_setting at, double off[PRINTS]) {
    double density[3];
    balance_case_start(&t->c);
    ww_curve_release(&t->c.paper);
    t->c.request.paper = &t->curve;
    t->c.request.filter_step = t->filter_step;
    t->c.request.timer_step_s = t->timer_step_s;
    colour_paper_print(&t->paper, negative, &approved, density);
    for (int k = 0; k < 3; k++) /* read many times, for it serves all year */
        density[k] += dice_normal(d, t->sd / 3.0);
    colour_readings_add(&t->c.aim, "card", density, 9);
    if (t->ring != NO_RING)
        add_ring(t, d, &at);
    for (int i = 0; i < PRINTS; i++) {
        ww_balance balance = WW_BALANCE_INIT;
        off[i] = miss(t, &at);
        read_print(t, d, &at, density);
        t->c.print.readings.n = 0;
        colour_readings_add(&t->c.print, "card", density, t->n);
        t->c.request.from = at;
        balance_case_make("trial", &t->c, &balance);
        colour_readings_ring(&t->c.ring, "card", &at, density, t->n);
        t->c.request.ring = &t->c.ring.readings;
        at = balance.settable;
        judge(t, &balance);
        ww_balance_release(&balance);
    }
}

/* Whether a print can be told from its readings at all: what is white or black is refused. */
static bool tells(const trial *t, const ww_balance_setting *start) {
    static const double scatter = 0.03; /* three errors of a reading */
    double density[3], log_h, slope;
    colour_paper_print(&t->paper, negative, start, density);
    for (size_t c = 0; c < 3; c++)
        for (int side = -1; side <= 1; side += 2)
            if (ww__balance_look(&t->curve, c, density[c] + side * scatter, &log_h, &slope, NULL) !=
                WW_OK)
                return false;
    return true;
}

static ww_balance_setting draw_start(const trial *t, dice *d, size_t *drawn) {
    ww_balance_setting start;
    do {
        start.pack = (ww_pack){{60 + dice_even(d, -t->far_cc, t->far_cc),
                                45 + dice_even(d, -t->far_cc, t->far_cc), 0}};
        start.time_s = 11.0 * exp2(dice_even(d, -t->far_stops, t->far_stops));
        (*drawn)++;
    } while (!tells(t, &start));
    return start;
}

/* Starts on a paper of each kind; how many of them are within a limit after each print. */
static size_t count(const char *row, trial *t, int print, double limit) {
    dice d = {20261130};
    size_t within = 0, n = 0, drawn = 0;
    double worst[PRINTS] = {0.0};
    for (unsigned kind = 0; kind < COLOUR_PAPER_KINDS; kind++) {
        t->paper = colour_paper_of_kind(kind, &d);
        t->curve = (ww_curve)WW_CURVE_INIT;
        colour_paper_fit(&t->paper, &d, 0.004, &t->curve);
        for (int s = 0; s < STARTS; s++, n++) {
            double off[PRINTS];
            run(t, &d, draw_start(t, &d, &drawn), off);
            within += off[print] <= limit;
            for (int i = 0; i < PRINTS; i++)
                worst[i] = fmax(worst[i], off[i]);
        }
        ww_curve_release(&t->curve);
    }
    print_message("%s: worst %.3f, then %.3f, %.3f D; %zu of %zu within %.2f after %d; %zu starts "
                  "refused; within said of %zu, untrue of %zu; doubt held %zu of %zu\n",
                  row, worst[0], worst[1], worst[2], within, n, limit, print, drawn - n, t->said,
                  t->said_wrong, t->held, t->foretold);
    test_true("what is said is true", 20 * t->said_wrong <= t->said);
    test_true("doubt holds", (double)t->held >= 0.92 * (double)t->foretold);
    return within;
}

enum { ALL = STARTS * COLOUR_PAPER_KINDS };

/* As exact as it comes, and as a hand sets and reads. */
static trial exact(int ring, double far_cc, double far_stops) {
    return (trial){.filter_step = 0.1,
                   .timer_step_s = 0.001,
                   .sd = 0.0,
                   .n = 9,
                   .ring = ring,
                   .far_cc = far_cc,
                   .far_stops = far_stops};
}

static trial by_hand(void) {
    return (trial){.filter_step = 2.5,
                   .timer_step_s = 0.1,
                   .sd = 0.01,
                   .n = 1,
                   .far_cc = 15.0,
                   .far_stops = 0.5};
}

static void two_prints_without_a_ring(void **state) {
    trial t = exact(NO_RING, 15.0, 0.5);
    (void)state;
    test_true("95 of 100", count("no ring", &t, 2, 0.02) >= ALL * 95 / 100);
}

static void one_print_with_a_ring(void **state) {
    trial t = exact(NEAR_RING, 15.0, 0.5);
    (void)state;
    test_true("95 of 100", count("ring", &t, 1, 0.02) >= ALL * 95 / 100);
}

static void two_prints_as_a_hand_sets_and_reads(void **state) {
    trial t = by_hand();
    (void)state;
    test_true("95 of 100", count("hand", &t, 2, 0.04) >= ALL * 95 / 100);
}

/* Far off one print is not enough to learn a head by. */
static void from_far_off(void **state) {
    trial none = exact(NO_RING, 40.0, 1.0), near = exact(NEAR_RING, 40.0, 1.0),
          start = exact(START_RING, 40.0, 1.0);
    (void)state;
    test_true("no ring", count("far, no ring", &none, 2, 0.02) >= ALL / 2);
    test_true("ring", count("far, ring", &near, 1, 0.02) >= ALL / 2);
    test_true("ring there", count("far, ring about the start", &start, 2, 0.02) >= ALL / 2);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_prints_without_a_ring),
        cmocka_unit_test(one_print_with_a_ring),
        cmocka_unit_test(two_prints_as_a_hand_sets_and_reads),
        cmocka_unit_test(from_far_off),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
