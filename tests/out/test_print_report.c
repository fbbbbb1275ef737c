/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include "results.h"

/* Source: the interface's rules for text: a row a paper and a tone, stops and seconds both, units
 * in the headings, the largest part of the budget named, cautions. */
static const ww__block *find_block(const ww__report *report, const char *title) {
    for (size_t i = 0; i < report->n; i++)
        if (strcmp(report->block[i].title, title) == 0 &&
            report->block[i].n > 2 * report->block[i].columns)
            return &report->block[i];
    return NULL;
}

/* One row of a table, '|' between its cells; row 0 is the first below the units. */
static void expect(const ww__report *report, const char *title, size_t row, const char *want) {
    const ww__block *block = find_block(report, title);
    ww__text text = WW__TEXT_INIT;
    assert_non_null(block);
    assert_true((row + 3) * block->columns <= block->n);
    for (size_t i = 0; i < block->columns; i++) {
        ww__text_add(&text, i > 0 ? "|" : "");
        ww__text_add(&text, block->item[(row + 2) * block->columns + i]);
    }
    test_text(title, ww__text_string(&text), want);
    ww__text_release(&text);
}

static void tables(void **state) {
    struct made_plan made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    make_plan(&made);
    ww__print_report(&made.plan, 0.1, &report);
    expect(&report, "Papers, best first", 0,
           "Quayside gloss|grade 2 1/2|18.4|1/6|1.05 (1.02 to 1.09)|0.03 soft|yes");
    expect(&report, "Papers, best first", 1,
           "Quayside matt|grade 3|16.1|1/4|0.88 (0.86 to 0.90)|0.14 hard|no");
    expect(&report, "Tones on the best paper", 0, "shadow|0.35|1.70|1.70|-|-|1.70|-|-|prints");
    expect(&report, "Tones on the best paper", 1,
           "cloud|1.30 to 1.38|0.04 to 0.06|0.10|+1 1/3|+27.8|0.08 to 0.12|0.02|0.04|burn");
    expect(&report, "Tones on the best paper", 2, "jetty|0.62|1.25 *|-|-|-|1.25|-|-|prints");
    expect(&report, "Tones on the best paper", 3, "base|0.24|-|-|-|-|-|-|-|film base");
    expect(&report, "What the doubt is made of", 0, "readings|0.09|");
    expect(&report, "What the doubt is made of", 1, "paper fit|0.13|the largest");
    test_text("range", find_block(&report, "Range of the negative")->item[0],
              "1.02 (0.99 to 1.05) log H, from 'shadow' to 'cloud', as the paper sees it.");
    test_true("the mark is explained", find_block(&report, "Marks") != NULL);
    test_holds("cautions", find_block(&report, "Cautions")->item[0],
               "exposure arithmetic, not process or safety advice");
    ww__report_release(&report);
}

static void absent_figures(void **state) {
    struct made_plan made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    make_plan(&made);
    made.paper[0].time_s.set = made.paper[0].doubt_stops.set = false;
    made.paper[0].contrast = NULL;
    made.plan.negative_range = (ww_quantity)WW_QUANTITY_INIT;
    made.tone[1].burn_seconds.set = false;
    made.paper[0].n_budget = 0;
    ww__print_report(&made.plan, 0.1, &report);
    expect(&report, "Papers, best first", 0, "Quayside gloss||-|-|1.05 (1.02 to 1.09)|-|yes");
    expect(&report, "Tones on the best paper", 1,
           "cloud|1.30 to 1.38|0.04 to 0.06|0.10|+1 1/3|-|0.08 to 0.12|0.02|0.04|burn");
    test_true("no budget", find_block(&report, "What the doubt is made of") == NULL);
    test_true("no range", find_block(&report, "Range of the negative") == NULL);
    ww__report_release(&report);
    made.plan.n_papers = 0;
    ww__print_report(&made.plan, 0.1, &report);
    test_true("no papers", find_block(&report, "Papers, best first") == NULL);
    test_true("cautions stay", find_block(&report, "Cautions") != NULL);
    ww__report_release(&report);
}

static void dodged_tones_say_so(void **state) {
    struct made_plan made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    make_plan(&made);
    made.tone[1].burn_stops = given(-0.17);
    made.tone[1].burn_seconds = given(-2.06);
    ww__print_report(&made.plan, 0.1, &report);
    expect(&report, "Tones on the best paper", 1,
           "cloud|1.30 to 1.38|0.04 to 0.06|0.10|-1/6|-2.1|0.08 to 0.12|0.02|0.04|dodge");
    ww__report_release(&report);
}

static void the_timers_step(void **state) {
    struct made_plan made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    make_plan(&made);
    ww__print_report(&made.plan, 0.5, &report);
    expect(&report, "Papers, best first", 1,
           "Quayside matt|grade 3|16.0|1/4|0.88 (0.86 to 0.90)|0.14 hard|no");
    ww__report_release(&report);
}

/* A paper with a good range can still lose the clouds; the reader is told by what. */
static void papers_that_fail_say_why(void **state) {
    static char why[] = "it takes 0.88 log H; 'cloud': lost.";
    struct made_plan made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    make_plan(&made);
    made.paper[1].why = why;
    ww__print_report(&made.plan, 0.1, &report);
    test_text("why", find_block(&report, "Papers that do not hold it")->item[0],
              "Quayside matt, grade 3: it takes 0.88 log H; 'cloud': lost.");
    ww__report_release(&report);
    made.paper[1].contrast = NULL;
    ww__print_report(&made.plan, 0.1, &report);
    test_text("no contrast", find_block(&report, "Papers that do not hold it")->item[0],
              "Quayside matt: it takes 0.88 log H; 'cloud': lost.");
    ww__report_release(&report);
    made.paper[1].holds = true;
    made.paper[0].holds = false;
    ww__print_report(&made.plan, 0.1, &report);
    test_true("the best says so above", find_block(&report, "Papers that do not hold it") == NULL);
    ww__report_release(&report);
}

/* One move stands in the act; several are listed below it, in stops and in seconds. */
static void moves_are_listed(void **state) {
    struct made_plan made;
    ww__report report = WW__REPORT_INIT;
    const ww__block *block;
    (void)state;
    make_plan(&made);
    ww__print_report(&made.plan, 0.1, &report);
    test_true("one", find_block(&report, "Local work") == NULL);
    ww__report_release(&report);
    made.tone[0].verdict = WW_VERDICT_BURN;
    made.tone[0].burn_stops = given(-0.5);
    made.tone[0].burn_seconds = given(-5.38);
    ww__print_report(&made.plan, 0.1, &report);
    block = find_block(&report, "Local work");
    assert_true(block != NULL && block == report.block && block->n == 2);
    test_text("burn", block->item[0], "burn the cloud +1 1/3 stop (27.8 s more)");
    test_text("dodge", block->item[1], "dodge the shadow -1/2 stop (5.4 s less)");
    ww__report_release(&report);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tables),          cmocka_unit_test(papers_that_fail_say_why),
        cmocka_unit_test(absent_figures),  cmocka_unit_test(dodged_tones_say_so),
        cmocka_unit_test(the_timers_step), cmocka_unit_test(moves_are_listed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
