/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_read.h"
#include "support/compare_case.h"
#include <wedgework/page.h>

/* Source: the interface (one self-contained page with the inputs echoed). */

static void page(void **state) {
    (void)state;
    ww_readings gloss = compare_case_print("Gloss", compare_case_gloss, 0.0, 1.5);
    ww_readings rag = compare_case_print(HOSTILE "<script>x</script>", compare_case_rag, 0.5, 5.0);
    const ww_compare_input input[] = {{.readings = &gloss, .file = "gloss.csv"},
                                      {.readings = &rag, .file = "rag.csv"}};
    char *folder = test_folder_new(), *path = test_path(folder, "page.html");
    ww_comparison made = WW_COMPARISON_INIT;
    ww_error no_plot = WW_ERROR_INIT;
    compare_case_two(&gloss, &rag, NULL, &made);
    test_status("page", ww_page_compare(&made, input, 2, path, &no_plot, NULL), WW_OK, NULL);
    char *html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    if (have_gnuplot()) {
        test_holds("plot", html, "<svg ");
        assert_int_equal(no_plot.code, WW_OK);
    }
    test_holds("title", html, "<title>Prints compared</title>");
    test_holds("inputs", html, "<td>gloss.csv</td>");
    test_lacks("script", html, "<script>x");
    free(html);
    free(path);
    test_folder_remove(folder);
    ww_comparison_release(&made);
    ww_readings_release(&gloss);
    ww_readings_release(&rag);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(page)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
