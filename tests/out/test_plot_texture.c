/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/texture_case.h"
#include <wedgework/plot.h>

/* Source: the case; cycles/mm by hand: pixels of 21.2 um, a 64th of 1 cycle/px. */
static void tables(void **state) {
    (void)state;
    texture_case c;
    texture_case_make(&c);
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size, both;
    ww_error err = WW_ERROR_INIT;
    static rows found;
    test_status("data", ww__plot_texture_data(c.scan, 2, &script, &both, &err), WW_OK, &err);
    test_close("scans", number_of(ww__text_string(&script), "n_scans"), 2, 0);
    test_close("until contrast is gone", number_of(ww__text_string(&script), "x_to"),
               3000.0 / 21.2 / 64.0, 1e-6);
    rows_of(ww__text_string(&script), "mtf", 1, &found);
    test_close("contrast", found.cell[1][2], 0.5, 0.0);
    test_close("at", found.cell[1][1], 1000.0 / 21.2 / 64.0, 1e-6);
    rows_of(ww__text_string(&script), "half", 1, &found);
    test_close("MTF50", found.cell[0][1], 3.11, 1e-9);
    test_close("doubt", found.cell[0][3], 0.11, 1e-9);
    rows_of(ww__text_string(&script), "grain", 1, &found);
    test_close("RMS", found.cell[0][2], 11.57, 1e-9);
    test_close("its doubt", found.cell[0][3], 0.132, 1e-9);
    test_holds("place", ww__text_string(&script), "place[1] = 'grey'");
    test_holds("name", ww__text_string(&script), "scan_name[2] = 'rag.tif'");
    ww__text_release(&script);
    c.scan[0].has_edge = c.scan[1].has_edge = false;
    test_status("grain alone", ww__plot_texture_data(c.scan, 2, &script, &size, &err), WW_OK, &err);
    test_true("a smaller picture", size.height < both.height);
    test_holds("no edge", ww__text_string(&script), "has_edge = 0");
    ww__text_release(&script);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(tables)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
