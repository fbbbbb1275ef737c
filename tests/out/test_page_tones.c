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
    expect_self_contained(html);
    if (have_gnuplot())
        test_holds("plot", html, "<svg ");
    test_holds("title", html, "<title>Tones from the scene to the eye</title>");
    test_holds("act", html, "<h1>Of the scene");
    test_holds("working", html, "log10((L + F) / (1 + F))");
    test_holds("asked", html, "<th scope=\"row\">subject range</th><td>2.2 log10</td>");
    test_holds("file", html, "&lt;i&gt;film&lt;/i&gt;.json");
    test_lacks("script", html, "<script>x");
    free(html);
    free(path);
    test_folder_remove(folder);
    ww_tones_release(&tones);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(page)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
