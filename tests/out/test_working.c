/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "working_read.h"

static void a_step_has_its_parts_in_order(void **state) {
    ww__report report = WW__REPORT_INIT;
    ww__text numbers = WW__TEXT_INIT;
    char *html;
    (void)state;
    ww__text_add(&numbers, "16.2 x (2^0.667 - 1) = 9.5 s");
    ww__working_begin(&report);
    ww__working_step(&report, "burn", "t (2^n - 1)", &numbers, ww__working_definition);
    test_text("the text is emptied", ww__text_string(&numbers), "");
    html = read_working(&report);
    test_holds("step", html,
               "<dt>burn</dt>\n<dd>t (2^n - 1)</dd>\n<dd class=\"numbers\">16.2 x (2^0.667 - 1) = "
               "9.5 s</dd>\n<dd class=\"source\">Source: definition</dd>");
    free(html);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_step_has_its_parts_in_order)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
