/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/time_law.h"
#include <float.h>
#include <math.h>

/* The search along the rate: this many places, then golden section about the best of them. */
enum { PLACES = 40, SECTIONS = 40 };

void ww__time_law_set(ww__time_law *law, const ww_time_gamma_point point[], size_t n,
                      double scatter) {
    law->point = point;
    law->n = n;
    law->first = point[0].time_min;
    law->rate_most = 10.0 / law->first;
    for (size_t i = 0; i < n; i++) {
        const double sd = hypot(point[i].sd, scatter * point[i].contrast);
        law->weight[i] = 1.0 / (sd * sd);
    }
}

/* (1 - e^(-k u)) / k, which is u where k is 0. */
static double grown(double rate, double u) {
    return fabs(rate * u) < 1e-9 ? u : -expm1(-rate * u) / rate;
}

double ww__time_law_at(const ww_time_gamma_line *line, double first, double time_min,
                       double *slope) {
    const double u = time_min - first;
    if (slope)
        *slope = line->growth * exp(-line->rate * u);
    return line->level + line->growth * grown(line->rate, u);
}

double ww__time_law_level(const ww_time_gamma_line *line) {
    return line->rate > 0.0 ? line->level + line->growth / line->rate : DBL_MAX;
}

double ww__time_law_start(const ww_time_gamma_line *line, double first) {
    if (!(line->growth > 0.0))
        return -DBL_MAX;
    const double x = line->level / line->growth;
    return first - (line->rate * x < 1e-9 ? x : log1p(line->rate * x) / line->rate);
}

/* --- one rate --------------------------------------------------------------------------------- */

static double sum_of(const ww__time_law *law, const ww_time_gamma_line *line) {
    double sum = 0.0;
    for (size_t i = 0; i < law->n; i++) {
        const double off = law->point[i].contrast -
                           ww__time_law_at(line, law->first, law->point[i].time_min, NULL);
        sum += law->weight[i] * off * off;
    }
    return sum;
}

/* Where a line starts at a time, its contrast is one factor of a shape. */
static ww_time_gamma_line start_at(const ww__time_law *law, double rate, double start) {
    double above = 0.0, below = 0.0;
    for (size_t i = 0; i < law->n; i++) {
        const double shape = grown(rate, law->point[i].time_min - start);
        above += law->weight[i] * shape * law->point[i].contrast;
        below += law->weight[i] * shape * shape;
    }
    const double factor = fmax(above / below, 0.0), until = law->first - start;
    return (ww_time_gamma_line){factor * grown(rate, until), factor * exp(-rate * until), rate};
}

static ww_time_gamma_line straight_in(const ww__time_law *law, double rate) {
    double s = 0.0, sx = 0.0, sy = 0.0, sxx = 0.0, sxy = 0.0;
    for (size_t i = 0; i < law->n; i++) {
        const double w = law->weight[i], x = grown(rate, law->point[i].time_min - law->first);
        s += w;
        sx += w * x;
        sy += w * law->point[i].contrast;
        sxx += w * x * x;
        sxy += w * x * law->point[i].contrast;
    }
    const double spread = s * sxx - sx * sx;
    const double growth = spread > 0.0 ? fmax((s * sxy - sx * sy) / spread, 0.0) : 0.0;
    return (ww_time_gamma_line){(sy - growth * sx) / s, growth, rate};
}

double ww__time_law_of_rate(const ww__time_law *law, double rate, ww_time_gamma_line *line) {
    const ww_time_gamma_line best = straight_in(law, rate);
    if (line)
        *line = best;
    return sum_of(law, &best);
}

static double at_once_of_rate(const ww__time_law *law, double rate, const double unused[],
                              ww_time_gamma_line *line) {
    (void)unused;
    const ww_time_gamma_line best = start_at(law, rate, 0.0);
    if (line)
        *line = best;
    return sum_of(law, &best);
}

static double free_of_rate(const ww__time_law *law, double rate, const double unused[],
                           ww_time_gamma_line *line) {
    (void)unused;
    return ww__time_law_of_rate(law, rate, line);
}

static double possible_of_rate(const ww__time_law *law, double rate, const double unused[],
                               ww_time_gamma_line *line) {
    ww_time_gamma_line best;
    const double sum = ww__time_law_of_rate(law, rate, &best);
    if (ww__time_law_start(&best, law->first) < 0.0)
        return at_once_of_rate(law, rate, unused, line);
    if (line)
        *line = best;
    return sum;
}

static double start_of_rate(const ww__time_law *law, double rate, const double start[],
                            ww_time_gamma_line *line) {
    const ww_time_gamma_line best = start_at(law, rate, start[0]);
    if (line)
        *line = best;
    return sum_of(law, &best);
}

/* gamma_inf - p e^(-k (t - first)); p from gamma_inf e^(-k first), which is t0 = 0, to
 * gamma_inf. */
