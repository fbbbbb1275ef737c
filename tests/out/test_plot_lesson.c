/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/lesson_case.h"
#include <wedgework/plot.h>

/* Source: the case; equal units on both axes. */
static void tables(void **state) {
    ww_lesson lesson;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    static rows found;
    (void)state;
    lesson_case_make(&lesson);
    test_status("data", ww__plot_lesson_data(&lesson, &script, &size, NULL), WW_OK, NULL);
    const char *text = ww__text_string(&script);
    test_close("base", number_of(text, "base"), 0.21, 1e-9);
    rows_of(text, "readings", 0, &found);
    test_close("spoilt", found.cell[8][2], 1.0, 1e-9);
    test_close("at", found.cell[8][1], lesson.strip.row[9].log_h, 1e-9);
    const double across =
        (number_of(text, "main_right") - number_of(text, "main_left")) * size.width;
    const double up = (number_of(text, "main_top") - number_of(text, "main_bottom")) * size.height;
    test_close("equal units", across / (number_of(text, "x_to") - number_of(text, "x_from")),
               up / (number_of(text, "y_to") - number_of(text, "y_from")), 0.01);
    ww__text_release(&script);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(tables)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
