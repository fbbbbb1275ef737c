/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_slip.h"

#include "base/sizes.h"
#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

enum {
    TERMS = WW__MERGE_TERMS,
    BIN = 4,    /* px */
    STRIP = 16, /* rows, and px across that are summed at a time */
    BINS = STRIP / BIN,
    MOST = 65536, /* cells */
    ACROSS = 4,   /* cells of a window */
    LEVELS = 3
};

static const double overlap = 4.0;      /* of means that share bins: variance is as much more */
static const double beyond_doubt = 2.0; /* sd */
static const double worth_a_look = 0.1; /* px */

/* --------------------------------------------------------------------------------------- adding */

ww_status ww__merge_slips_new(const ww_picture *picture, ww__merge_slips *slips, ww_error *err) {
    ww__merge_slips made = {.side = STRIP};
    do {
        made.across = (picture->width + made.side - 1) / made.side;
        made.down = (picture->height + made.side - 1) / made.side;
    } while (made.across * made.down > MOST && (made.side *= 2));
    const size_t strips = picture->height / STRIP + 1; /* of which a band touches few */
    made.cell = calloc(made.across * made.down, sizeof *made.cell);
    made.strip = calloc(made.across * strips, sizeof *made.strip);
    if (!made.cell || !made.strip) {
        ww__merge_slips_release(&made);
        return ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
    }
    *slips = made;
    return WW_OK;
}

void ww__merge_slips_release(ww__merge_slips *slips) {
    free(slips->cell);
    free(slips->strip);
    slips->cell = slips->strip = NULL;
}

/* Means of 4 x 4 px; NAN where a pixel is no number. */
typedef struct bins {
    float s[BINS][BINS + 1], d[BINS][BINS + 1];
} bins;

/* The code that the longer scan is clipped from on, and that of the shorter where it is. */
typedef struct ends {
    double longer, shorter;
} ends;

static ends ends_of(const ww__merge_rows *rows) {
    const ww__merge_rule *rule = &rows->rule[rows->channels / 2];
    const double light = ww__merge_light_of(rows->light, rows->clips_from);
    const double share = ww__merge_light_share(rows->light, (light - rule->offset) / rule->ratio);
    return (ends){rows->clips_from, rows->light->white * share};
}

/* The mean code of a bin, what is beyond `end` held at it. `kind` is known where it is called: this
 * is most of what looking for displacement takes. */
static inline double mean_of(ww_sample kind, const void *samples, size_t next, size_t row,
                             double end) {
    const uint32_t last = (uint32_t)fmin(end, UINT16_MAX);
    uint32_t sum = 0;
    double reals = 0.0;
    for (size_t y = 0; y < BIN; y++)
        for (size_t x = 0; x < BIN; x++) {
            const size_t at = y * row + x * next;
            if (kind == WW_SAMPLE_FLOAT) {
                const double here = (double)((const float *)samples)[at];
                reals += here > end ? end : here;
            } else {
                const uint32_t here = kind == WW_SAMPLE_16 ? ((const uint16_t *)samples)[at]
                                                           : ((const uint8_t *)samples)[at];
                sum += here > last ? last : here;
            }
        }
    return (kind == WW_SAMPLE_FLOAT ? reals : (double)sum) / (BIN * BIN);
}

/* Light of a code between two of the table. */
static double light_of(const ww__merge_light *light, double code) {
    if (light->kind == WW_SAMPLE_FLOAT)
        return ww__merge_light_of(light, code);
    const size_t below = (size_t)code;
    const double part = code - (double)below, from = (double)light->light[below];
    return part > 0.0 ? from + part * ((double)light->light[below + 1] - from) : from;
}

/* Light of a bin's mean code: detail so fine that a mean of lights would be another tells nothing
 * here. */
static double bin_of(const ww__merge_rows *rows, const void *samples, size_t at, size_t row,
                     double end) {
    const size_t next = rows->channels;
    const ww_sample kind = rows->light->kind;
    const double code = kind == WW_SAMPLE_16
                            ? mean_of(WW_SAMPLE_16, (const uint16_t *)samples + at, next, row, end)
                        : kind == WW_SAMPLE_8
                            ? mean_of(WW_SAMPLE_8, (const uint8_t *)samples + at, next, row, end)
                            : mean_of(WW_SAMPLE_FLOAT, (const float *)samples + at, next, row, end);
    return light_of(rows->light, code);
}

static void fill_bin(const ww__merge_rows *rows, const ends *end, const void *shorter,
                     const void *longer, size_t at, size_t row, float *s, float *d) {
    const ww__merge_rule *rule = &rows->rule[rows->channels / 2];
    const double l = bin_of(rows, longer, at, row, end->longer);
    const double here = bin_of(rows, shorter, at, row, end->shorter);
    *s = (float)here;
    *d = (float)((l - rule->offset) / rule->ratio - here);
}

