/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "strip_made.h"

/* Source: the interface (tables with the units in the heading; seconds on the timer's step). */

static void tables(void **state) {
    const ww_strip strip = strip_made();
    ww__report report = WW__REPORT_INIT;
    (void)state;
    ww__strip_report(&strip, &report);
    expect_row("headings", &report, "Steps", 0, "step|time|density|trust|");
    expect_row("units", &report, "Steps", 1, "|s|D above paper|+-D|");
    expect_row("step", &report, "Steps", 2, "1|12.0|0.07|0.02|");
    expect_row("remark", &report, "Steps", 4, "3|20.0|0.02|0.02|out of order");
    expect_row("units", &report, "The next strip", 1, "|s|s|s|stop");
    expect_row("piece", &report, "The next strip", 2, "1|12.73|12.7|12.7|");
    expect_row("rounded off", &report, "The next strip", 4, "3|16.04|16.5|2.2|+0.05");
    ww__report_release(&report);
}

/* The seconds with the lens opened, which the act offers, stand there piece by piece as well. */
static void another_stop(void **state) {
    ww_strip strip = strip_made();
    ww__report report = WW__REPORT_INIT;
    const ww__block *list;
    (void)state;
    strip.series.piece[0].time_s = 15.0;
    strip.series.piece[1].time_s = 60.4;
    strip.series.piece[2].time_s = 240.0;
    ww__strip_report(&strip, &report);
    list = find_block(&report, "How to give it");
    test_true("list", list != NULL);
    test_holds("lens", list->item[1], "With the lens opened 1 stop: give the whole strip 7.5 s,");
    ww__report_release(&report);
}

static void covered(void **state) {
    ww_strip strip = strip_made_safelight();
    ww__report report = WW__REPORT_INIT;
    (void)state;
    strip.white.set = false;
    strip.step[1].state = WW_CELL_OVER;
    ww__strip_report(&strip, &report);
    expect_row("units", &report, "Steps", 1, "|s|D|+-D|");
    expect_row("covered", &report, "Steps", 2, "covered|0|0.25|0.01|covered");
    expect_row("over", &report, "Steps", 3, "1|120|over||");
    test_true("no strip to expose", find_block(&report, "The next strip") == NULL);
    ww__report_release(&report);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(tables), cmocka_unit_test(another_stop),
                                       cmocka_unit_test(covered)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
