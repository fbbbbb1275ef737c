/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/three.h"
#include <assert.h>
#include <math.h>
#include <string.h>
#include <wedgework/response.h>

enum { COLOURS = WW_RESPONSE_COLOURS, ACTS = WW_RESPONSE_ACTS };

/* A response so near to none cannot be turned round; an ideal one has determinant 1. */
static const double least_determinant = 0.02;
static const double cc = 0.01; /* an act of 1 CC */

static double slope(const ww_response *response, size_t colour, size_t act) {
    return response->term[colour][act];
}

/* The inverse of the response to three of the acts, for each channel. */
static ww_status invert(const ww_response *response, const size_t act[COLOURS],
                        double inverse[COLOURS][COLOURS], ww_error *err) {
    double m[COLOURS][COLOURS];
    for (size_t c = 0; c < COLOURS; c++)
        for (size_t k = 0; k < COLOURS; k++)
            m[c][k] = slope(response, c, act[k]);
    if (!(fabs(ww__three_invert(m, inverse)) >= least_determinant))
        return ww_error_set(err, WW_EDOMAIN,
                            "by these prints the filters do not tell the channels apart; check the "
                            "packs and times of the ring-around");
    return WW_OK;
}

static double product(const double row[COLOURS], const double v[COLOURS]) {
    return row[0] * v[0] + row[1] * v[1] + row[2] * v[2];
}

ww_status ww_response_solve(const ww_response *response, const double change[COLOURS],
                            const ww_pack *from, double act[ACTS], ww_pack *to, ww_error *err) {
    static const size_t filters[COLOURS] = {1, 2, 3};
    double inverse[COLOURS][COLOURS], light[COLOURS], grey[COLOURS], alone[COLOURS];
    double log_time = -HUGE_VAL;
    ww_status status;
    assert(response && change && from && act && to);
    status = invert(response, filters, inverse, err);
    if (status != WW_OK)
        return status;
    /* Filters that do it at the same time, and those that hold back what a longer time gives. */
    for (size_t c = 0; c < COLOURS; c++)
        light[c] = -slope(response, c, 0);
    for (size_t f = 0; f < COLOURS; f++) {
        alone[f] = from->cc[f] + product(inverse[f], change) / cc;
        grey[f] = product(inverse[f], light) / cc;
        if (!(grey[f] > 0.0))
            return ww_error_set(
                err, WW_EDOMAIN,
                "by these prints no mixture of the filters is grey; check the packs "
                "and times of the ring-around");
        log_time = fmax(log_time, -alone[f] / grey[f]);
    }
    act[0] = log_time;
    for (size_t f = 0; f < COLOURS; f++) {
        to->cc[f] = fmax(alone[f] + log_time * grey[f], 0.0);
        if (to->cc[f] < 1e-9)
            to->cc[f] = 0.0; /* the one that the time was chosen for, but for rounding */
        act[f + 1] = cc * (to->cc[f] - from->cc[f]);
    }
    return WW_OK;
}

void ww_response_time(const ww_response *response, const double change[COLOURS],
                      const double weight[COLOURS], double act[ACTS]) {
    double above = 0.0, below = 0.0;
    assert(response && change && weight && act);
    for (size_t c = 0; c < COLOURS; c++) {
        const double by_time = slope(response, c, 0);
        double left = change[c];
        for (size_t a = 1; a < ACTS; a++)
            left -= slope(response, c, a) * act[a];
        above += weight[c] * by_time * left;
        below += weight[c] * by_time * by_time;
    }
    assert(below > 0.0);
    act[0] = above / below;
}

ww_status ww_response_doubt(const ww_response *response, const ww_pack *to,
                            const double covariance[COLOURS * COLOURS], double doubt[ACTS],
                            ww_error *err) {
    size_t act[COLOURS] = {0, 0, 0}, n = 1, least = 0;
    double inverse[COLOURS][COLOURS];
    ww_status status;
    assert(response && to && covariance && doubt);
    for (size_t f = 1; f < COLOURS; f++)
        least = to->cc[f] < to->cc[least] ? f : least;
    for (size_t f = 0; f < COLOURS; f++)
        if (f != least)
            act[n++] = f + 1;
    status = invert(response, act, inverse, err);
    if (status != WW_OK)
        return status;
    memset(doubt, 0, ACTS * sizeof *doubt);
    for (size_t k = 0; k < COLOURS; k++) {
        double sum = 0.0;
        for (size_t c = 0; c < COLOURS; c++)
            sum += inverse[k][c] * product(covariance + c * COLOURS, inverse[k]);
        doubt[act[k]] = sqrt(fmax(sum, 0.0));
    }
    return WW_OK;
}

double ww_response_lean(const ww_response *response, size_t filter) {
    static const double sd_of_95 = 1.959963984540054, most = 0.8;
    const size_t act = filter + 1, colour = ww_filter_channel((ww_filter)filter);
    double h;
    assert(response && filter < COLOURS);
    h = sd_of_95 * sqrt(response->covariance[(colour * ACTS + act) * (WW_RESPONSE_TERMS + 1)]) /
        fabs(slope(response, colour, act));
    h = fmin(h, most);
    return 1.0 / (1.0 - h * h);
}
