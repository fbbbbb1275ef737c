/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_CAUSE_H
#define WW_CORE_CAUSE_H

#include <wedgework/curve.h>

/*
 * ww__cause_of_reading - likely cause of a single reading that departs from its curve.
 *
 *   decimal point  ten or a hundred times the reading would fit, or a tenth or hundredth of it
 *   slip           any other; `would_be` is set where two neighbouring digits exchanged, or one
 *                  digit changed by one, would fit
 *   dust           a transmission reading that is too dense by less than 0.05 D
 *
 * Source    common practice
 * Given     density    as read
 *           expected   by the curve
 *           tolerance  how near counts as fitting [D] > 0
 * Returned  the cause; *would_be the reading that would fit, not set where none is found
 */
ww_cause ww__cause_of_reading(double density, double expected, double tolerance, bool transmission,
                              ww_optional *would_be);

#endif
