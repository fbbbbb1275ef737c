/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/draws.h"
#include <assert.h>
#include <gsl/gsl_rng.h>
#include <stdlib.h>

struct ww__draws {
    gsl_rng *rng;
};

ww_status ww__draws_new(uint32_t seed, ww__draws **draws, ww_error *err) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    ww__draws *made = rng ? malloc(sizeof *made) : NULL;
    assert(draws);
    if (!made) {
        if (rng)
            gsl_rng_free(rng);
        return ww_error_set(err, WW_EMEMORY, "no memory to draw numbers");
    }
    gsl_rng_set(rng, seed);
    made->rng = rng;
    *draws = made;
    return WW_OK;
}

void ww__draws_free(ww__draws *draws) {
    if (!draws)
        return;
    gsl_rng_free(draws->rng);
    free(draws);
}

uint32_t ww__draws_word(ww__draws *draws) {
    return (uint32_t)gsl_rng_get(draws->rng);
}

long ww__draws_between(ww__draws *draws, long low, long high) {
    assert(low <= high);
    const uint64_t range = (uint64_t)(high - low) + 1;
    return low + (long)((ww__draws_word(draws) * range) >> 32);
}

double ww__draws_normal(ww__draws *draws) {
    uint64_t sum = 0;
    for (int i = 0; i < 12; i++)
        sum += ww__draws_word(draws);
    return (double)sum / 4294967296.0 - 6.0;
}

uint32_t ww__draws_stream(uint32_t seed, uint32_t stream) {
    uint32_t h = seed * 0x9e3779b1U + stream * 0x85ebca77U;
    h = (h ^ h >> 16) * 0x85ebca6bU;
    h = (h ^ h >> 13) * 0xc2b2ae35U;
    return h ^ h >> 16;
}
