/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_read.h"
#include "support/tones_case.h"
#include <wedgework/page.h>

/* Source: the interface (one self-contained page: result, working, inputs echoed). */
static void page(void **state) {
    (void)state;
    static const char *const file[] = {"<i>film</i>.json"};
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    ww_error no_plot = WW_ERROR_INIT;
    tones_case_start(&c);
    c.film[0].meta.name = (char[]){HOSTILE "<script>x</script>"};
    c.request.film_file = file;
    tones_case_make("tones", &c, &tones);
    test_status("page", ww_page_tones(&tones, &c.request, path, &no_plot, NULL), WW_OK, NULL);
    html = read_page(path);
    expect_balanced(html);
    expect_sliders_alone(html);
    if (have_gnuplot())
        test_holds("plot", html, "<svg ");
    test_holds("title", html, "<title>Tones from the scene to the eye</title>");
    test_holds("act", html, "<h1>Of the scene");
    test_holds("working", html, "log10((L + F) / (1 + F))");
    test_holds("asked", html, "<th scope=\"row\">subject range</th><td>2.2 log10</td>");
    test_holds("file", html, "&lt;i&gt;film&lt;/i&gt;.json");
    test_holds(
        "sliders are for the screen, by a script alone", html,
        "<section class=\"sliders\" id=\"sliders\" aria-labelledby=\"sliders-head\" hidden>");
    test_holds("not on paper", html, "@media print { .sliders { display: none; } }");
    test_holds("the script that may run", html, "default-src 'none'; script-src 'sha256-");
    test_lacks("script", html, "<script>x");
    free(html);
    free(path);
    test_folder_remove(folder);
    ww_tones_release(&tones);
}

/* A wanted print is worked backwards, where no slider leads: that page needs no script. */
static void of_a_wanted_print_nothing_slides(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    (void)state;
    tones_case_start(&c);
    c.request.wanted = true;
    tones_case_make("wanted", &c, &tones);
    test_status("page", ww_page_tones(&tones, &c.request, path, NULL, NULL), WW_OK, NULL);
    html = read_page(path);
    expect_self_contained(html);
    test_lacks("policy", html, "script-src");
    test_lacks("sliders", html, "class=\"sliders\"");
    free(html);
    free(path);
    test_folder_remove(folder);
    ww_tones_release(&tones);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(page),
                                       cmocka_unit_test(of_a_wanted_print_nothing_slides)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
