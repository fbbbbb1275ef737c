/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_read.h"
#include "support/scan_case.h"
#include "support/scan_made_case.h"
#include <wedgework/page.h>

/* Source: the interface (one self-contained page with the inputs echoed). */

static char *make_page(ww_status (*page)(const void *, const char *, ww_error *), const void *of) {
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    ww_error no_plot = WW_ERROR_INIT;
    test_status("page", page(of, path, &no_plot), WW_OK, NULL);
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

static ww_status scanner_page(const void *of, const char *path, ww_error *no_plot) {
    return ww_page_scanner(of, path, no_plot, NULL);
}

static ww_status measured_page(const void *of, const char *path, ww_error *no_plot) {
    return ww_page_measured(of, path, no_plot, NULL);
}

static ww_status whole_page(const void *of, const char *path, ww_error *no_plot) {
    return ww_page_whole(of, path, no_plot, NULL);
}

static void page_of_a_scanner(void **state) {
    struct scanner_case made;
    char *html;
    (void)state;
    scan_case_scanner(&made, true);
    html = make_page(scanner_page, &made.scanner);
    test_holds("title", html, "<title>Scanner calibration</title>");
    test_holds("act", html, "<h1>This scanner sees to density 2.87");
    test_holds("wedge", html, "<th scope=\"row\">wedge</th><td>nominal</td>");
    test_holds("dark", html, "<th scope=\"row\">dark</th><td>not measured</td>");
    test_holds(
        "clipped step", html,
        "<th scope=\"row\">red</th><td>1</td><td class=\"r\">0.050</td><td class=\"r\">54690</td>");
    test_holds("clipped step", html, "<td class=\"r\">-</td><td>clipped</td>");
    test_holds("suspect", html, "<td>suspect</td>");
    test_holds("flare", html, "<td>flare</td>");
    free(html);
}

static void page_of_a_scan(void **state) {
    struct scan_case made;
    char *html;
    (void)state;
    scan_case_strip(&made, false);
    assert_int_equal(ww_notes_add(&made.measured.notes, NULL, "Invented."), WW_OK);
    html = make_page(measured_page, &made.measured);
    test_holds("act", html, "<h1>21 steps found, turned 1.7 degrees");
    test_holds("size", html, "<th scope=\"row\">size</th><td>1200 x 900 px</td>");
    test_holds("resolution", html,
               "<th scope=\"row\">resolution</th><td>47.25 px a mm (1200 an inch)</td>");
    test_holds("profile", html, "<th scope=\"row\">profile</th><td>Linear grey</td>");
    test_holds("note", html, "<li>Invented.</li>");
    test_holds("where", html, "<h2>Where it was read</h2>");
    free(html);
    ww_notes_release(&made.measured.notes);
}

static void page_of_a_whole_scan(void **state) {
    const ww_whole whole = scan_case_whole(true);
    char *html;
    (void)state;
    html = make_page(whole_page, &whole);
    test_holds("act", html, "<h1>Density 0.52 to 1.93 in green");
    test_holds("pixels", html, "<th scope=\"row\">pixels</th><td>24000000</td>");
    free(html);
}

static ww_status merge_page(const void *of, const char *path, ww_error *no_plot) {
    return ww_page_scan_merge(of, path, no_plot, NULL);
}

static void page_of_two_scans_merged(void **state) {
    ww_scan_merge merge = scan_made_merge("long" HOSTILE "<script>x</script>", "short.tif");
    char *html = make_page(merge_page, &merge);
    (void)state;
    test_holds("act", html, "<h1>Merged, 2.00 stops apart: ");
    test_holds("which", html, "<th scope=\"row\">shorter exposure</th><td>short.tif</td>");
    test_holds("into", html, "<th scope=\"row\">merged into</th><td>16 bits</td>");
    test_holds("noise", html, "<th scope=\"row\">noise known from</th><td>the two scans</td>");
    test_lacks("script", html, "<script");
    free(html);
    ww_scan_merge_release(&merge);
}

typedef struct by_scanner {
    const ww_scan_densities *densities;
    const ww_scanner *scanner;
} by_scanner;

static ww_status densities_page(const void *of, const char *path, ww_error *no_plot) {
    const by_scanner *by = of;
    return ww_page_scan_densities(by->densities, by->scanner, path, no_plot, NULL);
}

static void page_of_densities(void **state) {
    ww_scan_densities densities = scan_made_densities(HOSTILE "<script>x</script>", true);
    struct scanner_case made;
    (void)state;
    scan_case_scanner(&made, true);
    char *html = make_page(densities_page, &(by_scanner){&densities, &made.scanner});
    test_holds("act", html, "<h1>Densities written in 16 bits, ");
    test_holds("bits", html, "<th scope=\"row\">bits of the scan</th><td>16</td>");
    test_lacks("script", html, "<script");
    free(html);
    ww_scan_densities_release(&densities);
}

static void hostile_names_are_only_text(void **state) {
    static char hostile[] = HOSTILE "<script>x</script>";
    struct scan_case made;
    struct scanner_case scanner;
    ww_whole whole = scan_case_whole(false);
    char *html;
    (void)state;
    scan_case_spots(&made);
    made.measured.file = made.measured.profile = made.patch[0].step = hostile;
    html = make_page(measured_page, &made.measured);
    test_lacks("script", html, "<script");
    free(html);
    scan_case_scanner(&scanner, false);
    scanner.scanner.name = scanner.step[0][3].step = hostile;
    html = make_page(scanner_page, &scanner.scanner);
    test_lacks("script", html, "<script");
    free(html);
    whole.file = hostile;
    html = make_page(whole_page, &whole);
    test_lacks("script", html, "<script");
    free(html);
}

static int write_without_gnuplot(void *context) {
    struct scan_case made;
    ww_error no_plot = WW_ERROR_INIT;
    setenv("PATH", "/nowhere", 1);
    scan_case_spots(&made);
    return ww_page_measured(&made.measured, context, &no_plot, NULL) == WW_OK &&
                   no_plot.code == WW_ETOOL
               ? 0
               : 1;
}

static void without_gnuplot_the_rest_is_there(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    (void)state;
    assert_int_equal(test_in_child(write_without_gnuplot, path), 0);
    html = read_page(path);
    expect_balanced(html);
    test_holds("says why", html,
               "<p class=\"warning\">no plot: &#39;gnuplot&#39; is not installed");
    test_holds("tables", html, "<h2>Where it was read</h2>");
    free(html);
    free(path);
    test_folder_remove(folder);
}

static void refusals(void **state) {
    const ww_whole whole = scan_case_whole(true);
    struct scan_case made;
    struct scanner_case scanner;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    scan_case_spots(&made);
    scan_case_scanner(&scanner, false);
    test_status("measured", ww_page_measured(&made.measured, "/no/such/page.html", NULL, &err),
                WW_ESYSTEM, &err);
    test_status("whole", ww_page_whole(&whole, "/no/such/page.html", NULL, &err), WW_ESYSTEM, &err);
    test_status("scanner", ww_page_scanner(&scanner.scanner, "/no/such/page.html", NULL, &err),
                WW_ESYSTEM, &err);
    ww_scan_merge merge = scan_made_merge(NULL, NULL);
    test_status("merge", ww_page_scan_merge(&merge, "/no/such/page.html", NULL, &err), WW_ESYSTEM,
                &err);
    ww_scan_merge_release(&merge);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(page_of_a_scanner),
        cmocka_unit_test(page_of_a_scan),
        cmocka_unit_test(page_of_a_whole_scan),
        cmocka_unit_test(page_of_two_scans_merged),
        cmocka_unit_test(page_of_densities),
        cmocka_unit_test(hostile_names_are_only_text),
        cmocka_unit_test(without_gnuplot_the_rest_is_there),
        cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
