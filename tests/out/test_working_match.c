/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/compare_case.h"
#include "support/match_case.h"
#include "support/texture_case.h"
#include "working_read.h"

static void correction(void **state) {
    ww_match *match = match_case(1, WW_RAMP_GRAY);
    ww__report report = WW__REPORT_INIT;
    char *html;
    (void)state;
    ww__working_match(match, &report);
    html = read_working(&report);
    test_holds("wanted", html, "aim(in) - its white + the print&#39;s white");
    test_holds("correction", html, "print(out) = target(in)");
    free(html);
    match->absolute = match->lightness = true;
    match->passes = 1;
    ww__working_match(match, &report);
    html = read_working(&report);
    test_holds("lightness", html, "L* = 116 Y^(1/3) - 16");
    test_holds("taught", html, "what later prints taught");
    free(html);
    ww_notes_release(&match->notes);
}

/* Source: definition of the range; 0.5 and 1 % of white as veils (trade's practice). */
static void comparison(void **state) {
    ww_readings gloss = compare_case_print("Gloss", compare_case_gloss, 0.0, 1.5);
    ww_readings rag = compare_case_print("Rag", compare_case_rag, 0.5, 5.0);
    ww_comparison made = WW_COMPARISON_INIT;
    ww__report report = WW__REPORT_INIT;
    char *html, expected[80];
    (void)state;
    compare_case_two(&gloss, &rag, NULL, &made);
    ww__working_compare(&made, &report);
    html = read_working(&report);
    snprintf(expected, sizeof expected, "&#39;Gloss&#39;: %.3f - %.3f = %.3f",
             made.print[0].black.value, made.print[0].white.value,
             made.print[0].black.value - made.print[0].white.value);
    test_holds("range", html, expected);
    test_holds("largest", html, "&#39;Rag&#39; less &#39;Gloss&#39;, at ");
    test_holds("veils", html, "f = 0.005, f = 0.010");
    test_holds("colours", html, "Source: CIE 142-2001");
    free(html);
    ww_comparison_release(&made);
    ww_readings_release(&gloss);
    ww_readings_release(&rag);
}

static void texture(void **state) {
    texture_case c;
    ww__report report = WW__REPORT_INIT;
    char *html;
    (void)state;
    texture_case_make(&c);
    ww__working_texture(c.scan, 2, &report);
    html = read_working(&report);
    test_holds("grain", html, "Source: Selwyn&#39;s law");
    test_holds("edge", html, "method of ISO 12233");
    free(html);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(correction),
        cmocka_unit_test(comparison),
        cmocka_unit_test(texture),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
