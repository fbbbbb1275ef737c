/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "balance_made.h"
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/colour_paper.h"
#include <wedgework/plot.h>

static rows found;

/* Source: closed form: the straight paper has log H = (D - 0.1) / 2.6 - 1. */
static void greys_lie_on_the_curves(void **state) {
    const ww_balance balance = balance_made();
    ww_curve paper;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    (void)state;
    colour_paper_straight(2.6, &paper);
    test_status("data", ww__plot_balance_data(&balance, &paper, &script, &size, NULL), WW_OK, NULL);
    rows_of(script.bytes, "print", WW_GREEN, &found);
    assert_int_equal(found.n, 2);
    test_close("log H", found.cell[0][1], (0.68 - 0.1) / 2.6 - 1.0, 1e-6);
    test_close("density", found.cell[0][2], 0.68, 1e-9);
    rows_of(script.bytes, "aim", -1, &found);
    assert_int_equal(found.n, 6);
    rows_of(script.bytes, "next", -1, &found);
    assert_int_equal(found.n, 3); /* the dark grey is not foretold */
    rows_of(script.bytes, "curve", WW_BLUE, &found);
    test_true("curve", found.n > 100);
    test_holds("title", script.bytes, "too dark and too green; next 60Y27.5M, 8.5 s");
    test_holds("its name, by number", script.bytes, "grey[2] = '2  dark'");
    test_true("in sight", number_of(script.bytes, "y_to") >= 2.3);
    ww__text_release(&script);
}

/* Of eight greys that lie on each other each has a number of its own height, in sight, and of a
 * name longer than its line what fits; definition. */
static void close_greys_are_told_apart(void **state) {
    static char name[] =
        "the wall behind the second window from the left, of the upper floor, at noon";
    ww_balance_tone tone[8];
    ww_balance balance = balance_made();
    ww_curve paper;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    double height[8];
    size_t n = 0;
    (void)state;
    colour_paper_straight(2.6, &paper);
    for (size_t i = 0; i < 8; i++) {
        tone[i] = balance.tone[0];
        tone[i].tone = name;
        for (int c = 0; c < 3; c++)
            tone[i].print[c] = 2.30 + 0.001 * (double)i;
    }
    balance.tone = tone;
    balance.n_tones = 8;
    test_status("data", ww__plot_balance_data(&balance, &paper, &script, &size, NULL), WW_OK, NULL);
    rows_of(script.bytes, "thread", -1, &found);
    for (size_t i = 0; i < found.n; i++)
        if (found.cell[i][2] > 0.0)
            height[n++] = found.cell[i][1];
    assert_int_equal(n, 8);
    for (size_t i = 1; i < n; i++)
        test_true("apart",
                  height[i] - height[i - 1] > 15.0 / 460.0 * number_of(script.bytes, "y_to"));
    test_true("in sight", height[n - 1] <= number_of(script.bytes, "y_to"));
    test_holds("cut", script.bytes,
               "'8  the wall behind the second window from the left, of the u");
    test_lacks("not whole", script.bytes, "at noon");
    ww__text_release(&script);
}

static void nothing_to_draw(void **state) {
    ww_balance balance = balance_made();
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    ww_curve paper;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    colour_paper_straight(2.6, &paper);
    test_status("no paper", ww__plot_balance_data(&balance, NULL, &script, &size, &err), WW_ENODATA,
                &err);
    balance.kind = WW_BALANCE_NEGATIVE;
    test_status("no print", ww__plot_balance_data(&balance, &paper, &script, &size, &err),
                WW_ENODATA, &err);
    test_holds("what can be had", err.msg, "the text and --report tell all of this plan");
    ww__text_release(&script);
}

/* Down the page, of the place that was moved to last before a text. */
static double height_of(const char *svg, const char *text) {
    const char *end = strstr(svg, text), *last = NULL;
    double x = 0.0, y = 0.0;
    for (const char *p = svg; end && (p = strstr(p, "translate(")) && p < end; p++)
        last = p;
    test_true(text, last && sscanf(last, "translate(%lf,%lf)", &x, &y) == 2);
    return y;
}

static void gnuplot_draws_it(void **state) {
    const ww_balance balance = balance_made();
    char *svg = NULL;
    ww_curve paper;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    colour_paper_straight(2.6, &paper);
    if (!have_gnuplot())
        skip();
    test_status("svg", ww_plot_balance_svg(&balance, &paper, &svg, &err), WW_OK, &err);
    test_holds("legend", svg, "next print, as set");
    test_holds("a grey's name", svg, "2  dark");
    /* Definition: names stand apart from the legend, by more than its lines do. */
    test_true("names below the legend",
              height_of(svg, ">1  card<") - height_of(svg, "<text>blue<") >
                  1.3 * (height_of(svg, "<text>blue<") - height_of(svg, "<text>green<")));
    free(svg);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(greys_lie_on_the_curves),
        cmocka_unit_test(close_greys_are_told_apart),
        cmocka_unit_test(nothing_to_draw),
        cmocka_unit_test(gnuplot_draws_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
