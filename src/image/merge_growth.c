/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_growth.h"

#include "core/scanner.h"
#include <float.h>
#include <math.h>
#include <stdlib.h>

enum { LEVEL_LEAST = 20, LEVELS_LEAST = 4 };
static const double counted = 1e9;     /* photons at full scale: no scan holds more */
static const double same_from = 1e8;   /* by which no scan differs from another, but from itself */
static const double goes_along = 0.8;  /* share of the noise that one scan's in the other is */
static const double beyond_dark = 4.0; /* sd of a pixel, as codes end there */
static const double spread_from = 1.0 / 3.0; /* code^2: half a code of noise, and rounding */
static const double calm = 1.5;   /* var(w) / var(u) of places without detail to speak of */
static const double detail = 0.5; /* share of var(u): see may_be_detail */
static const double most = WW__MERGE_DISPLACED_MOST;
static const double equals = 1.1;    /* ratio: of exposures alike noise tells no growth */
static const double shift_off = 0.2; /* px that a shift may be off by */
static const double known = 0.8;   /* share of var(u) from which on detail leaves nothing to tell */
static const double surplus = 4.0; /* times the noise of its level: something moved there */

/* -------------------------------------------------------------------------------- what is asked */

/* Places clear of the dark go to the front. */
static size_t sift(ww__merge_blocks *blocks, double dark) {
    size_t n = 0;
    for (size_t i = 0; i < blocks->n; i++) {
        const ww__merge_block b = blocks->block[i];
        if (!(b.x - dark > beyond_dark * sqrt(b.var_x)))
            continue;
        blocks->block[i] = blocks->block[n];
        blocks->block[n++] = b;
    }
    return n;
}

/*
 * Places whose pixels are spread over codes go to the front: all, where the calmer half is by its
 * noise, else those that detail spreads. To ask each for its own would take those whose noise
 * happens to be more.
 */
static size_t spread_in(ww__merge_block *block, size_t n, double ratio, double step) {
    double calmer = 0.0;
    size_t spread = 0;
    for (size_t i = 0; i < n / 2; i++)
        calmer += block[i].var_x / (double)(n / 2);
    if (calmer > spread_from * step * step)
        return n;
    for (size_t i = 0; i < n; i++) {
        const ww__merge_block b = block[i];
        if (!(b.cov > ratio * step * step))
            continue;
        block[i] = block[spread];
        block[spread++] = b;
    }
    return spread;
}

typedef struct level {
    double light, noise; /* middle of x, and var(u) */
    bool rounded;        /* which rounding makes most of */
} level;

/* ----------------------------------------------------------------------------------- the powers */

/* Of places: how many, sums of cov(u, w) and var(u) by weight, their squares, var(x), and what
 * detail in both has of var(w). */
typedef struct sums {
    double n, uw, uu, uwuw, uwuu, uuuu, xx, both;
} sums;

/*
 * w = e u + what both scans have. Whichever of that a place holds, it is independent of what u
 * tells there, so that its reciprocal is a weight that favours no e; var(w) would be none.
 */
static void add_places(const ww__merge_block *block, size_t n, double ratio, double noise,
                       double limit, sums *s) {
    for (size_t i = 0; i < n; i++) {
        const double u = ww__merge_noise_difference(&block[i], ratio);
        const double uw = ratio * ratio * block[i].var_x - block[i].var_y;
        const double both = u + 4.0 * ratio * block[i].cov - uw * uw / u;
        if (!(u > 0.0 && u < surplus * noise && both < limit * noise))
            continue;
        const double weight = 1.0 / fmax(both, 1e-3 * noise), a = weight * uw, b = weight * u;
        s->n += 1.0;
        s->uw += a;
        s->uu += b;
        s->uwuw += a * a;
        s->uwuu += a * b;
        s->uuuu += b * b;
        s->xx += weight * block[i].var_x;
        s->both += weight * 4.0 * ratio * block[i].cov;
    }
}

/* e with its 95 %, by what the places scatter and by what the ratio may be off by. */
static bool solve(const sums *s, double ratio, double off, double *e, double *doubt) {
    if (!(s->n >= LEVEL_LEAST))
        return false;
    *e = s->uw / s->uu;
    const double scatter = s->uwuw - 2.0 * *e * s->uwuu + *e * *e * s->uuuu;
    *doubt = hypot(WW__SCANNER_95 * sqrt(fmax(scatter, 0.0)), 2.0 * ratio * off * s->xx) / s->uu;
    return true;
}

