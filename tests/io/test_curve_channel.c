/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/curve_document.h"
#include <wedgework/curve_file.h>

/* Source of every expectation: definition (the format that curve_file.h describes). */

static void reads_a_fitted_channel(void **state) {
    ww_curve curve = WW_CURVE_INIT;
    ww_error err = WW_ERROR_INIT;
    const ww_channel_curve *visual = &curve.channel[WW_VISUAL];
    const ww_figure_set *set = &visual->construction;
    (void)state;
    test_status(
        "parse",
        ww_curve_file_parse("c.json", curve_document, sizeof curve_document - 1, &curve, &err),
        WW_OK, &err);
    assert_true(visual->present && visual->fitted);
    assert_int_equal(visual->shape.model, WW_MODEL_TOE_LINE);
    assert_false(visual->shape.falling);
    assert_int_equal(visual->shape.n, 4);
    test_close("base_fog", visual->shape.parameter[0], 0.25, 0.0);
    test_close("gamma", visual->shape.parameter[1], 0.7, 0.0);
    test_close("toe position", visual->shape.parameter[2], -2.0, 0.0);
    test_close("toe softness", visual->shape.parameter[3], 1.0 / 2.8, 0.0);
    test_close("C[0][1]", visual->covariance[1], 1e-7, 0.0);
    test_close("C[3][2]", visual->covariance[14], 2e-6, 0.0);
    test_close("C[3][3]", visual->covariance[15], 3e-5, 0.0);
    test_close("domain", visual->domain_low, -3.1, 0.0);
    test_close("domain", visual->domain_high, -0.4, 0.0);
    test_close("residual_sd", visual->residual_sd, 0.0071, 0.0);
    test_close("residual_rms", visual->residual_rms, 0.0064, 0.0);
    assert_int_equal(visual->n_points, 5);
    test_text("step", visual->point[3].step, "4");
    test_close("log H", visual->point[1].log_h, -2.2, 0.0);
    test_close("density", visual->point[1].density, 0.361, 0.0);
    assert_true(visual->point[0].sd.set && !visual->point[1].sd.set);
    test_close("sd", visual->point[0].sd.value, 0.004, 0.0);
    assert_int_equal(visual->point[0].n, 3);
    assert_int_equal(visual->point[3].state, WW_CELL_VALUE);
    assert_int_equal(visual->point[4].state, WW_CELL_OVER);
    assert_true(visual->point[3].cut && !visual->point[2].cut);
    assert_int_equal(visual->n_suspects, 1);
    assert_int_equal(visual->suspect[0].point, 2); /* the label "2" stands on two steps */
    assert_int_equal(visual->suspect[0].cause, WW_CAUSE_DECIMAL_POINT);
    test_close("residual", visual->suspect[0].residual, -0.09, 0.0);
    assert_int_equal(visual->figure[WW_FIGURE_DMAX].how, WW_ABSENT);
    assert_int_equal(visual->figure[WW_FIGURE_SHOULDER].how, WW_ABSENT);
    assert_int_equal(visual->figure[WW_FIGURE_CONTRAST_INDEX].how, WW_EXTRAPOLATED);
    test_close("speed point", visual->figure[WW_FIGURE_SPEED_POINT].low, -2.27, 0.0);
    test_close("between", set->gradient_from, -2.2534, 0.0);
    test_close("between", set->gradient_to, -0.7534, 0.0);
    test_close("run", set->run_from, -1.4, 0.0);
    test_close("run", set->run_to, -0.4, 0.0);
    test_close("run", set->run_density_from, 0.68, 0.0);
    test_close("arcs", set->index_centre, -2.4524, 0.0);
    test_close("arcs", set->index_to, -0.5154, 0.0);
    test_close("value beside its ends", set->value[WW_FIGURE_GAMMA], 0.7, 0.0);
    assert_int_equal(set->how[WW_FIGURE_GAMMA], WW_FITTED);
    ww_curve_release(&curve);
}

static void reads_a_channel_without_a_fit(void **state) {
    ww_curve curve = WW_CURVE_INIT;
    ww_error err = WW_ERROR_INIT;
    const ww_channel_curve *red = &curve.channel[WW_RED];
    (void)state;
    test_status(
        "parse",
        ww_curve_file_parse("c.json", curve_document, sizeof curve_document - 1, &curve, &err),
        WW_OK, &err);
    assert_true(red->present && !red->fitted && !red->covariance);
    assert_int_equal(red->n_points, 2);
    test_text("counted from 1", red->point[1].step, "2");
    assert_int_equal(red->point[1].n, 1);
    assert_int_equal(red->point[1].state, WW_CELL_VALUE);
    test_close("base", red->figure[WW_FIGURE_BASE_FOG].high, 0.22, 0.0);
    assert_false(curve.channel[WW_GREEN].present || curve.channel[WW_BLUE].present);
    ww_curve_release(&curve);
}

