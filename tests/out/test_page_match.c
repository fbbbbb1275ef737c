/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "../core/readings_made.h"
#include "page_read.h"
#include "support/match_case.h"
#include <wedgework/page.h>

/* Source: the interface (one self-contained page with the inputs echoed). */
static void page(void **state) {
    (void)state;
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    ww_match *match = match_case(1, WW_RAMP_GRAY);
    ww_readings print = WW_READINGS_INIT;
    const ww_match_request request = {.print = &print, .aim = &print};
    ww_error no_plot = WW_ERROR_INIT;
    ww_row *row = made_row(&print, "", "");
    made_value(&print, row, WW_COLUMN_GRAY, 37.5);
    made_value(&print, row, WW_COLUMN_VISUAL, 0.31);
    made_value(&print, made_row(&print, "base", ""), WW_COLUMN_VISUAL, 0.07);
    print.meta.name = made_text(HOSTILE "<script>x</script>");
    test_status("page", ww_page_match(match, &request, path, &no_plot, NULL), WW_OK, NULL);
    html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    if (have_gnuplot())
        test_holds("plot", html, "<svg ");
    test_holds("title", html, "<title>Tone correction</title>");
    test_holds("act", html, "<h1>Send gray through this curve");
    test_holds("inputs", html, "<th scope=\"row\">sent</th><td>gray</td>");
    test_holds("a reading", html, ">37.5</td><td");
    test_holds("its density", html, ">0.31</td>");
    test_holds("paper", html, ">base</td>");
    test_lacks("script", html, "<script>x");
    free(html);
    free(path);
    test_folder_remove(folder);
    ww_notes_release(&match->notes);
    ww_readings_release(&print);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(page)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
