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
    test_text("html", ww__text_string(&html),
              "<section>\n<h2>Tones</h2>\n<table>\n<thead><tr><th scope=\"col\">tone</th><th "
              "scope=\"col\" class=\"r\">negative<br>"
              "<span class=\"unit\">D</span></th></tr></thead>\n<tbody>\n"
              "<tr><th scope=\"row\">&lt;b&gt;</th><td "
              "class=\"r\">1.34</td></tr>\n</tbody>\n</table>\n</section>\n"
              "<section>\n<h2>Marks</h2>\n<ul "
              "class=\"warning\">\n<li>R&amp;D&#39;s</li>\n</ul>\n</section>\n");
    ww__text_release(&html);
    ww__report_release(&report);
}

/* Source: HTML Living Standard, element dl: groups of dt and dd. */
static void sets_steps_of_working(void **state) {
    ww__report report = WW__REPORT_INIT;
    ww__text html = WW__TEXT_INIT;
    (void)state;
    ww__report_steps(&report, "Working");
    for (int i = 0; i < 8; i++)
        ww__report_item(&report, (const char *const[]){"burn", "t (2^n - 1)", "9.5 < 10", "<b>",
                                                       "flash", "H adds", "", "definition"}[i]);
    ww__report_set_html(&report, &html);
    test_text("html", ww__text_string(&html),
              "<section>\n<h2>Working</h2>\n<dl>\n<dt>burn</dt>\n<dd>t (2^n - 1)</dd>\n"
              "<dd class=\"numbers\">9.5 &lt; 10</dd>\n"
              "<dd class=\"source\">Source: &lt;b&gt;</dd>\n<dt>flash</dt>\n<dd>H adds</dd>\n"
              "<dd class=\"source\">Source: definition</dd>\n</dl>\n</section>\n");
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
        cmocka_unit_test(sets_steps_of_working),
        cmocka_unit_test(lets_no_markup_in),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