static const struct {
    const char *what;
    const char *instead;
    const char *complaint; /* NULL: read all the same */
} rows[] = {
    {"\"toe-line\"", "\"cubic\"",
     "key 'channels.visual.model' is 'cubic'; it must be one of 'logistic', 'toe-line-shoulder', "
     "'toe-line', 'spline'"},
    {"\"model\": \"toe-line\",", "",
     "key 'channels.visual.model' is missing; write the file anew with wedgework"},
    {"\"model\": \"toe-line\"", "\"model\": \"logistic\"",
     "key 'channels.visual.parameters' has 4 parameters, which the model logistic has not; fit the "
     "readings again"},
    {"\"model\": \"toe-line\"", "\"model\": \"spline\"",
     "key 'channels.visual.knots' is missing; write the file anew with wedgework"},
    {"\"model\": \"toe-line\"", "\"model\": \"spline\", \"knots\": [-1, -3]",
     "key 'channels.visual.knots' does not run from low to high; write the file anew"},
    {"\"base_fog\": 0.25,", "\"Base_fog\": 0.25,",
     "key 'channels.visual.parameters.base_fog' is missing; write the file anew with wedgework"},
    {"\"gamma\": 0.7,", "\"gamma\": 0,",
     "key 'channels.visual.parameters' describes no rising curve of the model toe-line; fit the "
     "readings again"},
    {"\"gamma\": 0.7,", "\"gamma\": \"0.7\",",
     "key 'channels.visual.parameters.gamma' is the text '0.7' where a number must stand"},
    {"\"gamma\": 0.7,", "\"gamma\": null,",
     "key 'channels.visual.parameters.gamma' is null where a number must stand"},
    {"\"toe_softness\": 0.35714285714285715", "\"toe_softness\": 0.3, \"more\": 1",
     "key 'channels.visual.parameters' has 5 parameters, which the model toe-line has not; fit the "
     "readings again"},
    {"[[4e-6,", "[[", "key 'channels.visual.covariance[0]' has 3 items where 4 must stand"},
    {",\n                     [0, 0, 1e-5, 2e-6], [0, 0, 2e-6, 3e-5]]", "]",
     "key 'channels.visual.covariance' has 2 items where 4 must stand"},
    {"9e-6", "-9e-6",
     "key 'channels.visual.covariance[1][1]' is -9e-06; it must lie between 0 and "
     "1.797693135e+308"},
    {"\"falling\": false", "\"falling\": 0",
     "key 'channels.visual.falling' is a number where true or false must stand"},
    {"[-3.1, -0.4]", "[-0.4, -0.4]",
     "key 'channels.visual.domain' does not run from low to high; write the file anew"},
    {"[-3.1, -0.4]", "[-3.1, 99]",
     "key 'channels.visual.domain[1]' is 99; it must lie between -20 and 20"},
    {"[-3.1, -0.4]", "null", "key 'channels.visual.domain' is null where an array must stand"},
    {"0.361, null", "361, null",
     "key 'channels.visual.points[1][1]' is 361; it must lie between -0.1 and 6"},
    {"0.361, null", "null, null",
     "key 'channels.visual.points[1][1]' is null where a number must stand"},
    {"0.361, null]", "0.361]", "key 'channels.visual.points[1]' has 2 items where 3 must stand"},
    {"0.004", "-0.004",
     "key 'channels.visual.points[0][2]' is -0.004; it must lie between 0 and 6"},
    {"[-0.1, null, null]", "[-0.1, 2.9, null]",
     "key 'channels.visual.points[4][1]' is a value, but its state is 'over'; write null here"},
    {"\"over\"]", "\"lost\"]",
     "key 'channels.visual.states[4]' is 'lost'; it must be one of 'missing', 'value', 'over'"},
    {"\"4\", \"5\"]", "\"4\"]", "key 'channels.visual.steps' has 4 items where 5 must stand"},
    {"\"4\", \"5\"]", "\"4\", null]",
     "key 'channels.visual.steps[4]' is null where a text must stand"},
    {"[3, 1, 1, 1, 1]", "[3, 1, 1, 1, -1]",
     "key 'channels.visual.repeats[4]' is -1; it must lie between 0 and 9223372036854775807"},
    {"[3, 1, 1, 1, 1]", "[3, 1, 1, 1, 1.5]",
     "key 'channels.visual.repeats[4]' is a number where a whole number must stand"},
    {"true, false],", "1, false],",
     "key 'channels.visual.cut[3]' is a number where true or false must stand"},
    {"\"residual_sd\": 0.0071", "\"residual_sd\": -1",
     "key 'channels.visual.residual_sd' is -1; it must lie between 0 and 6"},
    {"{\"step\": \"2\"", "{\"step\": \"1\"",
     "key 'channels.visual.suspect[0].step' is '1', which is no step among the points"},
    {"\"point\": 2", "\"point\": 5",
     "key 'channels.visual.suspect[0].step' is '2', which is no step among the points"},
    {"\"point\": 2", "\"point\": -1",
     "key 'channels.visual.suspect[0].point' is -1; it must lie between 0 and 9223372036854775807"},
    {"\"decimal point\"", "\"comma\"",
     "key 'channels.visual.suspect[0].cause' is 'comma'; it must be one of 'unknown', 'slip', "
     "'swapped', 'skipped', 'decimal point', 'dust'"},
    {"\"residual\": -0.09, ", "",
     "key 'channels.visual.suspect[0].residual' is missing; write the file anew with wedgework"},
    {"{\"value\": 0.7, \"low\"", "{\"value\": \"0.7\", \"low\"",
     "key 'channels.visual.gamma.value' is the text '0.7' where a number must stand"},
    {"\"how\": \"extrapolated\"", "\"how\": \"guessed\"",
     "key 'channels.visual.contrast_index.how' is 'guessed'; it must be one of 'measured', "
     "'fitted', 'extrapolated', 'given'"},
    {"\"low\": -2.27", "\"low\": -2.245", NULL}, /* below or above the value: the usual case only */
    {"\"low\": -2.27", "\"low\": -2.1",
     "key 'channels.visual.speed_point.low' lies above the high end; write the file anew"},
    {"[-2.2534, -0.7534]", "[-2.2534]",
     "key 'channels.visual.average_gradient.between' has 1 items where 2 must stand"},
    {"\"straight_run\": [-1.4, -0.4]", "\"straight_run\": \"all\"",
     "key 'channels.visual.construction.straight_run' is the text 'all' where an array must stand"},
    {"\"construction\": {", "\"construction\": 7, \"rest\": {",
     "key 'channels.visual.construction' is a number where an object must stand"},
    {"\"red\": {", "\"red\": 7, \"blue\": {",
     "key 'channels.red' is a number where an object must stand"},
    /* What a file of the bare format may leave out. */
    {", \"residual_rms\": 0.0064, \"falling\": false", "", NULL},
    {"\"steps\": [\"1\", \"2\", \"2\", \"4\", \"5\"]", "\"steps\": null",
     "key 'channels.visual.suspect[0].step' is '2', which is no step among the points"},
    {",\n                   \"point\": 2", "", NULL},
    {", \"between\": [-2.2534, -0.7534]", "", NULL},
};

