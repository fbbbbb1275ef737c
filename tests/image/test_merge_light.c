/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_light.h"
#include "support/support.h"
#include <math.h>

/* Source: definition; the power and sRGB by their formulas (IEC 61966-2-1). */

static void codes_are_light_and_back(void **state) {
    const ww_picture picture = {.sample = WW_SAMPLE_16, .white = 4095.0};
    ww_scanner power = {.white = 4095.0, .gamma = {1.8, 1.8, 1.8, WW_GIVEN}};
    ww__merge_light light;
    (void)state;
    assert_int_equal(ww__merge_light_new(&picture, NULL, &light, NULL), WW_OK);
    test_close("linear", ww__merge_light_of(&light, 1234.0), 1234.0 / 4095.0, 1e-12);
    test_close("table", (double)light.light[1234], 1234.0 / 4095.0, 1e-7);
    test_close("back", ww__merge_light_share(&light, 0.3), 0.3, 1e-12);
    test_close("below 0", ww__merge_light_share(&light, -0.3), 0.0, 0);
    ww__merge_light_release(&light);
    assert_int_equal(ww__merge_light_new(&picture, &power, &light, NULL), WW_OK);
    test_close("power", ww__merge_light_of(&light, 1234.0), pow(1234.0 / 4095.0, 1.8), 1e-12);
    test_close("power", ww__merge_light_share(&light, pow(0.3, 1.8)), 0.3, 1e-12);
    ww__merge_light_release(&light);
    ww__merge_light_release(NULL);
}

static void ends_are_not_held(void **state) {
    const ww_picture picture = {.sample = WW_SAMPLE_8, .white = 255.0};
    const uint8_t code[] = {0, 1, 249, 250, 255};
    static const bool want[] = {false, true, true, false, false}; /* 0.98 * 255 = 249.9 */
    ww__merge_light light;
    (void)state;
    assert_int_equal(ww__merge_light_new(&picture, NULL, &light, NULL), WW_OK);
    for (size_t i = 0; i < sizeof code; i++)
        test_true("held",
                  ww__merge_light_holds(&light, ww__merge_light_code(&light, code, i)) == want[i]);
    test_true("not a number", !ww__merge_light_holds(&light, (double)NAN));
    ww__merge_light_release(&light);
}

/* Where a channel's codes end below white, as the scanner file says, one may be clipped from 98 %
 * of that on. */
static void a_known_end_is_that_of_all(void **state) {
    const ww_picture picture = {.sample = WW_SAMPLE_16, .white = 65535.0};
    ww_scanner scanner = {.white = 65535.0, .gamma = {1.0, 1.0, 1.0, WW_GIVEN}};
    ww__merge_light light;
    (void)state;
    scanner.channel[WW_RED].present = scanner.channel[WW_GREEN].present = true;
    scanner.channel[WW_GREEN].clips = (ww_optional){true, 16383.0};
    scanner.channel[WW_BLUE].clips = (ww_optional){true, 1000.0}; /* was not calibrated */
    assert_int_equal(ww__merge_light_new(&picture, &scanner, &light, NULL), WW_OK);
    test_close("clips", light.clips, 0.98 * 16383.0, 1e-9);
    ww__merge_light_release(&light);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(codes_are_light_and_back),
                                       cmocka_unit_test(ends_are_not_held),
                                       cmocka_unit_test(a_known_end_is_that_of_all)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
