/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"

#include <math.h>
#include <stdio.h>
#include <wedgework/speed.h>

/* ISO 6 steps from secondary texts; log Hm edges computed from the half steps, to 0.001. */
static const struct scale_row {
    int arithmetic, degrees;
    double log_hm_from, log_hm_to;
} scale_rows[] = {
    {3200, 36, -3.647, -3.547}, {2500, 35, -3.547, -3.447}, {2000, 34, -3.447, -3.347},
    {1600, 33, -3.347, -3.247}, {1250, 32, -3.247, -3.147}, {1000, 31, -3.147, -3.047},
    {800, 30, -3.047, -2.947},  {640, 29, -2.947, -2.847},  {500, 28, -2.847, -2.747},
    {400, 27, -2.747, -2.647},  {320, 26, -2.647, -2.547},  {250, 25, -2.547, -2.447},
    {200, 24, -2.447, -2.347},  {160, 23, -2.347, -2.247},  {125, 22, -2.247, -2.147},
    {100, 21, -2.147, -2.047},  {80, 20, -2.047, -1.947},   {64, 19, -1.947, -1.847},
    {50, 18, -1.847, -1.747},   {40, 17, -1.747, -1.647},   {32, 16, -1.647, -1.547},
    {25, 15, -1.547, -1.447},   {20, 14, -1.447, -1.347},   {16, 13, -1.347, -1.247},
    {12, 12, -1.247, -1.147},   {10, 11, -1.147, -1.047},   {8, 10, -1.047, -0.947},
    {6, 9, -0.947, -0.847},     {5, 8, -0.847, -0.747},     {4, 7, -0.747, -0.647},
};
enum { SCALE_ROWS = sizeof scale_rows / sizeof scale_rows[0] };

static void expect_step(const char *row, double log_hm, int arithmetic, int degrees) {
    double speed = 0.0;
    int a = -1, d = -1;
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_speed_black_and_white(pow(10.0, log_hm), &speed, &err), WW_OK, &err);
    ww_speed_round(speed, &a, &d, NULL);
    test_close(row, a, arithmetic, 0.0);
    test_close(row, d, degrees, 0.0);
}

static void scale_both_edges(void **state) {
    (void)state;
    for (size_t i = 0; i < SCALE_ROWS; i++) {
        const struct scale_row *const r = &scale_rows[i];
        char row[40];
        snprintf(row, sizeof row, "step %d", r->arithmetic);
        expect_step(row, r->log_hm_from + 0.001, r->arithmetic, r->degrees);
        expect_step(row, 0.5 * (r->log_hm_from + r->log_hm_to), r->arithmetic, r->degrees);
        expect_step(row, r->log_hm_to - 0.001, r->arithmetic, r->degrees);
    }
    /* The continuation in third stops, and what lies off the scale. */
    expect_step("4000", -3.648, 4000, 37);
    expect_step("5000", log10(0.8 / 5000), 5000, 38);
    expect_step("6400", log10(0.8 / 6400), 6400, 39);
    expect_step("12500", log10(0.8 / 12500), 12500, 42);
    expect_step("25000", log10(0.8 / 25600), 25000, 45);
    expect_step("100000", log10(0.8 / 102400), 100000, 51);
    expect_step("above", log10(0.8 / 130000), 0, 52);
    expect_step("3, off the scale", -0.646, 0, 6);
}

typedef struct one_row {
    const char *name, *source;
    ww_status (*rule)(double x, double *y, ww_error *err);
    double x;
    ww_status status;
    double y, tolerance;
} one_row;

#define CALLED_7 "contract: untouched"

