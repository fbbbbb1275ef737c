/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/fault.h"
#include "support/scan_case.h"
#include "support/support.h"

/* Source: definition. The worst is named, by size whatever its sign; a patch counts once. */
static void the_worst_is_named(void **state) {
    static const struct {
        size_t patches;
        bool colour;
        int to; /* the last channel that has it */
        const char *want;
    } rows[] = {{1, true, WW_GREEN, "Step '3' (green)"},
                {2, true, WW_GREEN, "Step '3' (green) and another one"},
                {4, true, WW_GREEN, "Step '3' (green) and 3 others"},
                {4, true, WW_BLUE, "Step '3' and 3 others"}};
    struct scan_case made;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__fault f = {0};
        char words[WW__FAULT_WORDS];
        scan_case_strip(&made, rows[i].colour);
        for (size_t k = 0; k < rows[i].patches; k++)
            for (int c = WW_RED; c <= rows[i].to; c++)
                ww__fault_keep(&f, 2 + k, (ww_channel)c, k == 0 && c == WW_GREEN ? -0.2 : 0.1);
        assert_int_equal(f.patches, rows[i].patches);
        test_close(rows[i].want, f.value, -0.2, 0.0);
        test_text(rows[i].want, ww__fault_who(&made.measured, "step", &f, words), rows[i].want);
    }
    ww__fault grey = {0};
    char words[WW__FAULT_WORDS];
    scan_case_strip(&made, false);
    ww__fault_keep(&grey, 2, WW_VISUAL, 0.1);
    test_text("grey", ww__fault_who(&made.measured, "step", &grey, words), "Step '3'");
}

static void a_share_is_told_to_two_places(void **state) {
    char text[32];
    (void)state;
    test_text("small", ww__fault_percent(0.0513, text, sizeof text), "5.1");
    test_text("large", ww__fault_percent(0.4631, text, sizeof text), "46");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_worst_is_named),
        cmocka_unit_test(a_share_is_told_to_two_places),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
