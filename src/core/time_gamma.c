/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <wedgework/time_gamma.h>

#include "core/gls.h"
#include "core/time_law.h"
#include <assert.h>
#include <float.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

static const double chi_squared_95 = 3.841458820694124; /* one degree of freedom */
static const double chance_least = 0.05;
static const double scatter_most = 0.05; /* what developments differ by, relative */
static const double repeatability_most = 100.0;
static const double wide = 1.5;       /* gamma_inf is known no better than not at all */
static const double start_wide = 0.5; /* of the first time: the same of t0 */
static const double delay_most = 0.5; /* of the first time: t0 between two times */
static const double beyond = 0.5;     /* intervals are looked for up to here past the ends */

static bool is_point(const ww_time_gamma_point *p) {
    return isfinite(p->time_min) && p->time_min > 0.0 && isfinite(p->contrast) && p->contrast > 0.0;
}

ww_status ww_time_gamma_two(const ww_time_gamma_point *a, const ww_time_gamma_point *b,
                            double *gamma_infinity, double *rate, ww_error *err) {
    assert(a && b && gamma_infinity && rate);
    if (!is_point(a) || !is_point(b) || !(a->time_min < b->time_min))
        return ww_error_set(err, WW_EDOMAIN,
                            "contrasts of %g at %g min and %g at %g min: all must be > 0, and the "
                            "second time the longer",
                            a->contrast, a->time_min, b->contrast, b->time_min);
    const double ratio = b->contrast / a->contrast;
    if (!(ratio > 1.0 && ratio < b->time_min / a->time_min))
        return ww_error_set(err, WW_EDOMAIN,
                            "contrast grows by %.3f while time does by %.3f: development that "
                            "begins at once makes it grow, and by less than time",
                            ratio, b->time_min / a->time_min);
    *rate = ww__time_law_two(0.0, a, b);
    *gamma_infinity = a->contrast / -expm1(-*rate * a->time_min);
    return WW_OK;
}

/* --- the fit ---------------------------------------------------------------------------------- */

static int by_time(const void *a, const void *b) {
    const ww_time_gamma_point *one = a, *other = b;
    return (one->time_min > other->time_min) - (one->time_min < other->time_min);
}

static ww_status take(const ww_time_gamma_point point[], size_t n, ww_time_gamma *law,
                      ww_error *err) {
    if (n < 2 || n > WW_TIME_GAMMA_MOST)
        return ww_error_set(err, WW_EDOMAIN, "%zu contrasts make no law; give 2 to %d", n,
                            WW_TIME_GAMMA_MOST);
    for (size_t i = 0; i < n; i++) {
        const ww_time_gamma_point *p = &point[i];
        if (!is_point(p) || !(isfinite(p->sd) && p->sd > 0.0))
            return ww_error_set(err, WW_EDOMAIN,
                                "a contrast of %g (sd %g) at %g min: all three must be > 0",
                                p->contrast, p->sd, p->time_min);
        law->point[i] = *p;
    }
    law->n = n;
    qsort(law->point, n, sizeof law->point[0], by_time);
    law->n_times = 1;
    for (size_t i = 1; i < n; i++)
        law->n_times += law->point[i].time_min > law->point[i - 1].time_min;
    if (law->n_times < 2)
        return ww_error_set(err, WW_ENODATA,
                            "all of these were developed for %g min; how contrast grows takes at "
                            "least two times",
                            point[0].time_min);
    return WW_OK;
}

static const ww_time_gamma_point *last_of(const ww_time_gamma *law) {
    return &law->point[law->n - 1];
}

static ww__time_law weighed(const ww_time_gamma *law, double scatter) {
    ww__time_law sums;
    ww__time_law_set(&sums, law->point, law->n, scatter);
    if (law->n_times == 2)
        sums.rate_most = fmin(law->rate_most, sums.rate_most);
    return sums;
}

/* Chi-squared falls as scatter grows; it is to be what its degrees of freedom let expect. */
static void find_scatter(ww_time_gamma *law) {
    const ww__time_law own = weighed(law, law->scatter);
    double low = law->scatter, high = 1.0;
    law->chi_squared = ww__time_law_free(&own, NULL);
    law->freedom = law->n - (law->n_times < 3 ? law->n_times : 3);
    law->scattered = ww__gls_chance(law->chi_squared, law->freedom) < chance_least;
    if (law->freedom == 0 || law->chi_squared <= (double)law->freedom)
        return;
    for (int i = 0; i < 50; i++) {
        const double middle = (low + high) / 2.0;
        const ww__time_law sums = weighed(law, middle);
        if (ww__time_law_free(&sums, NULL) > (double)law->freedom)
            low = middle;
        else
            high = middle;
    }
    law->scatter = (low + high) / 2.0;
}

