/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_paper.h"
#include "support/support.h"
#include <math.h>
#include <wedgework/layers.h>

/* One log H in all layers is a step of the grey wedge that the curves come from: definition. */
static void a_grey_is_on_the_curves(void **state) {
    const colour_paper paper = colour_paper_typical();
    ww_curve curve = WW_CURVE_INIT;
    (void)state;
    colour_paper_fit(&paper, NULL, 0.0, &curve);
    for (double x = -1.2; x < 1.2; x += 0.0731) {
        const double log_h[3] = {x, x, x};
        double density[3];
        test_status("grey", ww_layers_density(&curve, log_h, density, NULL, NULL), WW_OK, NULL);
        for (int c = 0; c < 3; c++) {
            double want;
            (void)ww_curve_density(&curve.channel[c], x, &want, NULL, NULL);
            test_close("density", density[c], want, 1e-12);
        }
    }
    ww_curve_release(&curve);
}

/* Source: by hand: on straight curves a change of the layers' light is seen as the dyes' table has
 * it (colour_paper.c). */
static void a_cast_is_seen_through_all_dyes(void **state) {
    static const double light[] = {0.04, -0.07, 0.11};
    ww_curve curve;
    double at[3], density[3], more[3], turn[3][3], by[3][3];
    (void)state;
    colour_paper_straight(2.6, &curve);
    colour_paper_seen(light, more);
    for (int k = 0; k < 3; k++)
        density[k] = 0.10 + 2.6 * 0.4 + more[k];
    test_status("layers", ww_layers_log_h(&curve, density, at, turn, NULL), WW_OK, NULL);
    for (int k = 0; k < 3; k++)
        test_close("log H", at[k], -1.0 + 0.4 + light[k], 1e-6);
    test_status("back", ww_layers_density(&curve, at, density, by, NULL), WW_OK, NULL);
    for (int c = 0; c < 3; c++) /* turn undoes by */
        for (int d = 0; d < 3; d++)
            test_close("turn",
                       by[c][0] * turn[0][d] + by[c][1] * turn[1][d] + by[c][2] * turn[2][d],
                       c == d, 1e-6);
    ww_curve_release(&curve);
}

/* A paper whose dyes are others, printed far off: what is left of the cast's own error is a share
 * of what reading each channel by itself leaves. Source: the simulated paper's own light. */
static void comes_nearer_than_channels_do(void **state) {
    const colour_paper paper = colour_paper_typical();
    static const double light[] = {0.25, -0.10, 0.05};
    ww_curve curve = WW_CURVE_INIT;
    double density[3], at[3], turn[3][3], by_layers = 0.0, by_channels = 0.0;
    (void)state;
    colour_paper_fit(&paper, NULL, 0.0, &curve);
    colour_paper_density(&paper, light, density);
    test_status("layers", ww_layers_log_h(&curve, density, at, turn, NULL), WW_OK, NULL);
    for (int k = 0; k < 3; k++) {
        double alone;
        (void)ww_curve_log_h(&curve.channel[k], density[k], &alone, NULL);
        by_layers = hypot(by_layers, at[k] - light[k]);
        by_channels = hypot(by_channels, alone - light[k]);
    }
    test_true("a third", by_layers < by_channels / 3.0);
    ww_curve_release(&curve);
}

static void refuses_what_no_layers_give(void **state) {
    static const double white[3] = {0.02, 0.5, 0.5}, out[3] = {9.0, 0.0, 0.0};
    ww_curve curve;
    ww_error err = WW_ERROR_INIT;
    double at[3] = {7, 7, 7}, turn[3][3];
    (void)state;
    colour_paper_straight(2.6, &curve);
    test_status("white", ww_layers_log_h(&curve, white, at, turn, &err), WW_ENODATA, &err);
    test_holds("white", err.msg, "less of a cast");
    test_close("untouched", at[0], 7.0, 0.0);
    test_status("out", ww_layers_density(&curve, out, at, NULL, &err), WW_EDOMAIN, &err);
    ww_curve_release(&curve);
}

/* Source: by hand, on the straight paper of slope 2.6: of 0.1 more red light the cyan dye is beyond
 * grey in green and blue, magenta and yellow lack as much in red; densities count alone here. */
static void unlike_dyes_are_in_doubt(void **state) {
    double alone[WW_LAYERS][WW_LAYERS] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    const double grey[] = {-0.6, -0.6, -0.6}, red[] = {-0.5, -0.6, -0.6};
    const double magenta = 0.805 / 0.98275, cyan = 1.0 - 0.05 * magenta;
    const double yellow = 0.9 - 0.195 * magenta;
    double sd[WW_LAYERS];
    ww_curve paper;
    (void)state;
    colour_paper_straight(2.6, &paper);
    ww_layers_dye_sd(&paper, red, grey, alone, sd);
    test_close("red", sd[0], 0.26 * hypot(0.04 * magenta, 0.01 * yellow), 1e-4);
    test_close("green", sd[1], 0.26 * 0.08 * cyan, 1e-4);
    test_close("blue", sd[2], 0.26 * 0.05 * cyan, 1e-4);
    ww_layers_dye_sd(&paper, red, red, alone, sd);
    test_close("the same print", sd[1], 0.0, 1e-12);
    ww_curve_release(&paper);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_grey_is_on_the_curves),
        cmocka_unit_test(a_cast_is_seen_through_all_dyes),
        cmocka_unit_test(comes_nearer_than_channels_do),
        cmocka_unit_test(refuses_what_no_layers_give),
        cmocka_unit_test(unlike_dyes_are_in_doubt),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
