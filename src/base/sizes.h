/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_BASE_SIZES_H
#define WW_BASE_SIZES_H

#include <stddef.h>

static inline size_t ww__least(size_t a, size_t b) {
    return a < b ? a : b;
}

static inline size_t ww__most(size_t a, size_t b) {
    return a > b ? a : b;
}

#endif
