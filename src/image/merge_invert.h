/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_INVERT_H
#define WW_IMAGE_MERGE_INVERT_H

#include <stdbool.h>
#include <stddef.h>

/* Normal equations of a displacement: two gradients, light and a constant. */
enum { WW__MERGE_TERMS = 4 };

/* Inverts a positive matrix in place; false where it is none. */
static inline bool ww__merge_invert(double m[WW__MERGE_TERMS][WW__MERGE_TERMS]) {
    for (size_t k = 0; k < WW__MERGE_TERMS; k++) {
        const double pivot = m[k][k];
        if (!(pivot > 0.0))
            return false;
        m[k][k] = 1.0;
        for (size_t j = 0; j < WW__MERGE_TERMS; j++)
            m[k][j] /= pivot;
        for (size_t i = 0; i < WW__MERGE_TERMS; i++) {
            const double factor = m[i][k];
            if (i == k)
                continue;
            m[i][k] = 0.0;
            for (size_t j = 0; j < WW__MERGE_TERMS; j++)
                m[i][j] -= factor * m[k][j];
        }
    }
    return true;
}

#endif
