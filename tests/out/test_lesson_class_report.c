/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "page_read.h"
#include "support/lesson_class_case.h"
#include <stdlib.h>
#include <wedgework/page.h>

/* Source: the case. */
static void words(void **state) {
    const ww_text_style style = {.timer_step_s = 0.1};
    lesson_class_case c;
    char *text = NULL;
    (void)state;
    lesson_class_case_make(&c);
    test_status("text", ww_lesson_class_text(&c.made, &style, &text, NULL), WW_OK, NULL);
    test_holds("act", text,
               "2 students' files: gamma 0.72 +-0.15 (median, 1 sd of a student); 1 departs from "
               "the class; 1 pair read more alike than chance allows.");
    test_holds("marked", text, "0.82 *");
    test_holds("pair", text,
               "'anna.csv' and '<b>.csv' agree in 21 of 22 rows, all but for the same 0.07 D; by "
               "chance any pair of such a class does so once in 10^9 classes");
    free(text);
}

static void plot_and_page(void **state) {
    lesson_class_case c;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    (void)state;
    lesson_class_case_make(&c);
    test_status("data", ww__plot_lesson_class_data(&c.made, &script, &size, NULL), WW_OK, NULL);
    test_holds("one departs", ww__text_string(&script), "n_departs = 1");
    test_holds("by its name", ww__text_string(&script), "name[1] = '<b>.csv'");
    ww__text_release(&script);
    char *folder = test_folder_new(), *path = test_path(folder, "page.html");
    test_status("page", ww_page_lesson_class(&c.made, path, NULL, NULL), WW_OK, NULL);
    char *html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    test_lacks("a name is no mark-up", html, "<b>.csv");
    free(html);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(words), cmocka_unit_test(plot_and_page)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
