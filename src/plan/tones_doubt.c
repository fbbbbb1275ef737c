/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/curve_vary.h"
#include "plan/tones_parts.h"
#include <math.h>
#include <wedgework/viewing.h>

/* Curves are moved by this share of a standard deviation: what follows is straight over so little,
 * and solvers are a thousand times as fine. */
static const double moved = 0.01;

enum { POINTS = WW_TONES_ROWS_MOST + 1, PLACES = 400 }; /* the rows, and grey; of the range */

/* Sums of squares of what directions do to each figure. */
typedef struct variances {
    double negative[POINTS], print[POINTS], gradient[POINTS], kept;
} variances;

typedef struct figures {
    ww_tone_point point[POINTS];
    double kept;
} figures;

static void find_figures(const ww__tones_setting *setting, const ww_tones_chain *chain,
                         const ww_tone_chain *varied, figures *found) {
    for (size_t i = 0; i < chain->n; i++)
        ww_tone_chain_follow(varied, chain->row[i].point.scene, &found->point[i]);
    ww_tone_chain_follow(varied, WW__TONES_GREY, &found->point[chain->n]);
    found->kept = ww__tones_kept(varied, setting->request->subject_range, setting->request->detail);
}

static void add_square(ww_optional high, ww_optional low, double *sum) {
    const double d = (high.value - low.value) / (2.0 * moved);
    if (high.set && low.set)
        *sum += d * d;
}

static void add_squares(const figures *high, const figures *low, size_t n, variances *v) {
    const double d = (high->kept - low->kept) / (2.0 * moved);
    for (size_t i = 0; i < n; i++) {
        const ww_tone_point *a = &high->point[i], *b = &low->point[i];
        add_square(a->negative, b->negative, &v->negative[i]);
        add_square(a->print, b->print, &v->print[i]);
        add_square(a->gradient, b->gradient, &v->gradient[i]);
    }
    v->kept += d * d;
}

/* The base of a curve that was not read moves with the curve, and so does what counts from it. */
static double base_moved(const ww_channel_curve *curve, const ww_channel_curve *varied) {
    const ww_quantity base = curve->figure[WW_FIGURE_BASE_FOG];
    const bool own = ww_quantity_present(base) && base.how != WW_FITTED;
    return own ? 0.0 : varied->shape.parameter[0] - curve->shape.parameter[0];
}

/* What the chain is made of once more: curves that may be moved, and how far film and print are
 * exposed off their marks [D]. */
typedef struct variant {
    const ww_channel_curve *film, *paper;
    double film_off, print_off;
} variant;

static bool vary(const ww__tones_setting *setting, const ww_tones_chain *chain, const variant *by,
                 figures *found) {
    ww__tones_setting off = *setting;
    ww_tone_chain varied = chain->chain;
    varied.film = by->film;
    varied.paper = by->paper;
    off.film_level += by->film_off;
    if (setting->metered == chain->chain.film)
        off.film_level += base_moved(chain->chain.film, by->film);
    off.white += by->print_off;
    off.white += base_moved(chain->chain.paper, by->paper);
    if (ww__tones_set(&off, chain->chain.film, &varied, NULL) != WW_OK)
        return false;
    find_figures(setting, chain, &varied, found);
    return true;
}

static void vary_both_ways(const ww__tones_setting *setting, const ww_tones_chain *chain,
                           const variant *up, const variant *down, variances *v) {
    figures high, low;
    if (vary(setting, chain, up, &high) && vary(setting, chain, down, &low))
        add_squares(&high, &low, chain->n + 1, v);
}

static void vary_curve(const ww__tones_setting *setting, const ww_tones_chain *chain,
                       const ww_channel_curve *curve, variances *v) {
    const ww_channel_curve *film = chain->chain.film, *paper = chain->chain.paper;
    ww__curve_directions directions;
    ww__curve_vary_find(curve, &directions);
    for (size_t k = 0; k < directions.n; k++) {
        const ww_channel_curve up = ww__curve_vary(curve, &directions, k, moved);
        const ww_channel_curve down = ww__curve_vary(curve, &directions, k, -moved);
        vary_both_ways(
            setting, chain,
            &(variant){curve == film ? &up : film, curve == paper ? &up : paper, 0.0, 0.0},
            &(variant){curve == film ? &down : film, curve == paper ? &down : paper, 0.0, 0.0}, v);
    }
}

/* A model is not the material: single steps that it leaves off bear on its course between them. */
static double misfit_of(const ww_channel_curve *curve) {
    return WW__TONES_MISFIT * curve->residual_rms;
}

/* Film and print are exposed by one density each, above a base and a white that were read by
 * themselves, on curves that may run beside it. */
static void vary_marks(const ww__tones_setting *setting, const ww_tones_chain *chain,
                       variances *v) {
    const ww_tones_request *r = setting->request;
    const ww_channel_curve *film = chain->chain.film, *paper = chain->chain.paper;
    double white;
    (void)ww__tones_white(r->paper[chain->paper_at], chain->paper_channel, &white);
    const double print = moved * hypot(white, misfit_of(paper));
    const double speed =
        moved * hypot(ww__tones_base_error(setting->metered), misfit_of(setting->metered));
    if (setting->by_speed_point)
        vary_both_ways(setting, chain, &(variant){film, paper, speed, 0.0},
                       &(variant){film, paper, -speed, 0.0}, v);
    vary_both_ways(setting, chain, &(variant){film, paper, 0.0, print},
                   &(variant){film, paper, 0.0, -print}, v);
}

