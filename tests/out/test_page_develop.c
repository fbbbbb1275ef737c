/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_read.h"
#include "support/develop_case.h"
#include <wedgework/page.h>

/* Source: the interface (one self-contained page with the inputs echoed). */

static void page(void **state) {
    (void)state;
    char *folder = test_folder_new(), *path = test_path(folder, "page.html");
    develop_case c;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    ww_development plan = WW_DEVELOPMENT_INIT;
    ww_error no_plot = WW_ERROR_INIT;
    develop_case_start(&c, 1.0, 0.1386294361, 0.0);
    for (int i = 1; i <= 3; i++)
        develop_case_add(&c, 5.0 * i, 0.004, 1.0);
    c.input[1].file = HOSTILE "<script>x</script>";
    request.contrast_index = (ww_optional){true, 0.6};
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_status("page", ww_page_develop(&plan, c.input, c.n, path, &no_plot, NULL), WW_OK, NULL);
    char *html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    if (have_gnuplot()) {
        test_holds("plot", html, "<svg ");
        assert_int_equal(no_plot.code, WW_OK);
    }
    test_holds("title", html, "<title>Development for a contrast</title>");
    test_holds("act", html, "Develop 6 min 35 s (");
    test_holds("inputs", html, "<td>strips/0.json</td>");
    test_lacks("script", html, "<script>x");
    free(html);
    free(path);
    test_folder_remove(folder);
    ww_development_release(&plan);
    develop_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(page)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