/* Where four bins meet. */
static void add_corner(const bins *b, size_t y, size_t x, ww__merge_slip_sums *sums) {
    const float s00 = b->s[y][x], s01 = b->s[y][x + 1], s10 = b->s[y + 1][x],
                s11 = b->s[y + 1][x + 1];
    const float d = (b->d[y][x] + b->d[y][x + 1] + b->d[y + 1][x] + b->d[y + 1][x + 1]) / 4.0f;
    const double term[TERMS] = {(double)(s01 + s11 - s00 - s10) / (2.0 * BIN),
                                (double)(s10 + s11 - s00 - s01) / (2.0 * BIN),
                                (double)(s00 + s01 + s10 + s11) / 4.0, 1.0};
    if (!isfinite(d + s00 + s01 + s10 + s11))
        return;
    for (size_t i = 0; i < TERMS; i++) {
        for (size_t k = i; k < TERMS; k++)
            sums->m[i][k] += term[i] * term[k];
        sums->v[i] += term[i] * (double)d;
    }
    sums->dd += (double)d * (double)d;
}

void ww__merge_slips_add(ww__merge_slips *slips, const ww__merge_rows *rows, const void *shorter,
                         const void *longer, size_t row, size_t n_rows, size_t width) {
    const size_t samples = width * rows->channels, down = ww__least(n_rows / BIN, BINS);
    ww__merge_slip_sums *strip = slips->strip + (row - slips->first) / STRIP * slips->across;
    const ends end = ends_of(rows);
    bins b;
    for (size_t left = 0; left + 2 * BIN <= width; left += STRIP) {
        const size_t across = ww__least((width - left) / BIN, BINS + 1);
        for (size_t y = 0; y < down; y++)
            for (size_t x = 0; x < across; x++)
                fill_bin(rows, &end, shorter, longer,
                         y * BIN * samples + (left + x * BIN) * rows->channels + rows->channels / 2,
                         samples, &b.s[y][x], &b.d[y][x]);
        for (size_t y = 0; y + 1 < down; y++)
            for (size_t x = 0; x + 1 < across; x++)
                add_corner(&b, y, x, &strip[left / slips->side]);
    }
}

static void add_sums(ww__merge_slip_sums *to, const ww__merge_slip_sums *from) {
    for (size_t i = 0; i < TERMS; i++) {
        for (size_t k = i; k < TERMS; k++)
            to->m[i][k] += from->m[i][k];
        to->v[i] += from->v[i];
    }
    to->dd += from->dd;
}

void ww__merge_slips_next(ww__merge_slips *slips, size_t n_rows) {
    for (size_t y = 0; y < n_rows; y += STRIP)
        for (size_t x = 0; x < slips->across; x++) {
            const size_t row =
                ww__least((slips->first + y + STRIP / 2) / slips->side, slips->down - 1);
            ww__merge_slip_sums *strip = &slips->strip[y / STRIP * slips->across + x];
            add_sums(&slips->cell[row * slips->across + x], strip);
            *strip = (ww__merge_slip_sums){.dd = 0.0};
        }
    slips->first += n_rows;
}

/* -------------------------------------------------------------------------------------- solving */

typedef struct shift {
    double right, down, beyond; /* px */
} shift;

/* What it departs from another by beyond doubt, most of four directions. */
static void judge(double c[TERMS][TERMS], const shift *whole, shift *found) {
    static const double half = 0.70710678118654752;
    const double direction[4][2] = {{1.0, 0.0}, {half, half}, {0.0, 1.0}, {half, -half}};
    const double right = found->right - whole->right, down = found->down - whole->down;
    for (size_t i = 0; i < 4; i++) {
        const double *e = direction[i];
        const double sd =
            sqrt(e[0] * e[0] * c[0][0] + 2.0 * e[0] * e[1] * c[0][1] + e[1] * e[1] * c[1][1]);
        found->beyond = fmax(found->beyond, fabs(e[0] * right + e[1] * down) - beyond_doubt * sd);
    }
}

