/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/sharpened.h"
#include "array_picture.h"
#include "support/support.h"
#include <math.h>
#include <wedgework/measure.h>

enum { STEPS = 5, WIDE = 20, PLACES = STEPS * WIDE, RIM = 3 };

typedef struct drawn {
    const char *name;
    double over, under; /* of the fall at an edge: beyond the lighter step, below the darker */
    double blur;        /* places, half width over which one step runs into the next */
    double error;       /* of the fall */
    double want;
} drawn;

/* Source: definition; unsharp masking by a share s overdraws a sharp edge by s / 2 on either
 * side. */
static const drawn rows[] = {
    {"flat steps", 0.0, 0.0, 0.0, 0.0, 0.0},
    {"blurred", 0.0, 0.0, 6.0, 0.0, 0.0},
    {"sharpened by 0.6", 0.3, 0.3, 0.0, 0.0, 0.3},
    {"more at the darker side", 0.24, 0.31, 0.0, 0.0, 0.24},
    {"noisy", 0.3, 0.3, 0.0, 0.05, 0.15},
    {"noise may be all of it", 0.3, 0.3, 0.0, 0.1, 0.0},
    {"bright lines between steps", 0.7, -0.7, 0.0, 0.0, 0.0},
    {"dark lines between steps", -0.7, 0.7, 0.0, 0.0, 0.0},
};

static double level_of(size_t step, bool falling) {
    return pow(0.7, (double)(falling ? step : STEPS - 1 - step));
}

/* Light in the middle of a place. */
static double light_at(const drawn *d, size_t place, bool falling) {
    const size_t step = place / WIDE;
    const double at = (double)(place % WIDE) + 0.5;
    const bool behind = at < 0.5 * WIDE; /* the nearer edge is that before the step */
    const size_t other = behind ? step - 1 : step + 1;
    const double off = behind ? at : WIDE - at;
    const double own = level_of(step, falling);
    if ((behind && step == 0) || (!behind && step == STEPS - 1))
        return own;
    const double fall = own - level_of(other, falling); /* above 0 on the lighter side */
    if (off < d->blur)
        return own - fall * 0.5 * (1.0 - off / d->blur);
    return off < RIM ? own + fall * (fall > 0.0 ? d->over : d->under) : own;
}

static void each_edge_is_judged_by_both_sides(void **state) {
    (void)state;
    for (size_t i = 0; i < 2 * sizeof rows / sizeof rows[0]; i++) {
        const drawn *d = &rows[i / 2];
        const bool falling = i % 2 == 0;
        double light[PLACES], error[PLACES], edge[STEPS + 1], level[STEPS], by = -1.0;
        const ww__sharpened_profile p = {light, error, PLACES, -30.0, 2.0};
        for (size_t k = 0; k <= STEPS; k++)
            edge[k] = -30.0 + 2.0 * WIDE * (double)k;
        for (size_t k = 0; k < STEPS; k++)
            level[k] = level_of(k, falling);
        for (size_t k = 0; k < PLACES; k++) {
            const size_t edge_before = (k + WIDE / 2) / WIDE;
            const size_t dark = edge_before < 1 ? 1 : edge_before < STEPS ? edge_before : STEPS - 1;
            light[k] = light_at(d, k, falling);
            error[k] = d->error * fabs(level[dark - 1] - level[dark]);
        }
        light[WIDE] = -1.0; /* nothing was seen there */
        test_status(d->name, ww__sharpened_by(&p, edge, level, STEPS, &by, NULL), WW_OK, NULL);
        test_close(d->name, by, d->want, 1e-12);
    }
}

/* Nine steps of 40 px and 0.15 D on open light, edges overdrawn for 3 px. */
static ww_picture scan(double over) {
    enum { X = 60, PX = 40, N = 9 };
    ww_picture p = array_picture_new(2 * X + N * PX, 160, 1, WW_SAMPLE_16, ARRAY_ROWS);
    for (size_t y = 0; y < p.height; y++)
        for (size_t x = 0; x < p.width; x++) {
            const size_t step = x < X ? N : (x - X) / PX, at = (x - X) % PX;
            double light = 0.9;
            if (step < N && y >= 40 && y < 120) {
                const double own = light * pow(10.0, -0.15 * (double)step - 0.1);
                light = own;
                if (at < RIM && step > 0)
                    light -= over * own * (pow(10.0, 0.15) - 1.0);
                if (at >= PX - RIM && step < N - 1)
                    light += over * own * (1.0 - pow(10.0, -0.15));
            }
            array_set(&p, x, y, 0, round(65535.0 * light));
        }
    return p;
}

static void a_sharpened_scan_is_told(void **state) {
    (void)state;
    for (int sharp = 0; sharp < 2; sharp++) {
        ww_picture p = scan(sharp ? 0.3 : 0.05);
        const ww_measure_request request = {.steps = 9, .threads = 1};
        ww_measured m = WW_MEASURED_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status("strip", ww_measure_strip(&p, &request, &m, &err), WW_OK, &err);
        test_true("told", test_noted(&m.notes, "by about 30 % of their difference: most likely "
                                               "the scan was sharpened") == (sharp == 1));
        ww_measured_release(&m);
        ww_picture_release(&p);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_edge_is_judged_by_both_sides),
        cmocka_unit_test(a_sharpened_scan_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
