/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "support/scan_plan_case.h"
#include <stdlib.h>
#include <wedgework/scan_negative.h>
#include <wedgework/scan_plan_file.h>
#include <wedgework/scan_plan_text.h>

/* Source: definition (the Status lines of the headers). */

static ww_status shown(const ww_scan_plan *plan, ww_error *err) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    char *text = NULL, *document = NULL;
    size_t n;
    ww_status status = ww_scan_plan_text(plan, &style, &text, err);
    if (status == WW_OK)
        status = ww_scan_plan_file_text(plan, &document, &n, err);
    free(text);
    free(document);
    return status;
}

static ww_status plan(void *context, ww_error *err) {
    const scan_plan_case *c = context;
    ww_scan_plan made = WW_SCAN_PLAN_INIT;
    ww_status status = ww_scan_plan_make(&c->request, &made, err);
    test_true("all or nothing", made.channel[WW_BLUE].present == (status == WW_OK));
    if (status == WW_OK)
        status = shown(&made, err);
    ww_scan_plan_release(&made);
    return status;
}

static ww_status read_whole(void *context, ww_error *err) {
    static const char text[] =
        "{\"wedgework\": 1, \"kind\": \"histogram\", \"white\": 65535, \"unit\": \"code\", "
        "\"channels\": {\"red\": {\"p0.1\": 65.5, \"p1\": 655, \"median\": 6553, \"p99\": 20000, "
        "\"p99.9\": 30000}}, \"notes\": [\"Invented.\"]}";
    const scan_plan_case *c = context;
    ww_readings negative = WW_READINGS_INIT;
    const ww_status status =
        ww_scan_negative_parse("neg", text, sizeof text - 1, &c->made.scanner, &negative, err);
    test_true("all or nothing", (negative.n > 0) == (status == WW_OK));
    ww_readings_release(&negative);
    return status;
}

static void scan_plans(void **state) {
    static const double base[] = {0.32, 0.63, 0.72}, cloud[] = {1.30, 1.77, 2.03};
    scan_plan_case c;
    (void)state;
    scan_plan_case_start(&c, SCAN_PLAN_CASE_TRUTH);
    scan_plan_case_colour(&c, SCAN_PLAN_CASE_TRUTH);
    scan_plan_case_tone(&c, "base", WW_PART_WHOLE, WW_RED, 3, base);
    scan_plan_case_tone(&c, "cloud", WW_PART_WHOLE, WW_RED, 3, cloud);
    inject_each("a plan", plan, &c);
    inject_each("a whole scan", read_whole, &c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(scan_plans)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
