/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "support/develop_case.h"

/* Source: the case, which the law gives in closed form; the interface (units in the heading). */

static void make(bool range, ww_development *plan) {
    develop_case c;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    develop_case_start(&c, 1.0, 0.1386294361, 0.0);
    for (int i = 1; i <= 4; i++)
        develop_case_add(&c, 5.0 * i, 0.004, 1.0);
    if (range) {
        request.density_range = (ww_optional){true, 1.2};
        request.subject_range = (ww_optional){true, 2.0};
        develop_case_add(&c, 8.0, 0.004, 1.0)->meta.temperature_c.value = 18.0;
        request.metered_index = (ww_optional){true, 100.0};
    } else {
        request.contrast_index = (ww_optional){true, 0.6};
    }
    test_status("plan", ww_develop_plan(c.input, c.n, &request, plan, NULL), WW_OK, NULL);
    develop_case_end(&c);
}

static void of_an_index(void **state) {
    ww_development plan = WW_DEVELOPMENT_INIT;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    make(false, &plan);
    ww__develop_report(&plan, &report);
    expect_row("headings", &report, "How contrast grows", 0,
               "developed|contrast index|average gradient|gamma|off");
    expect_row("units", &report, "How contrast grows", 1, "min||||");
    expect_row("10 min", &report, "How contrast grows", 3,
               "10|0.75 (0.75 to 0.75)|0.75 (0.75 to 0.75)|0.75 (0.75 to 0.75)|0.000");
    expect_row("speed: headings", &report, "Speed and fog", 0,
               "developed|base+fog|speed point|speed|gained");
    expect_row("5 min: 0.30 log H under 20 min", &report, "Speed and fog", 2,
               "5|0.20 (0.19 to 0.21)|-2.00 (-2.02 to -1.98)|-|-1.00");
    expect_row("law: units", &report, "The law of development", 1, "||1/min|min");
    expect_row("doubt: units", &report, "What the doubt is made of", 1, "|min|");
    test_true("no ranges",
              find_block(&report, "Subjects of other ranges onto the same density range") == NULL);
    test_true("no temperatures", find_block(&report, "At your temperatures") == NULL);
    test_true("cautions", find_block(&report, "Cautions") != NULL);
    ww__report_release(&report);
    ww_development_release(&plan);
}

static void of_a_range(void **state) {
    ww_development plan = WW_DEVELOPMENT_INIT;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    make(true, &plan);
    plan.range[2].time = (ww_quantity){7.26, 6.86, 7.71, WW_FITTED};
    plan.range[3].time = (ww_quantity){9.1, 8.9, 9.3, WW_EXTRAPOLATED};
    plan.range[4].time = (ww_quantity)WW_QUANTITY_INIT;
    plan.range[4].answer.place = WW_TIME_GAMMA_LONGER;
    ww__develop_report(&plan, &report);
    static const char title[] = "Subjects of other ranges onto the same density range";
    expect_row("units", &report, title, 1, "|log|stops||min:s|min:s|");
    expect_row("N", &report, title, 4, "N|2.00|6.6|0.60|7:15|6:50 to 7:45|");
    expect_row("N+1", &report, title, 5, "N+1|1.70|5.6|0.71|9:05|8:50 to 9:20|extrapolated");
    expect_row("N+2", &report, title, 6, "N+2|1.40|4.6|0.86|-|-|develop longer first");
    expect_row("index", &report, "Speed and fog", 0,
               "developed|base+fog|speed point|speed|gained|index");
    expect_row("temperature", &report, "At your temperatures", 0, "temperature|develop|95 %");
    const ww__block *curves = find_block(&report, "How contrast grows");
    test_text("heading", curves->item[1], "gradient");
    test_text("of the strip at 18 C", curves->item[3 * curves->columns], "8, 18 C");
    ww__report_release(&report);
    ww_development_release(&plan);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(of_an_index), cmocka_unit_test(of_a_range)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
