/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_match.h"

#include "image/merge_invert.h"
#include <math.h>
#include <stdlib.h>

enum {
    COARSE = WW__MERGE_COARSE,
    AROUND = 3,
    TERMS = WW__MERGE_TERMS,
    PEAKS = 4,
    SPECK = 15,
    PARTS = 6
};
static const double alike = 0.7;        /* correlation */
static const double sure = 0.15;        /* px, one sd */
static const double beyond_doubt = 4.0; /* sd */
static const double warped = 6.0;       /* px^2 within a place: 3 degrees or 5 % make 4 */
static const double smoothing = 2.5;    /* by which smoothed noise makes an sd too small */
static const double crooked = 0.1;      /* share of variance that differing tones may leave open */
static const double as_one = 6.9;       /* pixels that smoothing makes one of noise */
static const double smoothed_to = 70.0 / 256.0; /* variance, along each axis */
static const double likelier = 20.0;            /* logarithm, of some 2400 places that were tried */
static const double least_clear = 0.5;          /* share of pixels that are not clipped */
static const double visible = 0.02; /* share of the light that detail varies by, one sd */

typedef struct peak {
    ptrdiff_t right, down;
    double height;
} peak;

/* The best within `reach` of a peak, which it replaces. */
static void climb(const ww__merge_pair *p, ptrdiff_t reach, peak *top) {
    const peak from = *top;
    top->height = -2.0;
    for (ptrdiff_t y = from.down - reach; y <= from.down + reach; y++)
        for (ptrdiff_t x = from.right - reach; x <= from.right + reach; x++) {
            double n;
            const double height = ww__merge_window_alike(p, x, y, &n);
            if (height > top->height)
                *top = (peak){x, y, height};
        }
}

/* The highest peaks of a coarse map: where detail repeats itself, the highest need not be it. */
static void survey(const ww__merge_pair *p, peak best[PEAKS]) {
    enum { FAR = WW__MERGE_REACH / COARSE, ACROSS = 2 * FAR + 1 };
    double map[ACROSS + 2][ACROSS + 2], n;
    for (size_t i = 0; i < PEAKS; i++)
        best[i].height = -2.0;
    for (ptrdiff_t y = -1; y <= ACROSS; y++)
        for (ptrdiff_t x = -1; x <= ACROSS; x++)
            map[y + 1][x + 1] = x >= 0 && y >= 0 && x < ACROSS && y < ACROSS
                                    ? ww__merge_window_alike(p, x - FAR, y - FAR, &n)
                                    : -2.0;
    for (size_t y = 1; y <= ACROSS; y++)
        for (size_t x = 1; x <= ACROSS; x++) {
            peak here = {(ptrdiff_t)x - 1 - FAR, (ptrdiff_t)y - 1 - FAR, map[y][x]};
            bool highest = true;
            for (size_t i = 0; i < 9; i++)
                highest = highest && here.height >= map[y + i / 3 - 1][x + i % 3 - 1];
            for (size_t i = 0; i < PEAKS && highest; i++)
                if (here.height > best[i].height) {
                    const peak lower = best[i];
                    best[i] = here;
                    here = lower;
                }
        }
}

/* Normal equations of the gradients. */
typedef struct sums {
    double m[TERMS][TERMS], v[TERMS], aa, n;
} sums;

static sums add_up(const ww__merge_pair *p, ptrdiff_t right, ptrdiff_t down) {
    sums s = {.n = 0.0};
    for (ptrdiff_t y = 0; y < (ptrdiff_t)p->a.height; y++)
        for (ptrdiff_t x = 0; x < (ptrdiff_t)p->a.width; x++) {
            const ptrdiff_t bx = x + p->left + right, by = y + p->top + down;
            const double a = (double)ww__merge_window_at(&p->a, x, y);
            const double term[TERMS] = {(double)(ww__merge_window_at(&p->b, bx + 1, by) -
                                                 ww__merge_window_at(&p->b, bx - 1, by)) /
                                            2.0,
                                        (double)(ww__merge_window_at(&p->b, bx, by + 1) -
                                                 ww__merge_window_at(&p->b, bx, by - 1)) /
                                            2.0,
                                        (double)ww__merge_window_at(&p->b, bx, by), 1.0};
            if (isnan(a + term[0] + term[1] + term[2]))
                continue;
            for (size_t i = 0; i < TERMS; i++) {
                for (size_t k = 0; k < TERMS; k++)
                    s.m[i][k] += term[i] * term[k];
                s.v[i] += term[i] * a;
            }
            s.aa += a * a;
            s.n += 1.0;
        }
    return s;
}

