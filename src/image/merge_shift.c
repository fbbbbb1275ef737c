/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_shift.h"

#include "base/sizes.h"
#include "image/bands.h"
#include "image/merge_light.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

enum { SIDE = 128, SIDE_LEAST = 32, COARSE = 4, AROUND = 3, TERMS = 4, PEAKS = 4 };
enum { ROW = 3 };                       /* places side by side, and one below the other */
static const double alike = 0.7;        /* correlation */
static const double sure = 0.15;        /* px, one sd */
static const double beyond_doubt = 4.0; /* sd */
static const double warped = 6.0;       /* px^2 within a place: 3 degrees or 5 % make 4 */
static const double smoothing = 2.5;    /* by which smoothed noise makes an sd too small */
static const double crooked = 0.1;      /* share of variance that differing tones may leave open */
static const double visible = 0.02;     /* share of the light that detail varies by, one sd */

/* Codes of one channel as shares of white; NAN where they are clipped. */
typedef struct window {
    size_t width, height;
    float *value;
    double code;  /* one, as a value; 0 in floating point */
    double noise; /* variance, once it is smoothed */
} window;

/* Two windows: that of b reaches further on all sides, as far as the picture does. */
typedef struct pair {
    window a, b;
    ptrdiff_t left, top; /* of a in b */
} pair;

static float at(const window *w, ptrdiff_t x, ptrdiff_t y) {
    const bool inside = x >= 0 && y >= 0 && x < (ptrdiff_t)w->width && y < (ptrdiff_t)w->height;
    return inside ? w->value[(size_t)y * w->width + (size_t)x] : NAN;
}

static bool window_new(size_t width, size_t height, window *w) {
    *w = (window){width, height, malloc(width * height * sizeof *w->value), 0.0, 0.0};
    return w->value != NULL;
}

static bool fill_window(const ww_picture *picture, ww_region region, size_t channel, double clips,
                        const void *pixel, window *w) {
    const ww__merge_light light = {
        .kind = picture->sample, .white = picture->white, .clips = clips};
    if (!window_new(region.width, region.height, w))
        return false;
    w->code = picture->sample == WW_SAMPLE_FLOAT ? 0.0 : 1.0 / picture->white;
    for (size_t i = 0; i < region.width * region.height; i++) {
        const double code = ww__merge_light_code(&light, pixel, i * picture->channels + channel);
        w->value[i] = ww__merge_light_holds(&light, code) ? (float)(code / light.white) : NAN;
    }
    return true;
}

/* Means of COARSE x COARSE px, from (left, top) on. */
static bool coarsen(const window *from, size_t left, size_t top, window *to) {
    if (!window_new((from->width - left) / COARSE, (from->height - top) / COARSE, to))
        return false;
    for (size_t y = 0; y < to->height; y++)
        for (size_t x = 0; x < to->width; x++) {
            float sum = 0.0f;
            for (size_t i = 0; i < COARSE * COARSE; i++)
                sum += from->value[(top + y * COARSE + i / COARSE) * from->width + left +
                                   x * COARSE + i % COARSE];
            to->value[y * to->width + x] = sum / (COARSE * COARSE);
        }
    return true;
}

/*
 * Variance that noise will have in a window when it is smoothed: what pixels are off the middle of
 * two neighbours, 2 px apart, where a scanner's noise is independent, by what smoothing leaves of
 * it, which is 70/256 along each axis. What pixels are off more along one axis are streaks, which
 * smoothing lessens along that axis alone. Detail as fine as that counts as noise.
 */
