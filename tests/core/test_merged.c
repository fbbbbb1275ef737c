/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/merged.h"
#include "support/support.h"
#include <math.h>

/* Source: hand calculation. */
static void by_hand(void **state) {
    const ww_scanner_noise read = {4e-4, 2e-3, 0.1}, none = {0.0, 2e-3, 0.0};
    (void)state;
    test_close("least variance", ww__merged_weight(4.0, 1.0), 0.8, 1e-15);
    test_close("no noise at all", ww__merged_weight(0.0, 0.0), 0.5, 0.0);
    test_close("0.1 D below", ww__merged_fade(0.98 * pow(10.0, -0.1), 0.98), 1.0, 1e-9);
    test_close("0.05 D below", ww__merged_fade(0.98 * pow(10.0, -0.05), 0.98), 0.5, 1e-9);
    test_close("clipped", ww__merged_fade(0.98, 0.98), 0.0, 0.0);
    test_close("dark", ww__merged_fade(-0.1, 0.98), 1.0, 0.0);
    test_close("read", ww__merged_read(&read, 65535.0), 16e-8, 1e-20);
    test_close("codes", ww__merged_read(&none, 255.0), 1.0 / (12.0 * 65025.0), 1e-18);
    test_close("floating point", ww__merged_read(&none, 1.0), 0.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(by_hand)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
