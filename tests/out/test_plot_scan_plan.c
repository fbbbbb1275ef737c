/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/scan_plan_case.h"
#include <math.h>
#include <wedgework/plot.h>

static rows found;

/* Read noise alone, k 0.95, base 0.30: noise of a pixel is 0.001 10^(D - 0.30) / (0.95 ln 10).
 * Source: hand calculation. */
static char *make(scan_plan_case *c, double separate) {
    ww_scan_plan plan;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    scan_plan_case_start(c, (scan_pixels_truth){0.95, 0.0, 0.0, 1e-3, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(c, "base", WW_PART_WHOLE, 0.30);
    scan_plan_case_grey(c, "shade", WW_PART_WHOLE, 0.31);
    scan_plan_case_grey(c, "cloud", WW_PART_WHOLE, 1.30);
    c->request.separate = separate;
    scan_plan_case_make("plan", c, &plan);
    test_status("data", ww__plot_scan_plan_data(&plan, &c->made.scanner, &script, &size, NULL),
                WW_OK, NULL);
    ww_scan_plan_release(&plan);
    return script.bytes;
}

static double noise_at(double density) {
    return 0.001 * pow(10.0, density - 0.30) / (0.95 * log(10.0));
}

static void curves_and_tones(void **state) {
    scan_plan_case c;
    char *script = make(&c, 0.01);
    (void)state;
    rows_of(script, "first", WW_VISUAL, &found);
    test_true("a curve", found.n > 150);
    for (size_t i = 0; i < found.n; i++)
        test_close("noise", found.cell[i][2] / noise_at(found.cell[i][1]), 1.0, 1e-6);
    rows_of(script, "tones", WW_VISUAL, &found);
    assert_int_equal(found.n, 3);
    test_close("cloud", found.cell[2][1], 1.30, 1e-9);
    test_close("cloud", found.cell[2][2], noise_at(1.30), 1e-9);
    test_true("kept", found.cell[2][3] == 1.0 && found.cell[0][3] == 0.0);
    test_close("level", number_of(script, "told"), 0.03 / 2.8, 1e-9);
    test_close("second", number_of(script, "n_second"), 0.0, 0.0);
    test_holds("names", script, "name[3] = 'cloud'");
    free(script);
}

/* Two that are nearly as dense: their names stand 15 px apart. */
static void names_do_not_meet(void **state) {
    scan_plan_case c;
    char *script = make(&c, 0.01);
    const double px = (number_of(script, "x_to") - number_of(script, "x_from")) / 640.0;
    (void)state;
    test_close("apart", number_of(script, "name_at[2]") - number_of(script, "name_at[1]"),
               15.0 * px, 1e-6);
    free(script);
}

/* A second scan with a stop more: half the noise, and nothing where it clips. */
static void second_scan(void **state) {
    scan_plan_case c;
    char *script = make(&c, 0.0022);
    (void)state;
    test_close("second", number_of(script, "n_second"), 1.0, 0.0);
    rows_of(script, "second", WW_VISUAL, &found);
    test_true("a curve", found.n > 100);
    for (size_t i = 0; i < found.n; i++) {
        test_close("noise", found.cell[i][2] / noise_at(found.cell[i][1]), 0.5, 1e-6);
        test_true("unclipped", found.cell[i][1] >= 0.30 + log10(2.0 * 0.95) - 1e-9);
    }
    free(script);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(curves_and_tones),
                                       cmocka_unit_test(names_do_not_meet),
                                       cmocka_unit_test(second_scan)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
