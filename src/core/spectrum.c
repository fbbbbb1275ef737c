/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "spectrum.h"
#include "spectrum_odd.h"
#include "status_products.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <wedgework/spectrum.h>

static const double value_least = -0.1, value_most = 2.0;
static const double width_95 = 1.96; /* [sd] of a normal spread */
enum { AROUND = WW__SPECTRUM_AROUND };

ww_status ww__spectrum_check(const ww_spectrum *spectrum, ww_error *err) {
    const ww_spectral_point *const p = spectrum->point;
    if (spectrum->n < AROUND)
        return ww_error_set(err, WW_EDOMAIN,
                            "%zu spectral values make no spectrum; give one every 20 nm at least",
                            spectrum->n);
    for (size_t i = 0; i < spectrum->n; i++) {
        if (!isfinite(p[i].nm) || !(p[i].nm > 0.0))
            return ww_error_set(err, WW_EDOMAIN, "%g nm is no wavelength; correct it", p[i].nm);
        if (!(p[i].value >= value_least && p[i].value <= value_most))
            return ww_error_set(err, WW_EDOMAIN,
                                "the spectral value %g at %g nm lies outside %g to %g; it must be "
                                "a part of 1, or percent that are declared so",
                                p[i].value, p[i].nm, value_least, value_most);
        if (i == 0)
            continue;
        if (!(p[i].nm > p[i - 1].nm))
            return ww_error_set(err, WW_EDOMAIN,
                                "%g nm comes after %g nm; give each wavelength once, rising",
                                p[i].nm, p[i - 1].nm);
        if (p[i].nm - p[i - 1].nm > WW_SPECTRUM_GAP_MOST)
            return ww_error_set(err, WW_EDOMAIN,
                                "there is no spectral value between %g and %g nm, which are more "
                                "than %g nm apart; measure at closer wavelengths",
                                p[i - 1].nm, p[i].nm, WW_SPECTRUM_GAP_MOST);
    }
    return WW_OK;
}

/* The cubic through the densities of four values. */
static double cubic(const ww_spectral_point p[AROUND], double nm) {
    ww_spectral_point log_value[AROUND];
    for (int i = 0; i < AROUND; i++)
        log_value[i] = (ww_spectral_point){p[i].nm, log10(p[i].value)};
    return pow(10.0, ww__spectrum_cubic(log_value, nm));
}

ww__spectrum_value ww__spectrum_at(const ww_spectrum *spectrum, double nm) {
    const ww_spectral_point *const p = spectrum->point;
    size_t i = 0;
    bool light = true;
    while (i + 2 < spectrum->n && p[i + 1].nm <= nm)
        i++;
    const double part = (nm - p[i].nm) / (p[i + 1].nm - p[i].nm);
    const size_t first = i == 0 ? 0 : i + 2 < spectrum->n ? i - 1 : spectrum->n - AROUND;
    if (!(part > 0.0 && part < 1.0)) {
        const double measured = p[part > 0.0 ? i + 1 : i].value;
        return (ww__spectrum_value){measured, measured};
    }
    for (size_t k = first; k < first + AROUND; k++)
        light = light && p[k].value > 0.0;
    if (!light) {
        const double between = (1.0 - part) * p[i].value + part * p[i + 1].value;
        return (ww__spectrum_value){between, between};
    }
    return (ww__spectrum_value){cubic(p + first, nm),
                                pow(p[i].value, 1.0 - part) * pow(p[i + 1].value, part)};
}

/* Sums over the product; those of light in the product's own percent. */
typedef struct sums {
    double product;         /* all of it */
    double outside;         /* of it, outside the wavelengths measured */
    double inside, ends;    /* light within them; and outside, as long as the ends' values last */
    double bends;           /* by how much the two opinions on that within differ, at most */
    double product_squares; /* within */
    double value_squares;   /* where the product has digits to lose */
} sums;

static double product_at(ww_density_status status, ww_channel channel, size_t row) {
    return row < WW__PRODUCT_ROWS ? ww__status_product(status, channel, row) : 0.0;
}