static void names_what_is_wrong(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char *text = curve_document_with(rows[i].what, rows[i].instead);
        ww_curve curve = WW_CURVE_INIT;
        ww_error err = WW_ERROR_INIT;
        const ww_status status = ww_curve_file_parse("c.json", text, strlen(text), &curve, &err);
        test_status(rows[i].instead, status, rows[i].complaint ? WW_EINPUT : WW_OK, &err);
        if (rows[i].complaint) {
            test_text(rows[i].instead, err.msg, rows[i].complaint);
            test_text(rows[i].instead, err.file, "c.json");
        }
        test_true("untouched on failure", curve.channel[WW_VISUAL].present == (status == WW_OK));
        ww_curve_release(&curve);
        free(text);
    }
}

static void fills_in_what_the_bare_format_lacks(void **state) {
    char *text = curve_document_with(", \"residual_rms\": 0.0064, \"falling\": false", "");
    ww_curve curve = WW_CURVE_INIT;
    (void)state;
    test_status("parse", ww_curve_file_parse("c.json", text, strlen(text), &curve, NULL), WW_OK,
                NULL);
    test_close("residual_rms", curve.channel[WW_VISUAL].residual_rms, 0.0071, 0.0);
    ww_curve_release(&curve);
    free(text);
    text = curve_document_with(",\n                   \"point\": 2", "");
    test_status("parse", ww_curve_file_parse("c.json", text, strlen(text), &curve, NULL), WW_OK,
                NULL);
    assert_int_equal(curve.channel[WW_VISUAL].suspect[0].point, 1); /* the first of that label */
    ww_curve_release(&curve);
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_a_fitted_channel),
        cmocka_unit_test(reads_a_channel_without_a_fit),
        cmocka_unit_test(names_what_is_wrong),
        cmocka_unit_test(fills_in_what_the_bare_format_lacks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