static const one_row ones[] = {
    {"Hm 0.0080", "ISO 6, secondary text: 100", ww_speed_black_and_white, 0.0080, WW_OK, 100, 1e-9},
    {"Hm 0.0064", "ISO 6, secondary text: 125", ww_speed_black_and_white, 0.0064, WW_OK, 125, 1e-9},
    {"Hm 0.002", "ISO 6, secondary text: 400", ww_speed_black_and_white, 0.002, WW_OK, 400, 1e-9},
    {"no light", CALLED_7, ww_speed_black_and_white, 0.0, WW_EDOMAIN, 7, 0},
    {"less than none", CALLED_7, ww_speed_black_and_white, -1.0, WW_EDOMAIN, 7, 0},
    {"no number", CALLED_7, ww_speed_black_and_white, (double)NAN, WW_EDOMAIN, 7, 0},
    {"endless", CALLED_7, ww_speed_black_and_white, HUGE_VAL, WW_EDOMAIN, 7, 0},
    {"paper, log Hm 0.353891", "logistic paper, closed form", ww_speed_paper, 2.258869, WW_OK,
     442.70, 0.01},
    {"paper, no light", CALLED_7, ww_speed_paper, 0.0, WW_EDOMAIN, 7, 0},
    {"Delta-X at 0.80", "published 0.296", ww_speed_delta_x, 0.80, WW_OK, 0.296, 0.0005},
    {"Delta-X at 0.50", "formula from memory", ww_speed_delta_x, 0.50, WW_OK, 0.4600, 5e-5},
    {"Delta-X at 0.60", "formula from memory", ww_speed_delta_x, 0.60, WW_OK, 0.4004, 5e-5},
    {"Delta-X at 0.70", "formula from memory", ww_speed_delta_x, 0.70, WW_OK, 0.3456, 5e-5},
    {"Delta-X at 0.75", "formula from memory", ww_speed_delta_x, 0.75, WW_OK, 0.3200, 5e-5},
    {"Delta-X at 0.85", "formula from memory", ww_speed_delta_x, 0.85, WW_OK, 0.2724, 5e-5},
    {"Delta-X at 0.90", "formula from memory", ww_speed_delta_x, 0.90, WW_OK, 0.2504, 5e-5},
    {"Delta-X at 1.00", "formula from memory", ww_speed_delta_x, 1.00, WW_OK, 0.2100, 5e-5},
    {"Delta-X at 1.10", "formula from memory", ww_speed_delta_x, 1.10, WW_OK, 0.1744, 5e-5},
    {"Delta-X of curve A", "formula from memory", ww_speed_delta_x, 0.645592, WW_OK, 0.374820,
     1e-6},
    {"Delta-X past the turn", CALLED_7, ww_speed_delta_x, 1.80, WW_EDOMAIN, 7, 0},
    {"Delta-X of a fall", CALLED_7, ww_speed_delta_x, -0.1, WW_EDOMAIN, 7, 0},
    {"Delta-X of nothing", CALLED_7, ww_speed_delta_x, (double)NAN, WW_EDOMAIN, 7, 0},
};

static void single_formulas(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof ones / sizeof ones[0]; i++) {
        double y = 7;
        ww_error err = WW_ERROR_INIT;
        test_status(ones[i].name, ones[i].rule(ones[i].x, &y, &err), ones[i].status, &err);
        test_close(ones[i].name, y, ones[i].y, ones[i].tolerance);
    }
}

static void two_point_formulas(void **state) {
    (void)state;
    double speed = 7;
    ww_error err = WW_ERROR_INIT;
    /* ISO 5800 and ISO 2240, from memory: sqrt 2 / Hm and 10 / Hm of geometric means. */
    test_status("5800", ww_speed_colour_negative(-1.9, -1.8, &speed, &err), WW_OK, &err);
    test_close("5800", speed, 1.41421356 * 70.794578, 1e-5);
    test_status("2240", ww_speed_colour_reversal(-0.5, -1.5, &speed, &err), WW_OK, &err);
    test_close("2240", speed, 100.0, 1e-9);
    /* A reversal film's speed point lies 3.67 stops above a negative's: from secondary texts. */
    test_close("link", log2(10.0 / 0.8), 3.67, 0.03);
    speed = 7;
    test_status("5800", ww_speed_colour_negative((double)NAN, -1.8, &speed, &err), WW_EDOMAIN,
                &err);
    test_status("5800", ww_speed_colour_negative(-1.9, -HUGE_VAL, &speed, &err), WW_EDOMAIN, &err);
    test_status("2240", ww_speed_colour_reversal(0.1, (double)NAN, &speed, &err), WW_EDOMAIN, &err);
    test_status("2240", ww_speed_colour_reversal(-900.0, -900.0, &speed, &err), WW_EDOMAIN, &err);
    test_close("untouched", speed, 7, 0.0);
}

static void rounding_refusals(void **state) {
    (void)state;
    static const double bad[] = {0.0, -100.0, (double)NAN, HUGE_VAL};
    int a = -7, d = -7;
    ww_error err = WW_ERROR_INIT;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        test_status("no speed", ww_speed_round(bad[i], &a, &d, &err), WW_EDOMAIN, &err);
    test_close("untouched", a + d, -14, 0.0);
    test_status("slow", ww_speed_round(2.0, &a, &d, &err), WW_ENODATA, &err);
    test_close("slow, degrees", d, 4, 0.0);
    test_close("slow, arithmetic", a, 0, 0.0);
    test_status("fast", ww_speed_round(2e6, &a, &d, &err), WW_ENODATA, &err);
    test_close("fast, degrees", d, 64, 0.0);
}

static void names(void **state) {
    (void)state;
    test_text("6", ww_speed_standard_name(WW_SPEED_ISO_6), "ISO 6");
    test_text("5800", ww_speed_standard_name(WW_SPEED_ISO_5800), "ISO 5800");
    test_text("2240", ww_speed_standard_name(WW_SPEED_ISO_2240), "ISO 2240");
    test_text("EI", ww_speed_standard_name(WW_SPEED_EXPOSURE_INDEX), "exposure index");
    test_text("none", ww_speed_standard_name(WW_SPEED_NONE), "none");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(scale_both_edges),
        cmocka_unit_test(single_formulas),
        cmocka_unit_test(two_point_formulas),
        cmocka_unit_test(rounding_refusals),
        cmocka_unit_test(names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
