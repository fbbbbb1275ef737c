/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_trial.h"
#include "core/three.h"
#include "plan/balance_parts.h"
#include "support/support.h"
#include <math.h>

const double trial_negative[3] = {0.90, 0.55, 0.35};
const ww_balance_setting trial_approved = {{{60, 45, 0}}, 11.0};

typedef struct trial {
    const colour_maker *maker;
    const trial_way *way;
    const ww_curve *curve;
    balance_case c;
    dice *d;
    double aim[3], read_aim[3];
} trial;

static void read_print(const trial *t, const ww_balance_setting *setting, double density[3]) {
    colour_maker_print(t->maker, trial_negative, setting, density);
    for (int k = 0; k < 3; k++)
        density[k] += dice_normal(t->d, t->way->sd);
}

static double worst_of(const double got[3], const double want[3]) {
    double worst = 0.0;
    for (int k = 0; k < 3; k++)
        worst = fmax(worst, fabs(got[k] - want[k]));
    return worst;
}

/* How far the true print is off its aim, at the worst. */
static double miss(const trial *t, const ww_balance_setting *setting) {
    double got[3];
    colour_maker_print(t->maker, trial_negative, setting, got);
    return worst_of(got, t->aim);
}

/* --- who knows the paper ---------------------------------------------------------------------- */

/* The light that a print got, by its readings: Newton's method on the paper itself. */
static void light_of(const trial *t, const double density[3], double log_h[3]) {
    static const double step = 1e-5;
    for (int round = 0; round < 20; round++) {
        double at[3], more[3], by[3][3], turn[3][3];
        t->maker->density(t->maker->paper, log_h, at);
        for (int k = 0; k < 3; k++) {
            log_h[k] += step;
            t->maker->density(t->maker->paper, log_h, more);
            log_h[k] -= step;
            for (int c = 0; c < 3; c++)
                by[c][k] = (more[c] - at[c]) / step;
        }
        if (ww__three_invert(by, turn) == 0.0)
            return;
        for (int k = 0; k < 3; k++)
            for (int c = 0; c < 3; c++)
                log_h[k] += fmax(fmin(turn[k][c] * (density[c] - at[c]), 0.1), -0.1);
    }
}

/* The best of a time between two, for a pack. */
static double best_time(const trial *t, ww_balance_setting *set, const double off[3], double low,
                        double high) {
    double best = HUGE_VAL, best_time_s = low;
    const double step = fmax(t->way->timer_step_s, 0.005);
    for (double s = low; s <= high; s += step) {
        double log_h[3], got[3], far;
        set->time_s = s;
        t->maker->expose(t->maker->paper, trial_negative, set, log_h);
        for (int k = 0; k < 3; k++)
            log_h[k] += off[k];
        t->maker->density(t->maker->paper, log_h, got);
        far = worst_of(got, t->read_aim);
        if (far < best)
            best = far, best_time_s = s;
    }
    set->time_s = best_time_s;
    return best;
}

/* What it sets after a print's readings: the best of all settings near the approved one. */
static double oracle_miss(const trial *t, const ww_balance_setting *at, const double read[3]) {
    double lit[3], off[3], best = HUGE_VAL, missed = 0.0;
    ww_balance_setting set;
    t->maker->expose(t->maker->paper, trial_negative, at, lit);
    for (int k = 0; k < 3; k++)
        off[k] = lit[k];
    light_of(t, read, off);
    for (int k = 0; k < 3; k++)
        off[k] -= lit[k];
    for (double y = 55.0; y <= 65.0; y += t->way->filter_step)
        for (double m = 40.0; m <= 50.0; m += t->way->filter_step) {
            set.pack = (ww_pack){{y, m, 0}};
            double far = best_time(t, &set, off, 10.0, 12.0);
            if (far < best)
                best = far, missed = miss(t, &set);
        }
    return missed;
}

/* --- who knows all but how strong filters are ------------------------------------------------- */

/* What the lamp, the filters and the paper's layers make of acts from a setting [log H]. */
static void lit_by(const trial *t, const ww_balance_setting *from, const double act[4],
                   double log_h[3]) {
    ww_balance_setting to = *from;
    for (int f = 0; f < 3; f++)
        to.pack.cc[f] += 100.0 * act[f + 1];
    to.time_s *= pow(10.0, act[0]);
    t->maker->expose(t->maker->paper, trial_negative, &to, log_h);
}