static void find_allowed(ww_time_gamma *law) {
    law->allowed = chi_squared_95;
    if (law->scattered && law->scatter > 0.0) {
        const double student = gsl_cdf_fdist_Pinv(0.95, 1.0, (double)law->freedom);
        const double most = chi_squared_95 * pow(fmax(scatter_most / law->scatter, 1.0), 2.0);
        law->allowed = fmax(fmin(student, most), chi_squared_95);
    }
}

/* Straight against log time, by least squares. */
static ww_time_gamma_line between(const ww_time_gamma *law, const ww__time_law *sums) {
    double s = 0.0, sx = 0.0, sy = 0.0, sxx = 0.0, sxy = 0.0;
    for (size_t i = 0; i < law->n; i++) {
        const double w = sums->weight[i], x = log(law->point[i].time_min / sums->first);
        s += w;
        sx += w * x;
        sy += w * law->point[i].contrast;
        sxx += w * x * x;
        sxy += w * x * law->point[i].contrast;
    }
    const double growth = (s * sxy - sx * sy) / (s * sxx - sx * sx);
    return (ww_time_gamma_line){(sy - growth * sx) / s, growth, 0.0};
}

/* Of two times: the most delayed law through their mean contrasts. */
static double most_delayed(const ww_time_gamma *law) {
    const ww__time_law sums = weighed(law, 0.0);
    const ww_time_gamma_line line = between(law, &sums);
    const double first = sums.first, last = last_of(law)->time_min;
    const ww_time_gamma_point a = {first, fmax(line.level, DBL_MIN), 1.0};
    const ww_time_gamma_point b = {last, line.level + line.growth * log(last / first), 1.0};
    return ww__time_law_two(delay_most * first, &a, &b);
}

static void find_form(ww_time_gamma *law) {
    const ww__time_law sums = weighed(law, law->scatter);
    law->least = ww__time_law_free(&sums, &law->free);
    law->at_once = ww__time_law_at_once(&sums, &law->line) - law->least;
    law->rate_most = sums.rate_most;
    if (law->n_times == 2) {
        law->form = WW_TIME_GAMMA_BETWEEN;
        law->line = between(law, &sums);
        (void)ww__time_law_of_rate(&sums, 0.0, &law->free);
    } else if (law->n_times == 3 && law->at_once <= law->allowed) {
        law->form = WW_TIME_GAMMA_AT_ONCE;
    } else {
        law->form = WW_TIME_GAMMA_FREE;
        law->line = law->free;
    }
    law->rises = law->line.growth > 0.0 && law->free.growth > 0.0;
}

/* --- intervals by profile --------------------------------------------------------------------- */

typedef double profile(const ww__time_law *law, double at, double given);

/* The place between two where a profile passes the limit, which holds at `from`. False where it
 * holds at `to` as well: *at is `to` then. */
static bool bound(const ww__time_law *sums, profile *of, double given, double limit, double from,
                  double to, double *at) {
    enum { STEPS = 24, HALVINGS = 40 };
    double inside = from, outside = to;
    bool passed = false;
    for (int i = 1; i <= STEPS && !passed; i++) {
        outside = from + (to - from) * i / STEPS;
        passed = of(sums, outside, given) > limit;
        if (!passed)
            inside = outside;
    }
    for (int i = 0; i < HALVINGS && passed; i++) {
        const double middle = (inside + outside) / 2.0;
        if (of(sums, middle, given) > limit)
            outside = middle;
        else
            inside = middle;
    }
    *at = inside;
    return passed;
}

static double of_contrast(const ww__time_law *sums, double contrast, double time_min) {
    return ww__time_law_through(sums, time_min, contrast);
}

static double of_time(const ww__time_law *sums, double time_min, double contrast) {
    return ww__time_law_through(sums, time_min, contrast);
}

static double of_infinity(const ww__time_law *sums, double infinity, double unused) {
    (void)unused;
    return ww__time_law_with_infinity(sums, infinity);
}

static double of_rate(const ww__time_law *sums, double rate, double unused) {
    (void)unused;
    return ww__time_law_with_rate(sums, rate);
}

static double of_start(const ww__time_law *sums, double start, double unused) {
    (void)unused;
    return ww__time_law_with_start(sums, start);
}

/* --- what the law levels off at --------------------------------------------------------------- */

