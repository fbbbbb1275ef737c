/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_FIGURE_H
#define WW_CORE_FIGURE_H

#include "trace.h"
#include <wedgework/figure.h>

/* ww__figure_compute - ww_figure_compute for limits that are known to be good, of a shape with a
 *                      bump (NULL: none). */
void ww__figure_compute(const ww_shape *shape, const ww__bump *bump, double low, double high,
                        double base_fog, const ww_figure_rules *rules, ww_figure_set *set);

#endif
