/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/scan_case.h"

static rows found;

static char *make(const ww_measured *measured, ww__plot_size *size) {
    ww__text script = WW__TEXT_INIT;
    test_status("data", ww__plot_measured_data(measured, &script, size, NULL), WW_OK, NULL);
    return script.bytes;
}

static void densities_by_step(void **state) {
    struct scan_case made;
    ww__plot_size size;
    char *script;
    (void)state;
    scan_case_strip(&made, true);
    script = make(&made.measured, &size);
    rows_of(script, "values", WW_GREEN, &found);
    assert_int_equal(found.n, SCAN_CASE_STEPS - 1); /* the last lies beyond */
    test_close("step", found.cell[6][1], 7, 0.0);
    test_close("density", found.cell[6][2], scan_case_density(6) + 0.013, 1e-8);
    /* 97.5 % quantile of the normal distribution, handbook tables. */
    test_close("95 %", found.cell[6][3], 1.959964 * 0.0064, 1e-7);
    rows_of(script, "over", -1, &found);
    assert_int_equal(found.n, 3); /* red, green and blue of the last, side by side */
    for (size_t c = 0; c < 3; c++) {
        test_close("beyond in", found.cell[c][0], (double)c, 0.0);
        test_close("beyond", found.cell[c][1], 21 + 0.25 * ((double)c - 1.0), 1e-9);
    }
    test_true("arrows have room above all values",
              number_of(script, "y_to") > scan_case_density(19) + 0.026 + 0.24);
    rows_of(script, "out", -1, &found);
    test_close("left out", found.cell[7][1], 1.23, 1e-8);
    test_close("limit", number_of(script, "out_limit"), 5, 0.0);
    test_holds("title", script, "title_text = 'wedge.tif'\n");
    test_holds("axis", script, "y_label = 'density (D, scanner)'\n");
    test_holds("channels", script, "has[3] = 1\nhas[4] = 0\n");
    test_close("every name", number_of(script, "n_names"), 21, 0.0);
    free(script);
}

/* A log unit of code, for want of density. */
static void codes_by_spot(void **state) {
    struct scan_case made;
    ww__plot_size size;
    char *script;
    (void)state;
    scan_case_spots(&made);
    script = make(&made.measured, &size);
    rows_of(script, "values", WW_VISUAL, &found);
    assert_int_equal(found.n, 3);
    test_close("cloud", found.cell[0][2], log10(scan_case_code(1.34) / SCAN_CASE_WHITE), 1e-8);
    test_close("no doubt", found.cell[0][3], 0.0, 0.0);
    test_close("ends at white", number_of(script, "y_to"), 0.0, 1e-9);
    test_holds("spots are not joined", script, "\njoined = 0\n");
    test_holds("name", script, "name[1] = 'cloud'\n");
    test_holds("axis", script, "x_label = 'spot'\n");
    free(script);
    made.patch[1].channel[WW_VISUAL].code = 0.0; /* has no logarithm */
    script = make(&made.measured, &size);
    rows_of(script, "values", WW_VISUAL, &found);
    assert_int_equal(found.n, 2);
    test_lacks("no infinity", script, "inf");
    free(script);
}

static void long_names_are_thinned_out(void **state) {
    static char name[] = "a step with a name of its own";
    struct scan_case made;
    ww__plot_size size;
    char *script;
    (void)state;
    scan_case_strip(&made, false);
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++)
        made.patch[i].step = name;
    script = make(&made.measured, &size);
    /* 29 letters of 7.2 px beside steps of 640 / 22 px: one in eight. */
    test_close("names", number_of(script, "n_names"), 3, 0.0);
    test_close("one below the other", number_of(script, "name_rows"), 1, 0.0);
    test_holds("where", script, "name_at[2] = 9\n");
    free(script);
}

/* The last two of 21 as spots: nothing leads to them, and names have more rows than one. */
static void no_line_leads_to_spots(void **state) {
    struct scan_case made;
    ww__plot_size size;
    (void)state;
    scan_case_strip(&made, false);
    made.measured.n_spots = 2;
    made.patch[19].radius = made.patch[20].radius = 9.0;
    char *script = make(&made.measured, &size);
    test_holds("axis", script, "x_label = 'step, spot'\n");
    test_holds("parted", script, "\n\n3.000000000 20.000000000 ");
    test_lacks("the steps not", script, "\n\n3.000000000 19.000000000 ");
    test_holds("the steps are joined", script, "joined = 1\n");
    free(script);
}

/* Seven names of 11 letters of 7.2 px, and a gap of 8, beside spots of 640 / 8 px: two rows. */
static void every_spot_is_named(void **state) {
    static char name[] = "cloud/dense";
    struct scan_case made;
    ww__plot_size size, one_row;
    (void)state;
    scan_case_spots(&made);
    free(make(&made.measured, &one_row));
    made.measured.n = made.measured.n_spots = 7;
    for (size_t i = 0; i < made.measured.n; i++) {
        made.patch[i] = made.patch[i % 3];
        made.patch[i].step = name;
    }
    char *script = make(&made.measured, &size);
    test_close("names", number_of(script, "n_names"), 7, 0.0);
    test_close("rows", number_of(script, "name_rows"), 2, 0.0);
    test_true("with room", size.height > one_row.height + 10);
    free(script);
}

static void nothing_and_hostile_names(void **state) {
    static char hostile[] = HOSTILE;
    const ww_measured none = WW_MEASURED_INIT;
    struct scan_case made;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("nothing", ww__plot_measured_data(&none, &script, &size, &err), WW_ENODATA, &err);
    scan_case_strip(&made, false);
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++)
        made.patch[i].channel[WW_VISUAL].density.state = WW_CELL_OVER;
    test_status("all beyond", ww__plot_measured_data(&made.measured, &script, &size, &err),
                WW_ENODATA, &err);
    scan_case_spots(&made);
    made.measured.file = made.patch[0].step = hostile;
    test_status("hostile", ww__plot_measured_data(&made.measured, &script, &size, &err), WW_OK,
                NULL);
    test_lacks("no line of its own", script.bytes, "\n!touch");
    ww__text_release(&script);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(densities_by_step),          cmocka_unit_test(codes_by_spot),
        cmocka_unit_test(long_names_are_thinned_out), cmocka_unit_test(every_spot_is_named),
        cmocka_unit_test(no_line_leads_to_spots),     cmocka_unit_test(nothing_and_hostile_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
