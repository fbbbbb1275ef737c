/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "support/compare_case.h"

/* Source: differences of the case by hand. */

static void tables(void **state) {
    (void)state;
    static const char regions[] = "Differences from the first, darker is +";
    static const char tones[] = "Tone by tone, darker than the first is +";
    ww_comparison made = WW_COMPARISON_INIT;
    ww__report report = WW__REPORT_INIT;
    compare_case_usual(true, &made);
    ww__compare_report(&made, &report);
    expect_row("headings", &report, tones, 0, "print|tone|visual|trust|CIEDE2000|");
    expect_row("light", &report, regions, 2, "Rag|light|3|+0.05|0.02|+0.05|0.03|visual|base");
    expect_row("dark", &report, regions, 4, "Rag|dark|2|-0.40|0.02|-0.55|0.03|visual|6");
    expect_row("limit", &report, "What was agreed", 2, "Rag|black|0.05|-0.55|0.03|D|beyond");
    expect_row("unknown", &report, "What was agreed", 4, "Rag|drift|0.03|-|-|D|not read");
    test_true("within doubt or out of reach",
              find_block(&report, tones)->n == (2 + 7) * find_block(&report, tones)->columns);
    const ww__block *marks = find_block(&report, "Marks");
    assert_int_equal(marks->n, 2);
    test_holds("of a column that is there", marks->item[1], "Drift is how far a* and b*");
    test_true("no display", find_block(&report, "Displays") == NULL);
    ww__report_release(&report);
    ww_comparison_release(&made);
}

/* Densities are alike, and a grey of the second is 3.3 redder: its row is not within doubt. */
static void colour_is_enough(void **state) {
    (void)state;
    static const char tones[] = "Tone by tone, darker than the first is +";
    ww_readings a = compare_case_print("A", compare_case_gloss, 0.5, 1.5);
    ww_readings b = compare_case_print("B", compare_case_gloss, 0.5, 1.5);
    ww_comparison made = WW_COMPARISON_INIT;
    ww__report report = WW__REPORT_INIT;
    b.row[4].cell[WW_COLUMN_LAB_A].value += 3.3;
    compare_case_two(&a, &b, NULL, &made);
    ww__compare_report(&made, &report);
    const ww__block *block = find_block(&report, tones);
    test_text("alike", block->item[5 * block->columns + block->columns - 1], "within doubt");
    test_text("redder", block->item[6 * block->columns + block->columns - 1], "");
    expect_row("heading", &report, "Prints", 0,
               "print|white|black|range|trust|gradient|drift|drift|white a*|white b*");
    ww__report_release(&report);
    ww_comparison_release(&made);
    ww_readings_release(&a);
    ww_readings_release(&b);
}

/* Red is off beyond its doubt, and the others are not. */
static void one_channel_is_enough(void **state) {
    (void)state;
    ww_readings a = compare_case_scale("A", WW_COLUMN_GREEN, compare_case_gloss, 6);
    ww_readings b = compare_case_scale("B", WW_COLUMN_GREEN, compare_case_gloss, 6);
    ww_comparison made = WW_COMPARISON_INIT;
    ww__report report = WW__REPORT_INIT;
    for (size_t i = 0; i < a.n; i++) {
        const double density = a.row[i].cell[WW_COLUMN_GREEN].value;
        made_value(&a, &a.row[i], WW_COLUMN_RED, density);
        made_value(&b, &b.row[i], WW_COLUMN_RED, density + (i == 3 ? 0.05 : 0.01));
    }
    compare_case_two(&a, &b, NULL, &made);
    ww__compare_report(&made, &report);
    expect_row("as good as alike", &report, "Tone by tone, darker than the first is +", 4,
               "B|2|+0.01|0.00|0.03|within doubt");
    expect_row("red is off", &report, "Tone by tone, darker than the first is +", 5,
               "B|3|+0.05|0.00|0.03|");
    ww__report_release(&report);
    ww_comparison_release(&made);
    ww_readings_release(&a);
    ww_readings_release(&b);
}

static void nothing_agreed(void **state) {
    (void)state;
    ww_comparison made = WW_COMPARISON_INIT;
    ww__report report = WW__REPORT_INIT;
    compare_case_usual(false, &made);
    ww__compare_report(&made, &report);
    test_true("no table of limits", find_block(&report, "What was agreed") == NULL);
    /* -log10 of (10^-2.15 + 0.01) / 1.01: 1.7719; of its light L* 13.8 (formulas, by hand) */
    expect_row("gloss under 1 %", &report, "Under the light of a room", 3,
               "Gloss|1.0|0.05|1.77|1.72|13.8");
    ww__report_release(&report);
    ww_comparison_release(&made);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tables), cmocka_unit_test(one_channel_is_enough),
        cmocka_unit_test(colour_is_enough), cmocka_unit_test(nothing_agreed)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
