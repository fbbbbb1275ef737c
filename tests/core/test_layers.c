/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_paper.h"
#include "support/support.h"
#include <math.h>
#include <string.h>
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

/* Source: definition: on straight curves a dye that is off mixes the layers' light in proportion,
 * which is the response's. */
static void straight_curves_leave_dyes_to_the_response(void **state) {
    const double grey[] = {-0.6, -0.62, -0.6}, red[] = {-0.5, -0.6, -0.65};
    double sd[WW_LAYERS];
    ww_curve paper;
    (void)state;
    colour_paper_straight(2.6, &paper);
    ww_layers_dye_sd(&paper, red, grey, sd);
    for (int k = 0; k < WW_LAYERS; k++)
        test_close("nothing left", sd[k], 0.0, 1e-6);
    ww_curve_release(&paper);
}

static void read_layers(const colour_paper *p, const ww_curve *curve, const double light[3],
                        double at[3]) {
    double density[3], turn[3][3];
    colour_paper_density(p, light, density);
    test_status("read", ww_layers_log_h(curve, density, at, turn, NULL), WW_OK, NULL);
}

/* What a paper with these dyes makes of the way between two lights, less what the slopes at the
 * one make of it. */
static void bent(const colour_paper *p, const double light[3], const double from[3],
                 double off[3]) {
    static const double step = 0.01;
    ww_curve curve = WW_CURVE_INIT;
    double at[3], there[3];
    colour_paper_fit(p, NULL, 0.0, &curve);
    read_layers(p, &curve, light, at);
    read_layers(p, &curve, from, there);
    for (int k = 0; k < 3; k++)
        off[k] = at[k] - there[k];
    for (int j = 0; j < 3; j++) {
        double up[3] = {from[0], from[1], from[2]}, down[3] = {from[0], from[1], from[2]};
        up[j] += step;
        down[j] -= step;
        read_layers(p, &curve, up, at);
        read_layers(p, &curve, down, there);
        for (int k = 0; k < 3; k++)
            off[k] -= (at[k] - there[k]) / (2.0 * step) * (light[j] - from[j]);
    }
    ww_curve_release(&curve);
}

/* Source: propagation of errors by trying each dye that is off, on a simulated paper whose dyes are
 * else those of wedgework/layers.h, from a middle grey to a print on the toe. */
static void unlike_dyes_are_in_doubt_where_slopes_change(void **state) {
    static const double usual[3][3] = {{1, 0.05, 0}, {0.15, 1, 0.05}, {0.10, 0.20, 1}};
    static const double open[3][3] = {{0, 0.04, 0.01}, {0.08, 0, 0.06}, {0.05, 0.06, 0}};
    static const double from[] = {-0.15, -0.15, -0.15}, light[] = {-0.55, -0.35, -0.70};
    colour_paper p = colour_paper_typical();
    ww_curve curve = WW_CURVE_INIT;
    double sd[WW_LAYERS], tried[3] = {0.0};
    (void)state;
    if (test_quick())
        skip();
    memcpy(p.dye, usual, sizeof p.dye);
    colour_paper_fit(&p, NULL, 0.0, &curve);
    ww_layers_dye_sd(&curve, light, from, sd);
    ww_curve_release(&curve);
    for (int c = 0; c < 3; c++)
        for (int k = 0; k < 3; k++) {
            double more[3], less[3];
            if (c == k)
                continue;
            p.dye[c][k] = usual[c][k] + 0.5 * open[c][k];
            bent(&p, light, from, more);
            p.dye[c][k] = usual[c][k] - 0.5 * open[c][k];
            bent(&p, light, from, less);
            p.dye[c][k] = usual[c][k];
            for (int layer = 0; layer < 3; layer++)
                tried[layer] = hypot(tried[layer], more[layer] - less[layer]);
        }
    for (int layer = 0; layer < 3; layer++) {
        print_message("layer %d: %.4f, by trying %.4f\n", layer, sd[layer], tried[layer]);
        test_true("enough", tried[layer] > 0.002);
        test_close("sd", sd[layer] / tried[layer], 1.0, 0.25);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_grey_is_on_the_curves),
        cmocka_unit_test(a_cast_is_seen_through_all_dyes),
        cmocka_unit_test(comes_nearer_than_channels_do),
        cmocka_unit_test(refuses_what_no_layers_give),
        cmocka_unit_test(straight_curves_leave_dyes_to_the_response),
        cmocka_unit_test(unlike_dyes_are_in_doubt_where_slopes_change),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