/* Share of var(u) that detail has at most, if it lies displaced by what is told, negative: unknown,
 * then up to what is refused. */
static double share_of(const sums *s, double apart) {
    const double d = apart < 0.0 ? 1.0 : apart + shift_off;
    return most * d * d * fmax(s->both, 0.0) / s->uu;
}

static double power_of(double e, double ratio) {
    const double held = fmin(fmax(e, -0.99), 0.99);
    return 2.0 + log((1.0 - held) / (1.0 + held)) / log(ratio);
}

/* Slope of log noise by log light, of levels alike. */
static ww_quantity slope_of(const level at[], size_t n) {
    double light[WW__MERGE_LEVELS], noise[WW__MERGE_LEVELS];
    size_t used = 0;
    for (size_t i = 0; i < n; i++) {
        if (at[i].rounded || !(at[i].noise > 0.0))
            continue;
        light[used] = log(at[i].light);
        noise[used++] = log(at[i].noise);
    }
    return used < LEVELS_LEAST ? (ww_quantity)WW_QUANTITY_INIT
                               : ww__merge_noise_slope(light, noise, used);
}

/* Takes `from` off `v`, as far as it goes along. */
static void take_off(double v[], const double from[], size_t n) {
    double along = 0.0, all = 0.0;
    for (size_t i = 0; i < n; i++) {
        along += v[i] * from[i];
        all += from[i] * from[i];
    }
    for (size_t i = 0; i < n && all > 0.0; i++)
        v[i] -= along / all * from[i];
}

/*
 * Whether detail that lies displaced may make so much of var(u) that it looks like an amplifier's
 * work: it adds nothing to e, and half or more makes 1.6 of a power of 1. Detail, and grain
 * most of all, grows as L^2, and noise as 1 and L, amplified or not: var(u) = a + b L + c L^2,
 * whatever the dark is that L holds.
 */
static bool may_be_detail(const level at[], size_t n) {
    double one[WW__MERGE_LEVELS], linear[WW__MERGE_LEVELS], square[WW__MERGE_LEVELS];
    double rest[WW__MERGE_LEVELS], mean = 0.0, qq = 0.0, before = 0.0, along = 0.0, left = 0.0;
    size_t used = 0;
    for (size_t i = 0; i < n; i++) {
        if (at[i].rounded || !(at[i].noise > 0.0))
            continue;
        one[used] = 1.0 / at[i].noise;
        linear[used] = at[i].light / at[i].noise;
        square[used] = at[i].light * linear[used];
        mean += square[used];
        before += square[used] * square[used];
        rest[used++] = 1.0;
    }
    if (used < LEVELS_LEAST)
        return true;
    take_off(linear, one, used);
    take_off(square, one, used);
    take_off(square, linear, used);
    take_off(rest, one, used);
    take_off(rest, linear, used);
    for (size_t i = 0; i < used; i++) {
        qq += square[i] * square[i];
        along += square[i] * rest[i];
    }
    if (!(qq > 1e-8 * before))
        return true;
    take_off(rest, square, used);
    for (size_t i = 0; i < used; i++)
        left += rest[i] * rest[i];
    const double doubt = WW__SCANNER_95 * sqrt(left / (double)(used - 3) / qq);
    return (along / qq + doubt) * mean / (double)used > detail;
}

/* -------------------------------------------------------------------------------------- of both */

typedef struct search {
    level at[WW__MERGE_LEVELS];
    size_t levels, noiseless, in_both;
    sums all, unrounded, calm;
} search;

/*
 * Whether the noise of x is in y: in the calmer half of n places, in front, cov(x, y) is most of
 * ratio var(x), and what is left no more than codes leave when they are rounded once again.
 */
static bool is_in_both(const ww__merge_block *block, size_t n, double ratio, const level *at) {
    double cov = 0.0, var = 0.0;
    for (size_t i = 0; i < n / 2; i++) {
        cov += block[i].cov;
        var += block[i].var_x;
    }
    return cov > goes_along * ratio * var &&
           (at->rounded || at->noise < at->light * ratio * (1.0 + ratio) / same_from);
}