static ww_quantity interval(double value, double variance, bool known) {
    const double half = known ? WW__TONES_95 * sqrt(variance) : 0.0;
    return (ww_quantity){value, value - half, value + half, WW_FITTED};
}

static double square(double x) {
    return x * x;
}

/* What looks darker is less light. */
static ww_quantity viewed_of(ww_quantity print, const ww_tone_chain *chain) {
    const double v = chain->viewing_flare;
    return (ww_quantity){ww_viewing_veil(print.value, v), ww_viewing_veil(print.low, v),
                         ww_viewing_veil(print.high, v), WW_FITTED};
}

static ww_quantity lightness_of(ww_quantity viewed) {
    return (ww_quantity){ww_viewing_lightness(viewed.value), ww_viewing_lightness(viewed.high),
                         ww_viewing_lightness(viewed.low), WW_FITTED};
}

/* The film's own course counts twice in a print: at the tone, and at the one that was placed. */
static void take_row(const ww_tones_chain *chain, const variances *v, size_t i, double detail,
                     ww_tones_row *row) {
    const ww_tone_point *p = &row->point;
    const double film = misfit_of(chain->chain.film), paper = misfit_of(chain->chain.paper);
    row->fate = ww__tones_fate(chain, p, detail);
    if (p->negative.set)
        row->negative = interval(p->negative.value, v->negative[i] + square(film), chain->doubted);
    if (!p->print.set)
        return;
    const double carried = film * p->slope[WW_TONE_ENLARGER].value * p->slope[WW_TONE_PAPER].value;
    row->print = interval(p->print.value, v->print[i] + square(paper) + 2.0 * square(carried),
                          chain->doubted);
    row->viewed = viewed_of(row->print, &chain->chain);
    row->lightness = lightness_of(row->viewed);
    row->gradient = interval(p->gradient.value, v->gradient[i], chain->doubted);
}

/* One a stop, from white; then the darkest, unless it is a stop of its own. */
static void take_scenes(double range, ww_tones_chain *chain) {
    chain->n = 0;
    for (size_t i = 0; (double)i * WW__TONES_STOP <= range + 1e-9; i++)
        chain->row[chain->n++].point.scene = -(double)i * WW__TONES_STOP;
    if (range + chain->row[chain->n - 1].point.scene > 0.02 * WW__TONES_STOP)
        chain->row[chain->n++].point.scene = -range;
    for (size_t i = 0; i < chain->n; i++)
        ww_tone_chain_follow(&chain->chain, chain->row[i].point.scene, &chain->row[i].point);
    ww_tone_chain_follow(&chain->chain, WW__TONES_GREY, &chain->grey.point);
}

/* Stops at an end of the range that are kept, but not for sure. */
static double unsure_end(const ww_tones_request *r, const ww_tones_chain *chain, bool dark) {
    const ww_quantity end = chain->row[dark ? chain->n - 1 : 0].gradient;
    const double half = 0.5 * (end.high - end.low);
    size_t unsure = 0;
    while (unsure < PLACES) {
        const double part = ((double)unsure + 0.5) / PLACES;
        ww_tone_point p;
        ww_tone_chain_follow(&chain->chain, -r->subject_range * (dark ? 1.0 - part : part), &p);
        if (!p.gradient.set || p.gradient.value < r->detail || p.gradient.value - half >= r->detail)
            break;
        unsure++;
    }
    return r->subject_range / WW__TONES_STOP * (double)unsure / PLACES;
}

/* Where all is kept up to the end of the range, small moves of curves change nothing, and larger
 * ones may lose it. */
static void take_kept(const ww_tones_request *r, const variances *v, ww_tones_chain *chain) {
    const double kept = ww__tones_kept(&chain->chain, r->subject_range, r->detail);
    ww_quantity *stops = &chain->kept_stops;
    *stops = interval(kept, v->kept, chain->doubted);
    if (chain->doubted)
        stops->low = kept - hypot(kept - stops->low,
                                  hypot(unsure_end(r, chain, false), unsure_end(r, chain, true)));
    stops->low = fmax(stops->low, 0.0);
    stops->high = fmin(stops->high, r->subject_range / WW__TONES_STOP);
}

void ww__tones_rows(const ww__tones_setting *setting, ww_tones_chain *chain) {
    const ww_tones_request *r = setting->request;
    variances v = {.kept = 0.0};
    take_scenes(r->subject_range, chain);
    chain->doubted = chain->chain.film->covariance && chain->chain.paper->covariance;
    if (chain->doubted) {
        vary_curve(setting, chain, chain->chain.film, &v);
        vary_curve(setting, chain, chain->chain.paper, &v);
        vary_marks(setting, chain, &v);
    }
    for (size_t i = 0; i < chain->n; i++)
        take_row(chain, &v, i, r->detail, &chain->row[i]);
    take_row(chain, &v, chain->n, r->detail, &chain->grey);
    take_kept(r, &v, chain);
    ww__tones_runs(chain, r->subject_range, r->detail);
}
