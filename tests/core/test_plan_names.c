/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <wedgework/balance.h>
#include <wedgework/compare.h>
#include <wedgework/develop.h>
#include <wedgework/print_result.h>
#include <wedgework/scan.h>
#include <wedgework/strip.h>

/* Source: the interface's words for verdicts, the names of strip's own acts, and of the causes in
 * wedgework/print_result.h. */

static void verdicts(void **state) {
    (void)state;
    test_text("prints", ww_verdict_name(WW_VERDICT_PRINTS), "prints");
    test_text("burn", ww_verdict_name(WW_VERDICT_BURN), "burn");
    test_text("blocked", ww_verdict_name(WW_VERDICT_BLOCKED), "blocked");
    test_text("lost", ww_verdict_name(WW_VERDICT_LOST), "lost");
}

static void strips(void **state) {
    (void)state;
    test_text("plan", ww_strip_kind_name(WW_STRIP_PLAN), "plan");
    test_text("read", ww_strip_kind_name(WW_STRIP_READ), "read");
    test_text("proof", ww_strip_kind_name(WW_STRIP_PROOF), "proof");
    test_text("safelight", ww_strip_kind_name(WW_STRIP_SAFELIGHT), "safelight");
    test_text("print", ww_balance_kind_name(WW_BALANCE_PRINT), "print");
    test_text("negative", ww_balance_kind_name(WW_BALANCE_NEGATIVE), "negative");
    test_text("carried", ww_balance_kind_name(WW_BALANCE_CARRIED), "carried");
}

static void causes(void **state) {
    (void)state;
    test_text("nothing", ww_miss_cause_name(WW_MISS_NOTHING), "nothing");
    test_text("exposure", ww_miss_cause_name(WW_MISS_EXPOSURE), "exposure");
    test_text("contrast", ww_miss_cause_name(WW_MISS_CONTRAST), "contrast");
    test_text("light end", ww_miss_cause_name(WW_MISS_LIGHT_END), "light end");
    test_text("one", ww_miss_cause_name(WW_MISS_ONE), "one tone alone");
    test_text("both", ww_miss_cause_name(WW_MISS_BOTH), "exposure and contrast");
}

/* Source: the descriptions in wedgework/scan.h, by hand. */
static void scans(void **state) {
    (void)state;
    test_text("one", ww_scan_way_name(WW_SCAN_ONE), "one scan");
    test_text("second", ww_scan_way_name(WW_SCAN_SECOND), "second scan");
    test_text("average", ww_scan_way_name(WW_SCAN_AVERAGE), "average");
    test_text("both", ww_scan_way_name(WW_SCAN_BOTH), "both");
    test_text("none", ww_scan_way_name(WW_SCAN_NO_WAY), "none");
    test_close("trust", ww_scan_trust((ww_quantity){1.0, 0.99, 1.01, WW_FITTED}), 0.1, 0.0);
    test_close("trust", ww_scan_trust((ww_quantity){1.0, 0.896, 1.104, WW_FITTED}), 0.1, 1e-12);
    test_close("trust", ww_scan_trust((ww_quantity){1.0, 0.88, 1.12, WW_FITTED}), 0.2, 1e-12);
    test_close("trust", ww_scan_trust((ww_quantity){1.0, 0.87, 1.13, WW_FITTED}), 0.2, 1e-12);
    test_close("asked", ww_scan_asked(0.00391), 0.0040, 1e-12);
    test_close("asked", ww_scan_asked(0.0121), 0.013, 1e-12);
    test_close("asked", ww_scan_asked(0.012), 0.012, 1e-12);
    test_close("asked", ww_scan_asked(0.0998), 0.1, 1e-12);
    test_close("nothing", ww_scan_asked(0.0), 0.0, 0.0);
}

/* Keys of a table of limits, and what was sent (compare.h, compare_file.h). */
static void of_comparisons(void **state) {
    (void)state;
    static const char *const limit[WW_LIMIT_COUNT] = {"white",       "black",      "light",
                                                      "middle",      "dark",       "drift",
                                                      "de2000_mean", "de2000_max", "neutral_ab"};
    for (int k = 0; k < WW_LIMIT_COUNT; k++) {
        test_text("limit", ww_compare_limit_name((ww_compare_limit)k), limit[k]);
        test_text("unit", ww_compare_limit_unit((ww_compare_limit)k), k < 6 ? "D" : "");
    }
    test_text("drift", ww_compare_drift_name(WW_COMPARE_BLUE_GREEN), "blue-green");
    test_text("drift", ww_compare_drift_name(WW_COMPARE_B), "b*");
    ww_compare_print print = {.control = WW_COMPARE_RAMP, .ramp = WW_RAMP_GRAY};
    test_text("gray", ww_compare_control_name(&print), "gray");
    print.control = WW_COMPARE_LOG_H;
    test_text("curve", ww_compare_control_name(&print), "log H");
    print.control = WW_COMPARE_LABEL;
    test_text("names", ww_compare_control_name(&print), "tone");
}

static void of_development(void **state) {
    (void)state;
    test_text("index", ww_develop_measure_key(WW_DEVELOP_CONTRAST_INDEX), "contrast_index");
    test_text("average", ww_develop_measure_key(WW_DEVELOP_AVERAGE_GRADIENT), "average_gradient");
    test_text("gamma", ww_develop_measure_key(WW_DEVELOP_GAMMA), "gamma");
    test_text("range", ww_develop_measure_key(WW_DEVELOP_OVER_RANGE), "range_gradient");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(verdicts),       cmocka_unit_test(strips),
        cmocka_unit_test(causes),         cmocka_unit_test(scans),
        cmocka_unit_test(of_comparisons), cmocka_unit_test(of_development)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
