/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "plan/compare_parts.h"
#include <math.h>
#include <string.h>

static double half_of(ww_quantity quantity) {
    return (quantity.high - quantity.low) / 2.0;
}

static ww_quantity less(ww_quantity b, ww_quantity a) {
    const ww_quantity none = WW_QUANTITY_INIT;
    const double half = hypot(half_of(a), half_of(b)), value = b.value - a.value;
    if (!ww_quantity_present(a) || !ww_quantity_present(b))
        return none;
    return (ww_quantity){value, value - half, value + half, WW_MEASURED};
}

static ww_quantity over(ww_quantity b, ww_quantity a) {
    const ww_quantity none = WW_QUANTITY_INIT;
    if (!ww_quantity_present(a) || !ww_quantity_present(b) || !(a.value > 0.0) || !(b.value > 0.0))
        return none;
    const double value = b.value / a.value;
    const double half = value * hypot(half_of(a) / a.value, half_of(b) / b.value);
    return (ww_quantity){value, value - half, value + half, WW_MEASURED};
}

/* --- regions and the worst -------------------------------------------------------------------- */

static void take_worst(const ww_compare_pair *pair, size_t i, ww_compare_worst *worst) {
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_optional here = pair->tone[i].density[c];
        if (here.set && (!worst->there || fabs(here.value) > fabs(worst->value)))
            *worst = (ww_compare_worst){true, here.value, pair->tone[i].half[c], (ww_channel)c, i};
    }
}

/* B prints it: its density is neither under B's white nor over B's black, as far as they are
 * known. */
static bool is_reached(const ww_compare_print *a, const ww_compare_print *b,
                       const ww_compare_pair *pair, const ww_compare_difference *tone) {
    const ww_channel main = pair->main;
    const ww_quantity white = ww__compare_white(b, main), black = ww__compare_black(b, main);
    if (!a->tone[tone->a].density[main].set)
        return false;
    const double zero_a = pair->above_white ? a->white_of[main].value : 0.0;
    const double zero_b = pair->above_white ? b->white_of[main].value : 0.0;
    const double here = a->tone[tone->a].density[main].value - zero_a;
    return (!b->white_known || !ww_quantity_present(white) ||
            here >= white.value - zero_b - tone->half[main]) &&
           (!b->black_known || !ww_quantity_present(black) ||
            here <= black.value - zero_b + tone->half[main]);
}

/* Sums, which part_regions divides. */
static void add_to_mean(const ww_compare_difference *tone, ww_channel channel, size_t *n,
                        double *mean, double *half) {
    (*n)++;
    *mean += tone->density[channel].value;
    *half = hypot(*half, tone->half[channel]);
}

static void part_regions(const ww_compare_print *a, const ww_compare_print *b,
                         ww_compare_pair *pair) {
    for (size_t i = 0; i < pair->n; i++) {
        ww_compare_difference *tone = &pair->tone[i];
        take_worst(pair, i, &pair->worst);
        tone->reached = is_reached(a, b, pair, tone);
        if (tone->reached)
            take_worst(pair, i, &pair->reached);
        if (!tone->density[pair->main].set)
            continue;
        const double white = a->white_of[pair->main].set ? a->white_of[pair->main].value : 0.0;
        tone->region = ww_viewing_region(a->tone[tone->a].density[pair->main].value - white);
        ww_compare_region *region = &pair->region[tone->region];
        take_worst(pair, i, &region->worst);
        add_to_mean(tone, pair->main, &region->n, &region->mean, &region->half);
        if (tone->reached)
            add_to_mean(tone, pair->main, &region->n_reached, &region->reached_mean,
                        &region->reached_half);
    }
    for (int r = 0; r < WW_REGION_COUNT; r++) {
        ww_compare_region *region = &pair->region[r];
        region->mean /= (double)(region->n > 0 ? region->n : 1);
        region->half /= (double)(region->n > 0 ? region->n : 1);
        region->reached_mean /= (double)(region->n_reached > 0 ? region->n_reached : 1);
        region->reached_half /= (double)(region->n_reached > 0 ? region->n_reached : 1);
    }
}

/* --- hue -------------------------------------------------------------------------------------- */

