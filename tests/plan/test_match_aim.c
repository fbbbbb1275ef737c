/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "../core/readings_made.h"
#include "plan/match_parts.h"
#include "support/printers.h"
#include "support/support.h"
#include <math.h>

static const struct {
    const char *row;
    ww_column aim[2], print[2]; /* columns that are there; WW_COLUMN_COUNT: no more */
    size_t i, n;
    ww_status status;
    ww_column want_aim, want_print;
} pairs_rows[] = {
    {"visual",
     {WW_COLUMN_VISUAL, WW_COLUMN_GREEN},
     {WW_COLUMN_VISUAL, WW_COLUMN_GREEN},
     0,
     1,
     WW_OK,
     WW_COLUMN_VISUAL,
     WW_COLUMN_VISUAL},
    {"visual and L",
     {WW_COLUMN_VISUAL, WW_COLUMN_COUNT},
     {WW_COLUMN_LAB_L, WW_COLUMN_COUNT},
     0,
     1,
     WW_OK,
     WW_COLUMN_VISUAL,
     WW_COLUMN_LAB_L},
    {"visual and Y, before L",
     {WW_COLUMN_LUMINANCE, WW_COLUMN_LAB_L},
     {WW_COLUMN_VISUAL, WW_COLUMN_COUNT},
     0,
     1,
     WW_OK,
     WW_COLUMN_LUMINANCE,
     WW_COLUMN_VISUAL},
    {"green in both",
     {WW_COLUMN_VISUAL, WW_COLUMN_GREEN},
     {WW_COLUMN_GREEN, WW_COLUMN_COUNT},
     0,
     1,
     WW_OK,
     WW_COLUMN_GREEN,
     WW_COLUMN_GREEN},
    {"nothing in both",
     {WW_COLUMN_VISUAL, WW_COLUMN_COUNT},
     {WW_COLUMN_GREEN, WW_COLUMN_COUNT},
     0,
     1,
     WW_ENODATA,
     WW_COLUMN_COUNT,
     WW_COLUMN_COUNT},
    {"its own",
     {WW_COLUMN_BLUE, WW_COLUMN_COUNT},
     {WW_COLUMN_BLUE, WW_COLUMN_COUNT},
     2,
     3,
     WW_OK,
     WW_COLUMN_BLUE,
     WW_COLUMN_BLUE},
    {"not its own",
     {WW_COLUMN_BLUE, WW_COLUMN_COUNT},
     {WW_COLUMN_RED, WW_COLUMN_COUNT},
     2,
     3,
     WW_ENODATA,
     WW_COLUMN_COUNT,
     WW_COLUMN_COUNT},
};

/* Which columns stand for each other. */
static void pairs(void **state) {
    (void)state;
    for (size_t r = 0; r < sizeof pairs_rows / sizeof pairs_rows[0]; r++) {
        ww_readings aim = WW_READINGS_INIT, print = WW_READINGS_INIT;
        const ww_match_request request = {.aim = &aim, .print = &print};
        ww_column a = WW_COLUMN_COUNT, b = WW_COLUMN_COUNT;
        ww_error err = WW_ERROR_INIT;
        for (size_t k = 0; k < 2; k++) {
            if (pairs_rows[r].aim[k] != WW_COLUMN_COUNT)
                aim.has[pairs_rows[r].aim[k]] = true;
            if (pairs_rows[r].print[k] != WW_COLUMN_COUNT)
                print.has[pairs_rows[r].print[k]] = true;
        }
        test_status(pairs_rows[r].row,
                    ww__match_pair(&request, pairs_rows[r].i, pairs_rows[r].n, &a, &b, &err),
                    pairs_rows[r].status, &err);
        test_true(pairs_rows[r].row, a == pairs_rows[r].want_aim && b == pairs_rows[r].want_print);
    }
}

