/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_read.h"
#include "support/control_case.h"
#include <stdlib.h>
#include <wedgework/page.h>

/* Source: the interface (one self-contained page with the inputs echoed). */
static char *make_page(const ww_control *control) {
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    ww_error no_plot = WW_ERROR_INIT;
    test_status("page", ww_page_control(control, path, &no_plot, NULL), WW_OK, NULL);
    html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    free(path);
    test_folder_remove(folder);
    return html;
}

static void a_page(void **state) {
    static char hostile[] = "<script>x</script>";
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    char *html, *was;
    (void)state;
    test_status("reference", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_limits(&log, "main", "measure,control\nLD,0.08\n");
    control_case_strip(&log, "main", "", "2026-11-01", CONTROL_WORKED);
    control = control_case_judge(&log, &(ww_control_request){.view = WW_CONTROL_VIEW_CHART});
    html = make_page(&control);
    test_holds("title", html, "<title>Process control</title>");
    test_holds("act", html, "<h1>In control: strip 1 of 2026-11-01");
    test_holds("reference", html, "<h2>The reference strip</h2>");
    if (have_gnuplot())
        test_holds("plot", html, "<svg ");
    free(html);
    ww_control_release(&control);
    was = log.strip[0].process;
    log.strip[0].process = hostile;
    control = control_case_judge(&log, &(ww_control_request){.view = WW_CONTROL_VIEW_CHART});
    html = make_page(&control);
    test_lacks("script", html, "<script");
    free(html);
    log.strip[0].process = was;
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void without_strips(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control = control_case_judge(&log, NULL);
    char *html = make_page(&control);
    (void)state;
    test_holds("says so", html, "no strip counts");
    free(html);
    ww_control_release(&control);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_page),
        cmocka_unit_test(without_strips),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
