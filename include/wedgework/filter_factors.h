/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_FILTER_FACTORS_H
#define WEDGEWORK_FILTER_FACTORS_H

#include <stddef.h>
#include <wedgework/error.h>

/*
 * What a change of filters does to the time, by published factors. They are for a time that was not
 * found from readings: where it was, the filters' own density is in it already, and a factor would
 * count it twice. `balance` finds every time from readings and applies none.
 */
typedef struct ww_sheet {
    char colour; /* Y, M, C, R, G or B */
    double cc;
} ww_sheet;

/*
 * ww_filter_factor - factor of one colour-printing sheet, its surfaces included.
 *
 * Source    Kodak Publication E-142, table of CP filters
 * Given     sheet    5, 10, 20, 30, 40 or 50 CC; nothing is interpolated
 * Returned  *factor  [1]
 * Status    WW_OK; WW_ENODATA the table has no such sheet
 */
ww_status ww_filter_factor(ww_sheet sheet, double *factor, ww_error *err);

/*
 * ww_filter_time - the time after sheets were taken out and others put in: divided by the factor of
 *                  each that goes, multiplied by that of each that comes.
 *
 * Source    Kodak Publication E-142
 * Given     time_s                                                      [s]  > 0
 *           out, n_out, in, n_in   sheets
 * Returned  *new_time_s                                                 [s]
 * Status    WW_OK; WW_EDOMAIN time_s is not > 0; WW_ENODATA as above
 */
ww_status ww_filter_time(double time_s, const ww_sheet out[], size_t n_out, const ww_sheet in[],
                         size_t n_in, double *new_time_s, ww_error *err);

/*
 * ww_filter_dichroic_time - the same in a dichroic head: 1 % of the time for each unit of magenta;
 *                           yellow changes nothing.
 *
 * Source    Kodak Publication E-142
 * Given     time_s           [s]   > 0
 *           magenta_cc       units that come; those that go are negative   [CC]   > -100
 * Returned  *new_time_s      time_s (1 + magenta_cc / 100); what goes is divided out, so that
 *                            there and back again is nothing
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold
 */
ww_status ww_filter_dichroic_time(double time_s, double magenta_cc, double *new_time_s,
                                  ww_error *err);

#endif
