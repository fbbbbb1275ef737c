/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/match_case.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/plot.h>

static rows found;

/* Source: the case; densities up to 2.08 on the 0.30 grid. */
static void scales_and_limits(void **state) {
    (void)state;
    ww_match *match = match_case(1, WW_RAMP_GRAY);
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    test_status("data", ww__plot_match_data(match, &script, &size, NULL), WW_OK, NULL);
    rows_of(script.bytes, "scale", WW_VISUAL, &found);
    assert_int_equal(found.n, 201);
    test_close("in", found.cell[50][1], 25.0, 1e-9);
    test_close("aim", found.cell[50][2], 0.58, 1e-6);
    test_close("as it is", found.cell[50][3], 0.46, 1e-6);
    test_close("then", found.cell[50][4], 0.27, 1e-4);
    test_close("densest", number_of(script.bytes, "y_to"), 2.1, 1e-9);
    test_close("white", number_of(script.bytes, "white_at"), 0.0, 0.0);
    test_close("black", number_of(script.bytes, "black_at"), 100.0, 0.0);
    ww__text_release(&script);
    ww_notes_release(&match->notes);
}

static void gnuplot_draws_it(void **state) {
    (void)state;
    ww_match *match = match_case(3, WW_RAMP_VALUES);
    char *svg = NULL;
    if (!have_gnuplot())
        skip();
    test_status("svg", ww_plot_match_svg(match, &svg, NULL), WW_OK, NULL);
    test_holds("svg", svg, "through the curve, as foretold");
    test_holds("colours", svg, ">green<");
    test_lacks("of gnuplot's own", svg, "undefined");
    free(svg);
    ww_notes_release(&match->notes);
}

/* Height [px, downwards] at which the drawing sets a text. */
static double y_of(const char *svg, const char *words) {
    static const char at[] = "translate(";
    const char *text = strstr(svg, words), *begin = NULL, *comma;
    test_true(words, text != NULL);
    for (const char *next = svg; (next = strstr(next, at)) && next < text; next++)
        begin = next;
    test_true(words, begin && (comma = strchr(begin, ',')) && comma < text);
    return atof(strchr(begin, ',') + 1);
}

/* Source: definition: letters of 12 px, and lines that keep clear of each other. */
static void no_text_lies_on_another(void **state) {
    (void)state;
    if (!have_gnuplot())
        skip();
    for (size_t n = 1; n <= 3; n += 2) {
        ww_match *match = match_case(n, n == 1 ? WW_RAMP_GRAY : WW_RAMP_VALUES);
        char *svg = NULL;
        test_status("svg", ww_plot_match_svg(match, &svg, NULL), WW_OK, NULL);
        test_true("the axis' name and the key",
                  y_of(svg, "<text>in the picture") + 12.0 < y_of(svg, "<text>aim"));
        free(svg);
        ww_notes_release(&match->notes);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(scales_and_limits),
                                       cmocka_unit_test(gnuplot_draws_it),
                                       cmocka_unit_test(no_text_lies_on_another)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
