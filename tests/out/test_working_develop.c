/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/develop_case.h"
#include "working_read.h"

/* Source: by hand, of the case: contrast 1 - e^(-0.1386 t), 0.50 at 5 min, 0.75 at 10. */

static char *working_of(const develop_case *c, size_t n, ww_develop_request request) {
    ww_development plan = WW_DEVELOPMENT_INIT;
    ww__report report = WW__REPORT_INIT;
    test_status("plan", ww_develop_plan(c->input, n, &request, &plan, NULL), WW_OK, NULL);
    ww__working_develop(&plan, &report);
    ww_development_release(&plan);
    return read_working(&report);
}

static void each_kind(void **state) {
    develop_case c;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    (void)state;
    develop_case_start(&c, 1.0, 0.13862943611198908, 0.0);
    develop_case_add(&c, 5.0, 0.004, 1.0);
    develop_case_add(&c, 10.0, 0.004, 1.0);
    develop_case_add(&c, 15.0, 0.004, 1.0);
    request.contrast_index = (ww_optional){true, 0.6};
    /* 5 x 2^(0.1 / 0.25) = 6.598 */
    char *html = working_of(&c, 2, request);
    test_holds("two times", html, "5 x (10 / 5)^((0.6000 - 0.5000) / (0.7500 - 0.5000)) = 6.598");
    free(html);
    /* growth at 5 min: 0.1386 x 0.5 */
    html = working_of(&c, 3, request);
    test_holds("law", html,
               "C1 = 0.5000 at t1 = 5 min, growing there by 0.06931 a minute, k = "
               "0.13863");
    test_holds("time", html, "= 6.610 min");
    test_holds("source", html, "Nietz");
    test_lacks("one temperature", html, "kelvin");
    free(html);
    develop_case_add(&c, 8.0, 0.004, 1.0)->meta.temperature_c.value = 18.0;
    c.curve[0].exposure = WW_EXPOSURE_STOP;
    request.contrast_index.set = false;
    request.density_range = (ww_optional){true, 1.2};
    request.subject_range = (ww_optional){true, 2.0};
    request.flare = 0.01;
    request.metered_index = (ww_optional){true, 100.0};
    html = working_of(&c, 4, request);
    /* -log10(0.02 / 1.01) = 1.703, 1.2 / 1.7033 = 0.7045 */
    test_holds("flare", html, "(1 + 0.0100)) = 1.703");
    test_holds("gradient", html, "1.200 / 1.703 = 0.7045");
    test_holds("temperature", html, "T_ref = 293.15 K");
    test_holds("doubt", html, "root of ");
    test_holds("index", html, "100 x 2^(-3.32 + ");
    free(html);
    develop_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(each_kind)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
