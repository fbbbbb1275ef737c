/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include <math.h>

enum { COLOURS = WW_BALANCE_COLOURS };

static const double cc = 0.01;               /* [log H] of 1 CC */
static const double middle_density = 0.745;  /* -log10 0.18 */
static const double interimage_share = 0.10; /* of a cast: 0.04 log H a D of dye; from memory */
static const double false_chance = 0.005;    /* of a print without crossover */
static const double one_sided_95 = 1.64485;  /* standard deviations */

/* A layer's development holds others back, so that a cast moves the layers by this share of it. */
static double interimage(const ww_balance_tone *tone, size_t colour) {
    const double mean = (tone->change[0] + tone->change[1] + tone->change[2]) / COLOURS;
    return interimage_share * (tone->change[colour] - mean);
}

/* Of the difference between two channels' changes in one grey. */
static double error_of(const ww_balance_tone *tone, size_t colour, size_t other) {
    return hypot(hypot(tone->change_sd[colour], tone->change_sd[other]),
                 hypot(interimage(tone, colour), interimage(tone, other)));
}

/* How far the packs of two greys lie apart: a colour less another [CC]. */
static double apart(const ww_balance *plan, size_t a, size_t b, size_t colour, size_t other,
                    double *sd) {
    const ww_balance_tone *x = &plan->tone[a], *y = &plan->tone[b];
    *sd = hypot(error_of(x, colour, other), error_of(y, colour, other)) / cc;
    return (x->change[colour] - x->change[other] - y->change[colour] + y->change[other]) / cc;
}

static bool compared(const ww_balance *plan, size_t i) {
    return !plan->tone[i].burnt;
}

/* The grey nearest to middle grey, of those that are compared; how many these are. */
static size_t find_middle(const ww_balance *plan, size_t *middle) {
    size_t n = 0;
    for (size_t i = 0; i < plan->n_tones; i++) {
        if (!compared(plan, i))
            continue;
        if (n++ == 0 || fabs(plan->tone[i].aim[WW_GREEN] - middle_density) <
                            fabs(plan->tone[*middle].aim[WW_GREEN] - middle_density))
            *middle = i;
    }
    return n;
}

/* Among so many comparisons of greys that want one pack. */
static bool is_sure(double apart_cc, double sd, double comparisons) {
    return comparisons * ww_response_chance(apart_cc * apart_cc / (sd * sd), 1) < false_chance;
}

static double comparisons_of(size_t greys) {
    return (double)(COLOURS * greys * (greys - 1) / 2);
}

/* Red or blue less green, or blue less red: a pack without cyan is magenta against red and yellow
 * against red. */
static const ww_channel differences[COLOURS][2] = {
    {WW_RED, WW_GREEN}, {WW_BLUE, WW_GREEN}, {WW_BLUE, WW_RED}};

/* The two greys that part most surely by over 5 CC, and the standard deviation of that; false where
 * none do. */
static bool find_surest(const ww_balance *plan, ww_balance_parting *most, double *most_sd) {
    double errors = 0.0;
    for (size_t a = 0; a < plan->n_tones; a++)
        for (size_t b = 0; b < a; b++)
            for (size_t c = 0; c < COLOURS && compared(plan, a) && compared(plan, b); c++) {
                const ww_channel of = differences[c][0], less = differences[c][1];
                double sd;
                const double by = apart(plan, a, b, of, less, &sd);
                if (fabs(by) <= WW_BALANCE_CROSSOVER || fabs(by) / sd <= errors)
                    continue;
                errors = fabs(by) / sd;
                *most = (ww_balance_parting){a, b, of, less, by, WW__BALANCE_95 * sd};
                *most_sd = sd;
            }
    return errors > 0.0;
}

static void find_worst(const ww_balance *plan, ww_balance_crossover *found) {
    found->tone = found->middle;
    for (size_t i = 0; i < plan->n_tones; i++)
        for (size_t c = WW_RED; c <= WW_BLUE && compared(plan, i); c += 2) {
            double sd;
            const double by = apart(plan, i, found->middle, c, WW_GREEN, &sd);
            if (i == found->middle || fabs(by) <= fabs(found->worst_cc))
                continue;
            found->worst_cc = by;
            found->doubt_cc = WW__BALANCE_95 * sd;
            found->tone = i;
            found->channel = (ww_channel)c;
        }
}

/* The least difference of the lightest and the darkest grey that these readings would have told, in
 * 95 of 100 prints. */
static double would_tell(const ww_balance *plan, size_t greys, size_t middle) {
    static const double step = 0.1, most = 100.0; /* [CC] */
    size_t light = middle, dark = middle;
    double told = WW_BALANCE_CROSSOVER, worst = 0.0;
    for (size_t i = 0; i < plan->n_tones; i++) {
        const double aim = plan->tone[i].aim[WW_GREEN];
        if (!compared(plan, i))
            continue;
        light = aim < plan->tone[light].aim[WW_GREEN] ? i : light;
        dark = aim > plan->tone[dark].aim[WW_GREEN] ? i : dark;
    }
    for (size_t c = 0; c < COLOURS; c++) {
        double sd;
        (void)apart(plan, light, dark, differences[c][0], differences[c][1], &sd);
        worst = fmax(worst, sd);
    }
    while (told < most && !is_sure(told, worst, comparisons_of(greys)))
        told += step;
    return told + one_sided_95 * worst;
}

void ww__balance_crossover(ww__balance_work *work) {
    ww_balance *plan = work->plan;
    ww_balance_crossover found = {.channel = WW_RED};
    const size_t greys = find_middle(plan, &found.middle);
    double sd = HUGE_VAL;
    bool parted;
    if (plan->kind != WW_BALANCE_PRINT || greys < 2)
        return;
    found.known = true;
    find_worst(plan, &found);
    parted = find_surest(plan, &found.surest, &sd);
    found.found = parted && is_sure(found.surest.cc, sd, comparisons_of(greys));
    found.would_tell_cc = would_tell(plan, greys, found.middle);
    plan->crossover = found;
    if (!work->request->tone && parted) /* sure or not, the middle shall be right */
        for (size_t i = 0; i < plan->n_tones; i++)
            plan->tone[i].solved = i == found.middle;
    plan->holds = plan->holds && !found.found;
}
