/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_read.h"
#include "strip_made.h"
#include "support/strip_case.h"
#include <wedgework/page.h>

/* Source: the interface (one self-contained page with the inputs echoed). */

static char *make_page(const ww_strip *strip, const ww_readings *readings) {
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    ww_error no_plot = WW_ERROR_INIT;
    test_status("page", ww_page_strip(strip, readings, path, &no_plot, NULL), WW_OK, NULL);
    html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    if (have_gnuplot()) {
        test_holds("plot", html, "<svg ");
        assert_int_equal(no_plot.code, WW_OK);
    }
    free(path);
    test_folder_remove(folder);
    return html;
}

static void page_of_each(void **state) {
    ww_strip strip = strip_made();
    strip_case c;
    char *html;
    (void)state;
    strip_case_start(&c, true);
    strip_case_step(&c, 12.0, 0.13);
    html = make_page(&strip, &c.readings);
    test_holds("title", html, "<title>A test strip</title>");
    test_holds("act", html, "<h1>14.3 s prints 0.10 above paper");
    test_holds("inputs", html, "<th scope=\"row\">material</th><td>strip</td>");
    test_holds("as read", html, "<td class=\"r\">12</td><td class=\"r\">0.130</td>");
    free(html);
    strip.kind = WW_STRIP_PLAN;
    strip.n_steps = strip.n_line = 0;
    html = make_page(&strip, NULL);
    test_holds("plan", html, "<title>A test strip to expose</title>");
    free(html);
    strip = strip_made_safelight();
    html = make_page(&strip, &c.readings);
    test_holds("safelight", html, "<title>Safelight</title>");
    free(html);
}

static void hostile_names_are_only_text(void **state) {
    static char hostile[] = HOSTILE "<script>x</script>";
    ww_strip strip = strip_made();
    char *html;
    (void)state;
    strip.step[0].step = strip.step[2].step = hostile;
    html = make_page(&strip, NULL);
    test_lacks("script", html, "<script");
    free(html);
}

static void refusals(void **state) {
    const ww_strip strip = strip_made();
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("no folder", ww_page_strip(&strip, NULL, "/no/such/page.html", NULL, &err),
                WW_ESYSTEM, &err);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(page_of_each),
        cmocka_unit_test(hostile_names_are_only_text),
        cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