/* How far what acts do is from what they would do by the slopes at a setting. */
static void bend_by(const trial *t, const ww_balance_setting *from, const double act[4],
                    double bend[3]) {
    static const double step = 1e-4;
    const double none[4] = {0.0};
    double at[3];
    lit_by(t, from, none, at);
    lit_by(t, from, act, bend);
    for (int k = 0; k < 3; k++)
        bend[k] -= at[k];
    for (int a = 0; a < 4; a++) {
        double one[4] = {0.0}, more[3];
        one[a] = step;
        lit_by(t, from, one, more);
        for (int k = 0; k < 3; k++)
            bend[k] -= act[a] * (more[k] - at[k]) / step;
    }
}

/* A row of the response as who knows the paper's curves, dyes and bends makes it of readings. */
static ww_response_row known_row(const trial *t, const ww_balance_setting *from,
                                 const ww_balance_setting *to, const double read[3]) {
    ww_response_row row = {.grey = 0};
    double bend[3];
    row.act[0] = log10(to->time_s / from->time_s);
    for (int f = 0; f < 3; f++)
        row.act[f + 1] = (to->pack.cc[f] - from->pack.cc[f]) / 100.0;
    lit_by(t, from, row.act, row.log_h);
    light_of(t, read, row.log_h);
    bend_by(t, from, row.act, bend);
    for (int k = 0; k < 3; k++) {
        row.log_h[k] -= bend[k];
        row.error[k] = fmax(t->way->sd, 0.003) / 2.7; /* [log H] by a usual slope */
    }
    return row;
}

/* What it misses by after the prints of the ring and this one. */
static double informed_miss(const trial *t, const ww_balance_setting *at, const double read[3]) {
    ww_response_row row[COLOUR_ROWS + 1];
    ww_response response;
    double aim[3], change[3], act[4] = {0.0};
    ww_balance_setting set = *at;
    size_t n = 0;
    for (size_t i = 0; i < t->c.ring.readings.n; i++) {
        const ww_row *from = &t->c.ring.row[i];
        ww_balance_setting to = {.time_s = from->exposure.value};
        double density[3];
        assert_int_equal(ww_pack_parse(from->pack, &to.pack, NULL), WW_OK);
        for (int k = 0; k < 3; k++)
            density[k] = from->cell[k].value;
        row[n++] = known_row(t, at, &to, density);
    }
    row[n++] = known_row(t, at, at, read);
    assert_int_equal(ww_response_fit(row, n, 1, &response, NULL), WW_OK);
    t->maker->expose(t->maker->paper, trial_negative, &trial_approved, aim);
    light_of(t, t->read_aim, aim);
    for (int round = 0; round < 10; round++) {
        double bend[3];
        bend_by(t, at, act, bend);
        for (int k = 0; k < 3; k++)
            change[k] = aim[k] - row[n - 1].log_h[k] - bend[k];
        if (ww_response_solve(&response, change, &at->pack, act, &set.pack, NULL) != WW_OK)
            return HUGE_VAL;
    }
    set.time_s = at->time_s * pow(10.0, act[0]);
    return miss(t, &set);
}

/* --- prints ----------------------------------------------------------------------------------- */

static void judge(const trial *t, const ww_balance *balance, trial_print *p) {
    const ww_balance_tone *tone = &balance->tone[0];
    const double off = miss(t, &balance->settable);
    double got[3];
    p->n++;
    p->near_002 += off <= 0.02;
    p->near_004 += off <= 0.04;
    p->worst = fmax(p->worst, off);
    p->said += tone->within;
    p->said_wrong += tone->within && off > WW_BALANCE_WITHIN;
    for (int f = 0; f < 2; f++) {
        const double by = fabs(balance->exact.pack.cc[f] - trial_approved.pack.cc[f]);
        p->packs++;
        p->packs_held += by <= balance->doubt_cc;
        p->off_cc += by * by;
    }
    p->stops_held +=
        fabs(log2(balance->exact.time_s / trial_approved.time_s)) <= balance->doubt_stops;
    p->off_stops += pow(log2(balance->exact.time_s / trial_approved.time_s), 2);
    p->doubt_cc += balance->doubt_cc;
    p->doubt_stops += balance->doubt_stops;
    colour_maker_print(t->maker, trial_negative, &balance->settable, got);
    for (int k = 0; k < 3 && tone->foretold; k++) {
        p->densities++;
        p->densities_held += fabs(got[k] - tone->predicted[k]) <= tone->predicted_half[k];
    }
}

/* A ring-around as one makes it: about a print that is nearly right, or about the one that is to be
 * mended, with 10 CC more of each filter and 1/3 stop less. */
static void add_ring(trial *t, const ww_balance_setting *start) {
    static const ww_balance_setting near = {{{67.5, 40, 0}}, 9.5};
    for (int k = 0; k < 5; k++) {
        ww_balance_setting to = t->way->ring == START_RING ? *start : near;
        double density[3];
        if (k < 3)
            to.pack.cc[k] += 10.0;
        else if (k == 3)
            to.time_s *= exp2(-1.0 / 3.0);
        read_print(t, &to, density);
        colour_readings_ring(&t->c.ring, "card", &to, density, t->way->n);
    }
    t->c.request.ring = &t->c.ring.readings;
}