static void ask_level(const ww__merge_light *light, ww__merge_block *block, size_t n, double ratio,
                      double dark, double limit, search *s) {
    level *at = &s->at[s->levels];
    at->light = block[n / 2].x - dark;
    const double step_x = ww__merge_light_step(light, block[n / 2].x);
    const double step_y = ww__merge_light_step(light, block[n / 2].y);
    at->noise = ww__merge_noise_middle(block, n, ratio); /* the calmer are in front */
    const size_t spread = spread_in(block, n, ratio, step_x);
    if (spread < n)
        at->noise = spread > 1 ? ww__merge_noise_middle(block, spread, ratio) : 0.0;
    if (spread < LEVEL_LEAST)
        return;
    s->levels++;
    at->rounded = at->noise < 3.0 * (step_y * step_y + ratio * ratio * step_x * step_x) / 12.0;
    s->noiseless += at->noise < at->light * ratio * (1.0 + ratio) / counted;
    s->in_both += is_in_both(block, spread, ratio, at);
    if (!(at->noise > 0.0))
        return;
    add_places(block, spread, ratio, at->noise, HUGE_VAL, &s->all);
    if (at->rounded)
        return;
    add_places(block, spread, ratio, at->noise, HUGE_VAL, &s->unrounded);
    add_places(block, spread, ratio, at->noise, limit, &s->calm);
}

ww__merge_growth ww__merge_growth_find(ww__merge_blocks *blocks, const ww__merge_light *light,
                                       double ratio, double off, double dark, double apart) {
    const size_t n = sift(blocks, dark), some = n / LEVEL_LEAST;
    const size_t levels = some < WW__MERGE_LEVELS ? some : WW__MERGE_LEVELS;
    /* Places are as calm as detail may be a tenth of var(u), or half at most. */
    const double d = apart + 0.05, limit = apart < 0.0 ? calm : fmax(0.12 / (d * d), calm);
    search s = {.levels = 0};
    ww__merge_growth growth = {.same = false};
    double e, doubt;
    if (levels == 0)
        return growth;
    qsort(blocks->block, n, sizeof *blocks->block, ww__merge_noise_by_level);
    for (size_t i = 0; i < levels; i++) {
        const size_t from = i * n / levels, to = (i + 1) * n / levels;
        ask_level(light, blocks->block + from, to - from, ratio, dark, limit, &s);
    }
    growth.same = s.levels > 0 && 4 * s.noiseless > 3 * s.levels;
    if (4 * s.in_both > 3 * s.levels && solve(&s.all, ratio, off, &e, &doubt) && e + doubt < -0.5 &&
        e > -1.5)
        growth.same = true;
    growth.within = slope_of(s.at, s.levels);
    const bool far = apart >= 0.0 && most * d * d * calm >= detail;
    const bool calm_tell = apart >= 0.0 && s.calm.n >= LEVEL_LEAST;
    growth.displaced = far || (!calm_tell && may_be_detail(s.at, s.levels));
    const sums *told = s.calm.n >= LEVEL_LEAST ? &s.calm : &s.unrounded;
    if (ratio > equals && solve(told, ratio, off, &e, &doubt)) {
        growth.across = (ww_quantity){power_of(e, ratio), power_of(e + doubt, ratio),
                                      power_of(e - doubt, ratio), WW_MEASURED};
        const double share = share_of(told, apart), own = fmax(e + doubt, 0.0) / (1.0 - share);
        growth.least = share < known ? fmin(power_of(own, ratio), growth.across.low) : 0.0;
    }
    return growth;
}

/* ------------------------------------------------------------------------------- what that says */

ww__merge_kind ww__merge_growth_says(const ww__merge_growth *growth, bool encoded, bool decoded) {
    /* Beyond what others make: photons 1, light taken for a power of 2.2 up to 1.55. */
    static const double amplified = 1.6, decoded_from = 1.25, encoded_until = -0.1;
    static const double sharpened = 2.5; /* where codes multiplied make 2 */
    const ww_quantity *across = &growth->across, *within = &growth->within;
    if (growth->same)
        return WW__MERGE_SAME;
    if (across->how != WW_ABSENT && across->low > amplified)
        return growth->displaced || !(growth->least > amplified) ? WW__MERGE_DISPLACED
               : across->low > sharpened                         ? WW__MERGE_SHARPENED
                                                                 : WW__MERGE_AMPLIFIED;
    if (encoded && across->how != WW_ABSENT && within->how != WW_ABSENT && across->low < 0.5 &&
        within->high < encoded_until)
        return WW__MERGE_ENCODED;
    if (decoded && across->how != WW_ABSENT && across->low > decoded_from && !growth->displaced)
        return WW__MERGE_DECODED;
    return WW__MERGE_SOUND;
}
