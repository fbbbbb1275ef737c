/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SPEED_H
#define WEDGEWORK_SPEED_H

#include <stdbool.h>
#include <wedgework/error.h>
#include <wedgework/quantity.h>

typedef enum ww_speed_standard {
    WW_SPEED_NONE,
    WW_SPEED_ISO_6,
    WW_SPEED_ISO_5800,
    WW_SPEED_ISO_2240,
    WW_SPEED_EXPOSURE_INDEX /* the ISO 6 figure outside its contrast condition: never called ISO */
} ww_speed_standard;

const char *ww_speed_standard_name(ww_speed_standard standard);

typedef struct ww_speed {
    ww_speed_standard standard;
    ww_quantity exact;
    int arithmetic;             /* rounded to the standard's scale, 0 where off the scale */
    int degrees;                /* logarithmic speed */
    ww_optional density_difference; /* ISO 6: density gained over 1.30 log H from the speed point */
    bool condition_met;
    ww_optional delta_x;        /* ISO 6: speed by the Delta-X criterion, any contrast */
} ww_speed;

#define WW_SPEED_INIT                                                                              \
    {                                                                                              \
        .standard = WW_SPEED_NONE                                                                  \
    }

/* Numbers that the standards fix; sources in facts and in tests/refs. */
/* ww_speed_arithmetic - ISO 6: S = 0.8 / Hm.                      Status WW_OK; WW_EDOMAIN hm <= 0 */
ww_status ww_speed_black_and_white(double hm_lux_s, double *speed, ww_error *err);
/* ISO 5800: S = sqrt 2 / Hm, Hm the geometric mean of the green and the least sensitive layer. */
ww_status ww_speed_colour_negative(double log_h_green, double log_h_slowest, double *speed,
                                   ww_error *err);
/* ISO 2240: S = 10 / Hm, Hm = sqrt(HS HT). */
ww_status ww_speed_colour_reversal(double log_hs, double log_ht, double *speed, ww_error *err);
/* ISO 6846: P = 1000 / Hm. */
ww_status ww_speed_paper(double hm_lux_s, double *speed, ww_error *err);
/*
 * ww_speed_round - the step of the standard's scale: a speed keeps its step while 10 log10 S is
 *                  within 0.5 of the integer.  degrees = 1 + that integer.
 * Status    WW_OK; WW_EDOMAIN speed not > 0; WW_ENODATA off the printed scale (4 to 3200 and its
 *           third-stop continuation): *degrees is set all the same, *arithmetic 0
 */
ww_status ww_speed_round(double speed, int *arithmetic, int *degrees, ww_error *err);
/* ww_speed_delta_x - 0.83 - 0.86 dD + 0.24 dD^2, the Delta-X of a density gain over 1.30 log H. */
ww_status ww_speed_delta_x(double density_difference, double *delta_x, ww_error *err);

#endif
