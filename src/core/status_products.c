/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The figures of the table are those of python-colormath, colormath/density_standards.py at commit
 * 0f5e0432; the 0.79 of status A blue at 480 nm is corrected to 0.97, the 2.989 of the standard's
 * logarithms (from memory). They are under this licence:
 *
 * Copyright (c) 2008-2023, Greg Taylor
 * All rights reserved.
 *
 * Redistribution and use in source and binary forms, with or without modification,
 * are permitted provided that the following conditions are met:
 *
 *  - Redistributions of source code must retain the above copyright notice, this
 *    list of conditions and the following disclaimer.
 *  - Redistributions in binary form must reproduce the above copyright notice,
 *    this list of conditions and the following disclaimer in the documentation
 *    and/or other materials provided with the distribution.
 *  - Neither the name of the python-colormath nor the names of its
 *    contributors may be used to endorse or promote products derived from this
 *    software without specific prior written permission.
 *
 * THIS SOFTWARE IS PROVIDED BY THE COPYRIGHT HOLDERS AND CONTRIBUTORS "AS IS" AND
 * ANY EXPRESS OR IMPLIED WARRANTIES, INCLUDING, BUT NOT LIMITED TO, THE IMPLIED
 * WARRANTIES OF MERCHANTABILITY AND FITNESS FOR A PARTICULAR PURPOSE ARE
 * DISCLAIMED. IN NO EVENT SHALL THE COPYRIGHT HOLDER OR CONTRIBUTORS BE LIABLE
 * FOR ANY DIRECT, INDIRECT, INCIDENTAL, SPECIAL, EXEMPLARY, OR CONSEQUENTIAL
 * DAMAGES (INCLUDING, BUT NOT LIMITED TO, PROCUREMENT OF SUBSTITUTE GOODS OR
 * SERVICES; LOSS OF USE, DATA, OR PROFITS; OR BUSINESS INTERRUPTION) HOWEVER
 * CAUSED AND ON ANY THEORY OF LIABILITY, WHETHER IN CONTRACT, STRICT LIABILITY,
 * OR TORT (INCLUDING NEGLIGENCE OR OTHERWISE) ARISING IN ANY WAY OUT OF THE USE
 * OF THIS SOFTWARE, EVEN IF ADVISED OF THE POSSIBILITY OF SUCH DAMAGE.
 */
#include "status_products.h"

#include <assert.h>

enum {
    COLOURS = 3,
    STATUSES = WW_STATUS_E - WW_STATUS_A + 1,
    VISUAL = COLOURS * STATUSES,
    PRODUCTS
};

