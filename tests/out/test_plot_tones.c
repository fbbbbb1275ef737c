/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/tones_case.h"
#include <wedgework/plot.h>

static rows found;

/* Source: the synthetic chain; L* 50 is D 0.734742. */
static void four_quadrants(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    tones_case_start(&c);
    tones_case_make("tones", &c, &tones);
    test_status("data", ww__plot_tones_data(&tones, &script, &size, NULL), WW_OK, NULL);
    rows_of(script.bytes, "print", 0, &found);
    assert_int_equal(found.n, 241);
    test_close("white's exposure is the zero", found.cell[0][2], 0.0, 1e-9);
    test_close("white's film", found.cell[0][3], 1.4650, 6e-5);
    test_close("darkest", found.cell[240][4], 1.8651, 6e-5);
    /* The enlarger's line: without its flare as much exposure more as density less. */
    test_close("enlarger", found.cell[240][2], 1.4650 - 0.4000, 1e-4);
    rows_of(script.bytes, "stop", -1, &found);
    assert_int_equal(found.n, 9);
    rows_of(script.bytes, "trace", -1, &found);
    assert_int_equal(found.n, 72);
    rows_of(script.bytes, "lightness", 50, &found);
    test_close("L* 50", found.cell[0][1], 0.734742, 1e-6);
    test_close("straight", number_of(script.bytes, "straight"), 0.09, 1e-9);
    /* A log unit is as long across as up. */
    const double across =
        (number_of(script.bytes, "film_right") - number_of(script.bytes, "film_left")) *
        size.width / (number_of(script.bytes, "scene_to") - number_of(script.bytes, "scene_from"));
    const double up =
        (number_of(script.bytes, "paper_top") - number_of(script.bytes, "paper_bottom")) *
        size.height / (number_of(script.bytes, "print_to") - number_of(script.bytes, "print_from"));
    test_close("squares", across, up, 1e-3);
    ww__text_release(&script);
    ww_tones_release(&tones);
}

/* Lines break where nothing is known. */
static void gaps(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    ww_error err = WW_ERROR_INIT;
    tones_case_start(&c);
    c.paper[0].channel[WW_VISUAL].domain_high = 0.0;
    tones_case_make("tones", &c, &tones);
    test_status("data", ww__plot_tones_data(&tones, &script, &size, NULL), WW_OK, NULL);
    rows_of(script.bytes, "print", 0, &found);
    test_true("fewer", found.n > 50 && found.n < 200);
    rows_of(script.bytes, "film", 0, &found);
    assert_int_equal(found.n, 241);
    ww__text_release(&script);
    tones.chain[0].chain.print_log_h = 50.0;
    test_status("nothing", ww__plot_tones_data(&tones, &script, &size, &err), WW_ENODATA, &err);
    ww__text_release(&script);
    ww_tones_release(&tones);
}

static void gnuplot_draws_it(void **state) {
    (void)state;
    tones_case c;
    char *svg = NULL;
    if (!have_gnuplot())
        skip();
    for (int wanted = 0; wanted < 2; wanted++) {
        ww_tones tones = WW_TONES_INIT;
        tones_case_start(&c);
        c.film[0].meta.name = (char[]){HOSTILE};
        c.request.wanted = wanted == 1;
        tones_case_make("tones", &c, &tones);
        test_status("svg", ww_plot_tones_svg(&tones, &svg, NULL), WW_OK, NULL);
        test_holds("quadrant", svg, "what comes of it");
        test_holds("axis", svg, "scene (stops below white)");
        test_holds("lightness", svg, "L* of the print");
        test_lacks("of gnuplot's own", svg, "undefined");
        if (wanted)
            test_holds("line", svg, "the film that the wanted print takes");
        free(svg);
        ww_tones_release(&tones);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(four_quadrants), cmocka_unit_test(gaps),
                                       cmocka_unit_test(gnuplot_draws_it)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
