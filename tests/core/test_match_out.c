/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/match_case.h"

/* Source: the case; between points straight lines, by hand. */
static void lines_between_points(void **state) {
    (void)state;
    ww_match *match = match_case(3, WW_RAMP_VALUES);
    const double a = match_case_out(1, 100.0 / 255), b = match_case_out(1, 101.0 / 255);
    test_close("point", ww_match_out(&match->channel[1], 100.0 / 255), a, 1e-12);
    test_close("between", ww_match_out(&match->channel[1], 100.25 / 255), a + 0.25 * (b - a),
               1e-12);
    test_close("white", ww_match_out(&match->channel[1], -0.1), 0.0, 0.0);
    test_close("black", ww_match_out(&match->channel[1], 1.1), 1.0, 0.0);
    test_close("value", ww_match_value(match, 1, 1.0 - 100.0 / 255), 1.0 - a, 1e-12);
    ww_notes_release(&match->notes);
}

static void gray_serves_all(void **state) {
    (void)state;
    ww_match *match = match_case(1, WW_RAMP_GRAY);
    for (size_t c = 0; c < 3; c++)
        test_close("gray", ww_match_value(match, c, 0.2), 1.0 - match_case_out(0, 0.8), 1e-12);
    ww_notes_release(&match->notes);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(lines_between_points),
                                       cmocka_unit_test(gray_serves_all)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
