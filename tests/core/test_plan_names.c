/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <wedgework/print_result.h>
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

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(verdicts),
        cmocka_unit_test(strips),
        cmocka_unit_test(causes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