/* False where a window does not tell. */
static bool solve(const ww__merge_slip_sums *s, const ww__merge_rule *rule, const shift *whole,
                  shift *found) {
    enum { LEAST = 40 };
    const double n = s->m[3][3], light = s->m[2][3] / n;
    double m[TERMS][TERMS], term[TERMS] = {0.0}, c[TERMS][TERMS] = {{0.0}}, left = s->dd;
    if (!(n >= LEAST))
        return false;
    const double of_s = ww__merge_noise_of(&rule->noise, light - rule->dark);
    const double of_l =
        ww__merge_noise_of(&rule->longer, rule->ratio * light + rule->offset - rule->dark);
    const double in_gradient = n * of_s / (BIN * BIN * BIN * BIN);
    const double noise = (of_s + of_l / (rule->ratio * rule->ratio)) / (4.0 * BIN * BIN);
    for (size_t i = 0; i < TERMS; i++)
        for (size_t k = 0; k < TERMS; k++)
            m[i][k] = i < k ? s->m[i][k] : s->m[k][i];
    const double raw[2] = {m[0][0], m[1][1]};
    for (size_t i = 0; i < 2; i++) {
        if (!(raw[i] > 2.0 * in_gradient))
            return false;
        m[i][i] -= in_gradient;
    }
    if (!ww__merge_invert(m))
        return false;
    for (size_t i = 0; i < TERMS; i++)
        for (size_t k = 0; k < TERMS; k++)
            term[i] += m[i][k] * s->v[k];
    for (size_t i = 0; i < TERMS; i++)
        for (size_t k = 0; k < TERMS; k++)
            left += term[i] * term[k] * (i < k ? s->m[i][k] : s->m[k][i]);
    for (size_t i = 0; i < TERMS; i++)
        left -= 2.0 * term[i] * s->v[i];
    const double rest = overlap * fmax(left / n, noise);
    for (size_t i = 0; i < 2; i++)
        for (size_t k = 0; k < 2; k++)
            c[i][k] = rest * (m[i][k] + in_gradient * (m[i][0] * m[0][k] + m[i][1] * m[1][k]));
    *found = (shift){-term[0], -term[1], 0.0};
    judge(c, whole, found);
    return true;
}

/* ----------------------------------------------------------------------------------- the whole */

/* Every cell becomes one of four. */
static void halve(ww__merge_slips *slips) {
    const size_t across = slips->across, down = slips->down;
    slips->across = (across + 1) / 2;
    slips->down = (down + 1) / 2;
    slips->side *= 2;
    for (size_t y = 0; y < slips->down; y++)
        for (size_t x = 0; x < slips->across; x++) {
            ww__merge_slip_sums sum = {.dd = 0.0};
            for (size_t i = 0; i < 4; i++) {
                const size_t of_x = 2 * x + i % 2, of_y = 2 * y + i / 2;
                if (of_x < across && of_y < down)
                    add_sums(&sum, &slips->cell[of_y * across + of_x]);
            }
            slips->cell[y * slips->across + x] = sum;
        }
}

static bool do_overlap(const ww__merge_slip *a, const ww__merge_slip *b) {
    const size_t apart = (a->side + b->side) / 2;
    return ww__most(a->x, b->x) - ww__least(a->x, b->x) < apart &&
           ww__most(a->y, b->y) - ww__least(a->y, b->y) < apart;
}

/* Keeps the list in order, and of windows that overlap the one that departs most. */
static size_t keep(const ww__merge_slip *slip, ww__merge_slip found[], size_t n, size_t most) {
    size_t kept = 0, at;
    for (size_t i = 0; i < n; i++)
        if (found[i].beyond >= slip->beyond && do_overlap(&found[i], slip))
            return n;
    for (size_t i = 0; i < n; i++)
        if (!do_overlap(&found[i], slip))
            found[kept++] = found[i];
    if (kept == most && found[--kept].beyond >= slip->beyond)
        return most;
    for (at = kept; at > 0 && found[at - 1].beyond < slip->beyond; at--)
        found[at] = found[at - 1];
    found[at] = *slip;
    return kept + 1;
}

static ww__merge_slip_sums window_of(const ww__merge_slips *slips, size_t x, size_t y) {
    ww__merge_slip_sums all = {.dd = 0.0};
    for (size_t i = 0; i < ACROSS * ACROSS; i++)
        add_sums(&all, &slips->cell[(y + i / ACROSS) * slips->across + x + i % ACROSS]);
    return all;
}

size_t ww__merge_slips_find(ww__merge_slips *slips, const ww__merge_rows *rows,
                            ww__merge_slip found[], size_t most) {
    const ww__merge_rule *rule = &rows->rule[rows->channels / 2];
    shift whole = {0.0, 0.0, 0.0}, got;
    ww__merge_slip_sums all = {.dd = 0.0};
    size_t n = 0;
    if (most == 0)
        return 0;
    for (size_t i = 0; i < slips->across * slips->down; i++)
        add_sums(&all, &slips->cell[i]);
    if (!solve(&all, rule, &(shift){0.0, 0.0, 0.0}, &whole))
        whole = (shift){0.0, 0.0, 0.0};
    for (size_t level = 0; level < LEVELS; level++) {
        for (size_t y = 0; y + ACROSS <= slips->down; y++)
            for (size_t x = 0; x + ACROSS <= slips->across; x++) {
                const ww__merge_slip_sums window = window_of(slips, x, y);
                if (!solve(&window, rule, &whole, &got) || !(got.beyond > worth_a_look))
                    continue;
                const ww__merge_slip slip = {(x + ACROSS / 2) * slips->side,
                                             (y + ACROSS / 2) * slips->side,
                                             ACROSS * slips->side,
                                             got.right,
                                             got.down,
                                             got.beyond};
                n = keep(&slip, found, n, most);
            }
        halve(slips);
    }
    return n;
}
