/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include <math.h>

enum { COLOURS = WW_BALANCE_COLOURS };

static const double cc = 0.01;               /* [log H] of 1 CC */
static const double middle_density = 0.745;  /* -log10 0.18 */
static const double interimage_share = 0.05; /* of a cast; from memory */
/* Errors that a difference of packs must exceed: 2 % of prints without crossover, among some 14
 * comparisons of eight greys, would by chance. */
static const double sure = 3.2;

/* A layer's development holds others back, so that a cast moves the layers by this share of it. */
static double interimage(const ww_balance_tone *tone, size_t colour) {
    const double mean = (tone->change[0] + tone->change[1] + tone->change[2]) / COLOURS;
    return interimage_share * (tone->change[colour] - mean);
}

/* Of the difference between two channels' changes in one grey. */
static double error_of(const ww_balance_tone *tone, size_t colour) {
    return hypot(hypot(tone->change_sd[colour], tone->change_sd[WW_GREEN]),
                 hypot(interimage(tone, colour), interimage(tone, WW_GREEN)));
}

/* How far the packs of two greys lie apart: a colour less green [CC]. */
static double apart(const ww_balance *plan, size_t a, size_t b, size_t colour, double *sd) {
    const ww_balance_tone *x = &plan->tone[a], *y = &plan->tone[b];
    *sd = hypot(error_of(x, colour), error_of(y, colour)) / cc;
    return (x->change[colour] - x->change[WW_GREEN] - y->change[colour] + y->change[WW_GREEN]) / cc;
}

static bool compared(const ww_balance *plan, size_t i) {
    return !plan->tone[i].burnt;
}

static bool find_middle(const ww_balance *plan, size_t *middle) {
    size_t n = 0;
    for (size_t i = 0; i < plan->n_tones; i++) {
        if (!compared(plan, i))
            continue;
        if (n++ == 0 || fabs(plan->tone[i].aim[WW_GREEN] - middle_density) <
                            fabs(plan->tone[*middle].aim[WW_GREEN] - middle_density))
            *middle = i;
    }
    return n > 1;
}

/* Whether two greys want packs over 5 CC apart, by more than so many errors of that. */
static bool any_apart(const ww_balance *plan, double errors) {
    for (size_t a = 0; a < plan->n_tones; a++)
        for (size_t b = 0; b < a; b++)
            for (size_t c = WW_RED; c <= WW_BLUE; c += 2) {
                double sd, by;
                if (!compared(plan, a) || !compared(plan, b))
                    continue;
                by = fabs(apart(plan, a, b, c, &sd));
                if (by > WW_BALANCE_CROSSOVER && by > errors * sd)
                    return true;
            }
    return false;
}

void ww__balance_crossover(ww__balance_work *work) {
    ww_balance *plan = work->plan;
    ww_balance_crossover found = {.channel = WW_RED};
    if (plan->kind != WW_BALANCE_PRINT || !find_middle(plan, &found.middle))
        return;
    found.known = true;
    found.tone = found.middle;
    for (size_t i = 0; i < plan->n_tones; i++)
        for (size_t c = WW_RED; c <= WW_BLUE && compared(plan, i); c += 2) {
            double sd;
            const double by = i == found.middle ? 0.0 : apart(plan, i, found.middle, c, &sd);
            if (fabs(by) <= fabs(found.worst_cc))
                continue;
            found.worst_cc = by;
            found.doubt_cc = WW__BALANCE_95 * sd;
            found.tone = i;
            found.channel = (ww_channel)c;
        }
    found.found = any_apart(plan, sure);
    plan->crossover = found;
    if (!work->request->tone && any_apart(plan, 0.0)) /* sure or not, the middle shall be right */
        for (size_t i = 0; i < plan->n_tones; i++)
            plan->tone[i].solved = i == found.middle;
    plan->holds = plan->holds && !found.found;
}
