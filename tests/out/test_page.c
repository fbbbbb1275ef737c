/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "page_read.h"
#include <string.h>

/* A page of an act, a reason and one note. */
static char *write_page(const char *svg, const char *card) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT;
    ww__text text = WW__TEXT_INIT, on_card = WW__TEXT_INIT;
    ww_error no_plot = WW_ERROR_INIT;
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    ww__page page = {.title = "Strip <1>",
                     .result = &result,
                     .inputs = &inputs,
                     .svg = svg ? strdup(svg) : NULL,
                     .no_plot = WW_ERROR_INIT,
                     .card = card ? &on_card : NULL};
    (void)ww_error_set(&page.no_plot, WW_ETOOL, "no plot: x < y");
    ww__text_add(&on_card, card ? card : "");
    ww__text_add(&text, "12.1 s & no less");
    ww__report_act(&result, &text);
    ww__report_list(&result, "Notes", false);
    ww__report_item(&result, "a <note>");
    test_status("page", ww__page_write(&page, path, &no_plot, NULL), WW_OK, NULL);
    test_text("why", no_plot.msg, "no plot: x < y");
    ww__text_release(&on_card);
    html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    free(path);
    test_folder_remove(folder);
    return html;
}

static void parts_stand_in_their_order(void **state) {
    char *html = write_page("<?xml version=\"1.0\"?>\n<svg viewBox=\"0 0 1 1\"></svg>",
                            "<section class=\"card\"></section>\n");
    const char *act = strstr(html, "<h1>12.1 s &amp; no less</h1>");
    const char *plot = strstr(html, "<figure>\n<svg "), *note = strstr(html, "a &lt;note&gt;");
    const char *card = strstr(html, "<section class=\"card\">");
    (void)state;
    test_holds("a sheet's end cuts no block of the card", html,
               "tr, dd, figure, .card table, .card p, .sketch { break-inside: avoid; }");
    test_holds("a sketch has what is left of a sheet, 25 mm at least, and no box to end it", html,
               ".card .sketch { border-width: 1px 0 0; height: 25mm; padding: 0; }");
    test_true("act, plot, notes, card",
              act && plot && note && card && act < plot && plot < note && note < card);
    test_holds("title", html, "<title>Strip &lt;1&gt;</title>");
    test_lacks("the drawing's own prologue", html, "<?xml");
    free(html);
}

/* Source: SVG 2 and WAI-ARIA 1.2: an image has a name and a description; what the plotting program
 * says of itself is neither. HTML: headings of columns and rows say which they are. */
static void a_reader_hears_what_the_plot_is(void **state) {
    char *html =
        write_page("<?xml version=\"1.0\"?>\n<svg viewBox=\"0 0 1 1\">\n<title>Program</title>"
                   "\n<desc>Produced by it</desc>\n<g id=\"all\"></g></svg>",
                   NULL);
    (void)state;
    test_holds("named", html,
               "<svg viewBox=\"0 0 1 1\" role=\"img\">\n<title>Plot: Strip &lt;1&gt;</title>\n"
               "<desc>12.1 s &amp; no less The tables hold the same in numbers.</desc>\n<g id=");
    test_lacks("the program's own", html, "Produced by");
    test_holds("language", html, "<html lang=\"en\">");
    free(html);
}

static void it_prints_on_a4_or_a5(void **state) {
    char *html = write_page(NULL, NULL);
    (void)state;
    test_holds("A4", html, "@page { size: A4;");
    test_holds("A5", html, "@page a5 { size: A5;");
    test_holds("chosen without a script", html, "#a5:checked ~ main { page: a5;");
    test_holds("by a box", html, "<input type=\"checkbox\" id=\"a5\">");
    free(html);
}

static void without_a_plot_it_says_why(void **state) {
    char *html = write_page(NULL, NULL);
    (void)state;
    test_holds("why", html, "<p class=\"warning\">no plot: x &lt; y.</p>");
    test_lacks("no card", html, "<section class=\"card\"");
    free(html);
}

/* Source: Content Security Policy Level 3: 'none' matches nothing, so that no script runs and
 * nothing is fetched, whatever a name brought in. */
static void the_policy_forbids_the_rest(void **state) {
    char *html = write_page(NULL, NULL);
    const char *policy = strstr(html, "http-equiv=\"Content-Security-Policy\"");
    (void)state;
    test_true("before anything from outside", policy && policy < strstr(html, "<title>"));
    test_holds("nothing by default", html, "default-src 'none'");
    test_lacks("no scripts", html, "script-src");
    free(html);
}

/* The dim screen takes no script, is no safelight and says so, and is not printed. */
static void the_dim_screen_says_what_it_is_not(void **state) {
    char *html = write_page(NULL, NULL);
    (void)state;
    test_holds("a box", html, "<input type=\"checkbox\" id=\"dim\">");
    test_holds("its label", html, "<label for=\"dim\">Dim red screen</label>");
    test_holds("a caution", html, "A screen is no safelight");
    test_holds("not in print", html, ".tools, .veil { display: none; }");
    free(html);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(parts_stand_in_their_order),
        cmocka_unit_test(a_reader_hears_what_the_plot_is),
        cmocka_unit_test(it_prints_on_a4_or_a5),
        cmocka_unit_test(without_a_plot_it_says_why),
        cmocka_unit_test(the_policy_forbids_the_rest),
        cmocka_unit_test(the_dim_screen_says_what_it_is_not),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