/* B's course through the scale against A's, at the tone where they part most. */
static void find_drift(const ww_compare_print *a, const ww_compare_print *b, size_t which,
                       ww_compare_pair *pair) {
    const ww_channel colour = which == WW_COMPARE_RED_GREEN ? WW_RED : WW_BLUE;
    ww_compare_drift *drift = &pair->drift[which];
    const bool whites = a->white_of[colour].set && a->white_of[WW_GREEN].set &&
                        b->white_of[colour].set && b->white_of[WW_GREEN].set;
    const double zero = pair->above_white || !whites
                            ? 0.0
                            : b->white_of[colour].value - b->white_of[WW_GREEN].value -
                                  a->white_of[colour].value + a->white_of[WW_GREEN].value;
    for (size_t i = 0; whites && i < pair->n; i++) {
        const ww_compare_difference *tone = &pair->tone[i];
        if (!a->tone[tone->a].neutral || !tone->density[colour].set || !tone->density[WW_GREEN].set)
            continue;
        const double value = tone->density[colour].value - tone->density[WW_GREEN].value - zero;
        if (!drift->there || fabs(value) > fabs(drift->value))
            *drift =
                (ww_compare_drift){true, value, hypot(tone->half[colour], tone->half[WW_GREEN]), i};
    }
}

/* The same of a* or b*. */
static void find_lab_drift(const ww_compare_print *a, const ww_compare_print *b, size_t which,
                           ww_compare_pair *pair) {
    ww_compare_drift *drift = &pair->drift[which];
    if (!a->has_lab || !b->has_lab)
        return;
    const double whites = hypot(a->tone[(size_t)a->white_at.value].lab_error,
                                b->tone[(size_t)b->white_at.value].lab_error);
    for (size_t i = 0; i < pair->n; i++) {
        const ww_compare_tone *one = &a->tone[pair->tone[i].a], *other = &b->tone[pair->tone[i].b];
        if (!pair->tone[i].de2000.set || !one->neutral)
            continue;
        const double value =
            ww__compare_off_hue(b, other, which) - ww__compare_off_hue(a, one, which);
        const double tones = hypot(one->lab_error, other->lab_error);
        if (!drift->there || fabs(value) > fabs(drift->value))
            *drift =
                (ww_compare_drift){true, value, WW__COMPARE_GREATEST * hypot(whites, tones), i};
    }
}

static void find_colours(const ww_compare_print *a, const ww_compare_print *b,
                         ww_compare_pair *pair) {
    double squares = 0.0;
    for (size_t i = 0; i < pair->n; i++) {
        const ww_compare_difference *tone = &pair->tone[i];
        if (!tone->de2000.set)
            continue;
        if (pair->n_de2000 == 0 || tone->de2000.value > pair->de2000_max) {
            pair->de2000_max = tone->de2000.value;
            pair->de2000_max_half = tone->de2000_half;
            pair->de2000_at = i;
        }
        pair->n_de2000++;
        pair->de2000_mean += tone->de2000.value;
        squares += tone->de2000_half * tone->de2000_half;
    }
    if (pair->n_de2000 > 0) {
        pair->de2000_mean /= (double)pair->n_de2000;
        pair->de2000_mean_half = sqrt(squares) / (double)pair->n_de2000;
    }
    pair->has_lab = a->has_lab && b->has_lab;
    if (!pair->has_lab)
        return;
    pair->white_a = b->white_lab.a - a->white_lab.a;
    pair->white_b = b->white_lab.b - a->white_lab.b;
    pair->white_ab_half = WW__COMPARE_95 * hypot(a->tone[(size_t)a->white_at.value].lab_error,
                                                 b->tone[(size_t)b->white_at.value].lab_error);
}

/* --- what no curve takes away ----------------------------------------------------------------- */

/* Whether an end of both is what they print, or the same tone of either. */
static bool ends_alike(const ww_compare_print *a, ww_optional at_a, bool known_a,
                       const ww_compare_print *b, ww_optional at_b, bool known_b) {
    if (known_a && known_b)
        return true;
    if (!at_a.set || !at_b.set)
        return false;
    const ww_compare_tone *one = &a->tone[(size_t)at_a.value],
                          *other = &b->tone[(size_t)at_b.value];
    if (one->sent.set && other->sent.set)
        return fabs(one->sent.value - other->sent.value) < 1e-6;
    return strcmp(one->label, other->label) == 0;
}

