/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/edge.h>

#define PI 3.14159265358979323846

/*
 * An edge of Gaussian blur sigma, d px across it:
 *   light = dark + (light - dark) (1 + erf(d / (sigma sqrt 2))) / 2
 * MTF = exp(-2 pi^2 sigma^2 f^2), so MTF50 = sqrt(ln 2 / 2) / (pi sigma), and from 10 to 90 % it is
 * 2 * 1.281552 sigma (closed forms).
 */
typedef struct drawn {
    size_t width, height;
    double sigma, angle_deg, dark, light, noise;
    bool lies;
} drawn;

static double draw_noise(unsigned long *seed) {
    double sum = 0.0;
    for (int i = 0; i < 12; i++) {
        *seed = (*seed * 1103515245UL + 12345UL) & 0x7fffffffUL;
        sum += (double)*seed / (double)0x7fffffffUL;
    }
    return sum - 6.0;
}

static double *draw(const drawn *d, unsigned long seed) {
    double *made = malloc(d->width * d->height * sizeof *made);
    const double slope = tan(d->angle_deg * PI / 180.0), across = cos(d->angle_deg * PI / 180.0);
    assert_non_null(made);
    for (size_t y = 0; y < d->height; y++)
        for (size_t x = 0; x < d->width; x++) {
            const double u =
                d->lies ? (double)y - (double)d->height / 2.0 : (double)x - (double)d->width / 2.0;
            const double v =
                d->lies ? (double)x - (double)d->width / 2.0 : (double)y - (double)d->height / 2.0;
            const double off = (u - 0.37 - slope * v) * across;
            made[y * d->width + x] =
                d->dark + (d->light - d->dark) * 0.5 * (1.0 + erf(off / (d->sigma * sqrt(2.0)))) +
                d->noise * draw_noise(&seed);
        }
    return made;
}

static void known_blur(void **state) {
    (void)state;
    static const drawn rows[] = {
        {60, 80, 0.8, 5.0, 0.1, 0.8, 0.0, false},   {60, 80, 1.3, 5.0, 0.8, 0.1, 0.0, false},
        {80, 60, 2.1, -7.0, 0.1, 0.8, 0.0, true},   {100, 120, 4.0, 3.0, 0.1, 0.8, 0.0, false},
        {60, 90, 1.3, 12.0, 0.1, 0.8, 0.0, false},  {64, 120, 1.3, 5.0, 0.1, 0.8, 0.005, false},
        {64, 120, 2.1, -5.0, 0.8, 0.1, 0.01, true},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double *light = draw(&rows[i], 2731);
        const double mtf50 = sqrt(log(2.0) / 2.0) / (PI * rows[i].sigma);
        const double width = 2.0 * 1.281552 * rows[i].sigma;
        ww_edge edge = {.angle_deg = -7};
        ww_error err = WW_ERROR_INIT;
        char row[64];
        snprintf(row, sizeof row, "row %zu, blur %.1f px", i, rows[i].sigma);
        test_status(row, ww_edge_measure(light, rows[i].width, rows[i].height, &edge, &err), WW_OK,
                    &err);
        test_close(row, edge.mtf50.value / mtf50, 1.0, 0.03);
        test_close(row, edge.width_px.value / width, 1.0, rows[i].noise > 0.0 ? 0.06 : 0.03);
        for (int k = 0; k <= WW_EDGE_FREQUENCIES / 2 && rows[i].noise == 0.0; k++)
            test_close(row, edge.mtf[k], exp(-2.0 * pow(PI * rows[i].sigma * k / 64.0, 2.0)), 0.02);
        test_close(row, edge.angle_deg, fabs(rows[i].angle_deg), 0.2);
        test_close(row, edge.light, 0.8, 0.005);
        test_close(row, edge.dark, 0.1, 0.005);
        test_true(row, edge.mtf50.low <= edge.mtf50.value && edge.mtf50.high >= edge.mtf50.value);
        test_true(row, rows[i].noise > 0.0 || rows[i].sigma < 1.0 ||
                           (edge.width_px.low <= width && width <= edge.width_px.high));
        free(light);
    }
}

/* Edges of 200 x 200 px with noise of a hundredth of their contrast and more: within 3 %, and
 * within what is told. */
static void noisy(void **state) {
    (void)state;
    static const double angles[] = {3.0, 5.0, 8.0, 12.0}, blurs[] = {0.8, 1.5};
    size_t within = 0, held = 0;
    const unsigned long runs = test_quick() ? 2 : 48;
    double worst = 0.0;
    for (unsigned long k = 0; k < runs; k++) {
        const drawn d = {200, 200, blurs[k / 4 % 2], angles[k % 4], 0.057, 0.451, 0.005, false};
        const double mtf50 = sqrt(log(2.0) / 2.0) / (PI * d.sigma);
        double *light = draw(&d, 7001 + 77 * k);
        ww_edge edge;
        test_status("noisy", ww_edge_measure(light, d.width, d.height, &edge, NULL), WW_OK, NULL);
        worst = fmax(worst, fabs(edge.mtf50.value / mtf50 - 1.0));
        within += fabs(edge.mtf50.value / mtf50 - 1.0) <= 0.03;
        held += edge.mtf50.low <= mtf50 && mtf50 <= edge.mtf50.high;
        free(light);
    }
    print_message("of %lu noisy edges %zu within 3 %%, the worst %.1f %%; intervals hold %zu\n",
                  runs, within, 100.0 * worst, held);
    test_true("within 3 %", within == runs);
    test_true("intervals", test_quick() || 100 * held >= 90 * runs);
}

static void refused(void **state) {
    (void)state;
    static const struct {
        const char *words;
        drawn d;
        ww_status status;
    } rows[] = {
        {"too straight", {60, 80, 1.3, 0.5, 0.1, 0.8, 0.0, false}, WW_EDOMAIN},
        {"askew by", {80, 60, 1.3, 36.0, 0.1, 0.8, 0.0, false}, WW_EDOMAIN},
        {"nearer than", {18, 80, 1.3, 5.0, 0.1, 0.8, 0.0, false}, WW_EDOMAIN},
        {"no edge", {60, 80, 1.3, 5.0, 0.5, 0.5, 0.0, false}, WW_ENODATA},
        {"no edge", {60, 200, 1.3, 5.0, 0.5, 0.51, 0.01, false}, WW_ENODATA},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double *light = draw(&rows[i].d, 2731);
        ww_edge edge = {.angle_deg = -7};
        ww_error err = WW_ERROR_INIT;
        const ww_status status =
            ww_edge_measure(light, rows[i].d.width, rows[i].d.height, &edge, &err);
        /* An edge that noise hides may be lost as a line before it is judged. */
        test_true(rows[i].words,
                  status == rows[i].status || (rows[i].d.noise > 0.0 && status == WW_EDOMAIN));
        if (rows[i].d.noise == 0.0)
            test_holds(rows[i].words, err.msg, rows[i].words);
        test_close("untouched", edge.angle_deg, -7, 0);
        free(light);
    }
    double few[64] = {0.0}, bad[400];
    ww_edge edge;
    ww_error err = WW_ERROR_INIT;
    for (size_t i = 0; i < 400; i++)
        bad[i] = i == 37 ? (double)NAN : 0.5;
    test_status("8 x 8", ww_edge_measure(few, 8, 8, &edge, &err), WW_EDOMAIN, &err);
    test_status("NaN", ww_edge_measure(bad, 20, 20, &edge, &err), WW_EDOMAIN, &err);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(known_blur), cmocka_unit_test(noisy),
                                       cmocka_unit_test(refused)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
