/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_read.h"
#include "support/texture_case.h"
#include <stdio.h>
#include <wedgework/page.h>

/* Source: the interface (one self-contained page with the inputs echoed). */

static void page(void **state) {
    (void)state;
    texture_case c;
    texture_case_make(&c);
    snprintf(c.name, sizeof c.name, "<b>");
    char *folder = test_folder_new(), *path = test_path(folder, "page.html");
    ww_error no_plot = WW_ERROR_INIT;
    test_status("page", ww_page_texture(c.scan, 2, path, &no_plot, NULL), WW_OK, NULL);
    char *html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    if (have_gnuplot()) {
        test_holds("plot", html, "<svg ");
        assert_int_equal(no_plot.code, WW_OK);
    }
    test_holds("title", html, "<title>Grain and sharpness compared</title>");
    test_holds("inputs", html, "<td>folder/rag.tif</td>");
    test_lacks("a name is no mark-up", html, "<b>");
    free(html);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(page)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