static double smoothed_noise_of(const window *w) {
    static const double left = 70.0 / 256.0;
    double off[2] = {0.0, 0.0}, tried[2] = {0.0, 0.0};
    for (ptrdiff_t y = 0; y < (ptrdiff_t)w->height; y++)
        for (ptrdiff_t x = 0; x < (ptrdiff_t)w->width; x++)
            for (size_t way = 0; way < 2; way++) {
                const ptrdiff_t dx = way == 0 ? 2 : 0, dy = 2 - dx;
                const double bend = (double)(at(w, x - dx, y - dy) + at(w, x + dx, y + dy)) -
                                    2.0 * (double)at(w, x, y);
                if (isnan(bend))
                    continue;
                off[way] += bend * bend / 6.0;
                tried[way] += 1.0;
            }
    if (!(tried[0] > 0.0 && tried[1] > 0.0))
        return HUGE_VAL;
    const double across = off[0] / tried[0], along = off[1] / tried[1];
    return left * (left * fmin(across, along) + fabs(across - along));
}

/* The mean of 3 x 3 px with weights 1 2 1, twice. */
static bool smooth(window *w) {
    window to;
    if (!window_new(w->width, w->height, &to))
        return false;
    w->noise = smoothed_noise_of(w);
    for (int round = 0; round < 2; round++) {
        const window from = *w;
        for (ptrdiff_t y = 0; y < (ptrdiff_t)w->height; y++)
            for (ptrdiff_t x = 0; x < (ptrdiff_t)w->width; x++) {
                float sum = 0.0f;
                for (ptrdiff_t i = 0; i < 9; i++)
                    sum += (float)((2 - labs(i % 3 - 1)) * (2 - labs(i / 3 - 1))) *
                           at(&from, x + i % 3 - 1, y + i / 3 - 1);
                to.value[(size_t)y * w->width + (size_t)x] = sum / 16.0f;
            }
        *w = (window){w->width, w->height, to.value, w->code, w->noise};
        to = from;
    }
    free(to.value);
    return true;
}

/* -1 where less than a quarter of the window can be compared. */
static double correlation(const pair *p, ptrdiff_t right, ptrdiff_t down) {
    double n = 0.0, a = 0.0, b = 0.0, aa = 0.0, bb = 0.0, ab = 0.0;
    for (ptrdiff_t y = 0; y < (ptrdiff_t)p->a.height; y++)
        for (ptrdiff_t x = 0; x < (ptrdiff_t)p->a.width; x++) {
            const double one = (double)at(&p->a, x, y);
            const double other = (double)at(&p->b, x + p->left + right, y + p->top + down);
            if (isnan(one) || isnan(other))
                continue;
            n += 1.0;
            a += one;
            b += other;
            aa += one * one;
            bb += other * other;
            ab += one * other;
        }
    if (4.0 * n < (double)(p->a.width * p->a.height))
        return -1.0;
    const double va = aa - a * a / n, vb = bb - b * b / n;
    return va > 0.0 && vb > 0.0 ? (ab - a * b / n) / sqrt(va * vb) : -1.0;
}

typedef struct peak {
    ptrdiff_t right, down;
    double height;
} peak;

/* The best within `reach` of a peak, which it replaces. */
static void climb(const pair *p, ptrdiff_t reach, peak *top) {
    const peak from = *top;
    top->height = -2.0;
    for (ptrdiff_t y = from.down - reach; y <= from.down + reach; y++)
        for (ptrdiff_t x = from.right - reach; x <= from.right + reach; x++) {
            const double height = correlation(p, x, y);
            if (height > top->height)
                *top = (peak){x, y, height};
        }
}

