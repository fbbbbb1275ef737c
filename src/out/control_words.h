/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_CONTROL_WORDS_H
#define WEDGEWORK_OUT_CONTROL_WORDS_H

#include "base/text.h"
#include <wedgework/control.h>

/* The state of a process, or of each of several, as a sentence. */
void ww__words_control_act(ww__text *text, const ww_control *control);

/* One line of why: the chart that decides, its aim and its limits. */
void ww__words_control_why(ww__text *text, const ww_control *control);

/* "LD green": a chart by its measure and channel. */
void ww__words_control_chart(ww__text *text, const ww_control_chart *chart);

/* What a point breaks: "2 of 3 beyond 2 sigma, trend of 6"; nothing of most. */
void ww__words_control_rules(ww__text *text, unsigned rules);

/* The same for a column: "2 of 3, trend"; what is beyond a limit is that alone. */
void ww__words_control_marks(ww__text *text, unsigned rules);

/* "prints, left tank": a process and its machine. */
void ww__words_control_series(ww__text *text, const ww_control_series *series);

/* Which steps the measures are of. */
void ww__words_control_steps(ww__text *text, const ww_control_lot *lot);

/* A density, or with its sign a deviation: two decimals, three where it is not read to 0.01. */
void ww__words_control_density(ww__text *text, double density);
void ww__words_control_deviation(ww__text *text, double deviation);

/* The chart of a strip that tells most: what breaks a limit by most, else what warns, else what is
 * nearest to a limit, else what is furthest from its aim; NULL where nothing was read. */
const ww_control_chart *ww__words_control_first(const ww_control_lot *lot, size_t at);

#endif