static void find_ends(const ww_compare_print *a, const ww_compare_print *b, ww_compare_pair *pair) {
    const ww_channel main = pair->main;
    const ww_quantity white_a = ww__compare_white(a, main), white_b = ww__compare_white(b, main);
    const ww_quantity black_a = ww__compare_black(a, main), black_b = ww__compare_black(b, main);
    const ww_quantity none = WW_QUANTITY_INIT;
    const bool whites = ends_alike(a, a->white_at, a->white_known, b, b->white_at, b->white_known);
    const bool blacks = ends_alike(a, a->black_at, a->black_known, b, b->black_at, b->black_known);
    pair->white = whites ? less(white_b, white_a) : none;
    pair->range = whites && blacks ? less(less(black_b, white_b), less(black_a, white_a)) : none;
    pair->black = pair->above_white ? pair->range : blacks ? less(black_b, black_a) : none;
    if (a->control != WW_COMPARE_LABEL &&
        (a->control == WW_COMPARE_LOG_H) == (b->control == WW_COMPARE_LOG_H))
        pair->gradient = over(b->gradient, a->gradient);
    for (size_t i = 0; i < WW_VIEWING_VEILS; i++)
        pair->seen_black[i] = pair->above_white ? b->seen[i].range - a->seen[i].range
                                                : b->seen[i].black - a->seen[i].black;
    if (ww_quantity_present(pair->black))
        pair->black_from = black_b.value - (pair->above_white ? white_b.value : 0.0);
}

static void find_never(const ww_compare_print *b, ww_compare_pair *pair) {
    pair->never_white = b->white_known && !pair->above_white && ww_quantity_present(pair->white) &&
                        pair->white.low > 0.0;
    pair->never_black =
        b->black_known && ww_quantity_present(pair->black) && pair->black.high < 0.0;
    for (size_t d = 0; d < WW_COMPARE_DRIFTS; d++)
        pair->never_drift = pair->never_drift || (pair->drift[d].there &&
                                                  fabs(pair->drift[d].value) > pair->drift[d].half);
    pair->never_hue = pair->has_lab && (fabs(pair->white_a) > pair->white_ab_half ||
                                        fabs(pair->white_b) > pair->white_ab_half);
}

/* --- what was agreed -------------------------------------------------------------------------- */

typedef struct size {
    bool there;
    double value, half;
} size;

static size of_quantity(ww_quantity quantity) {
    return (size){ww_quantity_present(quantity), quantity.value, half_of(quantity)};
}

static size of_worst(const ww_compare_worst *worst) {
    return (size){worst->there, worst->value, worst->half};
}

/* Of densities: the limit is in D. */
static size of_drift(const ww_compare_pair *pair) {
    size worst = {false, 0.0, 0.0};
    for (size_t d = 0; d < WW_COMPARE_A; d++)
        if (pair->drift[d].there &&
            (!worst.there || fabs(pair->drift[d].value) > fabs(worst.value)))
            worst = (size){true, pair->drift[d].value, pair->drift[d].half};
    return worst;
}

/* The largest step of a grey in a* or b*. */
static size of_neutral_ab(const ww_compare_print *a, const ww_compare_print *b,
                          const ww_compare_pair *pair) {
    size worst = {false, 0.0, 0.0};
    for (size_t i = 0; i < pair->n; i++) {
        const ww_compare_tone *one = &a->tone[pair->tone[i].a], *other = &b->tone[pair->tone[i].b];
        if (!pair->tone[i].de2000.set || !one->neutral)
            continue;
        const double da = other->lab.a - one->lab.a, db = other->lab.b - one->lab.b;
        const double here = fabs(da) > fabs(db) ? da : db;
        if (!worst.there || fabs(here) > fabs(worst.value))
            worst = (size){true, here, pair->tone[i].de2000_half};
    }
    return worst;
}

