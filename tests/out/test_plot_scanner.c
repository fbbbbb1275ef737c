/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/scan_case.h"

static rows found;

static char *make(const ww_scanner *scanner, ww__plot_size *size) {
    ww__text script = WW__TEXT_INIT;
    test_status("data", ww__plot_scanner_data(scanner, &script, size, NULL), WW_OK, NULL);
    return script.bytes;
}

/* Source: the model that the header of scanners defines. */
static void model_and_steps_lie_where_they_should(void **state) {
    struct scanner_case made;
    ww__plot_size size;
    char *script;
    (void)state;
    scan_case_scanner(&made, true);
    script = make(&made.scanner, &size);
    rows_of(script, "model", WW_GREEN, &found);
    test_true("a smooth line", found.n > 100);
    for (size_t i = 0; i < found.n; i++)
        test_close("log code", found.cell[i][1],
                   log10(scan_case_code(found.cell[i][2]) / SCAN_CASE_WHITE), 1e-7);
    rows_of(script, "steps", WW_BLUE, &found);
    assert_int_equal(found.n, SCAN_CASE_STEPS);
    test_close("clipped", found.cell[0][3], 1, 0.0);
    test_close("step", found.cell[4][3], 0, 0.0);
    test_close("suspect", found.cell[8][3], 3, 0.0);
    test_close("compressed", found.cell[19][3], 2, 0.0);
    test_close("density", found.cell[4][2], scan_case_density(4), 1e-8);
    test_close("log code", found.cell[4][1], log10(made.step[2][4].code / SCAN_CASE_WHITE), 1e-8);
    assert_int_equal((int)number_of(script, "n_clipped"), 3);
    assert_int_equal((int)number_of(script, "n_compressed"), 9);
    assert_int_equal((int)number_of(script, "n_suspect"), 3);
    free(script);
}

/* What the model leaves of the made case is 0.004 sin 3 D; the correction takes just that away. */
static void residuals_and_correction_agree(void **state) {
    struct scanner_case made;
    ww__plot_size size;
    char *script;
    (void)state;
    scan_case_scanner(&made, false);
    script = make(&made.scanner, &size);
    rows_of(script, "residuals", WW_VISUAL, &found);
    assert_int_equal(found.n, SCAN_CASE_STEPS - 1);
    test_close("residual", found.cell[2][2], 0.004 * sin(3 * found.cell[2][1]), 1e-8);
    rows_of(script, "correction", WW_VISUAL, &found);
    assert_int_equal(found.n, SCAN_CASE_STEPS - 1);
    for (size_t i = 0; i < found.n; i++)
        test_close("correction", found.cell[i][2], 0.004 * sin(3 * found.cell[i][1]), 1e-7);
    rows_of(script, "doubt", -2, &found);
    assert_int_equal(found.n, SCAN_CASE_STEPS - 1);
    test_close("thin end first", found.cell[0][0], scan_case_density(1), 1e-8);
    test_close("doubt", found.cell[0][2], 0.007, 1e-8);
    test_close("doubt", found.cell[0][1], -0.007, 1e-8);
    test_true("the suspect is in the panel", number_of(script, "residual_limit") >= 0.031);
    free(script);
}

/* Sources: sigma_D = sigma / (S ln 10) for codes that are light; for a power, light = code^gamma,
 * by its derivative. */
static void noise_is_that_of_light(void **state) {
    static const double gammas[] = {1.0, 2.2};
    (void)state;
    for (size_t k = 0; k < 2; k++) {
        struct scanner_case made;
        ww__plot_size size;
        const double share = pow(0.031, 1.0 / gammas[k]), slope = gammas[k] * 0.031 / share;
        const double signal = 0.031 - SCAN_CASE_DARK - SCAN_CASE_K * SCAN_CASE_FLARE;
        char *script;
        scan_case_scanner(&made, false);
        made.scanner.gamma.value = gammas[k];
        made.step[0][4].code = SCAN_CASE_WHITE * share;
        made.step[0][4].sd = 0.0007 * SCAN_CASE_WHITE;
        script = make(&made.scanner, &size);
        rows_of(script, "step_noise", WW_VISUAL, &found);
        test_close("noise", found.cell[3][2], slope * 0.0007 / (signal * log(10.0)), 2e-8);
        rows_of(script, "dmax", WW_VISUAL, &found);
        assert_int_equal(found.n, 1);
        test_close("sees to", found.cell[0][1], 2.91, 1e-9);
        free(script);
    }
}