/*
 * Gradients of noise would be taken for detail, and so would those of a ramp: what falls by a
 * constant density is, displaced, but lighter. Hence what is asked is what is left of them once the
 * other terms are taken out, the reciprocal of the inverse's. Smoothed twice, noise of variance v
 * has 0.3 v in its gradients: (1 - 28/70) / 2, by the weights 1 8 28 56 70 ... of its correlation.
 */
static bool has_detail(double gradients, double noise) {
    return gradients > 4.0 * 0.3 * noise;
}

static void refine(const ww__merge_pair *p, const peak *top, ww__merge_place *place) {
    sums s = add_up(p, top->right, top->down);
    double term[TERMS] = {0.0}, left = s.aa;
    if (!(s.n > 10 * TERMS) || !ww__merge_invert(s.m))
        return;
    const double across = 1.0 / (s.n * s.m[0][0]), along = 1.0 / (s.n * s.m[1][1]);
    for (size_t i = 0; i < TERMS; i++)
        for (size_t k = 0; k < TERMS; k++)
            term[i] += s.m[i][k] * s.v[k];
    for (size_t i = 0; i < TERMS; i++)
        left -= term[i] * s.v[i];
    const double gain = term[2], rest = fmax(left, 0.0) / s.n / (gain * gain);
    const double sd = sqrt(rest) * smoothing;
    const double sd_right = sd * sqrt(s.m[0][0]), sd_down = sd * sqrt(s.m[1][1]);
    place->right = (double)top->right + term[0] / gain;
    place->down = (double)top->down + term[1] / gain;
    const bool seen = gain > 0.0 && sd_right < sure && sd_down < sure;
    place->known = seen && has_detail(across, rest) && has_detail(along, rest);
    place->apart = seen && has_detail(across, p->b.noise) && has_detail(along, p->b.noise) &&
                   rest < warped * (across + along) && labs(top->right) < WW__MERGE_REACH &&
                   labs(top->down) < WW__MERGE_REACH &&
                   hypot(place->right, place->down) > 1.0 + beyond_doubt * hypot(sd_right, sd_down);
}

/* Share of a smoothed window's variance that is no noise; 0 where there is too little to see. */
static double detail_of(const ww__merge_window *w) {
    double n = 0.0, sum = 0.0, squares = 0.0;
    for (size_t i = 0; i < w->width * w->height; i++) {
        const double here = (double)w->value[i];
        if (isnan(here))
            continue;
        n += 1.0;
        sum += here;
        squares += here * here;
    }
    if (4.0 * n < (double)(w->width * w->height))
        return 0.0;
    const double mean = sum / n, variance = squares / n - mean * mean;
    if (!(variance > fmax(visible * visible * mean * mean, w->code * w->code))) /* or rounding */
        return 0.0;
    return fmax(1.0 - w->noise / variance, 0.0);
}

/* What either shows is blanked where the other shows nothing. */
static void keep_common(ww__merge_pair *p) {
    for (size_t i = 0; i < p->b.width * p->b.height; i++) {
        const ptrdiff_t x = (ptrdiff_t)(i % p->b.width) - p->left;
        const ptrdiff_t y = (ptrdiff_t)(i / p->b.width) - p->top;
        if (isnan(ww__merge_window_at(&p->a, x, y)))
            p->b.value[i] = NAN;
    }
    for (size_t i = 0; i < p->a.width * p->a.height; i++)
        if (isnan(ww__merge_window_at(&p->b, (ptrdiff_t)(i % p->a.width) + p->left,
                                      (ptrdiff_t)(i / p->a.width) + p->top)))
            p->a.value[i] = NAN;
}

/* Whether a best correlation leaves twice the variance open that noise does, and more than tones
 * can. */
static bool leaves_open(const ww__merge_pair *p, double best) {
    const double noise = 1.0 - detail_of(&p->a) * detail_of(&p->b);
    return 1.0 - fmax(best, 0.0) * fmax(best, 0.0) > 2.0 * noise + crooked;
}

/* Whether two whose best correlation is `best` would correlate better if they lay on each other:
 * detail that is not a few specks says so, too. Spoils them. False where there is no memory. */
static bool find_unlike(ww__merge_pair *p, double best, bool *unlike) {
    keep_common(p);
    *unlike = leaves_open(p, best);
    if (!*unlike)
        return true;
    if (!ww__merge_window_flatten(&p->a) || !ww__merge_window_flatten(&p->b) ||
        !ww__merge_window_hold(&p->a) || !ww__merge_window_hold(&p->b))
        return false;
    *unlike = leaves_open(p, best);
    return true;
}

