/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/scan_parts.h"
#include <math.h>

bool ww__scan_more_one(const ww_scan_channel *made, double separate) {
    return !made->tone[made->highlight].over && made->told <= separate;
}

/* The second scan serves from where the first ends, which must not clip in it. */
static bool serves(const ww_scan_pass *second, double switch_at, double density, double separate) {
    const double clips = ww_scan_pass_lightest(second, WW_SCAN_BASE);
    return clips + WW__SCAN_BLEND <= switch_at &&
           ww_scan_pass_told(second, density, WW_SCAN_PATCH) <= separate;
}

static void find_second(const ww_scan_pass *first, double separate, ww_scan_channel *made) {
    const ww_scan_tone *highlight = &made->tone[made->highlight];
    const double switch_at = ww_scan_pass_reaches_told(first, WW_SCAN_PATCH, separate);
    for (int thirds = 1; thirds <= WW__SCAN_SECOND_MOST; thirds++) {
        const double more = thirds / 3.0;
        const ww_scan_pass second = {first->scanner, first->channel, first->stops + more, 1.0};
        if (!serves(&second, switch_at, highlight->density, separate))
            continue;
        made->second_stops = more;
        made->switch_at = switch_at;
        made->second_told = ww_scan_pass_told(&second, highlight->density, WW_SCAN_PATCH);
        made->gain = highlight->noise / ww_scan_pass_noise(&second, highlight->density);
        return;
    }
}

static void find_average(const ww_scan_pass *first, double separate, ww_scan_channel *made) {
    const double density = made->tone[made->highlight].density;
    for (unsigned n = 2; n <= WW__SCAN_AVERAGE_MOST; n++) {
        const ww_scan_pass mean = {first->scanner, first->channel, first->stops, n};
        if (ww_scan_pass_told(&mean, density, WW_SCAN_PATCH) <= separate) {
            made->average = n;
            return;
        }
    }
}

void ww__scan_more(const ww_scan_request *request, ww_channel channel, ww_scan_channel *made) {
    const ww_scan_pass first = {request->scanner, channel, made->stops.value, 1.0};
    if (made->tone[made->highlight].over)
        return;
    if (ww__scan_more_one(made, request->separate)) {
        made->average = 1;
        return;
    }
    find_second(&first, request->separate, made);
    find_average(&first, request->separate, made);
}
