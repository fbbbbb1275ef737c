/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_split.h"
#include <math.h>

/* What a share is drawn from: the measured pairs either side of it, and the next beyond them. */
enum { NODES = 4 };
typedef struct nodes {
    const ww__print_sheet *at[NODES];
    double rate[NODES]; /* 1 / T for the net density in question */
    size_t n;
    size_t one; /* the softer one of those either side; the other follows */
} nodes;

void ww__print_split_join(ww__print_sheet sheet[], size_t n) {
    double white = 0.0, black = 0.0, measured = 0.0;
    for (size_t i = 0; i < n; i++)
        white += sheet[i].white / (double)n;
    /* The darkest that any of them reached: black is black through every filter. */
    for (size_t i = 0; i < n; i++) {
        black = fmax(black, sheet[i].darkest + sheet[i].white);
        if (sheet[i].black_measured)
            measured = fmax(measured, sheet[i].dmax + sheet[i].white);
    }
    for (size_t i = 0; i < n; i++) {
        sheet[i].lightest += sheet[i].white - white;
        sheet[i].darkest += sheet[i].white - white;
        sheet[i].white = white;
        sheet[i].black_measured = measured > 0.0;
        sheet[i].dmax = (measured > 0.0 ? measured : black) - white;
        sheet[i].splits = sheet;
        sheet[i].n_splits = n;
    }
}

/* ---------------------------------------------------------------------- between measured pairs */

/* The pairs either side of a share; false outside of the table. */
static bool find_pairs(const ww__print_sheet *of, double soft, size_t *one) {
    const ww__print_sheet *pair = of->splits;
    if (!pair || of->n_splits < 2 || soft > pair[0].soft + WW__SPLIT_SAME ||
        soft < pair[of->n_splits - 1].soft - WW__SPLIT_SAME)
        return false;
    *one = 0;
    while (*one + 2 < of->n_splits && soft < pair[*one + 1].soft)
        ++*one;
    return true;
}

/* Adds a pair with its seconds in a second for a net density, 1 / T; false where it was not
 * measured there. */
static bool add_node(const ww__print_sheet *pair, double net, nodes *found) {
    double log_h = 0.0;
    if (!ww__print_papers_log_h(pair, net, &log_h))
        return false;
    found->at[found->n] = pair;
    found->rate[found->n++] = pow(10.0, -log_h);
    return true;
}

static bool find_nodes(const ww__print_sheet *of, double soft, double net, nodes *found) {
    const ww__print_sheet *pair = of->splits;
    size_t one = 0;
    found->n = 0;
    if (!find_pairs(of, soft, &one))
        return false;
    if (one > 0)
        (void)add_node(&pair[one - 1], net, found);
    found->one = found->n;
    if (!add_node(&pair[one], net, found) || !add_node(&pair[one + 1], net, found))
        return false;
    if (one + 2 < of->n_splits)
        (void)add_node(&pair[one + 2], net, found);
    return true;
}

static double chord(const nodes *of, size_t i, size_t k, double soft) {
    const double way = (soft - of->at[i]->soft) / (of->at[k]->soft - of->at[i]->soft);
    return of->rate[i] + way * (of->rate[k] - of->rate[i]);
}

static double chord_slope(const nodes *of, size_t i, size_t k) {
    return (of->rate[k] - of->rate[i]) / (of->at[k]->soft - of->at[i]->soft);
}

/* Slope at a pair: that of the parabola through it and its neighbours, or the three nearest where
 * it is the last; Newton's form. */
static double slope_at(const nodes *of, size_t i) {
    const size_t a = i == 0 ? 0 : i + 1 == of->n ? of->n - 3 : i - 1;
    if (of->n == 2)
        return chord_slope(of, 0, 1);
    return chord_slope(of, a, a + 1) +
           (2.0 * of->at[i]->soft - of->at[a]->soft - of->at[a + 1]->soft) *
               (chord_slope(of, a + 1, a + 2) - chord_slope(of, a, a + 1)) /
               (of->at[a + 2]->soft - of->at[a]->soft);
}

static double cubic(const nodes *of, double soft) {
    const size_t one = of->one, two = one + 1;
    const double h = of->at[two]->soft - of->at[one]->soft;
    const double t = (soft - of->at[one]->soft) / h, s = 1.0 - t;
    return s * s * ((1.0 + 2.0 * t) * of->rate[one] + t * h * slope_at(of, one)) +
           t * t * ((1.0 + 2.0 * s) * of->rate[two] - s * h * slope_at(of, two));
}

