/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_picture.h"
#include "plot_data.h"

/* Source: the definitions of the figures. What is drawn must lie where the definition says. */
static rows found;

static char *make(const ww_curve *curve) {
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    test_status("data", ww__plot_curve_data(curve, &script, &size, NULL), WW_OK, NULL);
    return script.bytes;
}

static double slope_of_line(void) {
    return (found.cell[1][2] - found.cell[0][2]) / (found.cell[1][1] - found.cell[0][1]);
}

/* Closed form: on a logistic, the slope is within 5 % of the steepest while 4 p (1 - p) >= 0.95. */
static void lines_have_the_figures_slope(void **state) {
    ww_curve curve = make_film();
    const ww_channel_curve *channel = &curve.channel[WW_VISUAL];
    char *script = make(&curve);
    const double p = 0.5 + 0.5 * sqrt(0.05), run = 2 * log(p / (1 - p)) / FILM_SLOPE;
    (void)state;
    rows_of(script, "construct", WW__DRAW_GAMMA, &found);
    assert_int_equal(found.n, 2);
    test_close("gamma", slope_of_line(), 2.1 * (2 * p - 1) / run, 1e-6);
    test_close("from base+fog", found.cell[0][2], 0.27, 1e-8);
    rows_of(script, "construct", WW__DRAW_AVERAGE_GRADIENT, &found);
    assert_int_equal(found.n, 2);
    test_close("from net 0.10", found.cell[0][2], 0.37, 1e-6);
    test_close("over 1.50 log H", found.cell[1][1] - found.cell[0][1], 1.5, 1e-6);
    test_close("average gradient", slope_of_line(),
               channel->figure[WW_FIGURE_AVERAGE_GRADIENT].value, 1e-6);
    rows_of(script, "construct", WW__DRAW_SPEED_POINT, &found);
    test_close("speed point at net 0.10", found.cell[1][2], 0.37, 1e-6);
    test_close("straight down", found.cell[0][1], found.cell[1][1], 0.0);
    free(script);
    ww_curve_release(&curve);
}

static void arcs_have_radii_of_two_tenths_and_two_point_two(void **state) {
    ww_curve curve = make_film();
    const double centre = curve.channel[WW_VISUAL].construction.index_centre;
    char *script = make(&curve);
    size_t near = 0, far = 0;
    (void)state;
    rows_of(script, "construct", WW__DRAW_CONTRAST_INDEX, &found);
    assert_true(found.n > 10);
    test_close("centre on the base+fog line", found.cell[0][2], 0.27, 1e-8);
    test_close("line as long as the far radius",
               hypot(found.cell[1][1] - centre, found.cell[1][2] - 0.27), 2.2, 1e-6);
    test_close("contrast index", slope_of_line(),
               curve.channel[WW_VISUAL].figure[WW_FIGURE_CONTRAST_INDEX].value, 1e-6);
    for (size_t i = 2; i < found.n; i++) {
        const double radius = hypot(found.cell[i][1] - centre, found.cell[i][2] - 0.27);
        near += fabs(radius - 0.2) < 1e-6;
        far += fabs(radius - 2.2) < 1e-6;
    }
    assert_int_equal(near + far, found.n - 2);
    test_true("both arcs", near > 5 && far > 5);
    rows_of(script, "mark", WW__DRAW_CONTRAST_INDEX, &found);
    assert_int_equal(found.n, 3);
    free(script);
    ww_curve_release(&curve);
}

static void papers_show_what_R_stands_on(void **state) {
    ww_curve curve = make_paper();
    const ww_figure_set *set = &curve.channel[WW_VISUAL].construction;
    char *script = make(&curve);
    (void)state;
    rows_of(script, "construct", WW__DRAW_RANGE, &found);
    assert_int_equal(found.n, 6);
    test_close("bar is R / 100", found.cell[1][1] - found.cell[0][1],
               curve.channel[WW_VISUAL].figure[WW_FIGURE_ISO_RANGE].value / 100, 1e-6);
    test_close("net 0.04", found.cell[3][2], 0.10, 1e-6);
    test_close("90 % of net D-max", found.cell[5][2] - 0.06,
               0.9 * (curve.channel[WW_VISUAL].figure[WW_FIGURE_DMAX].value - 0.06), 1e-6);
    test_close("at the construction's end", found.cell[5][1], set->iso_to, 1e-8);
    test_holds("legend", script, "ISO range R ");
    free(script);
    ww_curve_release(&curve);
}

/* Reversal: the curve falls, and so do the lines. */
static void falling_curves(void **state) {
    ww_curve curve = WW_CURVE_INIT;
    ww_shape shape = logistic(0.11, 3.1, 1.9, 1.1);
    char *script;
    (void)state;
    shape.falling = true;
    curve.meta.material = WW_MATERIAL_FILM;
    curve.meta.emulsion = WW_EMULSION_COLOUR_REVERSAL;
    make_channel(&curve, WW_VISUAL, shape, -3.3, 0.7, 21);
    script = make(&curve);
    rows_of(script, "construct", WW__DRAW_GAMMA, &found);
    assert_int_equal(found.n, 2);
    test_close("gamma falls", slope_of_line(),
               -curve.channel[WW_VISUAL].figure[WW_FIGURE_GAMMA].value, 1e-6);
    rows_of(script, "construct", WW__DRAW_CONTRAST_INDEX, &found);
    assert_int_equal(found.n, 0);
    free(script);
    ww_curve_release(&curve);
}

static void several_channels_construct_one(void **state) {
    ww_curve curve = make_colour();
    char *script = make(&curve);
    (void)state;
    rows_of(script, "construct", WW__DRAW_BASE_FOG, &found);
    assert_int_equal(found.n, 2 * 3);
    rows_of(script, "construct", WW__DRAW_GAMMA, &found);
    assert_int_equal(found.n, 2);
    test_close("green's", found.cell[0][2], 0.64, 1e-8);
    test_holds("said so", script, "'constructed for green:'");
    free(script);
    ww_curve_release(&curve);
}

static void absent_figures_are_not_drawn(void **state) {
    ww_curve curve = make_film();
    char *script;
    (void)state;
    for (int f = 0; f < WW_FIGURE_COUNT; f++)
        curve.channel[WW_VISUAL].figure[f] = (ww_quantity)WW_QUANTITY_INIT;
    script = make(&curve);
    rows_of(script, "construct", -1, &found);
    assert_int_equal(found.n, 0);
    test_close("said to gnuplot", number_of(script, "n_construct"), 0, 0);
    test_close("one line of legend", number_of(script, "n_legend"), 1, 0);
    free(script);
    ww_curve_release(&curve);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_have_the_figures_slope),
        cmocka_unit_test(arcs_have_radii_of_two_tenths_and_two_point_two),
        cmocka_unit_test(papers_show_what_R_stands_on),
        cmocka_unit_test(falling_curves),
        cmocka_unit_test(several_channels_construct_one),
        cmocka_unit_test(absent_figures_are_not_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
