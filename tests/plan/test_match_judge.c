/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/match_parts.h"
#include "support/match_case.h"

/* Source: the case, by hand: print 0.08 + 1.52 in^1.5, aim 0.08 + 2 in. */
static void misses(void **state) {
    (void)state;
    ww_match *match = match_case(1, WW_RAMP_GRAY);
    ww_match_channel *c = &match->channel[0];
    for (int r = 0; r < WW_REGION_COUNT; r++)
        c->region[r] = (ww_match_miss){.any = false};
    c->worst = c->kept_miss = (ww_match_miss){.any = false};
    c->codes = (ww_match_codes){.merged = 0};
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        c->print.error[i] = 0.006;
        c->aim.error[i] = 0.003;
    }
    ww__match_judge(match, c);
    /* 1.52 x^1.5 - 2 x is least where 2.28 sqrt x = 2: x = 0.7695, -0.5130. */
    test_close("worst", c->worst.density, 1.52 * pow(0.7695, 1.5) - 2.0 * 0.7695, 1e-3);
    test_close("where", c->worst.drive, 0.7695, 0.01);
    /* Light tones end at 0.30 over the aim's white, a drive of 0.15. */
    test_close("light", c->region[WW_REGION_LIGHT].density, 1.52 * pow(0.15, 1.5) - 0.3, 2e-3);
    test_close("kept", c->kept_miss.density, 1.52 * pow(0.5, 1.5) - 1.0, 1e-3);
    /* Both whites besides both densities: 2.73 sqrt(2 0.006^2 + 2 0.003^2); 0.95^(1/8) of normal
     * deviates lie within 2.73 sd (table). */
    test_close("doubt", c->worst.doubt, 2.73 * sqrt(2 * 36e-6 + 2 * 9e-6), 1e-6);
    ww_notes_release(&match->notes);
}

/* A corrected print was read 0.03 D lighter than the response at white, and 0.03 D denser about a
 * drive of 0.1: above white that is 0.06 D, whatever the curve says. */
static void shown_misses(void **state) {
    (void)state;
    ww_match *match = match_case(1, WW_RAMP_GRAY);
    ww_match_channel *c = &match->channel[0];
    double kept[2];
    for (size_t i = 0; i < 200; i++)
        c->print.missed[i] = i < 50 ? -0.03 : 0.03;
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++)
        c->wanted[i] = ww_tone_response_density(
            &c->print, ww_match_out(c, (double)i / (WW_TONE_RESPONSE_POINTS - 1)));
    for (match->passes = 0; match->passes < 2; match->passes++) {
        c->worst = c->kept_miss = (ww_match_miss){.any = false};
        ww__match_judge(match, c);
        kept[match->passes] = c->kept_miss.density;
    }
    test_close("foretold", kept[0], 0.0, 1e-9);
    test_close("shown", kept[1], 0.06, 1e-9);
    match->passes = 0;
    ww_notes_release(&match->notes);
}

/* Codes counted another way: by a set of those that come. */
static void codes(void **state) {
    (void)state;
    ww_match *match = match_case(1, WW_RAMP_GRAY);
    ww_match_channel *c = &match->channel[0];
    bool used[256] = {false};
    size_t distinct = 0;
    c->codes = (ww_match_codes){.merged = 0};
    ww__match_judge(match, c);
    for (int i = 0; i < 256; i++)
        used[lround(255.0 * pow(i / 255.0, 1.5))] = true;
    for (int i = 0; i < 256; i++)
        distinct += used[i];
    assert_int_equal(c->codes.merged, 256 - distinct);
    assert_int_equal(c->codes.left_out, 256 - distinct);
    test_true("a step of two codes", c->codes.density > 0.9 * 2.0 * 1.52 / 255.0);
    test_true("and no more", c->codes.density < 1.1 * 2.0 * 1.52 / 255.0);
    ww_notes_release(&match->notes);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(misses), cmocka_unit_test(shown_misses),
                                       cmocka_unit_test(codes)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
