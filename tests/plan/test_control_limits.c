/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/control_case.h"
#include <string.h>

#define COUNT(list) (sizeof(list) / sizeof *(list))

/* Mean 0.70188, every moving range 0.0188: sigma 0.0188 / 1.128 = 1/60, limits 0.65188, 0.75188. */
static const double quiet[] = {0.7000, 0.7188, 0.7000, 0.6812, 0.7000,
                               0.7188, 0.7000, 0.6812, 0.7000, 0.7188};

static unsigned rules_of(const double more[], size_t n, const char *limits) {
    double value[30];
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    unsigned rules;
    memcpy(value, quiet, sizeof quiet);
    memcpy(value + COUNT(quiet), more, n * sizeof *more);
    control_case_series(&log, 0.71, value, COUNT(quiet) + n);
    if (limits)
        control_case_limits(&log, "main", limits);
    control = control_case_judge(&log, NULL);
    rules = control_case_chart(&control, "LD", WW_VISUAL)->point[COUNT(quiet) + n - 1].rules;
    ww_control_release(&control);
    ww_control_log_release(&log);
    return rules;
}

/* Source: the rules' own words, on limits by hand (above). */
static void what_breaks_what(void **state) {
    static const struct {
        const char *row;
        double value[8];
        size_t n;
        const char *limits;
        unsigned rules;
    } rows[] = {
        {"quiet", {0.71}, 1, NULL, 0},
        {"beyond history", {0.7530}, 1, NULL, WW_CONTROL_RULE_LIMIT},
        {"within history", {0.7507}, 1, NULL, 0},
        {"below history", {0.6507}, 1, NULL, WW_CONTROL_RULE_LIMIT},
        {"the user's limit decides",
         {0.7530},
         1,
         "measure,control\nLD,0.06\n",
         WW_CONTROL_RULE_HISTORY},
        {"and is narrower", {0.741}, 1, "measure,control\nLD,0.03\n", WW_CONTROL_RULE_LIMIT},
        {"at the limit is within, in spite of rounding",
         {0.74},
         1,
         "measure,control\nLD,0.03\n",
         0},
        {"one side alone", {0.66}, 1, "measure,control\nLD,+0.03\n", 0},
        {"action", {0.74}, 1, "measure,action,control\nLD,0.02,0.06\n", WW_CONTROL_RULE_ACTION},
        {"2 of 3", {0.737, 0.70, 0.737}, 3, NULL, WW_CONTROL_RULE_TWO},
        {"4 of 5", {0.7205, 0.7205, 0.70, 0.7205, 0.7205}, 5, NULL, WW_CONTROL_RULE_FOUR},
        {"8", {0.71, 0.705, 0.71, 0.705, 0.71, 0.705, 0.71, 0.705}, 8, NULL, WW_CONTROL_RULE_EIGHT},
        {"trend", {0.67, 0.68, 0.69, 0.70, 0.71, 0.716}, 6, NULL, WW_CONTROL_RULE_TREND},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++)
        test_close(rows[i].row, rules_of(rows[i].value, rows[i].n, rows[i].limits), rows[i].rules,
                   0.0);
}

/* Eight strips at +1.5 sigma break no limit; both sums begin after the baseline. CUSUM: 8 (1.5 -
 * 0.5) = 8 of 5; EWMA: 1.5 (1 - 0.8^8) = 1.248 of 1. */
static void slow_drift(void **state) {
    static const struct {
        ww_control_slow_kind kind;
        double part;
    } rows[] = {{WW_CONTROL_SLOW_CUSUM, 8.0 / 5.0}, {WW_CONTROL_SLOW_EWMA, 1.24834}};
    (void)state;
    for (size_t r = 0; r < COUNT(rows); r++) {
        double value[18];
        ww_control_log log = WW_CONTROL_LOG_INIT;
        ww_control control;
        const ww_control_chart *chart;
        memcpy(value, quiet, sizeof quiet);
        for (size_t i = 10; i < 18; i++)
            value[i] = 0.72688;
        control_case_series(&log, 0.71, value, 18);
        control = control_case_judge(&log, &(ww_control_request){.slow = rows[r].kind});
        chart = control_case_chart(&control, "LD", WW_VISUAL);
        test_true("not in the baseline", !chart->point[9].has_slow && chart->point[10].has_slow);
        test_close("part", chart->point[17].slow, rows[r].part, 1e-4);
        test_true("seen", chart->point[17].rules & WW_CONTROL_RULE_SLOW);
        test_true("not at first", !(chart->point[10].rules & WW_CONTROL_RULE_SLOW));
        test_true("only warns", control.state == WW_CONTROL_WARNING);
        ww_control_release(&control);
        ww_control_log_release(&log);
    }
}

/* Without history a trend is all that can be seen. */
static void without_history(void **state) {
    static const double up[] = {0.70, 0.72, 0.74, 0.76, 0.78, 0.80};
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    (void)state;
    control_case_series(&log, 0.7, up, COUNT(up));
    control = control_case_judge(&log, NULL);
    test_close("trend", control_case_chart(&control, "LD", WW_VISUAL)->point[5].rules,
               WW_CONTROL_RULE_TREND, 0.0);
    test_true("warns", control.state == WW_CONTROL_WARNING && !control.judged);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

/* A spread that shrinks is no warning, and none is too small. */
static void spreads_have_one_side(void **state) {
    static const char *const text[] = {"LD,0.5,0.55,0.6", "LD,0.5,0.54,0.6", "LD,0.5,0.55,0.6"};
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    const ww_control_chart *chart;
    ww_optional lower, upper;
    bool user;
    char strip[80] = "step,red,green,blue\n";
    const size_t head = strlen(strip);
    (void)state;
    test_status("reference",
                control_case_reference(&log, "step,red,green,blue\nLD,0.5,0.5,0.5\n", NULL), WW_OK,
                NULL);
    for (int i = 0; i < 19; i++) {
        char date[] = "2026-11-01";
        date[8] = (char)('0' + (i + 1) / 10);
        date[9] = (char)('0' + (i + 1) % 10);
        strcpy(strip + head, i < 10 ? text[i % 3] : "LD,0.5,0.5,0.5");
        control_case_strip(&log, "main", "", date, strip);
    }
    control = control_case_judge(&log, NULL);
    chart = control_case_chart(&control, "LD spread", WW_CHANNEL_COUNT);
    ww_control_limits_of(chart, &lower, &upper, &user);
    test_true("one limit", !lower.set && upper.set);
    test_close("no spread breaks nothing", chart->point[18].rules, 0.0, 0.0);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_breaks_what),
        cmocka_unit_test(slow_drift),
        cmocka_unit_test(without_history),
        cmocka_unit_test(spreads_have_one_side),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
