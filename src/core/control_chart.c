/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <wedgework/control_chart.h>

#define SAME 1e-9 /* densities are written to 0.001: what is less is rounding of doubles */

ww_status ww_control_individuals_of(const double x[], size_t n, double least,
                                    ww_control_individuals *chart, ww_error *err) {
    double sum = 0.0, ranges = 0.0;
    assert(chart && (x || n == 0));
    if (n < 2)
        return ww_error_set(err, WW_EDOMAIN,
                            "%zu values make no chart; its limits take two at least", n);
    if (!(least >= 0.0) || !isfinite(least))
        return ww_error_set(err, WW_EDOMAIN, "sigma cannot be held to %g; give 0 or more", least);
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(x[i]))
            return ww_error_set(err, WW_EDOMAIN, "value %zu is not finite", i + 1);
        sum += x[i] - x[0];
        ranges += i > 0 ? fabs(x[i] - x[i - 1]) : 0.0;
    }
    chart->centre = x[0] + sum / (double)n;
    chart->mean_range = ranges / (double)(n - 1);
    chart->least = chart->mean_range / WW_CONTROL_D2 < least;
    chart->sigma = fmax(chart->mean_range / WW_CONTROL_D2, least);
    chart->lower = chart->centre - WW_CONTROL_LIMIT * chart->sigma;
    chart->upper = chart->centre + WW_CONTROL_LIMIT * chart->sigma;
    return WW_OK;
}

/* Whether `wanted` of the last `among` lie over `line` on the side where sign z is positive, the
 * last of all being one of them. */
static bool beyond(const double z[], size_t n, double sign, double line, size_t wanted,
                   size_t among) {
    size_t found = 0;
    if (!(sign * z[n - 1] > line + SAME))
        return false;
    for (size_t i = n - (n < among ? n : among); i < n; i++)
        found += sign * z[i] > line + SAME;
    return found >= wanted;
}

static bool climbs(const double z[], size_t n, double sign) {
    enum { TREND = 6 };
    if (n < TREND)
        return false;
    for (size_t i = n - TREND + 1; i < n; i++)
        if (!(sign * (z[i] - z[i - 1]) > SAME))
            return false;
    return true;
}

unsigned ww_control_runs(const double z[], size_t n) {
    unsigned found = 0;
    for (double sign = -1.0; n > 0 && sign < 2.0; sign += 2.0) {
        found |= beyond(z, n, sign, 2.0, 2, 3) ? WW_CONTROL_RUN_TWO : 0U;
        found |= beyond(z, n, sign, 1.0, 4, 5) ? WW_CONTROL_RUN_FOUR : 0U;
        found |= beyond(z, n, sign, 0.0, 8, 8) ? WW_CONTROL_RUN_EIGHT : 0U;
        found |= climbs(z, n, sign) ? WW_CONTROL_RUN_TREND : 0U;
    }
    return found;
}

void ww_control_false(size_t baseline, double *limit, double *runs) {
    static const struct {
        size_t baseline;
        double limit, runs;
    } found[] = {{20, 92.0, 26.9}, {15, 68.5, 22.0}, {10, 42.9, 15.8}, {0, 370.4, 60.2}};
    size_t at = 0;
    while (baseline < found[at].baseline)
        at++;
    *limit = found[at].limit;
    *runs = found[at].runs;
}

const char *ww_control_slow_name(ww_control_slow_kind kind) {
    switch (kind) {
    case WW_CONTROL_SLOW_EWMA:
        return "ewma";
    case WW_CONTROL_SLOW_CUSUM:
        return "cusum";
    case WW_CONTROL_SLOW_NONE:
        break;
    }
    return "none";
}

double ww_control_ewma(double before, double z, double weight) {
    assert(weight > 0.0 && weight <= 1.0);
    return weight * z + (1.0 - weight) * before;
}

double ww_control_ewma_limit(double weight) {
    assert(weight > 0.0 && weight <= 1.0);
    return WW_CONTROL_LIMIT * sqrt(weight / (2.0 - weight));
}

double ww_control_slow_part(const ww_control_slow *slow) {
    if (slow->kind == WW_CONTROL_SLOW_EWMA)
        return slow->up / ww_control_ewma_limit(WW_CONTROL_EWMA_WEIGHT);
    return (slow->up >= slow->down ? slow->up : -slow->down) / WW_CONTROL_CUSUM_LIMIT;
}

bool ww_control_slow_add(ww_control_slow *slow, double z) {
    if (slow->kind == WW_CONTROL_SLOW_NONE)
        return false;
    if (slow->kind == WW_CONTROL_SLOW_EWMA) {
        slow->up = ww_control_ewma(slow->up, z, WW_CONTROL_EWMA_WEIGHT);
    } else {
        slow->up = fmax(0.0, slow->up + z - WW_CONTROL_CUSUM_SLACK);
        slow->down = fmax(0.0, slow->down - z - WW_CONTROL_CUSUM_SLACK);
    }
    return fabs(ww_control_slow_part(slow)) > 1.0 + SAME;
}
