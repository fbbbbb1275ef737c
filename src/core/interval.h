/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_INTERVAL_H
#define WW_CORE_INTERVAL_H

#include <stddef.h>
#include <wedgework/error.h>

/*
 * ww__interval_of - bias-corrected percentile interval, 95 %.
 *
 * Source    Efron, Canadian Journal of Statistics 9 (1981) 139-158
 * Given     value[n]   in any order (sorted on return)
 *           under      how many of them fell below the truth of their world
 * Returned  *low, *high
 * Status    WW_OK; WW_ENODATA fewer than 20 values
 */
ww_status ww__interval_of(double value[], size_t n, size_t under, double *low, double *high,
                          ww_error *err);

#endif
