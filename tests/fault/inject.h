/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_INJECT_H
#define WEDGEWORK_TESTS_INJECT_H

#include "support/support.h"

/*
 * One operation, from start to finish: whatever it makes it releases, also where it fails. When it
 * succeeds it checks its result itself (a memory failure that was borne must not change it).
 */
typedef ww_status inject_operation(void *context, ww_error *err);

/*
 * Runs the operation again and again, the k-th allocation failing, for k = 1, 2, ... until it
 * needs fewer than k. Each run must end in WW_EMEMORY with a message (or in WW_OK, where the
 * system bears the failure by itself), and leave no more memory behind than it found. Allocations
 * of GSL, jansson and the C library count, too.
 */
void inject_each(const char *row, inject_operation *operation, void *context);

/*
 * The same where a library loses up to `foreign` blocks of its own when an allocation fails: GSL's
 * solver constructors leave what they already hold behind. Nothing is borne where none failed.
 */
void inject_each_but(const char *row, inject_operation *operation, void *context, long foreign);

#endif
