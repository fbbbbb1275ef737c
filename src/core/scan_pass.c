/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "merged.h"
#include "rounding.h"
#include "scanner.h"
#include "scanner_noise.h"
#include "scanner_steps.h"
#include <assert.h>
#include <math.h>
#include <wedgework/scan_pass.h>

static const double pi = 3.14159265358979324;
static const double log10_2 = 0.30102999566398119521;
static const double thinnest = -1.0, densest = 8.0; /* D, between which densities are looked for */

static const ww_scanner_channel *of(const ww_scan_pass *pass) {
    assert(pass && pass->scanner && pass->frames >= 1.0);
    assert(pass->scanner->channel[pass->channel].present);
    return &pass->scanner->channel[pass->channel];
}

static double known(ww_quantity quantity) {
    return ww_quantity_present(quantity) ? quantity.value : 0.0;
}

static double flare_of(const ww_scanner_channel *channel) {
    return fmax(known(channel->flare), 0.0);
}

/* Log of a point's light over that of the model; 0 where there is no light to compare. */
static double rest_of(const ww_scanner *scanner, const ww_scanner_channel *channel, size_t point) {
    const ww_scanner_point *p = &channel->point[point];
    const double model = channel->k * (pow(10.0, -p->density) + flare_of(channel));
    const double light = ww_scanner_light(scanner, p->code) - known(channel->dark);
    return light > 0.0 && model > 0.0 ? log(light / model) : 0.0;
}

/* The points beside a density, `share` of the way from one to the next. */
typedef struct beside {
    size_t one, next;
    double share;
} beside;

static beside find_beside(const ww_scanner_channel *channel, double density) {
    const ww_scanner_point *p = channel->point; /* falling density */
    size_t low = 0, high = channel->n_points - 1;
    if (density >= p[0].density)
        return (beside){0, 0, 0.0};
    if (density <= p[high].density)
        return (beside){high, high, 0.0};
    while (high - low > 1) {
        const size_t middle = low + (high - low) / 2;
        if (p[middle].density > density)
            low = middle;
        else
            high = middle;
    }
    return (beside){low, high, (p[low].density - density) / (p[low].density - p[high].density)};
}

static double rest_at(const ww_scanner *scanner, const ww_scanner_channel *channel,
                      double density) {
    if (channel->n_points == 0)
        return 1.0;
    const beside at = find_beside(channel, density);
    return exp((1.0 - at.share) * rest_of(scanner, channel, at.one) +
               at.share * rest_of(scanner, channel, at.next));
}

double ww_scan_pass_signal(const ww_scan_pass *pass, double density) {
    const ww_scanner_channel *channel = of(pass);
    return exp2(pass->stops) * rest_at(pass->scanner, channel, density) * channel->k *
           pow(10.0, -density);
}

static double beyond(const ww_scan_pass *pass, double density) {
    return ww_scan_pass_signal(pass, density) / ww_scan_pass_contrast(pass, density);
}

double ww_scan_pass_light(const ww_scan_pass *pass, double density) {
    return known(of(pass)->dark) + beyond(pass, density);
}

double ww_scan_pass_code(const ww_scan_pass *pass, double density) {
    return ww_scanner_code(pass->scanner, ww_scan_pass_light(pass, density));
}

double ww_scan_pass_contrast(const ww_scan_pass *pass, double density) {
    const double image = pow(10.0, -density);
    return image / (image + flare_of(of(pass)));
}

/* Width of a code as light, where the codes are of so many bits; 0 in floating point. */
static double code_width(const ww_scan_pass *pass, double density, unsigned bits) {
    const ww_scanner *scanner = pass->scanner;
    const double light = fmax(ww_scan_pass_light(pass, density), 0.0);
    const double step = bits > 0 ? scanner->white / (exp2(bits) - 1.0)
                                 : ww__scanner_steps_code(scanner->step, scanner->white);
    return ww_scanner_light(scanner, ww_scanner_code(scanner, light) + step) - light;
}

/* Noise of a pixel in codes, without that of rounding. */
typedef struct noises {
    double frame;   /* what differs from frame to frame */
    double pattern; /* what does not */
} noises;

static noises noises_of(const ww_scanner_noise *noise, double light, double width) {
    const double all = pow(ww__scanner_noise_sd(noise, light) / width, 2.0) - 1.0 / 12.0;
    const double pattern = fmin(pow(noise->fixed * light / width, 2.0), fmax(all, 0.0));
    return (noises){sqrt(fmax(all - pattern, 0.0)), sqrt(pattern)};
}

