/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include "results.h"

/* Source: HTML Living Standard, elements table and ul, character references in text. */
static void sets_tables_and_lists(void **state) {
    static const ww__heading heading[] = {{"tone", ""}, {"negative", "D"}};
    ww__report report = WW__REPORT_INIT;
    ww__text html = WW__TEXT_INIT;
    (void)state;
    ww__report_table(&report, "Tones", 2, "lr");
    ww__report_headings(&report, heading);
    ww__report_item(&report, "<b>");
    ww__report_item(&report, "1.34");
    ww__report_list(&report, "Marks", true);
    ww__report_item(&report, "R&D's");
    ww__report_list(&report, "Nothing", false);
    ww__report_set_html(&report, &html);
    test_text(
        "html", ww__text_string(&html),
        "<section>\n<h2>Tones</h2>\n<table>\n<thead><tr><th>tone</th><th class=\"r\">negative<br>"
        "<span class=\"unit\">D</span></th></tr></thead>\n<tbody>\n"
        "<tr><td>&lt;b&gt;</td><td class=\"r\">1.34</td></tr>\n</tbody>\n</table>\n</section>\n"
        "<section>\n<h2>Marks</h2>\n<ul "
        "class=\"warning\">\n<li>R&amp;D&#39;s</li>\n</ul>\n</section>\n");
    ww__text_release(&html);
    ww__report_release(&report);
}

static void lets_no_markup_in(void **state) {
    ww__report report = WW__REPORT_INIT;
    ww__text html = WW__TEXT_INIT;
    (void)state;
    ww__report_list(&report, "Notes", false);
    ww__report_item(&report, "</li><script>alert(1)</script>" HOSTILE);
    ww__report_set_html(&report, &html);
    test_lacks("script", ww__text_string(&html), "<script");
    test_lacks("bold", ww__text_string(&html), "<b>");
    test_lacks("escape", ww__text_string(&html), "\x1b");
    ww__text_release(&html);
    ww__report_release(&report);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sets_tables_and_lists),
        cmocka_unit_test(lets_no_markup_in),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