/* The part of a that is in it as well when it is displaced. */
static ww_region both_in(const ww__merge_window *w, ptrdiff_t right, ptrdiff_t down) {
    const size_t x = (size_t)labs(right), y = (size_t)labs(down);
    if (x >= w->width || y >= w->height)
        return (ww_region){0, 0, 0, 0};
    return (ww_region){right < 0 ? x : 0, down < 0 ? y : 0, w->width - x, w->height - y};
}

/* The best correlation of a part within `beside` px of no displacement, 0 or 1. */
static double alike_here(const ww__merge_pair *p, ww_region part, ptrdiff_t beside) {
    double here = 0.0, n;
    for (ptrdiff_t i = 0; i < 9; i++) {
        const ptrdiff_t x = i % 3 - 1, y = i / 3 - 1;
        if (x * x + y * y <= beside)
            here = fmax(here, ww__merge_window_alike_in(p, part, x, y, &n));
    }
    return here;
}

/*
 * Logarithm of how much likelier both are one displaced than one that lies within `beside` px, by
 * what is left of their variance; smoothed noise counts as so many fewer pixels. It must be so for
 * the same pixels of a, and for the same of b: a window that moves off a speck fits the better for
 * that, wherever it moves.
 */
static double evidence(const ww__merge_pair *p, const peak *top, ptrdiff_t beside) {
    const ww_region of_a = both_in(&p->a, top->right, top->down);
    const ww_region of_b = both_in(&p->a, -top->right, -top->down);
    const double here = fmax(alike_here(p, of_a, beside), alike_here(p, of_b, beside));
    double n = 0.0;
    const double there = fmax(ww__merge_window_alike_in(p, of_a, top->right, top->down, &n), 0.0);
    return n / (2.0 * as_one) * log((1.0 - here * here) / (1.0 - there * there));
}

/* Where a window departs most from its mean. */
static size_t strongest_in(const ww__merge_window *w) {
    const size_t n = w->width * w->height;
    double sum = 0.0, known = 0.0, most = 0.0;
    size_t strongest = 0;
    for (size_t i = 0; i < n; i++)
        if (!isnan(w->value[i])) {
            sum += (double)w->value[i];
            known += 1.0;
        }
    for (size_t i = 0; i < n; i++) {
        const double off = fabs((double)w->value[i] - sum / known);
        if (off > most) {
            most = off;
            strongest = i;
        }
    }
    return strongest;
}

static void blank(ww__merge_window *w, ptrdiff_t x, ptrdiff_t y) {
    for (size_t i = 0; i < w->width * w->height; i++)
        if (labs((ptrdiff_t)(i % w->width) - x) <= SPECK &&
            labs((ptrdiff_t)(i / w->width) - y) <= SPECK)
            w->value[i] = NAN;
}

/* Blanks what stands at a place in a, and in b where it would be displaced: whether the rest lies
 * displaced as well tells film from a speck that slid over it. */
static void blank_speck(ww__merge_pair *p, size_t at, const peak *top) {
    const ptrdiff_t x = (ptrdiff_t)(at % p->a.width), y = (ptrdiff_t)(at / p->a.width);
    blank(&p->a, x, y);
    blank(&p->b, x + p->left + top->right, y + p->top + top->down);
}

/* The highest of the pixels' correlation, near the peaks of one on means and near no displacement.
 * False where there is no memory. */
static bool find_top(const ww__merge_pair *p, peak *top) {
    const size_t in_x = (size_t)p->left % COARSE, in_y = (size_t)p->top % COARSE;
    ww__merge_pair coarse = {.left = p->left / COARSE, .top = p->top / COARSE};
    bool room = ww__merge_window_coarse(&p->a, 0, 0, &coarse.a);
    room = ww__merge_window_coarse(&p->b, in_x, in_y, &coarse.b) && room;
    peak best[PEAKS + 1] = {{0, 0, 0.0}};
    if (room)
        survey(&coarse, best + 1);
    *top = (peak){0, 0, -2.0};
    for (size_t i = 0; i <= PEAKS && best[i].height > -2.0 && room; i++) {
        peak fine = {best[i].right * COARSE, best[i].down * COARSE, 0.0};
        climb(p, AROUND, &fine);
        if (fine.height > top->height)
            *top = fine;
    }
    free(coarse.a.value);
    free(coarse.b.value);
    return room;
}

bool ww__merge_match_find(ww__merge_pair *p, ww__merge_place *place) {
    peak top;
    if (!ww__merge_window_smooth(&p->a) || !ww__merge_window_smooth(&p->b) || !find_top(p, &top))
        return false;
    if (top.height > alike)
        refine(p, &top, place);
    if (!place->known && !place->apart && !find_unlike(p, top.height, &place->unlike))
        return false;
    if ((place->known || place->apart) && hypot(place->right, place->down) > 1.0) {
        blank_speck(p, strongest_in(&p->a), &top);
        if (!(evidence(p, &top, 0) > 0.5 * likelier))
            place->known = place->apart = false;
    }
    return true;
}

