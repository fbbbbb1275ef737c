/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_CONTROL_CASE_H
#define WEDGEWORK_TESTS_CONTROL_CASE_H

#include "support/support.h"
#include <wedgework/control.h>

/* Control logs in memory. */

/* The numbers of the worked film strip: densities of D-min, LD and HD in red, green and blue.
 * Source: a film laboratory's published control-strip sheet (facts on process control): contrasts
 * 0.86, 1.01, 1.05. */
#define CONTROL_WORKED                                                                             \
    "step,red,green,blue\nD-min,0.32,0.63,0.72\nLD,0.44,0.76,0.98\nHD,1.30,1.77,2.03\n"

/* A reference from readings as text. Status of ww_control_reference_make. */
ww_status control_case_reference(ww_control_log *log, const char *text, ww_error *err);

/* A strip against the last reference, from readings as text, with the next number. */
void control_case_strip(ww_control_log *log, const char *process, const char *machine,
                        const char *date, const char *text);

/* n strips of the process main, on days of November 2026, that read these at the one step LD in
 * visual; the reference reads `aim` there. n <= 30. */
void control_case_series(ww_control_log *log, double aim, const double value[], size_t n);

/* The user's limits of a process, from a table as text. */
void control_case_limits(ww_control_log *log, const char *process, const char *text);

/* Takes a strip out. */
void control_case_delete(ww_control_log *log, long number, const char *why);

/* The chart of a measure in a channel of the lot that the first series is in; fails without. */
const ww_control_chart *control_case_chart(const ww_control *control, const char *measure,
                                           ww_channel channel);

/* What is judged: status WW_OK is expected. */
ww_control control_case_judge(const ww_control_log *log, const ww_control_request *request);

#endif