static double infinity_of_rate(const ww__time_law *law, double rate, const double given[],
                               ww_time_gamma_line *line) {
    const double infinity = given[0];
    double above = 0.0, below = 0.0;
    for (size_t i = 0; i < law->n; i++) {
        const double shape = exp(-rate * (law->point[i].time_min - law->first));
        above += law->weight[i] * shape * (infinity - law->point[i].contrast);
        below += law->weight[i] * shape * shape;
    }
    const double lacking = fmin(fmax(above / below, infinity * exp(-rate * law->first)), infinity);
    const ww_time_gamma_line best = {infinity - lacking, lacking * rate, rate};
    if (line)
        *line = best;
    return sum_of(law, &best);
}

/* All lines through one place; they differ in how they grow. */
static double through_of_rate(const ww__time_law *law, double rate, const double given[],
                              ww_time_gamma_line *line) {
    const double there = grown(rate, given[0] - law->first);
    double above = 0.0, below = 0.0;
    for (size_t i = 0; i < law->n; i++) {
        const double shape = grown(rate, law->point[i].time_min - law->first) - there;
        above += law->weight[i] * shape * (law->point[i].contrast - given[1]);
        below += law->weight[i] * shape * shape;
    }
    const double growth = below > 0.0 ? fmax(above / below, 0.0) : 0.0;
    const ww_time_gamma_line best = {given[1] - growth * there, growth, rate};
    if (line)
        *line = best;
    return sum_of(law, &best);
}

/* --- the best rate ---------------------------------------------------------------------------- */

typedef double of_rate(const ww__time_law *law, double rate, const double given[],
                       ww_time_gamma_line *line);

static double place_of(const ww__time_law *law, size_t i) {
    return i == 0 ? 0.0 : law->rate_most * pow(1e-3, (double)(PLACES - i) / (double)(PLACES - 1));
}

static double golden(const ww__time_law *law, of_rate *sum, const double given[], double low,
                     double high) {
    const double part = (sqrt(5.0) - 1.0) / 2.0;
    double a = high - part * (high - low), b = low + part * (high - low);
    double at_a = sum(law, a, given, NULL), at_b = sum(law, b, given, NULL);
    for (int i = 0; i < SECTIONS; i++) {
        if (at_a <= at_b) {
            high = b;
            b = a;
            at_b = at_a;
            a = high - part * (high - low);
            at_a = sum(law, a, given, NULL);
        } else {
            low = a;
            a = b;
            at_a = at_b;
            b = low + part * (high - low);
            at_b = sum(law, b, given, NULL);
        }
    }
    return (low + high) / 2.0;
}

static double search(const ww__time_law *law, of_rate *sum, const double given[],
                     ww_time_gamma_line *line) {
    size_t best = 0;
    double least = sum(law, 0.0, given, NULL);
    for (size_t i = 1; i <= PLACES && law->rate_most > 0.0; i++) {
        const double at = sum(law, place_of(law, i), given, NULL);
        if (at < least) {
            least = at;
            best = i;
        }
    }
    double rate = place_of(law, best);
    if (law->rate_most > 0.0) {
        const double found = golden(law, sum, given, place_of(law, best > 0 ? best - 1 : 0),
                                    place_of(law, best < PLACES ? best + 1 : PLACES));
        if (sum(law, found, given, NULL) < least)
            rate = found;
    }
    return sum(law, rate, given, line);
}

double ww__time_law_free(const ww__time_law *law, ww_time_gamma_line *line) {
    return search(law, free_of_rate, NULL, line);
}

double ww__time_law_at_once(const ww__time_law *law, ww_time_gamma_line *line) {
    return search(law, at_once_of_rate, NULL, line);
}

double ww__time_law_possible(const ww__time_law *law, ww_time_gamma_line *line) {
    return search(law, possible_of_rate, NULL, line);
}

double ww__time_law_with_infinity(const ww__time_law *law, double gamma_infinity) {
    return search(law, infinity_of_rate, &gamma_infinity, NULL);
}

double ww__time_law_with_rate(const ww__time_law *law, double rate) {
    return possible_of_rate(law, rate, NULL, NULL);
}

double ww__time_law_with_start(const ww__time_law *law, double start_min) {
    return search(law, start_of_rate, &start_min, NULL);
}

double ww__time_law_through(const ww__time_law *law, double time_min, double contrast) {
    const double through[] = {time_min, contrast};
    return search(law, through_of_rate, through, NULL);
}

double ww__time_law_two(double start_min, const ww_time_gamma_point *a,
                        const ww_time_gamma_point *b) {
    const double ua = a->time_min - start_min, ub = b->time_min - start_min;
    const double ratio = b->contrast / a->contrast;
    double low = 0.0, high = 1.0 / ua;
    if (!(ratio > 1.0))
        return DBL_MAX;
    if (ratio >= ub / ua)
        return 0.0;
    while (grown(high, ub) / grown(high, ua) > ratio && high < 1e6 / ua)
        high *= 2.0;
    for (int i = 0; i < 80; i++) {
        const double middle = (low + high) / 2.0;
        if (grown(middle, ub) / grown(middle, ua) > ratio)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2.0;
}
