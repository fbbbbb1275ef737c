/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CORE_DRAWS_H
#define WEDGEWORK_CORE_DRAWS_H

#include <stdint.h>
#include <wedgework/error.h>

/*
 * Numbers drawn by MT19937, the same on every machine: whole numbers, and doubles made of them by
 * exact steps.
 *
 * Source    Matsumoto and Nishimura, ACM Trans. Model. Comput. Simul. 8 (1998) 3, with the seeding
 *           of 2002
 */
typedef struct ww__draws ww__draws;

/* Status WW_OK; WW_EMEMORY. Seed 0 is that of 4357. */
ww_status ww__draws_new(uint32_t seed, ww__draws **draws, ww_error *err);
void ww__draws_free(ww__draws *draws);

uint32_t ww__draws_word(ww__draws *draws);

/* low to high, floor(word (high - low + 1) / 2^32) above low: even to 2^-32 of the range. */
long ww__draws_between(ww__draws *draws, long low, long high);

/* Sum of 12 words, each as a fraction of 2^32, less 6: mean 0, variance 1, never beyond 6; nearly
 * normal (excess kurtosis -0.1). Exact. */
double ww__draws_normal(ww__draws *draws);

/* A seed of its own for a stream of draws, of a seed and the stream's number: both mixed by odd
 * factors and shifts (Murmur3's finalizer). */
uint32_t ww__draws_stream(uint32_t seed, uint32_t stream);

#endif
