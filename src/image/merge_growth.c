/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_growth.h"

#include "core/scanner.h"
#include <float.h>
#include <math.h>
#include <stdlib.h>

enum { LEVEL_LEAST = 20, LEVELS_LEAST = 4 };
static const double counted = 1e9;     /* photons at full scale: no scan holds more */
static const double beyond_dark = 4.0; /* sd of a pixel, as codes end there */
static const double calm = 1.5;        /* var(w) / var(u) of places without detail to speak of */
static const double surplus = 4.0;     /* times the noise of its level: something moved there */

/* -------------------------------------------------------------------------------- what is asked */

/* One code's step as light. */
static double step_at(const ww__merge_light *light, double value) {
    const double code = light->white * ww__merge_light_share(light, value);
    if (light->kind == WW_SAMPLE_FLOAT)
        return 0.0;
    return ww__merge_light_of(light, code + 0.5) - ww__merge_light_of(light, fmax(code - 0.5, 0.0));
}

/* Places whose pixels are spread over codes, and clear of the dark, go to the front. */
static size_t sift(ww__merge_blocks *blocks, const ww__merge_light *light, double dark) {
    size_t n = 0;
    for (size_t i = 0; i < blocks->n; i++) {
        const ww__merge_block b = blocks->block[i];
        const double step = step_at(light, b.x);
        if (!(b.var_x > step * step && b.x - dark > beyond_dark * sqrt(b.var_x)))
            continue;
        blocks->block[i] = blocks->block[n];
        blocks->block[n++] = b;
    }
    return n;
}

typedef struct level {
    double light, noise; /* middle of x, and var(u) */
    bool rounded;        /* which rounding makes most of */
} level;

/* ----------------------------------------------------------------------------------- the powers */

/* e of places, weighted as detail leaves it known. */
typedef struct sums {
    double w, we, wwee, wwe, ww;
} sums;

static void add_places(const ww__merge_block *block, size_t n, double ratio, double noise,
                       double limit, sums *s) {
    for (size_t i = 0; i < n; i++) {
        const double u = ww__merge_noise_difference(&block[i], ratio);
        const double uw = ratio * ratio * block[i].var_x - block[i].var_y;
        const double w = (u + 4.0 * ratio * block[i].cov) / noise;
        if (!(w < limit && u < surplus * noise))
            continue;
        const double weight = 1.0 / (1.0 + w), e = uw / noise;
        s->w += weight;
        s->we += weight * e;
        s->ww += weight * weight;
        s->wwe += weight * weight * e;
        s->wwee += weight * weight * e * e;
    }
}

/* e with its 95 %, by what the places scatter. */
static bool solve(const sums *s, double *e, double *doubt) {
    if (!(s->w > 0.0) || s->w * s->w < LEVEL_LEAST * s->ww)
        return false;
    *e = s->we / s->w;
    *doubt = WW__SCANNER_95 * sqrt(fmax(s->wwee - 2.0 * *e * s->wwe + *e * *e * s->ww, 0.0)) / s->w;
    return true;
}

static double power_of(double e, double ratio) {
    const double held = fmin(fmax(e, -0.99), 0.99);
    return 2.0 + log((1.0 - held) / (1.0 + held)) / log(ratio);
}

/* Slope of log noise by log light, of levels alike. */
static ww_quantity slope_of(const level at[], size_t n) {
    double x = 0.0, y = 0.0, xx = 0.0, xy = 0.0, yy = 0.0, used = 0.0;
    for (size_t i = 0; i < n; i++) {
        if (at[i].rounded || !(at[i].noise > 0.0))
            continue;
        const double lx = log(at[i].light), ly = log(at[i].noise);
        used += 1.0;
        x += lx;
        y += ly;
        xx += lx * lx;
        xy += lx * ly;
        yy += ly * ly;
    }
    if (used < LEVELS_LEAST)
        return (ww_quantity)WW_QUANTITY_INIT;
    const double vx = xx - x * x / used, vxy = xy - x * y / used, vy = yy - y * y / used;
    if (!(vx > 0.01 * used)) /* too few tones */
        return (ww_quantity)WW_QUANTITY_INIT;
    const double slope = vxy / vx;
    const double sd = sqrt(fmax(vy - slope * vxy, 0.0) / (used - 2.0) / vx);
    return (ww_quantity){slope, slope - WW__SCANNER_95 * sd, slope + WW__SCANNER_95 * sd,
                         WW_MEASURED};
}

/* -------------------------------------------------------------------------------------- of both */

typedef struct search {
    level at[WW__MERGE_LEVELS];
    size_t levels, noiseless;
    sums all, unrounded;
} search;

static void ask_level(const ww__merge_light *light, ww__merge_block *block, size_t n, double ratio,
                      double dark, double limit, search *s) {
    level *at = &s->at[s->levels++];
    at->light = block[n / 2].x - dark;
    const double step_x = step_at(light, block[n / 2].x), step_y = step_at(light, block[n / 2].y);
    at->noise = ww__merge_noise_middle(block, n, ratio);
    at->rounded = at->noise < 3.0 * (step_y * step_y + ratio * ratio * step_x * step_x) / 12.0;
    s->noiseless += at->noise < at->light * ratio * (1.0 + ratio) / counted;
    if (!(at->noise > 0.0))
        return;
    add_places(block, n, ratio, at->noise, HUGE_VAL, &s->all);
    if (!at->rounded)
        add_places(block, n, ratio, at->noise, limit, &s->unrounded);
}

ww__merge_growth ww__merge_growth_find(ww__merge_blocks *blocks, const ww__merge_light *light,
                                       double ratio, double dark, double apart) {
    const size_t n = sift(blocks, light, dark), some = n / LEVEL_LEAST;
    const size_t levels = some < WW__MERGE_LEVELS ? some : WW__MERGE_LEVELS;
    /* Detail displaced by d px leaves up to 0.8 d^2 of var(w) in u. */
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
    growth.same = 4 * s.noiseless > 3 * levels;
    if (solve(&s.all, &e, &doubt) && e + doubt < -0.5)
        growth.same = true;
    if (ratio > 1.0 && solve(&s.unrounded, &e, &doubt))
        growth.across = (ww_quantity){power_of(e, ratio), power_of(e + doubt, ratio),
                                      power_of(e - doubt, ratio), WW_MEASURED};
    growth.within = slope_of(s.at, s.levels);
    return growth;
}

/* ------------------------------------------------------------------------------- what that says */

ww__merge_kind ww__merge_growth_says(const ww__merge_growth *growth, bool encoded, bool decoded) {
    /* Between what each kind makes, and what grain and displacement do to it: see the header. */
    static const double amplified = 1.7, decoded_from = 1.25, encoded_until = -0.1;
    const ww_quantity *across = &growth->across, *within = &growth->within;
    if (growth->same)
        return WW__MERGE_SAME;
    if (across->how != WW_ABSENT && across->low > amplified)
        return WW__MERGE_AMPLIFIED;
    if (encoded && across->how != WW_ABSENT && within->how != WW_ABSENT && across->low < 0.5 &&
        within->high < encoded_until)
        return WW__MERGE_ENCODED;
    if (decoded && across->how != WW_ABSENT && across->low > decoded_from)
        return WW__MERGE_DECODED;
    return WW__MERGE_SOUND;
}
