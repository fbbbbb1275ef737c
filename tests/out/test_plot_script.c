/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "results.h"

static void take(const char *row, ww__text *text, const char *want) {
    test_text(row, ww__text_string(text), want);
    ww__text_release(text);
}

/* Source: gnuplot manual, "Quote Marks": in single quotes only ' is special. */
static void assignments(void **state) {
    ww__text text = WW__TEXT_INIT;
    (void)state;
    ww__plot_set_number(&text, "x_from", -3.3);
    take("number", &text, "x_from = -3.300000000\n");
    ww__plot_set_text(&text, "name", "cloud's\nedge `x`");
    take("text", &text, "name = 'cloud\xE2\x80\x99s edge `x`'\n");
    ww__plot_set_item(&text, "name", 3, "'");
    take("item", &text, "name[3] = '\xE2\x80\x99'\n");
    ww__plot_row(&text, 3, (double[]){1, -0.5, 1e-12});
    take("row", &text, "1.000000000 -0.500000000 0.000000000\n");
    ww__plot_set_panel(&text, "main", (ww__plot_panel){100, 900, 50, 450},
                       (ww__plot_size){1000, 500});
    take("panel", &text,
         "main_left = 0.100000000\nmain_right = 0.900000000\nmain_bottom = 0.100000000\n"
         "main_top = 0.900000000\n");
}

/* Source: arithmetic on a grid of 0.30. */
static void limits(void **state) {
    static const struct {
        double low, high, from, to;
    } rows[] = {
        {-3.31, 0.83, -3.6, 0.9}, {-3.3, 0.9, -3.3, 0.9},   {0.0, 0.0, 0.0, 0.3},
        {0.3, 0.3, 0.3, 0.6},     {-0.01, 2.11, -0.3, 2.4},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double from, to;
        ww__plot_limits(rows[i].low, rows[i].high, &from, &to);
        test_close("from", from, rows[i].from, 1e-12);
        test_close("to", to, rows[i].to, 1e-12);
    }
}

/* Source: closed form of the logistic, D and dD/dx = range slope p (1 - p). */
static void curve_rows(void **state) {
    ww_curve curve = make_film();
    ww__text text = WW__TEXT_INIT;
    const char *at;
    size_t n = 0;
    double before = -HUGE_VAL, x = 0;
    (void)state;
    ww__plot_curve_rows(&text, 3, &curve.channel[WW_VISUAL]);
    for (at = ww__text_string(&text); *at && *at != '\n'; at += strcspn(at, "\n") + 1, n++) {
        double channel, density, slope, p;
        assert_int_equal(sscanf(at, "%lf %lf %lf %lf", &channel, &x, &density, &slope), 4);
        p = 1 / (1 + exp(-FILM_SLOPE * (x - FILM_MIDDLE)));
        test_close("density", density, 0.27 + 2.1 * p, 1e-7);
        test_close("slope", slope, 2.1 * FILM_SLOPE * p * (1 - p), 1e-7);
        test_true("rising log H", x > before);
        if (n == 0)
            test_close("first measured step", x, -3.31, 1e-8);
        before = x;
    }
    test_close("last measured step", x, 0.83, 1e-8);
    test_true("smooth", n > 200);
    ww__text_release(&text);
    curve.channel[WW_VISUAL].fitted = false;
    ww__plot_curve_rows(&text, 3, &curve.channel[WW_VISUAL]);
    assert_int_equal(text.n, 0);
    ww_curve_release(&curve);
}

static void labels(void **state) {
    (void)state;
    test_text("unit", ww__plot_log_h_label(WW_UNIT_LUX_SECOND), "log H (lux seconds)");
    test_text("unit", ww__plot_log_h_label(WW_UNIT_SECOND), "log H (seconds)");
    test_text("unit", ww__plot_log_h_label(WW_UNIT_RELATIVE), "log H (relative)");
    test_text("unit", ww__plot_log_h_label(WW_UNIT_UNKNOWN), "log H (relative)");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(assignments),
        cmocka_unit_test(limits),
        cmocka_unit_test(curve_rows),
        cmocka_unit_test(labels),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