static void refusals(void **state) {
    (void)state;
    ww_error err = WW_ERROR_INIT;
    ww_readings print = printer_read(PRINTER_DOTS, WW_RAMP_GRAY, 8, 0.0, 1, NULL, NULL);
    ww_readings gray = printer_read(PRINTER_DOTS, WW_RAMP_GRAY, 8, 0.0, 1, NULL, NULL);
    ww_readings value = printer_read(PRINTER_DOTS, WW_RAMP_VALUE, 8, 0.0, 1, NULL, NULL);
    ww_readings none = WW_READINGS_INIT;
    ww_match_request request = {.aim = &gray, .print = &print};
    test_status("fits", ww__match_check(&request, WW_RAMP_GRAY, &err), WW_OK, &err);
    request.aim = &value;
    test_status("units", ww__match_check(&request, WW_RAMP_GRAY, &err), WW_EMISMATCH, &err);
    test_holds("units", err.msg, "both as values or both in per cent");
    request.aim = &none;
    test_status("nothing sent", ww__match_check(&request, WW_RAMP_GRAY, &err), WW_ENODATA, &err);
    test_holds("nothing sent", err.msg, "no column says what was sent");
    request.aim = &gray;
    gray.meta.status = WW_STATUS_A;
    print.meta.status = WW_STATUS_T;
    test_status("status", ww__match_check(&request, WW_RAMP_GRAY, &err), WW_EMISMATCH, &err);
    test_holds("status", err.msg, "status T");
    print.meta.status = WW_STATUS_UNKNOWN;
    test_status("unknown goes with any", ww__match_check(&request, WW_RAMP_GRAY, &err), WW_OK,
                &err);
    gray.meta.density = WW_DENSITY_TRANSMISSION;
    print.meta.density = WW_DENSITY_REFLECTION;
    test_status("kind", ww__match_check(&request, WW_RAMP_GRAY, &err), WW_EMISMATCH, &err);
    gray.meta.density = WW_DENSITY_REFLECTION;
    gray.meta.relative = WW_RELATIVE_WHITE;
    test_status("above white", ww__match_check(&request, WW_RAMP_GRAY, &err), WW_OK, &err);
    request.absolute = true;
    test_status("absolute", ww__match_check(&request, WW_RAMP_GRAY, &err), WW_EMISMATCH, &err);
    request = (ww_match_request){.print = &print};
    test_status("steps of L*", ww__match_check(&request, WW_RAMP_VALUES, &err), WW_EMISMATCH, &err);
    const ww_readings *const pass[] = {&value};
    request = (ww_match_request){.print = &print, .refine = pass, .n_refine = 1};
    test_status("another scale", ww__match_check(&request, WW_RAMP_GRAY, &err), WW_EMISMATCH, &err);
    ww_readings_release(&print);
    ww_readings_release(&gray);
    ww_readings_release(&value);
}

/* A logistic curve, closed form: D = D0 + range / (1 + e^(-slope (x - x_m))), x from -1 to 1. */
static void curve(void **state) {
    (void)state;
    static ww_tone_response aim;
    for (int falling = 0; falling < 2; falling++) {
        ww_curve made = WW_CURVE_INIT;
        ww_channel_curve *c = &made.channel[WW_GREEN];
        ww_error err = WW_ERROR_INIT;
        c->present = c->fitted = true;
        c->domain_low = -1.0;
        c->domain_high = 1.0;
        c->residual_sd = 0.007;
        c->shape = (ww_shape){.model = WW_MODEL_LOGISTIC,
                              .falling = falling,
                              .n = 5,
                              .parameter = {0.09, 2.0, 4.3, 0.13, 1.0}};
        double low = 0.0, high = 0.0;
        test_status("ends", ww_curve_density(c, -1.0, &low, NULL, &err), WW_OK, &err);
        test_status("ends", ww_curve_density(c, 1.0, &high, NULL, &err), WW_OK, &err);
        test_status("curve", ww__match_curve(&made, WW_COLUMN_GREEN, &aim, &err), WW_OK, &err);
        test_close("white", aim.density[0], fmin(low, high), 1e-12);
        test_close("black", aim.density[WW_TONE_RESPONSE_POINTS - 1], fmax(low, high), 1e-12);
        c->fitted = false;
        test_status("not fitted", ww__match_curve(&made, WW_COLUMN_GREEN, &aim, &err), WW_ENODATA,
                    &err);
    }
}

/* CIE 15: equal steps of L* from 0.05 D (95.633) to 2.00 D (8.991). */
static void steps(void **state) {
    (void)state;
    static ww_tone_response print, aim;
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++)
        print.density[i] = 0.05 + 1.95 * (double)i / (WW_TONE_RESPONSE_POINTS - 1);
    print.to = 1.0;
    test_status("steps", ww__match_steps(&print, &aim, NULL), WW_OK, NULL);
    for (int i = 0; i <= 8; i++)
        test_close("steps", ww_viewing_lightness(ww_tone_response_density(&aim, i / 8.0)),
                   95.633 + i / 8.0 * (8.991 - 95.633), 1e-3);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(pairs), cmocka_unit_test(refusals),
                                       cmocka_unit_test(curve), cmocka_unit_test(steps)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
