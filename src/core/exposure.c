/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/locale.h"
#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <wedgework/exposure.h>

/* Also false for NAN. */
static bool is_positive(double value) {
    return value > 0.0 && isfinite(value);
}

static ww_status refuse(const char *what, double value, const char *remedy, ww_error *err) {
    const ww__locale locale = ww__locale_plain();
    const ww_status status = ww_error_set(err, WW_EDOMAIN, "%s of %g %s", what, value, remedy);
    ww__locale_restore(locale);
    return status;
}

static ww_status need_time(double time_s, ww_error *err) {
    return is_positive(time_s) ? WW_OK
                               : refuse("a time", time_s, "s is none; give seconds above 0", err);
}

static ww_status need_both(const char *what, double from, double to, ww_error *err) {
    if (is_positive(from) && is_positive(to))
        return WW_OK;
    return refuse(what, is_positive(from) ? to : from, "is impossible; give one above 0", err);
}

static ww_status square(double ratio, double *factor, ww_error *err) {
    if (!is_positive(ratio * ratio))
        return refuse("a ratio", ratio, "gives no finite factor of time", err);
    *factor = ratio * ratio;
    return WW_OK;
}

ww_status ww_exposure_stops(double old_time_s, double new_time_s, double *stops, ww_error *err) {
    ww_status status;
    assert(stops);
    status = need_time(old_time_s, err);
    if (status == WW_OK)
        status = need_time(new_time_s, err);
    if (status == WW_OK)
        *stops = log2(new_time_s) - log2(old_time_s); /* the quotient could overflow */
    return status;
}

ww_status ww_exposure_burn_seconds(double base_time_s, double stops, double *seconds,
                                   ww_error *err) {
    const ww_status status = need_time(base_time_s, err);
    double added;
    assert(seconds);
    if (status != WW_OK)
        return status;
    added = base_time_s * expm1(stops * log(2.0)); /* exact to the last digit near zero stops */
    if (!isfinite(stops) || !isfinite(added))
        return refuse("a move", stops, "stops gives no finite time; give fewer", err);
    *seconds = added;
    return WW_OK;
}

ww_status ww_exposure_burn_stops(double base_time_s, double seconds, double *stops, ww_error *err) {
    const ww_status status = need_time(base_time_s, err);
    assert(stops);
    if (status != WW_OK)
        return status;
    if (!isfinite(seconds) || !(seconds > -base_time_s))
        return refuse("a move", seconds,
                      "s leaves no exposure at all; hold back less than the base time", err);
    *stops = log1p(seconds / base_time_s) / log(2.0);
    return WW_OK;
}

ww_status ww_exposure_moves(const double stops[], size_t n, double *sum_stops, ww_error *err) {
    double added = 0.0; /* of one second */
    assert(sum_stops && (stops || n == 0));
    for (size_t i = 0; i < n; i++) {
        double seconds = 0.0;
        const ww_status status = ww_exposure_burn_seconds(1.0, stops[i], &seconds, err);
        if (status != WW_OK)
            return status;
        added += seconds;
    }
    if (!(added > -1.0))
        return refuse("holding back", -100.0 * added,
                      "% of the time leaves no exposure at all; hold back less", err);
    if (!isfinite(added))
        return refuse("an added exposure", added, "times the base is none; give fewer stops", err);
    return ww_exposure_burn_stops(1.0, added, sum_stops, err);
}

ww_status ww_exposure_scale(double from_scale, double to_scale, double *factor, ww_error *err) {
    const ww_status status = need_both("a magnification", from_scale, to_scale, err);
    assert(factor);
    return status == WW_OK ? square((to_scale + 1.0) / (from_scale + 1.0), factor, err) : status;
}

/* The f-number that a lens's mark stands for: full stops are marked by two figures of theirs. */
static double f_number_of(double mark) {
    static const double full[] = {1.0,  1.4,  2.0,  2.8,  4.0,  5.6,  8.0,
                                  11.0, 16.0, 22.0, 32.0, 45.0, 64.0, 90.0};
    for (size_t i = 0; i < sizeof full / sizeof full[0]; i++)
        if (fabs(mark - full[i]) <= 1e-9 * mark)
            return exp2(0.5 * (double)i);
    return mark;
}

ww_status ww_exposure_aperture(double from_number, double to_number, double *factor,
                               ww_error *err) {
    const ww_status status = need_both("an f-number", from_number, to_number, err);
    assert(factor);
    return status == WW_OK ? square(f_number_of(to_number) / f_number_of(from_number), factor, err)
                           : status;
}

ww_status ww_exposure_flare(double density, double flare, double *seen, ww_error *err) {
    double through;
    assert(seen);
    if (!isfinite(density))
        return refuse("a density", density, "is none; give a finite one", err);
    if (!(flare >= 0.0 && flare < 1.0))
        return refuse("a flare", flare, "is no fraction of open light; give 0 or more, under 1",
                      err);
    /* Without flare the way there and back through 10^-D would only lose digits. */
    through = flare > 0.0 ? -log10((pow(10.0, -density) + flare) / (1.0 + flare)) : density;
    if (!isfinite(through))
        return refuse("a density", density, "passes more light than a number can hold", err);
    *seen = through;
    return WW_OK;
}

double ww_exposure_flare_slope(double density, double flare) {
    return 1.0 / (1.0 + flare * pow(10.0, density));
}

ww_status ww_exposure_unflare(double seen, double flare, double *density, ww_error *err) {
    double light;
    assert(density);
    if (!isfinite(seen))
        return refuse("a density", seen, "is none; give a finite one", err);
    if (!(flare >= 0.0 && flare < 1.0))
        return refuse("a flare", flare, "is no fraction of open light; give 0 or more, under 1",
                      err);
    light = pow(10.0, -seen) * (1.0 + flare) - flare;
    if (flare > 0.0 && !(light > 0.0)) {
        const ww__locale locale = ww__locale_plain();
        const ww_status status = ww_error_set(
            err, WW_ENODATA,
            "nothing looks as dense as %g through a flare of %g, which itself looks like %.2f D",
            seen, flare, -log10(flare / (1.0 + flare)));
        ww__locale_restore(locale);
        return status;
    }
    *density = flare > 0.0 ? -log10(light) : seen;
    return WW_OK;
}

ww_status ww_exposure_round(double time_s, double step_s, double *rounded_s, ww_error *err) {
    ww_status status;
    double steps;
    assert(rounded_s);
    status = need_time(time_s, err);
    if (status == WW_OK && !is_positive(step_s))
        status = refuse("a timer step", step_s, "s is none; give seconds above 0", err);
    if (status != WW_OK)
        return status;
    steps = floor(time_s / step_s + 0.5);
    if (!isfinite(steps))
        return refuse("a timer step", step_s, "s is too fine for that time; give a coarser one",
                      err);
    /* 101 tenths are 101 / 10, which is 10.1; 101 * 0.1 is a little more, and shows in a file. */
    const double a_second = 1.0 / step_s;
    *rounded_s =
        a_second == floor(a_second) ? fmax(steps, 1.0) / a_second : fmax(steps, 1.0) * step_s;
    return WW_OK;
}
