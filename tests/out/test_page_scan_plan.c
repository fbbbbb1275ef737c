/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_read.h"
#include "support/scan_plan_case.h"
#include <wedgework/page.h>

/* Source: the interface (one self-contained page with the inputs echoed). */

static char *make_page(const scan_plan_case *c) {
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    ww_error no_plot = WW_ERROR_INIT;
    ww_scan_plan plan;
    scan_plan_case_make("plan", c, &plan);
    test_status("page", ww_page_scan_plan(&plan, &c->request, path, &no_plot, NULL), WW_OK, NULL);
    html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    if (have_gnuplot()) {
        test_holds("plot", html, "<svg ");
        assert_int_equal(no_plot.code, WW_OK);
    }
    free(path);
    test_folder_remove(folder);
    ww_scan_plan_release(&plan);
    return html;
}

static void page(void **state) {
    scan_plan_case c;
    (void)state;
    scan_plan_case_usual(&c, 1.4);
    char *html = make_page(&c);
    test_holds("title", html, "<title>Exposure of a scan</title>");
    test_holds("act", html, "<h1>Open up ");
    test_holds("inputs", html, "<th scope=\"row\">status</th><td>scanner</td>");
    test_holds("as asked", html, "<th scope=\"row\">to tell apart</th><td>0.01 D</td>");
    free(html);
}

static void hostile_names_are_only_text(void **state) {
    scan_plan_case c;
    (void)state;
    scan_plan_case_usual(&c, 1.4);
    scan_plan_case_grey(&c, HOSTILE "<script>x</script>", WW_PART_WHOLE, 1.6);
    char *html = make_page(&c);
    test_lacks("script", html, "<script>x");
    free(html);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(page),
                                       cmocka_unit_test(hostile_names_are_only_text)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