static void legend_and_layout(void **state) {
    struct scanner_case made;
    ww__plot_size size;
    char *script;
    (void)state;
    scan_case_scanner(&made, true);
    made.scanner.channel[WW_RED].dmax.how = WW_MEASURED;
    script = make(&made.scanner, &size);
    test_holds("title", script, "title_text = 'Scanner, from wedge.tif'\n");
    test_holds("red", script, "legend_text[1] = 'red: sees to 2.91 D, the wedge\xE2\x80\x99s end'");
    test_holds("green", script, "legend_text[2] = 'green: sees to 2.87 (2.82 to 2.92) D'\n");
    rows_of(script, "dmax", -1, &found);
    assert_int_equal(found.n, 3); /* each arrow begins at a height of its own, above the line */
    test_true("apart", found.cell[0][2] > log10(exp(1.0)) * 1.3 &&
                           found.cell[1][2] > found.cell[0][2] * 1.3 &&
                           found.cell[2][2] > found.cell[1][2] * 1.3 &&
                           number_of(script, "noise_to") > found.cell[2][2] * 1.3);
    for (size_t c = 1; c < 3; c++) /* and ends at the mark below: heads do not meet */
        test_close("arrow", found.cell[c][2] / number_of(script, "arrow_rise"),
                   found.cell[c - 1][2], 1e-8);
    test_close("log10 e", number_of(script, "signal_is_noise"), log10(exp(1.0)), 1e-9);
    test_true("panels do not meet",
              number_of(script, "main_right") < number_of(script, "noise_left") - 0.05 &&
                  number_of(script, "residual_top") < number_of(script, "main_bottom") - 0.05);
    test_true("dense end inside", number_of(script, "d_to") > scan_case_density(20));
    test_close("d_to on the grid", fmod(number_of(script, "d_to") + 1e-9, 0.3), 0.0, 1e-6);
    free(script);
}

static void nothing_and_odd_values(void **state) {
    ww_scanner none = WW_SCANNER_INIT;
    struct scanner_case made;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("no channel", ww__plot_scanner_data(&none, &script, &size, &err), WW_ENODATA, &err);
    scan_case_scanner(&made, false);
    made.scanner.channel[WW_VISUAL].n_steps = 0;
    test_status("no step", ww__plot_scanner_data(&made.scanner, &script, &size, &err), WW_ENODATA,
                &err);
    scan_case_scanner(&made, false);
    made.step[0][20].code = 0.0;
    made.step[0][20].clipped = true;
    made.scanner.name = NULL;
    made.scanner.channel[WW_VISUAL].noise = (ww_scanner_noise){0.0, 0.0, 0.0};
    made.scanner.channel[WW_VISUAL].dmax.how = WW_ABSENT;
    made.scanner.channel[WW_VISUAL].n_points = 0;
    test_status("odd", ww__plot_scanner_data(&made.scanner, &script, &size, &err), WW_OK, NULL);
    test_holds("no noise", script.bytes, "\nn_noise = 0\n");
    test_holds("no dmax", script.bytes, "\nn_dmax = 0\n");
    test_holds("no doubt", script.bytes, "\nn_doubt = 0\n");
    test_lacks("no infinity", script.bytes, "inf");
    test_lacks("no NaN", script.bytes, "nan");
    ww__text_release(&script);
}

static void hostile_names_stay_in_quotes(void **state) {
    static char hostile[] = HOSTILE;
    struct scanner_case made;
    ww__plot_size size;
    char *script;
    (void)state;
    scan_case_scanner(&made, true);
    made.scanner.name = made.step[0][0].step = hostile;
    script = make(&made.scanner, &size);
    test_lacks("no line of its own", script, "\n!touch");
    free(script);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(model_and_steps_lie_where_they_should),
        cmocka_unit_test(residuals_and_correction_agree),
        cmocka_unit_test(noise_is_that_of_light),
        cmocka_unit_test(legend_and_layout),
        cmocka_unit_test(nothing_and_odd_values),
        cmocka_unit_test(hostile_names_stay_in_quotes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
