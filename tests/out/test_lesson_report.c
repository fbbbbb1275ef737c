/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include "support/lesson_case.h"
#include <string.h>

static const ww__block *block_of(const ww__report *report, const char *title) {
    for (size_t i = 0; i < report->n; i++)
        if (strcmp(report->block[i].title, title) == 0)
            return &report->block[i];
    return NULL;
}

/* Rows of a block's items behind headings and units. Source: the case. */
static void blocks(void **state) {
    ww_lesson lesson;
    ww__report report = WW__REPORT_INIT, answers = WW__REPORT_INIT;
    (void)state;
    lesson_case_make(&lesson);
    ww__lesson_report(&lesson, &report);
    const ww__block *readings = block_of(&report, "Readings");
    assert_int_equal(readings->n, 3 * (2 + WW_LESSON_STEPS + 1));
    test_text("base", readings->item[6], "base");
    test_text("no wedge", readings->item[7], "-");
    test_text("its density", readings->item[8], "0.21");
    assert_null(block_of(&report, "Figures"));
    ww__lesson_answers_report(&lesson, &answers);
    const ww__block *figures = block_of(&answers, "Figures");
    test_text("hidden base", figures->item[12], "0.20");
    assert_int_equal(block_of(&answers, "Worked from the readings as given")->n, 6);
    assert_int_equal(block_of(&answers, "Rows")->n, 6 * (2 + WW_LESSON_STEPS + 1));
    ww__report_release(&report);
    ww__report_release(&answers);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(blocks)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