static void start_case(trial *t) {
    balance_case_start(&t->c);
    ww_curve_release(&t->c.paper);
    t->c.request.paper = t->curve;
    t->c.request.filter_step = t->way->filter_step;
    t->c.request.timer_step_s = t->way->timer_step_s;
    colour_maker_print(t->maker, trial_negative, &trial_approved, t->aim);
    for (int k = 0; k < 3; k++) /* read many times, for it serves all year */
        t->read_aim[k] = t->aim[k] + dice_normal(t->d, t->way->sd / 3.0);
    colour_readings_add(&t->c.aim, "card", t->read_aim, 9);
}

/* Prints from one start. */
static void run(trial *t, ww_balance_setting at, trial_count *count) {
    const size_t last = t->way->ring == NO_RING ? 1 : 0; /* the print that the oracle is for */
    start_case(t);
    if (t->way->ring != NO_RING)
        add_ring(t, &at);
    for (size_t i = 0; i < TRIAL_PRINTS; i++) {
        ww_balance balance = WW_BALANCE_INIT;
        ww_error err = WW_ERROR_INIT;
        double density[3];
        read_print(t, &at, density);
        t->c.print.readings.n = 0;
        colour_readings_add(&t->c.print, "card", density, t->way->n);
        t->c.request.from = at;
        if (i == last) {
            const double off = t->way->filter_step >= 1.0 ? oracle_miss(t, &at, density)
                                                          : informed_miss(t, &at, density);
            count->oracle_002 += off <= 0.02;
            count->oracle_004 += off <= 0.04;
        }
        if (ww_balance_print(&t->c.request, &balance, &err) != WW_OK) {
            print_message("refused: %s\n", err.msg);
            count->late++;
            return;
        }
        colour_readings_ring(&t->c.ring, "card", &at, density, t->way->n);
        t->c.request.ring = &t->c.ring.readings;
        at = balance.settable;
        judge(t, &balance, &count->after[i]);
        ww_balance_release(&balance);
    }
}

/* Whether a print can be told from its readings at all: what is white or black is refused. */
static bool tells(const trial *t, const ww_balance_setting *start) {
    static const double scatter = 0.03; /* three errors of a reading */
    double density[3], log_h, slope;
    colour_maker_print(t->maker, trial_negative, start, density);
    for (size_t c = 0; c < 3; c++)
        for (int side = -1; side <= 1; side += 2)
            if (ww__balance_look(t->curve, c, density[c] + side * scatter, &log_h, &slope, NULL) !=
                WW_OK)
                return false;
    return true;
}

static ww_balance_setting draw_start(const trial *t, trial_count *count) {
    const double cc = t->way->far_cc, stops = t->way->far_stops;
    for (;; count->refused++) {
        ww_balance_setting start = trial_approved;
        for (int f = 0; f < 2; f++)
            start.pack.cc[f] += dice_even(t->d, -cc, cc);
        start.time_s *= exp2(dice_even(t->d, -stops, stops));
        if (tells(t, &start))
            return start;
    }
}

void trial_run(const colour_maker *maker, const ww_curve *curve, const trial_way *way,
               size_t starts, dice *d, trial_count *count) {
    trial t = {.maker = maker, .way = way, .curve = curve, .d = d};
    for (size_t s = 0; s < starts; s++)
        run(&t, draw_start(&t, count), count);
}

static double percent(size_t part, size_t whole) {
    return whole > 0 ? 100.0 * (double)part / (double)whole : 0.0;
}

void trial_show(const char *row, const trial_count *count) {
    print_message("%s: %zu starts refused, %zu prints later; oracle %zu, %zu\n", row,
                  count->refused, count->late, count->oracle_002, count->oracle_004);
    for (int i = 0; i < TRIAL_PRINTS; i++) {
        const trial_print *p = &count->after[i];
        print_message("  print %d: %zu and %zu of %zu within 0.02, 0.04, worst %.3f; within said "
                      "%zu, untrue %zu; held pack %.0f stops %.0f densities %.0f %%; doubt %.1f CC "
                      "%.3f stop, off %.1f CC, %.3f stop rms\n",
                      i + 1, p->near_002, p->near_004, p->n, p->worst, p->said, p->said_wrong,
                      percent(p->packs_held, p->packs), percent(p->stops_held, p->n),
                      percent(p->densities_held, p->densities), p->doubt_cc / (double)p->n,
                      p->doubt_stops / (double)p->n, sqrt(p->off_cc / (double)p->packs),
                      sqrt(p->off_stops / (double)p->n));
    }
}