/* How much of a code shows through the noise: 1 in full, 0 not at all. */
static double shows(const ww_scan_pass *pass, double density) {
    const double width = code_width(pass, density, 0);
    if (!(width > 0.0))
        return 0.0;
    const noises noise = noises_of(&of(pass)->noise, beyond(pass, density), width);
    return exp(-2.0 * pi * pi * (noise.frame * noise.frame + noise.pattern * noise.pattern));
}

/* In codes squared. Pixels differ by the pattern, so that it carries them across codes, too. */
static ww_scan_error error_in_codes(noises noise, double n) {
    const double frame = noise.frame * noise.frame, pattern = noise.pattern * noise.pattern;
    const double own = ww__rounding_bias_2(noise.frame);
    const double common = ww__rounding_bias_2(sqrt(frame + pattern));
    return (ww_scan_error){.scans = (frame + 1.0 / 12.0 - own) / n,
                           .codes = common + (own - common) / n,
                           .pattern = pattern / n};
}

ww_scan_error ww_scan_pass_error(const ww_scan_pass *pass, double density, double n) {
    const ww_scanner_noise *noise = &of(pass)->noise;
    const double light = beyond(pass, density), width = code_width(pass, density, 0);
    const double signal = WW__SCANNER_LN10 * ww_scan_pass_signal(pass, density);
    const double unit = (width > 0.0 ? width * width : 1.0) / (signal * signal);
    ww_scan_error error;
    if (width > 0.0)
        error = error_in_codes(noises_of(noise, light, width), n);
    else
        error = (ww_scan_error){
            .scans = (noise->read * noise->read + noise->shot * noise->shot * light) / n,
            .pattern = noise->fixed * noise->fixed * light * light / n};
    return (ww_scan_error){error.scans * unit, error.codes * unit, error.pattern * unit};
}

/* Of the mean of n pixels, each the mean of the pass's scans, one sd [D]. */
static double error_of(const ww_scan_pass *pass, double density, double n) {
    const ww_scan_error error = ww_scan_pass_error(pass, density, n);
    return sqrt(error.scans / pass->frames + error.codes + error.pattern);
}

double ww_scan_pass_noise(const ww_scan_pass *pass, double density) {
    return error_of(pass, density, 1.0);
}

double ww_scan_pass_snr(const ww_scan_pass *pass, double density) {
    const double noise = ww_scan_pass_noise(pass, density);
    return noise > 0.0 ? 1.0 / (WW__SCANNER_LN10 * noise) : HUGE_VAL;
}

double ww_scan_pass_step(const ww_scan_pass *pass, double density, unsigned bits) {
    return log10(1.0 + code_width(pass, density, bits) / ww_scan_pass_signal(pass, density));
}

double ww_scan_pass_sight(const ww_scan_pass *pass, double density) {
    const double signal = ww_scan_pass_signal(pass, density);
    const double code = shows(pass, density) * code_width(pass, density, 0) / signal;
    const double least = hypot(WW__SCANNER_LN10 * ww_scan_pass_noise(pass, density), code);
    return least > 0.0 ? 1.0 / least : HUGE_VAL;
}

double ww_scan_pass_told(const ww_scan_pass *pass, double density, double n) {
    return WW_SCAN_TOLD * error_of(pass, density, n);
}

/* ------------------------------------------------------------------------------- two exposures */

/* Variance of a pixel that a merge weighs by, in density. */
static double weighed(const ww_scan_pass *pass, double density) {
    const ww_scanner_noise *noise = &of(pass)->noise;
    const double signal = ww_scan_pass_signal(pass, density);
    const double variance = ww__merged_read(noise, pass->scanner->white) +
                            noise->shot * noise->shot * beyond(pass, density);
    return variance / (signal * signal);
}

static double clipped_from(const ww_scan_pass *pass) {
    return ww_scanner_light(pass->scanner,
                            WW__MERGED_CLIPPED * ww__scanner_end(pass->scanner, pass->channel));
}

