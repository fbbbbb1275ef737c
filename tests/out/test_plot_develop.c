/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/develop_case.h"
#include <math.h>
#include <wedgework/plot.h>

/* Source: the case, which the law gives in closed form. */

static void make(develop_case *c, double index, ww_development *plan) {
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    develop_case_start(c, 1.0, 0.1386294361, 0.0);
    for (int i = 3; i >= 1; i--)
        develop_case_add(c, 5.0 * i, 0.004, 1.0);
    request.contrast_index = (ww_optional){index > 0.0, index};
    request.metered_index = (ww_optional){index <= 0.0, 100.0};
    test_status("plan", ww_develop_plan(c->input, c->n, &request, plan, NULL), WW_OK, NULL);
}

static void tables(void **state) {
    (void)state;
    develop_case c;
    ww_development plan = WW_DEVELOPMENT_INIT;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    ww_error err = WW_ERROR_INIT;
    static rows found;
    make(&c, 0.6, &plan);
    test_status("data", ww__plot_develop_data(&plan, c.input, c.n, &script, &size, &err), WW_OK,
                &err);
    const char *data = ww__text_string(&script);
    test_close("curves", number_of(data, "n_curves"), 3, 0);
    test_holds("in order of time", data, "curve_name[1] = '5 min'");
    rows_of(data, "curves", 0, &found);
    /* toe-line: D at the dense end = 0.2 + 0.5 (0.9 + 2.0) */
    test_close("that of 5 min", found.cell[found.n - 1][2], 0.2 + 0.5 * 2.9, 1e-6);
    rows_of(data, "foretold", -1, &found);
    test_close("foretold", (double)found.n, (double)plan.n_foretold, 0);
    rows_of(data, "contrasts", -1, &found);
    test_close("a contrast each", (double)found.n, 3, 0);
    test_close("10 min", found.cell[1][1], 0.75, 1e-9);
    rows_of(data, "law", -1, &found);
    test_close("from a quarter before", found.cell[0][0], 3.75, 1e-9);
    test_close("to a quarter past", found.cell[found.n - 1][0], 18.75, 1e-9);
    for (size_t i = 0; i < found.n; i++) {
        test_close("the law", found.cell[i][1], 1.0 - exp(-0.1386294361 * found.cell[i][0]), 1e-4);
        test_true("in its band",
                  found.cell[i][2] <= found.cell[i][1] && found.cell[i][1] <= found.cell[i][3]);
    }
    test_close("time", number_of(data, "time"), 6.6096, 1e-3);
    rows_of(data, "speeds", -1, &found);
    test_close("gained", found.cell[0][1], -0.2 / log10(2.0), 1e-9);
    test_true("high over low", found.cell[0][2] < found.cell[0][3]);
    rows_of(data, "fogs", -1, &found);
    test_close("fog", found.cell[2][1], 0.2, 1e-12);
    ww__text_release(&script);
    ww_development_release(&plan);
    develop_case_end(&c);
}

static void without_a_time(void **state) {
    (void)state;
    develop_case c;
    ww_development plan = WW_DEVELOPMENT_INIT;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size, alone;
    make(&c, 1.5, &plan);
    test_status("data", ww__plot_develop_data(&plan, c.input, c.n, &script, &size, NULL), WW_OK,
                NULL);
    test_close("no time", number_of(ww__text_string(&script), "has_time"), 0, 0);
    test_true("the aim is in sight", number_of(ww__text_string(&script), "c_to") > 1.5);
    ww__text_release(&script);
    ww_development_release(&plan);
    develop_case_end(&c);
    make(&c, 0.0, &plan);
    test_status("alone", ww__plot_develop_data(&plan, c.input, c.n, &script, &alone, NULL), WW_OK,
                NULL);
    test_close("curves alone", number_of(ww__text_string(&script), "has_law"), 0, 0);
    test_true("lower", alone.height < size.height);
    ww__text_release(&script);
    for (size_t i = 0; i < c.n; i++)
        c.curve[i].channel[WW_VISUAL].fitted = false;
    ww_error err = WW_ERROR_INIT;
    test_status("no curve", ww__plot_develop_data(&plan, c.input, c.n, &script, &alone, &err),
                WW_ENODATA, &err);
    ww__text_release(&script);
    ww_development_release(&plan);
    develop_case_end(&c);
}

static void draws(void **state) {
    (void)state;
    develop_case c;
    ww_development plan = WW_DEVELOPMENT_INIT;
    ww_error err = WW_ERROR_INIT;
    char *svg = NULL;
    if (!have_gnuplot())
        skip();
    make(&c, 0.6, &plan);
    test_status("svg", ww_plot_develop_svg(&plan, c.input, c.n, &svg, &err), WW_OK, &err);
    test_holds("time", svg, "6 min 35 s");
    free(svg);
    ww_development_release(&plan);
    develop_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(tables), cmocka_unit_test(without_a_time),
                                       cmocka_unit_test(draws)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