static void find_start(ww_time_gamma *law, const ww__time_law *sums, double limit,
                       const ww_time_gamma_line *line) {
    const double value = fmax(ww__time_law_start(line, sums->first), 0.0);
    ww_quantity start = {value, value, value, WW_FITTED};
    (void)bound(sums, of_start, 0.0, limit, value, 0.0, &start.low);
    if (bound(sums, of_start, 0.0, limit, value, 0.999 * sums->first, &start.high) &&
        start.high - start.low <= start_wide * sums->first)
        law->start = start;
}

/* gamma_inf, rate and t0, where the times tell them. */
static void find_infinity(ww_time_gamma *law) {
    const ww__time_law sums = weighed(law, law->scatter);
    ww_time_gamma_line line;
    const double possible = ww__time_law_possible(&sums, &line);
    const double limit = law->least + law->allowed;
    law->even = possible > limit;
    if (law->form == WW_TIME_GAMMA_AT_ONCE)
        line = law->line;
    const double infinity = ww__time_law_level(&line);
    if (law->even || law->n_times < 3 || !law->rises || infinity == DBL_MAX ||
        (law->n_times == 3 && law->form != WW_TIME_GAMMA_AT_ONCE))
        return;
    ww_quantity level = {infinity, infinity, infinity, WW_FITTED};
    ww_quantity rate = {line.rate, line.rate, line.rate, WW_FITTED};
    (void)bound(&sums, of_infinity, 0.0, limit, infinity, infinity / 4.0, &level.low);
    if (!bound(&sums, of_infinity, 0.0, limit, infinity, 2.0 * infinity, &level.high) ||
        level.high > wide * level.low)
        return;
    (void)bound(&sums, of_rate, 0.0, limit, line.rate, 0.0, &rate.low);
    (void)bound(&sums, of_rate, 0.0, limit, line.rate, sums.rate_most, &rate.high);
    law->gamma_infinity = level;
    law->rate = rate;
    if (law->n_times >= 4)
        find_start(law, &sums, limit, &line);
}

ww_status ww_time_gamma_fit(const ww_time_gamma_point point[], size_t n, double repeatability,
                            ww_time_gamma *law, ww_error *err) {
    ww_time_gamma made = {.n = 0};
    assert(point && law);
    ww_status status = WW_OK;
    if (!(repeatability >= 0.0 && repeatability <= repeatability_most))
        status = ww_error_set(err, WW_EDOMAIN, "a repeatability of %g is none; it must be 0 to %g",
                              repeatability, repeatability_most);
    if (status == WW_OK)
        status = take(point, n, &made, err);
    if (status != WW_OK)
        return status;
    made.scatter = repeatability;
    made.rate_most = DBL_MAX;
    if (made.n_times == 2)
        made.rate_most = most_delayed(&made);
    find_scatter(&made);
    find_allowed(&made);
    find_form(&made);
    find_infinity(&made);
    *law = made;
    return WW_OK;
}

/* --- answers ---------------------------------------------------------------------------------- */

static double contrast_at(const ww_time_gamma *law, double time_min, double *slope) {
    const double first = law->point[0].time_min;
    if (law->form != WW_TIME_GAMMA_BETWEEN)
        return ww__time_law_at(&law->line, first, time_min, slope);
    if (slope)
        *slope = law->line.growth / time_min;
    return law->line.level + law->line.growth * log(time_min / first);
}

/* The inverse of a law; unset where it never gets there. */
static ww_optional time_at(const ww_time_gamma_line *line, double first, bool between_two,
                           double contrast) {
    const double x = (contrast - line->level) / line->growth;
    if (!(line->growth > 0.0) || (!between_two && line->rate * x >= 1.0))
        return (ww_optional){false, 0.0};
    if (between_two)
        return (ww_optional){true, first * exp(x)};
    return (ww_optional){
        true, first + (fabs(line->rate * x) < 1e-9 ? x : -log1p(-line->rate * x) / line->rate)};
}

static ww_how how_at(const ww_time_gamma *law, double time_min) {
    return time_min < law->point[0].time_min || time_min > last_of(law)->time_min ? WW_EXTRAPOLATED
                                                                                  : WW_FITTED;
}

static bool inside(const ww_time_gamma *law, double time_min) {
    return time_min >= (1.0 - WW_TIME_GAMMA_PAST) * law->point[0].time_min &&
           time_min <= (1.0 + WW_TIME_GAMMA_PAST) * last_of(law)->time_min;
}

