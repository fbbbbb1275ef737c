/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_read.h"
#include <wedgework/page.h>

static void page_of_a_curve(void **state) {
    ww_curve curve = make_film();
    ww_error no_plot = WW_ERROR_INIT;
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    (void)state;
    add_suspect(&curve.channel[WW_VISUAL], 6, 0.14, WW_CAUSE_SLIP);
    curve.channel[WW_VISUAL].point[20].state = WW_CELL_OVER;
    assert_int_equal(ww_notes_add(&curve.notes, NULL, "The wedge is nominal."), WW_OK);
    test_status("page", ww_page_curve(&curve, path, &no_plot, NULL), WW_OK, NULL);
    html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    test_holds("title", html, "<title>Lantern 100</title>");
    test_holds("act", html, "<h1>Gamma ");
    test_holds("note", html, "<li>The wedge is nominal.</li>");
    test_holds("a reading beyond", html, "<td class=\"r\">over</td>");
    test_holds("metadata", html, "<th scope=\"row\">exposure unit</th><td>lux second</td>");
    if (have_gnuplot()) {
        test_holds("plot", html, "<svg ");
        test_lacks("no prologue inside", html, "<?xml");
        assert_int_equal(no_plot.code, WW_OK);
    }
    free(html);
    free(path);
    test_folder_remove(folder);
    ww_curve_release(&curve);
}

static void hostile_names_are_only_text(void **state) {
    static char hostile[] = "</title><script>alert(1)</script>\"'&" HOSTILE;
    ww_curve film = make_film();
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    (void)state;
    free(film.meta.name);
    film.meta.name = copy(hostile);
    film.meta.lot = copy(hostile);
    free(film.channel[WW_VISUAL].point[6].step);
    film.channel[WW_VISUAL].point[6].step = copy(hostile);
    add_suspect(&film.channel[WW_VISUAL], 6, 0.14, WW_CAUSE_SLIP);
    test_status("curve", ww_page_curve(&film, path, NULL, NULL), WW_OK, NULL);
    html = read_page(path);
    expect_balanced(html);
    test_lacks("script", html, "<script");
    free(html);
    free(path);
    test_folder_remove(folder);
    ww_curve_release(&film);
}

static int write_without_gnuplot(void *context) {
    ww_curve curve = make_film();
    ww_error no_plot = WW_ERROR_INIT;
    ww_status status;
    setenv("PATH", "/nowhere", 1);
    status = ww_page_curve(&curve, context, &no_plot, NULL);
    ww_curve_release(&curve);
    return status == WW_OK && no_plot.code == WW_ETOOL ? 0 : 1;
}

static void without_gnuplot_the_rest_is_there(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    (void)state;
    assert_int_equal(test_in_child(write_without_gnuplot, path), 0);
    html = read_page(path);
    expect_balanced(html);
    test_holds("says why", html,
               "<p class=\"warning\">no plot: &#39;gnuplot&#39; is not installed");
    test_holds("tables", html, "<h2>Contrast (95 % intervals)</h2>");
    test_true("inputs come last, together",
              strstr(html, " id=\"inputs\">\n<section>\n<h2>The material</h2>") >
                  strstr(html, "<h2>Contrast (95 % intervals)</h2>"));
    free(html);
    free(path);
    test_folder_remove(folder);
}

static void refusals(void **state) {
    ww_curve curve = make_film();
    ww_error err = WW_ERROR_INIT, no_plot = WW_ERROR_INIT;
    (void)state;
    test_status("no folder", ww_page_curve(&curve, "/no/such/folder/page.html", &no_plot, &err),
                WW_ESYSTEM, &err);
    ww_curve_release(&curve);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(page_of_a_curve),
        cmocka_unit_test(hostile_names_are_only_text),
        cmocka_unit_test(without_gnuplot_the_rest_is_there),
        cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
