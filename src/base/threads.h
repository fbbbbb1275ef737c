/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_BASE_THREADS_H
#define WEDGEWORK_BASE_THREADS_H

#include <stddef.h>
#include <wedgework/error.h>

enum { WW__THREADS_MOST = 64 };

/*
 * Work on one item. `worker` (0 up to ww__threads_count less one) names the thread's own scratch
 * space. So that results do not depend on the number of threads, what an item gives may depend on
 * `item` alone and is left in a place of its own.
 */
typedef ww_status ww__threads_work(size_t item, size_t worker, void *context, ww_error *err);

/* Number of workers that ww__threads_for uses: `wanted`, or one a processor for 0; at least 1. */
size_t ww__threads_count(size_t wanted);

/*
 * ww__threads_for - work on items 0 to n_items - 1, the calling thread among the workers.
 *
 * Returned  WW_OK, or the status (and error) of the lowest item that failed, the same for any
 *           number of threads; items after it may not have been worked on. Where the system gives
 *           fewer threads than wanted, fewer do the work.
 */
ww_status ww__threads_for(size_t n_items, size_t n_threads, ww__threads_work *work, void *context,
                          ww_error *err);

#endif
