/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_GUESS_H
#define WW_CORE_GUESS_H

#include "series.h"
#include <wedgework/model.h>

/* Start points of a fit, read off the points by eye's rules: steepest run, ends, middle. */
enum { WW__GUESS_COUNT = 3 };

/* ww__guess_layout - number of parameters of shape->model for this series, and a spline's knots. */
void ww__guess_layout(const ww__series *series, ww_shape *shape);

/* ww__guess_make - working parameters of start `which` < WW__GUESS_COUNT. The series is sorted. */
void ww__guess_make(const ww__series *series, const ww_shape *shape, size_t which,
                    double working[]);

#endif
