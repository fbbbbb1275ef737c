/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_noise.h"
#include "rounding.h"

#include <assert.h>
#include <math.h>

enum { TERMS = 3, ROUNDS = 30 };
static const double ln_10 = 2.302585092994045684;
static const double pi = 3.14159265358979324;
static const double densest = 8.0; /* D, further than any scanner sees */

double ww__scanner_noise_sd(const ww_scanner_noise *noise, double beyond) {
    const double light = fmax(beyond, 0.0);
    return sqrt(noise->read * noise->read + noise->shot * noise->shot * light +
                noise->fixed * noise->fixed * light * light);
}

double ww_scanner_noise_at(const ww_scanner_channel *channel, double density) {
    assert(channel && channel->present);
    const double signal = channel->k * pow(10.0, -density);
    const double flare = ww_quantity_present(channel->flare) ? channel->flare.value : 0.0;
    return ww__scanner_noise_sd(&channel->noise, signal + channel->k * flare) / (signal * ln_10);
}

/* What is fitted to; `scatter`, the terms of what pixels scatter by about the mean of their step,
 * where that is known: NULL at first. */
typedef struct fitted {
    const ww__scanner_strip *strip;
    const ww__scanner_light *light;
    double dark, step;
    const double *scatter;
} fitted;

static double sum_of(const double term[TERMS], double beyond) {
    return term[0] + beyond * (term[1] + beyond * term[2]);
}

/* Of rounding to steps: what it puts a step's mean off by, squared, which its pixels do not
 * show. */
static double bias_2(const fitted *f, double beyond, double slope) {
    if (!f->scatter || !(f->step > 0.0))
        return 0.0;
    const double scatter = sum_of(f->scatter, beyond) * slope * slope;
    return f->step * f->step *
           ww__rounding_bias_2(ww__rounding_noise(scatter / (f->step * f->step)));
}

/* A row: its variance as light, and light beyond the dark. False where it does not count. */
static bool variance_of(const fitted *f, const ww__scanner_row *row, double *variance,
                        double *beyond) {
    if (row->clipped || row->suspect)
        return false;
    const double value = ww__scanner_decode(f->light, row->share);
    double slope;
    (void)ww__scanner_encode(f->light, value, &slope);
    if (!(slope > 0.0))
        return false;
    *beyond = fmax(value - f->dark, 0.0);
    *variance = (row->pixel_sd * row->pixel_sd + bias_2(f, *beyond, slope)) / (slope * slope);
    return true;
}

/* Normal equations of the relative departures; term j of a row is beyond^j. */
typedef struct sums {
    double a[TERMS][TERMS], b[TERMS], c;
    size_t n;
} sums;

static sums add_up(const fitted *f, const double term[TERMS]) {
    sums s = {.n = 0};
    for (size_t i = 0; i < f->strip->n; i++) {
        double variance, beyond;
        if (!variance_of(f, &f->strip->row[i], &variance, &beyond))
            continue;
        const double size = sum_of(term, beyond);
        const double w = size > 0.0 ? 1.0 / (size * size) : 0.0;
        const double power[TERMS] = {1.0, beyond, beyond * beyond};
        for (size_t j = 0; j < TERMS; j++) {
            for (size_t k = 0; k < TERMS; k++)
                s.a[j][k] += w * power[j] * power[k];
            s.b[j] += w * power[j] * variance;
        }
        s.c += w * variance * variance;
        s.n++;
    }
    return s;
}

/* Solves the equations of the terms in `set`, scaled to a unit diagonal; the others become 0. */
static bool solve_set(const sums *s, unsigned set, double out[TERMS]) {
    double m[TERMS][TERMS + 1], scale[TERMS];
    size_t of[TERMS], n = 0;
    for (size_t j = 0; j < TERMS; j++) {
        out[j] = 0.0;
        scale[j] = s->a[j][j] > 0.0 ? 1.0 / sqrt(s->a[j][j]) : 0.0;
        if (set & (1u << j))
            of[n++] = j;
    }
    for (size_t r = 0; r < n; r++) {
        for (size_t c = 0; c < n; c++)
            m[r][c] = s->a[of[r]][of[c]] * scale[of[r]] * scale[of[c]];
        m[r][n] = s->b[of[r]] * scale[of[r]];
    }
    for (size_t r = 0; r < n; r++) { /* positive definite: no pivoting */
        if (!(m[r][r] > 1e-10))
            return false;
        for (size_t q = r + 1; q < n; q++) {
            const double factor = m[q][r] / m[r][r];
            for (size_t c = r; c <= n; c++)
                m[q][c] -= factor * m[r][c];
        }
    }
    for (size_t r = n; r-- > 0;) {
        double value = m[r][n];
        for (size_t c = r + 1; c < n; c++)
            value -= m[r][c] * out[of[c]] / scale[of[c]];
        out[of[r]] = value / m[r][r] * scale[of[r]];
        if (out[of[r]] < 0.0)
            return false;
    }
    return true;
}