ww_scan_pair ww_scan_pass_pair(const ww_scan_pass *first, double more, double density, double n) {
    ww_scan_pass second = *first;
    second.stops += more;
    const double weight =
        ww__merged_weight(weighed(first, density), weighed(&second, density)) *
        ww__merged_fade(ww_scan_pass_light(&second, density), clipped_from(&second));
    return (ww_scan_pair){ww_scan_pass_error(first, density, n),
                          ww_scan_pass_error(&second, density, n), weight};
}

double ww_scan_pair_noise(const ww_scan_pair *pair, double first, double second) {
    const double w = pair->weight, rest = 1.0 - w;
    return sqrt(rest * rest * (pair->first.scans / first + pair->first.codes) +
                w * w * (pair->second.scans / second + pair->second.codes) + pair->first.pattern);
}

ww_scan_fade ww_scan_pass_fade(const ww_scan_pass *first, double more) {
    ww_scan_pass second = *first;
    second.stops += more;
    const double clipped = clipped_from(&second);
    return (ww_scan_fade){ww_scan_pass_lightest(&second, clipped),
                          ww_scan_pass_lightest(&second, clipped * pow(10.0, -WW__MERGED_BLEND))};
}

/* ------------------------------------------------------------------------ densities looked for */

/* What holds up to a density. */
typedef struct wanted {
    const ww_scan_pass *pass;
    double limit, n;
    bool (*holds)(const struct wanted *w, double density);
} wanted;

static double last_of(const wanted *w) {
    double thin = thinnest, dense = densest;
    if (!w->holds(w, thin))
        return -HUGE_VAL;
    if (w->holds(w, dense))
        return HUGE_VAL;
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (thin + dense);
        if (w->holds(w, middle))
            thin = middle;
        else
            dense = middle;
    }
    return thin;
}

static bool is_seen(const wanted *w, double density) {
    return ww_scan_pass_sight(w->pass, density) >= w->limit;
}

static bool is_as_light(const wanted *w, double density) {
    return ww_scan_pass_light(w->pass, density) >= w->limit;
}

static bool is_told(const wanted *w, double density) {
    return ww_scan_pass_told(w->pass, density, w->n) <= w->limit;
}

double ww_scan_pass_reaches_sight(const ww_scan_pass *pass) {
    return last_of(&(wanted){pass, 1.0, 1.0, is_seen});
}

double ww_scan_pass_lightest(const ww_scan_pass *pass, double share) {
    const double found = last_of(&(wanted){pass, share, 1.0, is_as_light});
    return found < HUGE_VAL ? found : -HUGE_VAL;
}

double ww_scan_pass_reaches_told(const ww_scan_pass *pass, double n, double most) {
    return last_of(&(wanted){pass, most, n, is_told});
}

/* ------------------------------------------------------------------------------------- stops */

double ww_scan_pass_most(const ww_scanner *scanner, ww_channel channel) {
    return ww_scanner_light(scanner, ww__scanner_end(scanner, channel));
}

double ww_scan_pass_stops_to(const ww_scanner *scanner, ww_channel channel, double density,
                             double share) {
    const ww_scan_pass pass = {scanner, channel, 0.0, 1.0};
    return log2((share - known(of(&pass)->dark)) / beyond(&pass, density));
}

/* Either way of sharing the constant out between dark, which stays, and flare, which does not. */
static double doubt_of_dark(const ww_scan_pass *pass, double density, double share) {
    const ww_quantity dark = of(pass)->dark;
    const double light = ww_scan_pass_light(pass, density);
    if (!ww_quantity_present(dark) || !(dark.high < fmin(light, share)))
        return 0.0;
    return 0.5 * fabs(log2((share - dark.high) / (light - dark.high)) -
                      log2((share - dark.low) / (light - dark.low)));
}

ww_scan_doubt ww_scan_pass_doubt(const ww_scanner *scanner, ww_channel channel, double density,
                                 double error, double share) {
    const ww_scan_pass pass = {scanner, channel, 0.0, 1.0};
    const ww_scanner_channel *calibrated = of(&pass);
    const double slope = ww_scan_pass_contrast(&pass, density) / log10_2; /* stops a D */
    ww_scan_doubt doubt = {.readings = WW__SCANNER_95 * error * slope,
                           .dark = doubt_of_dark(&pass, density, share)};
    if (calibrated->n_points > 0) {
        const beside at = find_beside(calibrated, density);
        doubt.calibration = slope * ((1.0 - at.share) * calibrated->point[at.one].doubt +
                                     at.share * calibrated->point[at.next].doubt);
    }
    return doubt;
}