/* ---------------------------------------------------------------------------- a part that moved */

/* Whether what a window shows may be no more than the edges of codes, that no noise blurs. */
static bool is_rounded(const ww__merge_window *w) {
    const double pixel = w->noise / (smoothed_to * smoothed_to);
    return detail_of(w) <= 0.0 && pixel < 0.1 * w->code * w->code;
}

/* Whether what a window holds lies displaced: it is spoilt. False where there is no memory. */
static bool prove(ww__merge_pair *p, ww__merge_place *place) {
    const size_t strongest = strongest_in(&p->a);
    peak top;
    ww__merge_place found = {.x = place->x, .y = place->y};
    if (!ww__merge_window_hold(&p->a) || !ww__merge_window_hold(&p->b) || !find_top(p, &top))
        return false;
    refine(p, &top, &found);
    if (!(fabs(found.right - (double)top.right) < 1.0 &&
          fabs(found.down - (double)top.down) < 1.0)) {
        found.right = (double)top.right;
        found.down = (double)top.down;
    }
    if (!(hypot(found.right, found.down) > 1.0 && evidence(p, &top, 1) > likelier &&
          !leaves_open(p, top.height) && !is_rounded(&p->a) && !is_rounded(&p->b)))
        return true;
    blank_speck(p, strongest, &top);
    found.apart = evidence(p, &top, 1) > 0.5 * likelier;
    if (found.apart)
        *place = found;
    return true;
}

/* The same in a part of it. */
static bool prove_part(const ww__merge_pair *p, ww_region r, ww__merge_place *place) {
    ww__merge_pair part = {.left = p->left + (ptrdiff_t)r.x, .top = p->top + (ptrdiff_t)r.y};
    ww__merge_place found = {.x = place->x + r.x + r.width / 2 - p->a.width / 2,
                             .y = place->y + r.y + r.height / 2 - p->a.height / 2};
    const bool room = ww__merge_window_cut(&p->a, r.x, r.y, r.width, r.height, &part.a) &&
                      ww__merge_window_cut(&p->b, 0, 0, p->b.width, p->b.height, &part.b) &&
                      prove(&part, &found);
    if (found.apart)
        *place = found;
    free(part.a.value);
    free(part.b.value);
    return room;
}

/* Whether most of a region is not clipped: where noise alone keeps pixels from that, the few that
 * are left match anywhere. */
static bool is_clear(const ww__merge_window *w, ww_region r, ptrdiff_t left, ptrdiff_t top) {
    size_t clear = 0;
    for (size_t i = 0; i < r.width * r.height; i++) {
        const float here = ww__merge_window_at(w, (ptrdiff_t)(r.x + i % r.width) + left,
                                               (ptrdiff_t)(r.y + i / r.width) + top);
        clear += w->held > 0.0f ? here < w->held : !isnan(here);
    }
    return (double)clear > least_clear * (double)(r.width * r.height);
}

/* The whole but for its edges, its corners, and its middle. */
static void cut_up(const ww__merge_window *w, ww_region part[PARTS]) {
    enum { FLAT = WW__MERGE_FLAT };
    const size_t width = w->width - 2 * FLAT, height = w->height - 2 * FLAT;
    const size_t wide = width * 5 / 8, high = height * 5 / 8;
    part[0] = (ww_region){FLAT, FLAT, width, height};
    for (size_t i = 0; i < 4; i++)
        part[1 + i] =
            (ww_region){FLAT + i % 2 * (width - wide), FLAT + i / 2 * (height - high), wide, high};
    part[5] = (ww_region){FLAT + (width - wide) / 2, FLAT + (height - high) / 2, wide, high};
}

bool ww__merge_match_slipped(ww__merge_pair *p, ww__merge_place *place) {
    enum { LEAST = 32 + 2 * WW__MERGE_FLAT };
    ww_region part[PARTS];
    bool clear[PARTS], room = true;
    if (p->a.width < LEAST || p->a.height < LEAST)
        return true;
    cut_up(&p->a, part);
    for (size_t i = 0; i < PARTS; i++)
        clear[i] = is_clear(&p->a, part[i], 0, 0) && is_clear(&p->b, part[i], p->left, p->top);
    if (!ww__merge_window_smooth(&p->a) || !ww__merge_window_smooth(&p->b) ||
        !ww__merge_window_flatten(&p->a) || !ww__merge_window_flatten(&p->b))
        return false;
    for (size_t i = 0; i < PARTS && room && !place->apart; i++)
        room = !clear[i] || prove_part(p, part[i], place);
    return room;
}
