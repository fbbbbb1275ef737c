/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "balance_made.h"
#include "page_read.h"
#include "support/colour_paper.h"
#include <wedgework/page.h>

/* Source: the interface (one self-contained page with the inputs echoed). */

static char *make_page(const ww_balance *balance, const ww_balance_request *request, bool drawn) {
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    ww_error no_plot = WW_ERROR_INIT;
    test_status("page", ww_page_balance(balance, request, path, &no_plot, NULL), WW_OK, NULL);
    html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    if (!drawn)
        assert_int_equal(no_plot.code, WW_ENODATA);
    else if (have_gnuplot())
        test_holds("plot", html, "<svg ");
    free(path);
    test_folder_remove(folder);
    return html;
}

static void page_of_a_print(void **state) {
    ww_balance balance = balance_made();
    balance_case c;
    char *html;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.88, 0.68, 0.86, 0.71, 0.70, 0.72);
    html = make_page(&balance, &c.request, true);
    test_holds("title", html, "<title>Filter pack and time</title>");
    test_holds("act", html, "<h1>Too dark and too green: take out 17.5 magenta");
    test_holds("inputs", html, "Readings of the approved print");
    test_holds("as read", html, "0.880");
    free(html);
    balance.kind = WW_BALANCE_NEGATIVE;
    html = make_page(&balance, &c.request, false);
    test_holds("negatives", html, "Readings of the standard negative");
    free(html);
}

static void hostile_names_are_only_text(void **state) {
    static char hostile[] = HOSTILE "<script>x</script>";
    const ww_balance_request request = WW_BALANCE_REQUEST_INIT;
    ww_balance balance = balance_made();
    char *html;
    (void)state;
    balance.tone[0].tone = hostile;
    html = make_page(&balance, &request, false);
    test_lacks("script", html, "<script");
    free(html);
}

static void refusals(void **state) {
    const ww_balance_request request = WW_BALANCE_REQUEST_INIT;
    const ww_balance balance = balance_made();
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("no folder", ww_page_balance(&balance, &request, "/no/such/page.html", NULL, &err),
                WW_ESYSTEM, &err);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(page_of_a_print),
        cmocka_unit_test(hostile_names_are_only_text),
        cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
