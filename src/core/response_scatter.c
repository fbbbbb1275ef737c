/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/response.h>

enum { COLOURS = WW_RESPONSE_COLOURS, ROUNDS = 30 }; /* of halving: 2e-10 D */

static const double most = 0.2; /* [D] */
static const double sd_of_95 = 1.959963984540054, upper_95 = 0.975;
static const double least_freedom = 3.0; /* a print tells in three colours */

/* The fit of rows that scatter by sd besides their own errors. */
static ww_status fit_with(const ww_response_row row[], const double per_d[][COLOURS], size_t n,
                          size_t n_greys, double sd, ww_response_row copy[], ww_response *response,
                          ww_error *err) {
    memcpy(copy, row, n * sizeof *copy);
    for (size_t i = 0; i < n; i++)
        for (size_t c = 0; c < COLOURS; c++)
            copy[i].error[c] = hypot(row[i].error[c], sd * per_d[i][c]);
    return ww_response_fit(copy, n, n_greys, response, err);
}

ww_status ww_response_scatter(const ww_response_row row[],
                              const double per_d[][WW_RESPONSE_COLOURS], size_t n, size_t n_greys,
                              double *sd, double *wide, ww_error *err) {
    ww_response_row *copy = malloc((n > 0 ? n : 1) * sizeof *copy);
    ww_response response;
    double low = 0.0, high = 0.0;
    ww_status status;
    assert(row && per_d && sd && wide);
    if (!copy)
        return ww_error_set(err, WW_EMEMORY, "no memory for a ring-around");
    status = fit_with(row, per_d, n, n_greys, 0.0, copy, &response, err);
    if (status == WW_OK && response.freedom > 0 && /* else no print repeats what another tells */
        response.chi_squared > (double)response.freedom)
        high = most;
    for (int round = 0; round < ROUNDS && high > 0.0 && status == WW_OK; round++) {
        const double middle = 0.5 * (low + high);
        status = fit_with(row, per_d, n, n_greys, middle, copy, &response, err);
        *(response.chi_squared > (double)response.freedom ? &low : &high) = middle;
    }
    free(copy);
    if (status != WW_OK)
        return status;
    *sd = high;
    *wide = high > 0.0 ? high *
                             gsl_cdf_tdist_Pinv(upper_95, fmax((double)response.freedom / COLOURS,
                                                               least_freedom)) /
                             sd_of_95
                       : 0.0;
    return WW_OK;
}
