/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner.h"
#include "plan/scan_parts.h"
#include <math.h>

static ww_scan_pass pass_of(const ww_scan_request *request, ww_channel channel, double stops) {
    return (ww_scan_pass){request->scanner, channel, stops, 1.0};
}

/* The densest point of the calibration: beyond it the model alone speaks. */
static bool beyond_wedge(const ww_scanner_channel *calibrated, double density) {
    return calibrated->n_points > 0 && density > calibrated->point[0].density;
}

static void find_stops(const ww_scan_request *request, ww_channel channel, double error,
                       ww_scan_channel *made) {
    const double base = made->base_density;
    made->ends = ww__scanner_end(request->scanner, channel);
    const double share = WW_SCAN_BASE * ww_scan_pass_most(request->scanner, channel);
    const double stops = ww_scan_pass_stops_to(request->scanner, channel, base, share);
    made->doubt = ww_scan_pass_doubt(request->scanner, channel, base, error, share);
    const double half =
        hypot(hypot(made->doubt.readings, made->doubt.calibration), made->doubt.dark);
    made->stops = (ww_quantity){stops, stops - half, stops + half, WW_FITTED};
}

/* Within the wedge the end is as doubtful as that of the scanner file, which had other light. */
static void find_sight(const ww_scan_pass *pass, ww_scan_channel *made) {
    const ww_scanner_channel *calibrated = &pass->scanner->channel[pass->channel];
    const ww_quantity dmax = calibrated->dmax;
    const double sees = ww_scan_pass_reaches_sight(pass);
    if (!(sees < HUGE_VAL))
        return;
    made->sees = (ww_quantity){sees, sees, sees, WW_EXTRAPOLATED};
    if (!beyond_wedge(calibrated, sees))
        made->sees = (ww_quantity){sees, sees - (dmax.value - dmax.low),
                                   sees + (dmax.high - dmax.value), WW_FITTED};
}

static void fill_tones(const ww_scan_pass *pass, ww_scan_channel *made) {
    for (size_t i = 0; i < made->n_tones; i++) {
        ww_scan_tone *tone = &made->tone[i];
        if (tone->over)
            continue;
        tone->code = fmin(ww_scan_pass_code(pass, tone->density), made->ends);
        tone->snr = ww_scan_pass_snr(pass, tone->density);
        tone->noise = ww_scan_pass_noise(pass, tone->density);
    }
}

static void fill_highlight(const ww_scan_pass *pass, const ww_scan_tone *highlight,
                           ww_scan_channel *made) {
    const double density = highlight->density;
    const ww_scan_pass before = {pass->scanner, pass->channel, 0.0, 1.0};
    made->seen = ww_scan_pass_sight(pass, density) >= 1.0;
    made->beyond = beyond_wedge(&pass->scanner->channel[pass->channel], density);
    made->snr_before = (ww_optional){true, ww_scan_pass_snr(&before, density)};
    made->separable = ww_scan_pass_told(pass, density, 1.0);
    made->told = ww_scan_pass_told(pass, density, WW_SCAN_PATCH);
    made->contrast = ww_scan_pass_contrast(pass, density);
    made->own_step = ww_scan_pass_step(pass, density, 0);
    for (size_t i = 0; i < WW_SCAN_BITS; i++)
        made->step[i] = ww_scan_pass_step(pass, density, ww_scan_bits[i]);
}

void ww__scan_channel_fill(const ww_scan_request *request, ww_channel channel, double error,
                           ww_scan_channel *made) {
    find_stops(request, channel, error, made);
    const ww_scan_pass pass = pass_of(request, channel, made->stops.value);
    find_sight(&pass, made);
    made->base_code = ww_scan_pass_code(&pass, made->base_density);
    fill_tones(&pass, made);
    if (!made->tone[made->highlight].over)
        fill_highlight(&pass, &made->tone[made->highlight], made);
}

void ww__scan_channel_together(const ww_scan_request *request, ww_channel channel, double stops,
                               ww_scan_channel *made) {
    const ww_scan_tone *highlight = &made->tone[made->highlight];
    const ww_scan_pass pass = pass_of(request, channel, stops);
    made->light = exp2(made->stops.value - stops);
    if (!highlight->over)
        made->snr_together = (ww_optional){true, ww_scan_pass_snr(&pass, highlight->density)};
}
