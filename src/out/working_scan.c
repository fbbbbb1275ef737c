/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/working.h"
#include <math.h>

static const char model[] = "code / white = (dark + k (10^-D + flare))^(1 / gamma)";
static const char srgb[] = "code / white = the curve of sRGB of dark + k (10^-D + flare)";
static const char noise_formula[] =
    "variance = read^2 + shot^2 L + (fixed L)^2, L the light beyond "
    "dark, full scale 1; sd of D = sd / (ln 10 x signal)";
static const char noise_source[] = "common practice; signal/noise of 1: ISO 21550 (its abstract)";

static const char *model_of(const ww_scanner *scanner) {
    return scanner->encoding == WW_ENCODING_SRGB ? srgb : model;
}

static void add_model(const ww_scanner *scanner, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    ww__text_add_format(&numbers, "white %.0f, gamma %.3g", scanner->white, scanner->gamma.value);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scanner_channel *channel = &scanner->channel[c];
        if (channel->present)
            ww__text_add_format(&numbers, "; %s: k %.4f, dark %.5f, flare %.5f",
                                ww_channel_name((ww_channel)c), channel->k, channel->dark.value,
                                channel->flare.value);
    }
    ww__working_step(report, "code of a density", model_of(scanner), &numbers,
                     "definition of dark, flare and gamma; weighted least squares, and a smooth "
                     "correction of what is left (kriging; Patterson and Thompson, Biometrika 58, "
                     "1971)");
}

void ww__working_scanner(const ww_scanner *scanner, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    ww__working_begin(report);
    add_model(scanner, report);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scanner_channel *channel = &scanner->channel[c];
        if (!channel->present)
            continue;
        ww__text_add_format(&numbers, "%s%s: read %.3g, shot %.3g, fixed %.3g",
                            numbers.n > 0 ? "; " : "", ww_channel_name((ww_channel)c),
                            channel->noise.read, channel->noise.shot, channel->noise.fixed);
        if (ww_quantity_present(channel->dmax))
            ww__text_add_format(&numbers, ", sees to D %.2f", channel->dmax.value);
    }
    ww__working_step(report, "noise of a pixel, and how far it sees", noise_formula, &numbers,
                     noise_source);
}

void ww__working_measured(const ww_measured *measured, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    ww__working_begin(report);
    ww__text_add_format(&numbers, "greatest code %.0f; %zu places", measured->white, measured->n);
    ww__working_step(report, "code of a place",
                     "mean of its kept pixels as light, turned back into a code; pixels far from "
                     "their neighbours are left out as dust or scratches",
                     &numbers, "average of transmittance, then the logarithm: common practice");
    if (measured->calibrated)
        ww__working_step(report, "density of a code",
                         "D = -log10((light - dark) / k - flare), light by the scanner file's "
                         "encoding, and its correction",
                         &numbers, ww__working_definition);
    else
        ww__working_step(report, "density", "none without a scanner file", &numbers,
                         ww__working_definition);
    ww__working_step(report, "trust",
                     "1.96 x root of the sum of squares: calibration, noise of the mean, level and "
                     "evenness of the light",
                     &numbers, "common practice; the weights of unevenness are this program's");
}

void ww__working_whole(const ww_whole *whole, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    ww__working_begin(report);
    ww__text_add_format(&numbers, "%zu pixels", whole->pixels);
    ww__working_step(report, "percentile",
                     "the least code that at least p % of the pixels do not exceed", &numbers,
                     ww__working_definition);
    if (whole->calibrated)
        ww__working_step(report, "density of a code",
                         "D = -log10((light - dark) / k - flare), light by the scanner file's "
                         "encoding, and its correction",
                         &numbers, ww__working_definition);
}

static void add_stops(const ww_scan_plan *plan, const ww_scanner *scanner, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        if (!channel->present || !ww_quantity_present(channel->stops))
            continue;
        ww__text_add_format(&numbers, "%s%s: D %.3f goes to code %.0f of %.0f with %+.2f stop",
                            numbers.n > 0 ? "; " : "", ww_channel_name((ww_channel)c),
                            channel->base_density, channel->base_code, channel->ends,
                            channel->stops.value);
    }
    ww__working_step(report, "exposure",
                     "log2 of the light that brings film base to 95 % of full scale, as light, by "
                     "the model of the scanner file",
                     &numbers, "95 %: common practice");
    ww__working_step(report, "the model of the scanner file", model_of(scanner), &numbers,
                     ww__working_definition);
}

static void add_told(const ww_scan_plan *plan, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    ww__working_step(report, "noise of a pixel", noise_formula, &numbers, noise_source);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        if (!channel->present || channel->n_tones == 0 || channel->tone[channel->highlight].over)
            continue;
        ww__text_add_format(&numbers, "%s%s: noise %.4f D at '%s'; %.4f D told over 3 x 3 pixels",
                            numbers.n > 0 ? "; " : "", ww_channel_name((ww_channel)c),
                            channel->tone[channel->highlight].noise,
                            channel->tone[channel->highlight].tone, channel->told);
    }
    ww__text_add_format(&numbers, "; asked for: %.4f D", plan->separate);
    ww__working_step(
        report, "difference that is told apart",
        "2.8 sd of D / sqrt n, n pixels averaged, what flare takes of contrast and what "
        "one code is counted in",
        &numbers, "two means apart by 1.96 sqrt 2 of their error (95 %)");
}

void ww__working_scan_plan(const ww_scan_plan *plan, const ww_scanner *scanner,
                           ww__report *report) {
    ww__working_begin(report);
    add_stops(plan, scanner, report);
    add_told(plan, report);
}

void ww__working_scan_merge(const ww_scan_merge *merge, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    ww__working_begin(report);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_merge_channel *channel = &merge->channel[c];
        if (channel->present)
            ww__text_add_format(&numbers, "%s%s: light x %.3f, log2 of it %.3f stop, offset %.5f",
                                numbers.n > 0 ? "; " : "", ww_channel_name((ww_channel)c),
                                channel->ratio.value, channel->stops.value, channel->offset);
    }
    ww__working_step(
        report, "ratio of the two exposures",
        "slope of longer = offset + ratio x shorter, errors in both, through means of 8 "
        "x 8 pixels",
        &numbers,
        "York, Evensen, Martinez and Delgado, Am. J. Phys. 72 (2004) 367-375; bisquare: "
        "Beaton and Tukey, Technometrics 16 (1974) 147-185");
    ww__working_step(
        report, "merged light",
        "each scan by the inverse of its variance, the longer divided by the ratio; the "
        "shorter alone where the longer clips, faded in",
        &numbers, "least variance; blending: common practice");
    ww__working_step(report, "noise of a pixel", noise_formula, &numbers, noise_source);
}

void ww__working_scan_densities(const ww_scan_densities *densities, const ww_scanner *scanner,
                                ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    ww__working_begin(report);
    add_model(scanner, report);
    ww__working_step(
        report, "density of a pixel",
        "D = -log10((light - dark) / k - flare), and the correction of the scanner file", &numbers,
        ww__working_definition);
    ww__text_add(&numbers, densities->scaled ? "D 1.00 is code 15000" : "D itself");
    ww__working_step(report, "what is written",
                     densities->scaled ? "code = 10000 D + 5000" : "floating point, D itself",
                     &numbers, ww__working_definition);
}