static double misfit(const sums *s, const double term[TERMS]) {
    double sum = s->c;
    for (size_t j = 0; j < TERMS; j++) {
        sum -= 2.0 * term[j] * s->b[j];
        for (size_t k = 0; k < TERMS; k++)
            sum += term[j] * term[k] * s->a[j][k];
    }
    return fmax(sum, 0.0);
}

/* The best of all sets of terms that come out without a negative one. */
static double solve_all(const sums *s, double best[TERMS]) {
    double least = HUGE_VAL;
    for (unsigned set = 1; set < 1u << TERMS; set++) {
        double term[TERMS];
        if (!solve_set(s, set, term) || !(misfit(s, term) < least))
            continue;
        least = misfit(s, term);
        for (size_t j = 0; j < TERMS; j++)
            best[j] = term[j];
    }
    return least;
}

/* Noise that grows with light as shot noise does is where the rounds start. */
static bool start_at(const fitted *f, double term[TERMS]) {
    double sum = 0.0, lights = 0.0, least = HUGE_VAL;
    for (size_t i = 0; i < f->strip->n; i++) {
        double variance, beyond;
        if (!variance_of(f, &f->strip->row[i], &variance, &beyond))
            continue;
        sum += variance;
        lights += beyond;
        if (variance > 0.0)
            least = fmin(least, variance);
    }
    if (!(sum > 0.0) || !(lights > 0.0))
        return false;
    term[0] = least;
    term[1] = sum / lights;
    term[2] = 0.0;
    return true;
}

/* All terms 0 where nothing scatters. */
static double fit_terms(const fitted *f, double term[TERMS], size_t *n) {
    double left = HUGE_VAL;
    *n = 0;
    if (!start_at(f, term)) {
        for (size_t j = 0; j < TERMS; j++)
            term[j] = 0.0;
        return left;
    }
    for (int round = 0; round < ROUNDS; round++) {
        double next[TERMS] = {0.0};
        const sums s = add_up(f, term);
        left = solve_all(&s, next);
        *n = s.n;
        if (!(left < HUGE_VAL))
            break;
        for (size_t j = 0; j < TERMS; j++)
            term[j] = next[j];
    }
    return left;
}

void ww__scanner_noise_fit(const ww__scanner_strip *strip, const ww__scanner_light *light,
                           double dark, double step, ww_scanner_noise *noise, double *relative_sd) {
    assert(strip && light && noise && relative_sd);
    fitted f = {strip, light, dark, step, NULL};
    double scatter[TERMS], term[TERMS];
    size_t n;
    (void)fit_terms(&f, scatter, &n);
    f.scatter = scatter;
    const double left = fit_terms(&f, term, &n);
    *noise = (ww_scanner_noise){sqrt(term[0]), sqrt(term[1]), sqrt(term[2])};
    *relative_sd = 0.0;
    if (n > TERMS && left < HUGE_VAL)
        *relative_sd = 0.5 * sqrt(left / (double)(n - TERMS) * (double)TERMS / (double)n);
}

ww__scanner_rounding ww__scanner_noise_rounding(const ww__scanner_strip *strip, double step) {
    assert(strip);
    double least = HUGE_VAL;
    for (size_t i = 0; i < strip->n && step > 0.0; i++) {
        const ww__scanner_row *row = &strip->row[i];
        if (!row->clipped && !row->suspect)
            least =
                fmin(least, ww__scanner_steps_unrounded(row->share / step, row->pixel_sd / step));
    }
    return (ww__scanner_rounding){step, 1.0 - exp(-2.0 * pi * pi * least * least)};
}

double ww__scanner_noise_code(const ww__scanner_light *light, double density, double step) {
    double slope;
    (void)ww__scanner_share(light, density, &slope);
    return slope < 0.0 ? -step / slope : HUGE_VAL;
}

double ww__scanner_noise_end(const ww_scanner_noise *noise, const ww__scanner_light *light,
                             double dark, ww__scanner_rounding rounding) {
    assert(noise && light);
    const double seen = (1.0 - rounding.hidden) * rounding.step;
    if (!(noise->read > 0.0 || noise->shot > 0.0 || noise->fixed > 0.0 || seen > 0.0))
        return HUGE_VAL;
    double thin = -densest, dense = densest;
    for (int i = 0; i < 100; i++) { /* signal/noise falls all along */
        const double middle = 0.5 * (thin + dense);
        const double signal = light->k * pow(10.0, -middle);
        const double sd = ww__scanner_noise_sd(noise, signal + light->constant - dark);
        const double code = ln_10 * signal * ww__scanner_noise_code(light, middle, seen);
        if (signal > hypot(sd, code))
            thin = middle;
        else
            dense = middle;
    }
    return thin;
}
