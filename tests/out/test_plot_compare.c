/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/compare_case.h"
#include <wedgework/plot.h>

/* Source: the case; the code of a display of gamma 2.2, beside the whitest: 255 ((10^-D + 0.01) /
 * (10^-white + 0.01))^(1 / 2.2). */

static void tables(void **state) {
    (void)state;
    ww_comparison made = WW_COMPARISON_INIT;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    ww_error err = WW_ERROR_INIT;
    static rows found;
    compare_case_usual(false, &made);
    test_status("data", ww__plot_compare_data(&made, &script, &size, &err), WW_OK, &err);
    test_close("prints", number_of(ww__text_string(&script), "n_prints"), 2, 0);
    rows_of(ww__text_string(&script), "scale", 1, &found);
    test_close("once each", (double)found.n, 6, 0);
    test_close("all that can be sent", found.cell[5][1], 100.0, 1e-9);
    test_close("rag's black", found.cell[5][2], 1.60, 1e-12);
    test_close("its doubt", found.cell[5][3], 0.0196, 1e-5);
    rows_of(ww__text_string(&script), "patches", 0, &found);
    test_close("a patch each", (double)found.n, 6, 0);
    test_true("white is near white", found.cell[0][3] > 250.0);
    test_close("gloss's black in a room", found.cell[5][4],
               255.0 * pow((pow(10.0, -2.15) + 0.01) / (pow(10.0, -0.05) + 0.01), 1.0 / 2.2), 2.0);
    test_close("halfway to the next", found.cell[1][2], 30.0, 1e-9);
    test_close("out as far as in", found.cell[0][1], -10.0, 1e-9);
    test_true("darker to the right", found.cell[0][3] > found.cell[1][3]);
    rows_of(ww__text_string(&script), "patches", 1, &found);
    test_true("rag's white is yellow", found.cell[0][3] > found.cell[0][5] + 5.0);
    test_true("and its black less so",
              found.cell[5][3] - found.cell[5][5] < found.cell[0][3] - found.cell[0][5]);
    test_holds("above nothing", ww__text_string(&script), "y_label = 'density'");
    ww__text_release(&script);
    ww_comparison_release(&made);
}

static void names_in_order_of_density(void **state) {
    (void)state;
    ww_readings print = WW_READINGS_INIT;
    made_step(&print, "rock", WW_COLUMN_VISUAL, 1.2);
    made_step(&print, "cloud", WW_COLUMN_VISUAL, 0.2);
    ww_comparison made = WW_COMPARISON_INIT;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    static rows found;
    compare_case_two(&print, &print, NULL, &made);
    test_status("data", ww__plot_compare_data(&made, &script, &size, NULL), WW_OK, NULL);
    rows_of(ww__text_string(&script), "scale", 0, &found);
    test_close("cloud first", found.cell[0][2], 0.2, 1e-12);
    test_close("at 1", found.cell[0][1], 1.0, 1e-12);
    rows_of(ww__text_string(&script), "patches", 0, &found);
    for (int c = 3; c < 6; c++) {
        test_close("the whitest", found.cell[0][c], 255.0, 1.0);
        test_close("rock", found.cell[1][c],
                   255.0 * pow((pow(10.0, -1.2) + 0.01) / (pow(10.0, -0.2) + 0.01), 1.0 / 2.2),
                   1.0);
    }
    ww__text_release(&script);
    ww_comparison_release(&made);
    ww_readings_release(&print);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(tables),
                                       cmocka_unit_test(names_in_order_of_density)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
