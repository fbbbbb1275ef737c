/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/scan_made_case.h"
#include <wedgework/plot.h>

static rows found;

/* Source: the case, 2.5 D at its darkest; by hand, in a picture as deep as the merged scan sees,
 * that is log10(0.4343 ln 10 sqrt(17) / 0.0009) = 3.66 D in green, in red (ratio 2.83) not so
 * far. */
static void curves_and_limits(void **state) {
    ww_scan_merge merge = scan_made_merge("long.tif", "short.tif");
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    (void)state;
    test_status("data", ww__plot_scan_merge_data(&merge, &script, &size, NULL), WW_OK, NULL);
    rows_of(script.bytes, "noise", WW_GREEN, &found);
    assert_int_equal(found.n, 26);
    test_close("shorter", found.cell[20][2] / scan_made_noise(2.0), 1.0, 1e-6);
    test_close("merged", found.cell[20][3] / scan_made_noise(2.0), 1.0 / sqrt(17.0), 1e-6);
    rows_of(script.bytes, "noise", WW_VISUAL, &found);
    assert_int_equal(found.n, 0);
    test_true("to the darkest", number_of(script.bytes, "x_to") >= 2.5 - 1e-9 &&
                                    number_of(script.bytes, "x_to") < 2.8);
    test_true("from full scale", number_of(script.bytes, "x_from") <= 0.0);
    test_holds("legend", script.bytes, "legend_text[2] = 'green, 2.00 stops apart'");
    ww__text_release(&script);
    merge.channel[WW_RED].darkest = merge.channel[WW_GREEN].darkest = 4.0;
    test_status("deep", ww__plot_scan_merge_data(&merge, &script, &size, NULL), WW_OK, NULL);
    rows_of(script.bytes, "noise", WW_GREEN, &found);
    assert_int_equal(found.n, WW_SCAN_MERGE_GAINS);
    test_true("as far as it sees", number_of(script.bytes, "x_to") >= 3.6 - 1e-9 &&
                                       number_of(script.bytes, "x_to") < 3.95);
    ww__text_release(&script);
    ww_scan_merge_release(&merge);
}

static void gnuplot_draws_it(void **state) {
    ww_scan_merge merge = scan_made_merge("long.tif", "short.tif");
    char *svg = NULL;
    (void)state;
    if (!have_gnuplot())
        skip();
    test_status("svg", ww_plot_scan_merge_svg(&merge, &svg, NULL), WW_OK, NULL);
    test_holds("svg", svg, "signal = noise");
    test_lacks("of gnuplot's own", svg, "undefined");
    free(svg);
    ww_scan_merge_release(&merge);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(curves_and_limits),
                                       cmocka_unit_test(gnuplot_draws_it)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
