/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_read.h"
#include "support/lesson_case.h"
#include <wedgework/page.h>

/* Source: the interface (one self-contained page); a page to hand out holds no answer. */
static void page(void **state) {
    ww_lesson lesson;
    (void)state;
    lesson_case_make(&lesson);
    char *folder = test_folder_new(), *path = test_path(folder, "page.html");
    ww_error no_plot = WW_ERROR_INIT;
    test_status("page", ww_page_lesson(&lesson, path, &no_plot, NULL), WW_OK, NULL);
    char *html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    if (have_gnuplot())
        test_holds("plot", html, "<svg ");
    test_holds("title", html, "<title>A practice film</title>");
    test_lacks("no seed", html, "20731");
    test_lacks("no fault", html, "typed with a comma");
    free(html);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(page)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
