/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tone_response_end.h"
#include <assert.h>
#include <math.h>

static const double normal_95 = 1.96;     /* sd of a normal distribution */
static const double plateau_least = 0.02; /* of the scale, that a plateau spares */

double ww_tone_response_at(const double values[], double drive) {
    const double place = fmin(fmax(drive, 0.0), 1.0) * (WW_TONE_RESPONSE_POINTS - 1);
    const size_t i = (size_t)fmin(place, WW_TONE_RESPONSE_POINTS - 2);
    const double share = place - (double)i;
    return values[i] + share * (values[i + 1] - values[i]);
}

double ww_tone_response_density(const ww_tone_response *response, double drive) {
    assert(response);
    return ww_tone_response_at(response->density, drive);
}

double ww_tone_response_error(const ww_tone_response *response, double drive) {
    assert(response);
    return ww_tone_response_at(response->error, drive);
}

double ww_tone_response_drive(const ww_tone_response *response, double density) {
    assert(response);
    const double *d = response->density;
    size_t low = 0, high = WW_TONE_RESPONSE_POINTS - 1;
    if (density <= d[low])
        return 0.0;
    if (density >= d[high])
        return response->to;
    while (high - low > 1) { /* d[low] < density <= d[high] */
        const size_t middle = low + (high - low) / 2;
        if (d[middle] < density)
            low = middle;
        else
            high = middle;
    }
    const double share = (density - d[low]) / (d[high] - d[low]);
    return fmin(((double)low + share) / (WW_TONE_RESPONSE_POINTS - 1), response->to);
}

double ww_tone_response_learn(ww_tone_response *response, const ww_tone_response *later) {
    assert(response && later);
    double own = 0.0, others = 0.0, apart = 0.0;
    const double to = fmin(response->to, later->to);
    size_t n = 0;
    for (; n < WW_TONE_RESPONSE_POINTS && (double)n <= to * (WW_TONE_RESPONSE_POINTS - 1); n++) {
        own += response->error[n] * response->error[n];
        others += later->error[n] * later->error[n];
        apart += pow(later->density[n] - response->density[n], 2.0);
    }
    const double moved = fmax(0.0, apart - own - others);
    const double gain = (own + moved) / (own + moved + others);
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double stays = (1.0 - gain) * response->error[i], comes = gain * later->error[i];
        response->density[i] += gain * (later->density[i] - response->density[i]);
        response->missed[i] = later->missed[i] + later->density[i] - response->density[i];
        response->error[i] =
            fmax(sqrt(stays * stays + comes * comes), fabs(response->missed[i]) / normal_95);
    }
    response->n += later->n;
    ww__tone_response_end(response);
    return gain;
}

void ww__tone_response_end(ww_tone_response *response) {
    const double most = response->density[WW_TONE_RESPONSE_POINTS - 1];
    response->to = 1.0;
    const double near = ww_tone_response_drive(response, most - WW__PLATEAU_DENSITY);
    if (1.0 - near > plateau_least)
        response->to = near;
}