ww_status ww_time_gamma_contrast(const ww_time_gamma *law, double time_min, ww_quantity *contrast,
                                 ww_error *err) {
    assert(law && contrast);
    if (!inside(law, time_min))
        return ww_error_set(err, WW_EDOMAIN,
                            "%g min is over a quarter past the times that were developed, %g to "
                            "%g min",
                            time_min, law->point[0].time_min, last_of(law)->time_min);
    const ww__time_law sums = weighed(law, law->scatter);
    const double value = contrast_at(law, time_min, NULL);
    const double middle = ww__time_law_at(&law->free, sums.first, time_min, NULL);
    const double limit = law->least + law->allowed;
    double low, high;
    (void)bound(&sums, of_contrast, time_min, limit, middle, 0.0, &low);
    (void)bound(&sums, of_contrast, time_min, limit, middle, 3.0 * middle, &high);
    *contrast = (ww_quantity){value, fmin(low, value), fmax(high, value), how_at(law, time_min)};
    return WW_OK;
}

/* 95 % half-width of the contrast at a time, its form and rate being given: of a part of the
 * points' errors, `own` their own, else the scatter. */
static double part_half(const ww_time_gamma *law, double time_min, bool own) {
    const ww__time_law sums = weighed(law, law->scatter);
    const bool two = law->form == WW_TIME_GAMMA_BETWEEN;
    ww_time_gamma_line unit = {0.0, 1.0, law->free.rate};
    double x[WW_TIME_GAMMA_MOST], s = 0.0, sx = 0.0, sxx = 0.0, sum = 0.0;
    for (size_t i = 0; i < law->n; i++) {
        const double t = law->point[i].time_min;
        x[i] = two ? log(t / sums.first) : ww__time_law_at(&unit, sums.first, t, NULL);
        s += sums.weight[i];
        sx += sums.weight[i] * x[i];
        sxx += sums.weight[i] * x[i] * x[i];
    }
    const double at =
        two ? log(time_min / sums.first) : ww__time_law_at(&unit, sums.first, time_min, NULL);
    for (size_t i = 0; i < law->n; i++) {
        const double share =
            sums.weight[i] * (sxx - sx * x[i] + at * (s * x[i] - sx)) / (s * sxx - sx * sx);
        const double sd = own ? law->point[i].sd : law->scatter * law->point[i].contrast;
        sum += share * share * sd * sd;
    }
    return sqrt(law->allowed * sum);
}

static void find_interval(const ww_time_gamma *law, double contrast, double time_min,
                          ww_time_gamma_answer *answer) {
    const ww__time_law sums = weighed(law, law->scatter);
    const double limit = law->least + law->allowed;
    const double first = (1.0 - beyond) * sums.first;
    const double last = (1.0 + beyond) * last_of(law)->time_min;
    const ww_optional free = time_at(&law->free, sums.first, false, contrast);
    const double middle =
        free.set && free.value > first && free.value < last ? free.value : time_min;
    double low, high;
    answer->low_open = !bound(&sums, of_time, contrast, limit, middle, first, &low);
    answer->high_open = !bound(&sums, of_time, contrast, limit, middle, last, &high);
    answer->time =
        (ww_quantity){time_min, fmin(low, time_min), fmax(high, time_min), how_at(law, time_min)};
    (void)contrast_at(law, time_min, &answer->slope);
    answer->curves_half = part_half(law, time_min, true) / answer->slope;
    answer->scatter_half = part_half(law, time_min, false) / answer->slope;
}

ww_status ww_time_gamma_time(const ww_time_gamma *law, double contrast,
                             ww_time_gamma_answer *answer, ww_error *err) {
    assert(law && answer);
    if (!(isfinite(contrast) && contrast > 0.0))
        return ww_error_set(err, WW_EDOMAIN, "a contrast of %g is none; it must be > 0", contrast);
    *answer = (ww_time_gamma_answer){.place = WW_TIME_GAMMA_LEVEL};
    if (!law->rises)
        return WW_OK;
    answer->foreseen =
        time_at(&law->line, law->point[0].time_min, law->form == WW_TIME_GAMMA_BETWEEN, contrast);
    if (!answer->foreseen.set)
        answer->place = WW_TIME_GAMMA_NEVER;
    else if (inside(law, answer->foreseen.value))
        answer->place = WW_TIME_GAMMA_INSIDE;
    else
        answer->place = answer->foreseen.value < law->point[0].time_min ? WW_TIME_GAMMA_SHORTER
                                                                        : WW_TIME_GAMMA_LONGER;
    if (answer->place == WW_TIME_GAMMA_INSIDE)
        find_interval(law, contrast, answer->foreseen.value, answer);
    return WW_OK;
}
