/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLAN_DEVELOP_PARTS_H
#define WEDGEWORK_PLAN_DEVELOP_PARTS_H

#include <wedgework/develop.h>

/*
 * A development plan is made in this order: what each curve gives (develop_rows.c), how contrast
 * grows and the time for the one that is wanted (develop_aim.c), what temperature does to it
 * (develop_temperature.c), what else goes with the time (develop_speed.c, develop_foretold.c), and
 * what is to be said of it all (develop_notes.c); develop.c puts it together.
 */
#define WW__DEVELOP_95 1.959963984540054            /* half-width of 95 % of a normal, in sd */
#define WW__DEVELOP_LOG_STOP 0.30102999566398119521 /* log10 2 */
#define WW__DEVELOP_SD_LEAST 0.002 /* no contrast is known better; common practice */
#define WW__DEVELOP_NOMINAL 0.03   /* relative, 95 %: contrast by a wedge without certificate */
#define WW__DEVELOP_KELVIN 273.15

/* Rows in order of time, checked against each other. Each keeps the place of its input in
 * *order. */
ww_status ww__develop_rows(const ww_develop_input input[], size_t n,
                           const ww_develop_request *request, ww_development *plan, size_t order[],
                           ww_error *err);

/* Which curves make the law: those at the temperature that has most times. */
void ww__develop_find_reference(ww_development *plan);

/* How contrast grows, and the time at the reference temperature, with every doubt. */
ww_status ww__develop_aim(const ww_develop_input input[], const size_t order[],
                          const ww_develop_request *request, ww_development *plan, ww_error *err);

/* The time at another temperature, of the plan and of its ranges. */
ww_status ww__develop_temperature(const ww_develop_request *request, ww_development *plan,
                                  ww_error *err);

/* A figure of the rows at a time: straight against log time between the two neighbouring times,
 * those of one time averaged; absent where fewer than two times have it. */
ww_quantity ww__develop_between(const ww_development *plan, double time_min,
                                ww_quantity (*of)(const ww_develop_row *row));

/* Speed, base+fog and exposure index, of each row and at the time of the answer. */
void ww__develop_speed(const ww_develop_input input[], const size_t order[],
                       const ww_develop_request *request, ww_development *plan);

/* The curve for the time. */
ww_status ww__develop_foretell(const ww_develop_input input[], const size_t order[],
                               ww_development *plan, ww_error *err);

ww_status ww__develop_notes(const ww_develop_input input[], const size_t order[],
                            const ww_develop_request *request, ww_development *plan, ww_error *err);

#endif
