/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_read.h"
#include <wedgework/page.h>

static ww_readings make_negative(ww_row row[2]) {
    static char cloud[] = "cloud", none[] = "", base[] = "base";
    row[0] = (ww_row){.step = none, .tone = cloud, .pack = none, .part = WW_PART_THIN};
    row[0].cell[WW_VISUAL] = (ww_cell){WW_CELL_VALUE, 1.302, given(0.006), 3};
    row[1] = (ww_row){.step = base, .tone = none, .pack = none, .is_base = true};
    row[1].cell[WW_VISUAL] = (ww_cell){.state = WW_CELL_OVER};
    return (ww_readings){.row = row, .n = 2};
}

static void page_of_a_print(void **state) {
    struct made_plan made;
    ww_row row[2];
    const ww_readings negative = make_negative(row),
                      flash = {.meta = {.material = WW_MATERIAL_STRIP}};
    const ww_print_place place = {"cloud", 0.1};
    ww_curve paper = make_paper();
    const ww_curve *papers[] = {&paper};
    ww_print_request request = WW_PRINT_REQUEST_INIT;
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    (void)state;
    make_plan(&made);
    request.negative = &negative;
    request.paper = papers;
    request.n_papers = 1;
    request.place = &place;
    request.n_places = 1;
    request.flash = &flash;
    test_status("page", ww_page_print(&made.plan, &request, path, NULL, NULL), WW_OK, NULL);
    html = read_page(path);
    expect_balanced(html);
    expect_self_contained(html);
    test_holds("act", html, "<h1>Grade 2 1/2 (Quayside gloss), 18.4 s; burn the cloud");
    test_holds("placed", html, "<td>cloud at 0.1 above paper</td>");
    test_holds("reading", html,
               "<th scope=\"row\">cloud</th><td>thin</td><td>visual</td><td class=\"r\">1.302</td>"
               "<td class=\"r\">0.006</td>");
    test_holds("paper", html, "<th scope=\"row\">Quayside gloss</th><td>2.5</td>");
    test_holds("flash strip", html, "<th scope=\"row\">material</th><td>strip</td>");
    test_holds("card", html, "<section class=\"card\"");
    free(html);
    free(path);
    test_folder_remove(folder);
    ww_curve_release(&paper);
}

static void hostile_names_are_only_text(void **state) {
    static char hostile[] = "</title><script>alert(1)</script>\"'&" HOSTILE;
    struct made_plan made;
    ww_row row[2];
    ww_readings negative = make_negative(row);
    ww_print_request request = WW_PRINT_REQUEST_INIT;
    char *folder = test_folder_new(), *path = test_path(folder, "page.html"), *html;
    (void)state;
    make_plan(&made);
    made.tone[1].tone = made.paper[0].paper = made.paper[0].why = hostile;
    row[0].tone = hostile;
    negative.meta.name = hostile;
    request.negative = &negative;
    test_status("print", ww_page_print(&made.plan, &request, path, NULL, NULL), WW_OK, NULL);
    html = read_page(path);
    expect_balanced(html);
    test_lacks("script", html, "<script");
    free(html);
    free(path);
    test_folder_remove(folder);
}

static void refusals(void **state) {
    struct made_plan made;
    ww_print_request request = WW_PRINT_REQUEST_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    make_plan(&made);
    request.timer_step_s = 0.0;
    test_status("timer", ww_page_print(&made.plan, &request, "page.html", NULL, &err), WW_EDOMAIN,
                &err);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(page_of_a_print),
        cmocka_unit_test(hostile_names_are_only_text),
        cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