static size size_of(const ww_compare_print *a, const ww_compare_print *b,
                    const ww_compare_pair *pair, ww_compare_limit limit) {
    switch (limit) {
    case WW_LIMIT_WHITE:
        return of_quantity(pair->white);
    case WW_LIMIT_BLACK:
        return of_quantity(pair->black);
    case WW_LIMIT_LIGHT:
        return of_worst(&pair->region[WW_REGION_LIGHT].worst);
    case WW_LIMIT_MIDDLE:
        return of_worst(&pair->region[WW_REGION_MIDDLE].worst);
    case WW_LIMIT_DARK:
        return of_worst(&pair->region[WW_REGION_DARK].worst);
    case WW_LIMIT_DRIFT:
        return of_drift(pair);
    case WW_LIMIT_DE2000_MEAN:
        return (size){pair->n_de2000 > 0, pair->de2000_mean, pair->de2000_mean_half};
    case WW_LIMIT_DE2000_MAX:
        return (size){pair->n_de2000 > 0, pair->de2000_max, pair->de2000_max_half};
    default:
        return of_neutral_ab(a, b, pair);
    }
}

static void check(const ww_compare_print *a, const ww_compare_print *b,
                  const ww_compare_limits *limits, ww_compare_pair *pair) {
    for (int k = 0; k < WW_LIMIT_COUNT; k++) {
        ww_compare_check *made = &pair->check[k];
        if (!limits->most[k].set)
            continue;
        const size found = size_of(a, b, pair, (ww_compare_limit)k);
        const double off = fabs(found.value) - limits->most[k].value;
        *made = (ww_compare_check){.verdict = !found.there ? WW_COMPARE_UNKNOWN
                                              : off > 1e-9 ? WW_COMPARE_BEYOND
                                                           : WW_COMPARE_WITHIN,
                                   .limit = limits->most[k].value,
                                   .value = found.value,
                                   .half = found.half,
                                   .doubtful = found.there && fabs(off) < found.half};
        if (made->verdict == WW_COMPARE_BEYOND ||
            (made->verdict == WW_COMPARE_UNKNOWN && pair->within != WW_COMPARE_BEYOND) ||
            pair->within == WW_COMPARE_NOT_ASKED)
            pair->within = made->verdict;
    }
}

/* Where the mean of a region's tones, as far as they can be printed, is off by more than its doubt,
 * the next run is to make up for it. */
static void find_offsets(ww_compare_pair *pair) {
    for (int r = 0; r < WW_REGION_COUNT; r++) {
        const ww_compare_region *region = &pair->region[r];
        if (region->n_reached > 0 && fabs(region->reached_mean) > region->reached_half)
            pair->offset[r] = (ww_optional){true, -region->reached_mean};
    }
}

ww_status ww__compare_judge(const ww_comparison *comparison, const ww_compare_limits *limits,
                            ww_compare_pair *pair, ww_notes *notes, ww_error *err) {
    const ww_compare_print *a = &comparison->print[pair->a], *b = &comparison->print[pair->b];
    ww_status status = WW_OK;
    part_regions(a, b, pair);
    find_drift(a, b, WW_COMPARE_RED_GREEN, pair);
    find_drift(a, b, WW_COMPARE_BLUE_GREEN, pair);
    find_lab_drift(a, b, WW_COMPARE_A, pair);
    find_lab_drift(a, b, WW_COMPARE_B, pair);
    find_colours(a, b, pair);
    find_ends(a, b, pair);
    find_never(b, pair);
    find_offsets(pair);
    if (limits)
        check(a, b, limits, pair);
    for (int k = 0; k < WW_LIMIT_COUNT && status == WW_OK; k++)
        if (pair->check[k].verdict == WW_COMPARE_UNKNOWN)
            status = ww_notes_add(notes, err,
                                  "The limit %s cannot be judged: the readings of both hold "
                                  "nothing that tells it.%s",
                                  ww_compare_limit_name((ww_compare_limit)k),
                                  k == WW_LIMIT_DRIFT && pair->n_de2000 > 0
                                      ? " It is of red, green and blue densities; of L*, a*, b* "
                                        "the limit neutral_ab tells how greys change hue."
                                      : "");
    return status;
}
