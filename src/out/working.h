/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_WORKING_H
#define WEDGEWORK_OUT_WORKING_H

#include "out/report.h"
#include <wedgework/print.h>

/*
 * A page's working: what a result was computed by, step by step, with its own numbers put in and
 * where each formula comes from, so that a reader can do it again by hand. Formulas and sources are
 * those of the public headers. Numbers are rounded for the eye; the exact ones are in the JSON.
 */

/* Begins the list of steps; then each of them. numbers is emptied into it, and may be empty. */
void ww__working_begin(ww__report *report);
void ww__working_step(ww__report *report, const char *what, const char *formula, ww__text *numbers,
                      const char *source);

/* Sources that several pages name. */
extern const char ww__working_definition[];
extern const char ww__working_practice[];

/* The steps of each result. */
void ww__working_curve(const ww_curve *curve, ww__report *report);
void ww__working_print(const ww_print_plan *plan, const ww_print_request *request,
                       ww__report *report);
void ww__working_develop(const ww_development *development, ww__report *report);
void ww__working_control(const ww_control *control, ww__report *report);
void ww__working_strip(const ww_strip *strip, ww__report *report);
void ww__working_balance(const ww_balance *balance, ww__report *report);
void ww__working_scanner(const ww_scanner *scanner, ww__report *report);
void ww__working_measured(const ww_measured *measured, ww__report *report);
void ww__working_whole(const ww_whole *whole, ww__report *report);
void ww__working_scan_plan(const ww_scan_plan *plan, const ww_scanner *scanner, ww__report *report);
void ww__working_scan_merge(const ww_scan_merge *merge, ww__report *report);
void ww__working_scan_densities(const ww_scan_densities *densities, const ww_scanner *scanner,
                                ww__report *report);
void ww__working_match(const ww_match *match, ww__report *report);
void ww__working_compare(const ww_comparison *comparison, ww__report *report);
void ww__working_texture(const ww_texture_scan scan[], size_t n, ww__report *report);

#endif