/* The highest peaks of a coarse map: where detail repeats itself, the highest need not be it. */
static void survey(const pair *p, peak best[PEAKS]) {
    enum { FAR = WW__MERGE_REACH / COARSE, ACROSS = 2 * FAR + 1 };
    double map[ACROSS + 2][ACROSS + 2];
    for (size_t i = 0; i < PEAKS; i++)
        best[i].height = -2.0;
    for (ptrdiff_t y = -1; y <= ACROSS; y++)
        for (ptrdiff_t x = -1; x <= ACROSS; x++)
            map[y + 1][x + 1] = x >= 0 && y >= 0 && x < ACROSS && y < ACROSS
                                    ? correlation(p, x - FAR, y - FAR)
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

static sums add_up(const pair *p, ptrdiff_t right, ptrdiff_t down) {
    sums s = {.n = 0.0};
    for (ptrdiff_t y = 0; y < (ptrdiff_t)p->a.height; y++)
        for (ptrdiff_t x = 0; x < (ptrdiff_t)p->a.width; x++) {
            const ptrdiff_t bx = x + p->left + right, by = y + p->top + down;
            const double a = (double)at(&p->a, x, y);
            const double term[TERMS] = {
                (double)(at(&p->b, bx + 1, by) - at(&p->b, bx - 1, by)) / 2.0,
                (double)(at(&p->b, bx, by + 1) - at(&p->b, bx, by - 1)) / 2.0,
                (double)at(&p->b, bx, by), 1.0};
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

/* Inverts a positive matrix in place; false where it is none. */
static bool invert(double m[TERMS][TERMS]) {
    for (size_t k = 0; k < TERMS; k++) {
        const double pivot = m[k][k];
        if (!(pivot > 0.0))
            return false;
        m[k][k] = 1.0;
        for (size_t j = 0; j < TERMS; j++)
            m[k][j] /= pivot;
        for (size_t i = 0; i < TERMS; i++) {
            const double factor = m[i][k];
            if (i == k)
                continue;
            m[i][k] = 0.0;
            for (size_t j = 0; j < TERMS; j++)
                m[i][j] -= factor * m[k][j];
        }
    }
    return true;
}

/*
 * Gradients of noise would be taken for detail. Smoothed twice, noise of variance v has 0.3 v in
 * its gradients: (1 - 28/70) / 2, by the weights 1 8 28 56 70 ... of its correlation.
 */
static bool has_detail(double gradients, double noise) {
    return gradients > 4.0 * 0.3 * noise;
}

static void refine(const pair *p, const peak *top, ww__merge_place *place) {
    sums s = add_up(p, top->right, top->down);
    const double across = s.m[0][0] / s.n, along = s.m[1][1] / s.n;
    double term[TERMS] = {0.0}, left = s.aa;
    if (!(s.n > 10 * TERMS) || !invert(s.m))
        return;
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
static double detail_of(const window *w) {
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

/*
 * Whether two whose best correlation is `best` would correlate better if they lay on each other:
 * it leaves twice the variance open that noise does, and more than tones can. Spoils them.
 */
static bool should_match_better(pair *p, double best) {
    for (size_t i = 0; i < p->b.width * p->b.height; i++) {
        const ptrdiff_t x = (ptrdiff_t)(i % p->b.width) - p->left;
        const ptrdiff_t y = (ptrdiff_t)(i / p->b.width) - p->top;
        if (isnan(at(&p->a, x, y)))
            p->b.value[i] = NAN;
    }
    for (size_t i = 0; i < p->a.width * p->a.height; i++)
        if (isnan(at(&p->b, (ptrdiff_t)(i % p->a.width) + p->left,
                     (ptrdiff_t)(i / p->a.width) + p->top)))
            p->a.value[i] = NAN;
    const double noise = 1.0 - detail_of(&p->a) * detail_of(&p->b);
    return 1.0 - fmax(best, 0.0) * fmax(best, 0.0) > 2.0 * noise + crooked;
}

/* The two are read. Smooths them. False where there is no memory. */
static bool compare(pair *p, ww__merge_place *place) {
    const size_t in_x = (size_t)p->left % COARSE, in_y = (size_t)p->top % COARSE;
    pair coarse = {.left = p->left / COARSE, .top = p->top / COARSE};
    bool room = coarsen(&p->a, 0, 0, &coarse.a);
    room = coarsen(&p->b, in_x, in_y, &coarse.b) && room && smooth(&p->a) && smooth(&p->b);
    if (room) {
        peak best[PEAKS], top = {0, 0, -2.0};
        survey(&coarse, best);
        for (size_t i = 0; i < PEAKS && best[i].height > -2.0; i++) {
            peak fine = {best[i].right * COARSE, best[i].down * COARSE, 0.0};
            climb(p, AROUND, &fine);
            if (fine.height > top.height)
                top = fine;
        }
        if (top.height > alike)
            refine(p, &top, place);
        place->unlike = !place->known && !place->apart && should_match_better(p, top.height);
    }
    free(coarse.a.value);
    free(coarse.b.value);
    return room;
}

/* Around a place, as far as the picture goes. */
static ww_region around(const ww_picture *picture, const ww__merge_place *place, size_t half_x,
                        size_t half_y) {
    const size_t left = place->x > half_x ? place->x - half_x : 0;
    const size_t top = place->y > half_y ? place->y - half_y : 0;
    return (ww_region){left, top, ww__least(place->x + half_x, picture->width) - left,
                       ww__least(place->y + half_y, picture->height) - top};
}

/* Side by side: a file that has to be decoded down to them is, once. */
static ww_status read_row(const ww_picture *picture, const ww_region region[ROW], size_t channel,
                          double clips, window w[ROW], ww_error *err) {
    void *pixel[ROW];
    bool room = true;
    ww_status status = WW_OK;
    for (size_t i = 0; i < ROW; i++) {
        pixel[i] = malloc(region[i].width * region[i].height * ww__bands_pixel(picture));
        room = pixel[i] && room;
    }
    if (room)
        status = ww__bands_read_several(picture, region, ROW, pixel, err);
    for (size_t i = 0; i < ROW; i++) {
        room = room && (status != WW_OK ||
                        fill_window(picture, region[i], channel, clips, pixel[i], &w[i]));
        free(pixel[i]);
    }
    return room ? status : ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
}

/* Places that lie in one row. */
static ww_status find_row(const ww_picture *a, const ww_picture *b, size_t channel, double clips,
                          ww__merge_place place[ROW], ww_error *err) {
    const size_t half_x = ww__least(SIDE, a->width / 3) / 2,
                 half_y = ww__least(SIDE, a->height / 3) / 2;
    ww_region in_a[ROW], in_b[ROW];
    window of_a[ROW] = {{.value = NULL}}, of_b[ROW] = {{.value = NULL}};
    for (size_t i = 0; i < ROW; i++) {
        in_a[i] = around(a, &place[i], half_x, half_y);
        in_b[i] = around(b, &place[i], half_x + WW__MERGE_REACH, half_y + WW__MERGE_REACH);
    }
    ww_status status = read_row(a, in_a, channel, clips, of_a, err);
    if (status == WW_OK)
        status = read_row(b, in_b, channel, clips, of_b, err);
    for (size_t i = 0; i < ROW; i++) {
        pair p = {of_a[i], of_b[i], (ptrdiff_t)(in_a[i].x - in_b[i].x),
                  (ptrdiff_t)(in_a[i].y - in_b[i].y)};
        if (status == WW_OK && !compare(&p, &place[i]))
            status = ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
        free(p.a.value);
        free(p.b.value);
    }
    return status;
}

ww_status ww__merge_shift_find(const ww_picture *a, const ww_picture *b, size_t channel,
                               double clips, ww__merge_place place[WW__MERGE_PLACES],
                               ww_error *err) {
    assert(a->width == b->width && a->height == b->height && channel < a->channels);
    ww_status status = WW_OK;
    for (size_t i = 0; i < WW__MERGE_PLACES; i++)
        place[i] = (ww__merge_place){.x = (2 * (i % ROW) + 1) * a->width / (2 * ROW),
                                     .y = (2 * (i / ROW) + 1) * a->height / (2 * ROW)};
    if (a->width < ROW * SIDE_LEAST || a->height < ROW * SIDE_LEAST)
        return WW_OK;
    for (size_t i = 0; i < WW__MERGE_PLACES && status == WW_OK; i += ROW)
        status = find_row(a, b, channel, clips, &place[i], err);
    return status;
}