static sums add_up(const ww_spectrum *spectrum, ww_density_status status, ww_channel channel) {
    const ww_spectral_point first = spectrum->point[0], last = spectrum->point[spectrum->n - 1];
    sums s = {.product = 0.0};
    for (size_t row = 0; row < WW__PRODUCT_ROWS; row++) {
        const double nm = WW__PRODUCT_FIRST + WW__PRODUCT_STEP * (double)row;
        const double product = product_at(status, channel, row);
        const double beside = fmax(row > 0 ? product_at(status, channel, row - 1) : 0.0,
                                   product_at(status, channel, row + 1));
        s.product += product;
        if (nm < first.nm || nm > last.nm) {
            s.outside += product;
            s.ends += product * (nm < first.nm ? first.value : last.value);
            continue;
        }
        if (!(product > 0.0) && !(beside > 0.0))
            continue;
        const ww__spectrum_value value = ww__spectrum_at(spectrum, nm);
        s.inside += product * value.smooth;
        s.bends += product * fabs(value.smooth - value.straight);
        s.product_squares += product * product;
        s.value_squares += value.smooth * value.smooth;
    }
    return s;
}

static double share_between(ww_density_status status, ww_channel channel, double from, double to) {
    double share = 0.0;
    for (size_t row = 0; row < WW__PRODUCT_ROWS; row++) {
        const double nm = WW__PRODUCT_FIRST + WW__PRODUCT_STEP * (double)row;
        share += nm >= from && nm <= to ? product_at(status, channel, row) : 0.0;
    }
    return share;
}

/* Widens the wavelengths measured, on the side that lacks more, until a density can be made. */
static void widen(ww_density_status status, ww_channel channel, double *from, double *to) {
    const double all = share_between(status, channel, 0.0, HUGE_VAL);
    while (all - share_between(status, channel, *from, *to) > WW_SPECTRUM_OUTSIDE_MOST * all)
        if (share_between(status, channel, 0.0, *from - 1.0) >
            share_between(status, channel, *to + 1.0, HUGE_VAL))
            *from = WW__PRODUCT_STEP * (ceil(*from / WW__PRODUCT_STEP) - 1.0);
        else
            *to = WW__PRODUCT_STEP * (floor(*to / WW__PRODUCT_STEP) + 1.0);
}

static ww_status refuse_narrow(const ww_spectrum *spectrum, ww_density_status status,
                               ww_channel channel, double outside, ww_error *err) {
    const double first = spectrum->point[0].nm, last = spectrum->point[spectrum->n - 1].nm;
    double from = first, to = last;
    widen(status, channel, &from, &to);
    return ww_error_set(err, WW_ENODATA,
                        "%.1f %% of the %s product of status %s lies outside %g to %g nm, more "
                        "than %g %%; measure from %g to %g nm",
                        100.0 * outside, ww_channel_name(channel), ww_density_status_name(status),
                        first, last, 100.0 * WW_SPECTRUM_OUTSIDE_MOST, from, to);
}

static double density_of(double light, double product) {
    return light > 0.0 ? -log10(light / product) : (double)INFINITY;
}

/* What the light may be off by, apart from what lies outside. */
static double doubt_of(const sums *s, double resolution) {
    const double of_values = resolution / sqrt(12.0) * sqrt(s->product_squares);
    const double of_product = 2.0 * WW__PRODUCT_ROUNDING / sqrt(12.0) * sqrt(s->value_squares);
    return hypot(width_95 * hypot(of_values, of_product), s->bends);
}

ww_status ww_spectrum_density(const ww_spectrum *spectrum, ww_density_status status,
                              ww_channel channel, ww_spectrum_reading *reading, ww_error *err) {
    assert(spectrum && reading && channel < WW_CHANNEL_COUNT);
    const ww_status good = ww__spectrum_check(spectrum, err);
    if (good != WW_OK)
        return good;
    if (ww__status_product(status, channel, 0) < 0.0)
        return ww_error_set(err, WW_ENODATA,
                            "there is no spectral product for the %s density of status %s; take "
                            "status A, M, T or E",
                            ww_channel_name(channel), ww_density_status_name(status));
    const sums s = add_up(spectrum, status, channel);
    if (s.outside > WW_SPECTRUM_OUTSIDE_MOST * s.product)
        return refuse_narrow(spectrum, status, channel, s.outside / s.product, err);
    const double light = s.inside + s.ends, doubt = doubt_of(&s, spectrum->resolution);
    const double most = s.inside + fmax(s.outside, s.ends) + doubt;
    *reading = (ww_spectrum_reading){.outside = s.outside / s.product};
    if (light > 0.0)
        reading->density = (ww_quantity){density_of(light, s.product), density_of(most, s.product),
                                         density_of(s.inside - doubt, s.product), WW_MEASURED};
    return WW_OK;
}
