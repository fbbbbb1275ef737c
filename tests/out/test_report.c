/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include "results.h"

static void keeps_what_it_is_given(void **state) {
    static const ww__heading heading[] = {{"tone", ""}, {"negative", "D"}};
    ww__report report = WW__REPORT_INIT;
    ww__text text = WW__TEXT_INIT;
    (void)state;
    ww__text_add(&text, "grade 2, 18.4 s.");
    ww__report_act(&report, &text);
    assert_int_equal(text.n, 0);
    test_text("act begins with a capital", ww__text_string(&report.act), "Grade 2, 18.4 s.");
    ww__report_table(&report, "Tones", 2, "lr");
    ww__report_headings(&report, heading);
    ww__report_item(&report, "cloud");
    ww__text_add(&text, "1.34");
    ww__report_take(&report, &text);
    ww__report_list(&report, "Notes", true);
    for (int i = 0; i < 37; i++)
        ww__report_item(&report, "one of many");
    test_status("ok", ww__report_status(&report, NULL), WW_OK, NULL);
    assert_int_equal(report.n, 2);
    assert_int_equal(report.block[0].n, 6);
    test_text("a unit", report.block[0].item[3], "D");
    test_text("a cell", report.block[0].item[5], "1.34");
    assert_int_equal(report.block[1].n, 37);
    test_true("a warning", report.block[1].warning);
    ww__report_release(&report);
    ww__report_release(NULL);
}

static void remembers_a_failure(void **state) {
    ww__report report = WW__REPORT_INIT;
    ww__text text = WW__TEXT_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    ww__report_list(&report, "Notes", false);
    text.failed = true;
    ww__report_take(&report, &text);
    ww__report_item(&report, "after it");
    test_status("failed text", ww__report_status(&report, &err), WW_EMEMORY, &err);
    ww__report_release(&report);
}

static void a_unit_is_cut_once(void **state) {
    ww__text cell = WW__TEXT_INIT;
    (void)state;
    ww__text_add(&cell, "+1 1/3 stop");
    ww__report_cut_unit(&cell);
    test_text("cell", ww__text_string(&cell), "+1 1/3");
    ww__text_release(&cell);
    ww__report_cut_unit(&cell);
    test_text("empty", ww__text_string(&cell), "");
}

static void names_bear_anything(void **state) {
    ww__report report = WW__REPORT_INIT;
    (void)state;
    ww__report_list(&report, "Names", false);
    ww__report_name(&report, "quay\n\x1b[31m");
    ww__report_name(&report, NULL);
    test_text("harmless", report.block[0].item[0], "quay??[31m");
    test_text("none", report.block[0].item[1], "");
    ww__report_release(&report);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_unit_is_cut_once),
        cmocka_unit_test(names_bear_anything),
        cmocka_unit_test(keeps_what_it_is_given),
        cmocka_unit_test(remembers_a_failure),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