/* Never under half of what both neighbours give: a wild table swings, light does not. */
static double rate_of(const nodes *of, double soft) {
    return fmax(cubic(of, soft), 0.5 * fmin(of->rate[of->one], of->rate[of->one + 1]));
}

bool ww__print_split_log_h(const ww__print_sheet *of, double soft, double net, double *log_h) {
    nodes found;
    if (!find_nodes(of, soft, net, &found))
        return false;
    *log_h = -log10(rate_of(&found, soft));
    return true;
}

bool ww__print_split_net(const ww__print_sheet *of, double soft, double log_h, double *net) {
    double low, high, at_low = 0.0, at_high = 0.0;
    size_t one = 0;
    if (!find_pairs(of, soft, &one))
        return false;
    low = fmax(of->splits[one].lightest, of->splits[one + 1].lightest);
    high = fmin(of->splits[one].darkest, of->splits[one + 1].darkest);
    if (!ww__print_split_log_h(of, soft, low, &at_low) ||
        !ww__print_split_log_h(of, soft, high, &at_high) || log_h < at_low || log_h > at_high)
        return false;
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (low + high);
        if (ww__print_split_log_h(of, soft, middle, &at_low) && at_low < log_h)
            low = middle;
        else
            high = middle;
    }
    *net = 0.5 * (low + high);
    return true;
}

/* ----------------------------------------------------------------------------------- its doubt */

/* By how much a pair is missed where it is drawn from its neighbours alone; 0 at the ends. */
static double missed(const nodes *of, size_t i) {
    if (i == 0 || i + 1 == of->n)
        return 0.0;
    return fabs(chord(of, i - 1, i + 1, of->at[i]->soft) - of->rate[i]);
}

/* Half-width of a rate for what is not known of the way between. */
static double way_width(const nodes *of, double soft) {
    const size_t one = of->one, two = one + 1;
    const double t = (soft - of->at[one]->soft) / (of->at[two]->soft - of->at[one]->soft);
    if (of->n == 2) /* two exposures do at least what the better of them does alone */
        return chord(of, one, two, soft) - fmax((1.0 - t) * of->rate[one], t * of->rate[two]);
    return 0.5 * fmax(missed(of, one), missed(of, two)) * 4.0 * t * (1.0 - t);
}

double ww__print_split_width(const ww__print_sheet *sheet, double log_h) {
    nodes found;
    double net = 0.0, sum = 0.0, all;
    if (!ww__print_papers_net(sheet, log_h, &net, NULL) ||
        !find_nodes(sheet, sheet->soft, net, &found))
        return 0.0;
    all = rate_of(&found, sheet->soft);
    for (size_t i = 0; i < found.n; i++) {
        nodes alone = found; /* the cubic is a sum of what each pair brings to it */
        for (size_t k = 0; k < found.n; k++)
            alone.rate[k] = k == i ? found.rate[i] : 0.0;
        sum = hypot(sum, cubic(&alone, sheet->soft) / all *
                             ww__print_papers_width(found.at[i], -log10(found.rate[i])));
    }
    return hypot(sum, way_width(&found, sheet->soft) / (all * log(10.0)));
}

/* u = T / T(D) of both exposures: d u / d seconds of the soft and of the hard one. */
double ww__print_split_timer(const ww__print_sheet *sheet, double net, double step_s,
                             double time_s) {
    const double soft = sheet->soft, to = soft > 0.5 ? soft - 1e-3 : soft + 1e-3;
    double here = 0.0, there = 0.0, bend, by_soft, by_hard;
    if (!ww__print_split_log_h(sheet, soft, net, &here) ||
        !ww__print_split_log_h(sheet, to, net, &there))
        return log10(1.0 + 0.5 * step_s / time_s);
    bend = (pow(10.0, here - there) - 1.0) / (to - soft); /* of T(here) / T, by share */
    by_soft = soft > WW__SPLIT_SAME ? 1.0 + bend * (1.0 - soft) : 0.0;
    by_hard = soft < 1.0 - WW__SPLIT_SAME ? 1.0 - bend * soft : 0.0;
    return log10(1.0 + hypot(by_soft, by_hard) * 0.5 * step_s / time_s);
}
