/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/profile.h"
#include "image/order.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The middle half, and its standard error as if the rest were as regular: from the quartiles. */
static void middle_half(double value[], size_t n, double *mean, double *error) {
    const size_t from = n / 4, to = n - n / 4;
    (void)ww__order_nth(value, n, from);
    (void)ww__order_nth(value + from, n - from, to - 1 - from);
    double sum = 0.0;
    for (size_t i = from; i < to; i++)
        sum += value[i];
    *mean = sum / (double)(to - from);
    const double spread = (value[to - 1] - value[from]) / 1.349; /* quartiles of a normal */
    *error = 1.1 * spread / sqrt((double)n);
}

ww_status ww__profile_mean(const ww__grid *grid, size_t v_from, size_t v_to, double light[],
                           double scatter[], ww_error *err) {
    assert(grid && grid->light && v_from < v_to && v_to <= grid->nv);
    double *column = malloc((v_to - v_from) * sizeof *column);
    if (!column)
        return ww_error_set(err, WW_EMEMORY, "no memory for a profile");
    for (size_t u = 0; u < grid->nu; u++) {
        size_t n = 0;
        for (size_t v = v_from; v < v_to; v++)
            if (grid->light[u + v * grid->nu] >= 0.0)
                column[n++] = grid->light[u + v * grid->nu];
        light[u] = -1.0, scatter[u] = 0.0;
        if (n > 0)
            middle_half(column, n, &light[u], &scatter[u]);
    }
    free(column);
    return WW_OK;
}

/* Place of the first value not below x in an ordered array. */
static size_t place_of(const double ordered[], size_t n, double x) {
    size_t low = 0, high = n;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (ordered[middle] < x)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

ww_status ww__profile_smooth(const double value[], size_t n, size_t reach, double smooth[],
                             ww_error *err) {
    double *window = malloc((2 * reach + 2) * sizeof *window);
    size_t held = 0;
    if (!window)
        return ww_error_set(err, WW_EMEMORY, "no memory for a profile");
    for (size_t i = 0, next = 0; i < n; i++) {
        for (; next < n && next <= i + reach; next++) {
            const size_t at = place_of(window, held, value[next]);
            memmove(&window[at + 1], &window[at], (held - at) * sizeof *window);
            window[at] = value[next];
            held++;
        }
        if (i > reach) {
            const size_t at = place_of(window, held, value[i - reach - 1]);
            memmove(&window[at], &window[at + 1], (held - at - 1) * sizeof *window);
            held--;
        }
        smooth[i] = 0.5 * (window[(held - 1) / 2] + window[held / 2]);
    }
    free(window);
    return WW_OK;
}