/* Percent of the peak: red, green, blue of status A, M, T and E, as enumerated, and visual. */
/* clang-format off */
static const double product[WW__PRODUCT_ROWS][PRODUCTS] = {
    /* 340 */ {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0},
    /* 350 */ {0, 0, 0, 0, 0, 0, 0, 0, 0.01, 0, 0, 0, 0},
    /* 360 */ {0, 0, 0, 0, 0, 0, 0, 0, 0.02, 0, 0, 0, 0},
    /* 370 */ {0, 0, 0, 0, 0, 0, 0, 0, 0.1, 0, 0, 0.01, 0},
    /* 380 */ {0, 0, 0, 0, 0, 0, 0, 0, 0.3, 0, 0, 0.27, 0},
    /* 390 */ {0, 0, 0, 0, 0, 0, 0, 0, 1.5, 0, 0, 2.7, 0},
    /* 400 */ {0, 0, 0, 0, 0, 0, 0, 0, 6, 0, 0, 13, 0.01},
    /* 410 */ {0, 0, 0, 0, 0, 0.13, 0, 0, 16.98, 0, 0, 29.99, 0.02},
    /* 420 */ {0, 0, 4, 0, 0, 12.91, 0, 0, 39.99, 0, 0, 59.98, 0.08},
    /* 430 */ {0, 0, 65.92, 0, 0, 42.85, 0, 0, 59.98, 0, 0, 82.04, 0.28},
    /* 440 */ {0, 0, 100, 0, 0, 74.3, 0, 0, 82.04, 0, 0, 100, 0.65},
    /* 450 */ {0, 0, 81.66, 0, 0, 100, 0, 0, 93.97, 0, 0, 90.99, 1.23},
    /* 460 */ {0, 0, 41.69, 0, 0, 90.16, 0, 0, 100, 0, 0, 76.03, 2.22},
    /* 470 */ {0, 0, 10.96, 0, 0.01, 55.34, 0, 0, 97.05, 0, 0.01, 46.99, 3.82},
    /* 480 */ {0, 0, 0.97, 0, 0.16, 22.03, 0, 1, 84.92, 0, 1, 17.99, 6.58},
    /* 490 */ {0, 0, 0.04, 0, 1.43, 5.53, 0, 5, 65.01, 0, 5, 6, 10.99},
    /* 500 */ {0, 0.04, 0, 0, 6.37, 0.98, 0, 27.99, 39.99, 0, 27.99, 0.8, 18.88},
    /* 510 */ {0, 6.64, 0, 0, 18.71, 0.07, 0, 68.08, 17.99, 0, 68.08, 0.05, 32.58},
    /* 520 */ {0, 60.53, 0, 0, 42.27, 0, 0, 92.04, 5, 0, 92.04, 0.01, 50.35},
    /* 530 */ {0, 100, 0, 0, 74.47, 0, 0, 100, 0.2, 0, 100, 0, 66.83},
    /* 540 */ {0, 80.54, 0, 0, 100, 0, 0, 87.9, 0.04, 0, 87.9, 0, 80.35},
    /* 550 */ {0, 44.06, 0, 0, 98.86, 0, 0, 66.07, 0, 0, 66.07, 0, 90.57},
    /* 560 */ {0, 16.63, 0, 0, 65.77, 0, 0, 41.98, 0, 0.01, 41.98, 0, 97.5},
    /* 570 */ {0, 4.06, 0, 0, 28.71, 0, 0.06, 21.98, 0, 0.06, 21.98, 0, 100},
    /* 580 */ {0, 0.58, 0, 0, 8.22, 0, 0.45, 8.99, 0, 0.45, 8.99, 0, 97.5},
    /* 590 */ {0, 0.04, 0, 0, 1.49, 0, 29.99, 2.5, 0, 29.99, 2.5, 0, 90.36},
    /* 600 */ {0.37, 0, 0, 0, 0.17, 0, 100, 0.7, 0, 100, 0.7, 0, 79.8},
    /* 610 */ {43.45, 0, 0, 0, 0.01, 0, 84.92, 0.09, 0, 84.92, 0.09, 0, 67.14},
    /* 620 */ {100, 0, 0, 0.13, 0, 0, 54.95, 0.01, 0, 54.95, 0.01, 0, 53.83},
    /* 630 */ {74.3, 0, 0, 30.13, 0, 0, 25, 0, 0, 25, 0, 0, 39.17},
    /* 640 */ {40.18, 0, 0, 100, 0, 0, 10, 0, 0, 10, 0, 0, 27.1},
    /* 650 */ {19.32, 0, 0, 79.25, 0, 0, 5, 0, 0, 5, 0, 0, 17.3},
    /* 660 */ {7.94, 0, 0, 37.84, 0, 0, 1.5, 0, 0, 1.5, 0, 0, 10.3},
    /* 670 */ {3.56, 0, 0, 17.86, 0, 0, 0.5, 0, 0, 0.5, 0, 0, 5.61},
    /* 680 */ {1.46, 0, 0, 7.5, 0, 0, 0.3, 0, 0, 0.3, 0, 0, 3.09},
    /* 690 */ {0.6, 0, 0, 3.1, 0, 0, 0.15, 0, 0, 0.15, 0, 0, 1.54},
    /* 700 */ {0.24, 0, 0, 1.26, 0, 0, 0.05, 0, 0, 0.05, 0, 0, 0.8},
    /* 710 */ {0.09, 0, 0, 0.49, 0, 0, 0.01, 0, 0, 0.01, 0, 0, 0.42},
    /* 720 */ {0.04, 0, 0, 0.19, 0, 0, 0, 0, 0, 0, 0, 0, 0.22},
    /* 730 */ {0.01, 0, 0, 0.07, 0, 0, 0, 0, 0, 0, 0, 0, 0.11},
    /* 740 */ {0.01, 0, 0, 0.03, 0, 0, 0, 0, 0, 0, 0, 0, 0.05},
    /* 750 */ {0, 0, 0, 0.01, 0, 0, 0, 0, 0, 0, 0, 0, 0.03},
    /* 760 */ {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0.01},
    /* 770 */ {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0.01},
};
/* clang-format on */

static size_t column_of(ww_density_status status, ww_channel channel) {
    if (channel == WW_VISUAL)
        return status <= WW_STATUS_VISUAL ? VISUAL : PRODUCTS;
    return status >= WW_STATUS_A && status <= WW_STATUS_E
               ? COLOURS * (size_t)(status - WW_STATUS_A) + (size_t)channel
               : PRODUCTS;
}

double ww__status_product(ww_density_status status, ww_channel channel, size_t row) {
    assert(channel < WW_CHANNEL_COUNT && row < WW__PRODUCT_ROWS);
    const size_t column = column_of(status, channel);
    return column < PRODUCTS ? product[row][column] : -1.0;
}
