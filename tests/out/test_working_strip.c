/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "strip_made.h"
#include "working_read.h"

/* Source: by hand: half-way in density between 12 and 16 s lies half-way in log time, sqrt(192) =
 * 13.856 s; 14.29 s over and under by 1/6 stop are 12.73 and 16.04 s. */
static void each_kind_of_strip(void **state) {
    ww_strip strip = strip_made();
    ww__report report = WW__REPORT_INIT;
    char *html;
    (void)state;
    ww__working_strip(&strip, &report);
    html = read_working(&report);
    test_holds("white", html, "paper white 0.060 D");
    test_holds("line", html, "= 1.1417, 13.86 s; the curve through all gives 14.30 s");
    test_holds("series", html, "14.29 x 2^(0.167 x -1.0) = 12.73 s");
    test_holds("added", html, "14.29 - 12.73 = 1.56 s for the second");
    free(html);
    strip.kind = WW_STRIP_PROOF;
    strip.black = given(2.11);
    ww__working_strip(&strip, &report);
    html = read_working(&report);
    test_holds("proof", html, "2.11 - 0.05 = 2.06 D");
    free(html);
    strip = strip_made_safelight();
    ww__working_strip(&strip, &report);
    html = read_working(&report);
    test_holds("safelight", html, "D of the covered piece");
    free(html);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(each_kind_of_strip)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
