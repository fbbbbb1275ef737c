/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "results.h"

static char *set(ww__report *report) {
    ww__text html = WW__TEXT_INIT;
    ww__report_set_html(report, &html);
    test_status("report", ww__report_status(report, NULL), WW_OK, NULL);
    ww__report_release(report);
    return html.bytes;
}

static void what_is_not_said_has_no_row(void **state) {
    static char name[] = "Quay at dusk";
    const ww_meta meta = {.name = name, .material = WW_MATERIAL_NEGATIVE, .scale = given(4.0)};
    ww__report report = WW__REPORT_INIT;
    char *html;
    (void)state;
    ww__page_meta(&meta, "The negative", &report);
    html = set(&report);
    test_holds("name", html, "<th scope=\"row\">name</th><td>Quay at dusk</td>");
    test_holds("material", html, "<th scope=\"row\">material</th><td>negative</td>");
    test_holds("scale", html, "<th scope=\"row\">scale</th><td>4</td>");
    test_lacks("no lot", html, "<th scope=\"row\">lot</th>");
    free(html);
}

static void readings_are_echoed_as_they_were(void **state) {
    static char cloud[] = "cloud", none[] = "", base[] = "base", pack[] = "65Y55M";
    ww_row row[2] = {{.step = none, .tone = cloud, .pack = none, .part = WW_PART_DENSE},
                     {.step = base, .tone = none, .pack = none, .is_base = true}};
    const ww_readings readings = {.row = row, .n = 2};
    ww__report report = WW__REPORT_INIT;
    char *html;
    (void)state;
    row[0].cell[WW_VISUAL] = (ww_cell){WW_CELL_VALUE, 1.302, given(0.006), 3};
    row[1].cell[WW_GREEN] = (ww_cell){.state = WW_CELL_OVER};
    ww__page_readings(&readings, "Readings", &report);
    html = set(&report);
    test_holds("value", html,
               "<th scope=\"row\">cloud</th><td>dense</td><td>visual</td><td class=\"r\">1.302</td>"
               "<td class=\"r\">0.006</td>");
    test_holds("beyond", html,
               "<th scope=\"row\">base</th><td></td><td>green</td><td class=\"r\">over</td>");
    test_lacks("no packs", html, "<th>pack");
    free(html);
    /* Prints of a ring-around differ by their packs. */
    row[0].pack = pack;
    report = (ww__report)WW__REPORT_INIT;
    ww__page_readings(&readings, "Readings", &report);
    html = set(&report);
    test_holds("pack", html, "<td>65Y55M</td>");
    free(html);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_not_said_has_no_row),
        cmocka_unit_test(readings_are_echoed_as_they_were),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
