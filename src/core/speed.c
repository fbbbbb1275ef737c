/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <wedgework/speed.h>

static const double BLACK_AND_WHITE = 0.8;  /* ISO 6 [lx s] */
static const double COLOUR_REVERSAL = 10.0; /* ISO 2240, from memory [lx s] */
static const double PAPER = 1000.0;         /* ISO 6846 [lx s] */

const char *ww_speed_standard_name(ww_speed_standard standard) {
    switch (standard) {
    case WW_SPEED_ISO_6:
        return "ISO 6";
    case WW_SPEED_ISO_5800:
        return "ISO 5800";
    case WW_SPEED_ISO_2240:
        return "ISO 2240";
    case WW_SPEED_EXPOSURE_INDEX:
        return "exposure index";
    case WW_SPEED_NONE:
        break;
    }
    return "none";
}

static ww_status of_exposure(double constant, double hm_lux_s, double *speed, ww_error *err) {
    assert(speed);
    if (!isfinite(hm_lux_s) || !(hm_lux_s > 0.0))
        return ww_error_set(err, WW_EDOMAIN,
                            "an exposure of %g lux seconds gives no speed; it must be above 0",
                            hm_lux_s);
    *speed = constant / hm_lux_s;
    return WW_OK;
}

static ww_status of_two(double constant, double log_h_1, double log_h_2, double *speed,
                        ww_error *err) {
    assert(speed);
    if (!isfinite(log_h_1) || !isfinite(log_h_2))
        return ww_error_set(err, WW_EDOMAIN,
                            "log exposures %g and %g give no speed; both must be numbers", log_h_1,
                            log_h_2);
    return of_exposure(constant, pow(10.0, 0.5 * (log_h_1 + log_h_2)), speed, err);
}

ww_status ww_speed_black_and_white(double hm_lux_s, double *speed, ww_error *err) {
    return of_exposure(BLACK_AND_WHITE, hm_lux_s, speed, err);
}

ww_status ww_speed_colour_negative(double log_h_green, double log_h_slowest, double *speed,
                                   ww_error *err) {
    return of_two(sqrt(2.0), log_h_green, log_h_slowest, speed, err);
}

ww_status ww_speed_colour_reversal(double log_hs, double log_ht, double *speed, ww_error *err) {
    return of_two(COLOUR_REVERSAL, log_hs, log_ht, speed, err);
}

ww_status ww_speed_paper(double hm_lux_s, double *speed, ww_error *err) {
    return of_exposure(PAPER, hm_lux_s, speed, err);
}

ww_status ww_speed_round(double speed, int *arithmetic, int *degrees, ww_error *err) {
    /* Index 0 is 4/7 degrees; the series loses its halves as the trade prints it: 6, 12, 32, 64. */
    static const int scale[] = {4,     5,     6,     8,     10,    12,    16,    20,    25,
                                32,    40,    50,    64,    80,    100,   125,   160,   200,
                                250,   320,   400,   500,   640,   800,   1000,  1250,  1600,
                                2000,  2500,  3200,  4000,  5000,  6400,  8000,  10000, 12500,
                                16000, 20000, 25000, 32000, 40000, 50000, 64000, 80000, 100000};
    enum { FIRST_STEP = 6, STEPS = sizeof scale / sizeof scale[0] };
    assert(arithmetic && degrees);
    if (!isfinite(speed) || !(speed > 0.0))
        return ww_error_set(err, WW_EDOMAIN, "a speed of %g has no step; it must be above 0",
                            speed);
    const int step = (int)floor(10.0 * log10(speed) + 0.5);
    *degrees = step + 1;
    *arithmetic = 0;
    if (step < FIRST_STEP || step >= FIRST_STEP + STEPS)
        return ww_error_set(err, WW_ENODATA,
                            "a speed of %g lies off the scale, which runs from 4 to 100000", speed);
    *arithmetic = scale[step - FIRST_STEP];
    return WW_OK;
}

ww_status ww_speed_delta_x(double density_difference, double *delta_x, ww_error *err) {
    const double d = density_difference;
    assert(delta_x);
    /* The parabola turns at 0.86 / 0.48. */
    if (!(d >= 0.0 && d <= 0.86 / 0.48))
        return ww_error_set(err, WW_EDOMAIN,
                            "Delta-X is known for density gains of 0 to 1.79, not for %g", d);
    *delta_x = 0.83 - 0.86 * d + 0.24 * d * d;
    return WW_OK;
}
