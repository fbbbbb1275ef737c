/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "support/strip_case.h"
#include <stdlib.h>
#include <wedgework/strip_file.h>
#include <wedgework/strip_text.h>

/* Source: definition (the Status lines of the headers). */

static ww_status shown(const ww_strip *strip, ww_error *err) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    char *text = NULL, *document = NULL;
    size_t n;
    ww_status status = ww_strip_text(strip, &style, &text, err);
    if (status == WW_OK)
        status = ww_strip_file_text(strip, &document, &n, err);
    free(text);
    free(document);
    return status;
}

static ww_status plan(void *context, ww_error *err) {
    ww_strip strip = WW_STRIP_INIT;
    ww_status status = ww_strip_plan(16.0, 0.5, 5, 0.1, &strip, err);
    (void)context;
    ww_readings form = WW_READINGS_INIT;
    test_true("all or nothing", (strip.series.n > 0) == (status == WW_OK));
    if (status == WW_OK)
        status = ww_strip_form(&strip.series, &form, err);
    if (status == WW_OK)
        status = shown(&strip, err);
    ww_readings_release(&form);
    ww_strip_release(&strip);
    return status;
}

static ww_status read_aim(void *context, ww_error *err) {
    const strip_case *c = context;
    ww_strip strip = WW_STRIP_INIT;
    ww_status status = ww_strip_read(&c->readings, 0.30, 0.1, &strip, err);
    test_true("all or nothing", (strip.n_steps > 0) == (status == WW_OK));
    if (status == WW_OK)
        status = shown(&strip, err);
    ww_strip_release(&strip);
    return status;
}

static ww_status safelight(void *context, ww_error *err) {
    const strip_case *c = context;
    ww_strip strip = WW_STRIP_INIT;
    ww_status status = ww_strip_safelight(&c->readings, &strip, err);
    test_true("all or nothing", (strip.n_steps > 0) == (status == WW_OK));
    if (status == WW_OK)
        status = shown(&strip, err);
    ww_strip_release(&strip);
    return status;
}

static void strips(void **state) {
    strip_case c;
    ww_row *row;
    (void)state;
    inject_each("plan", plan, NULL);
    strip_case_start(&c, true);
    strip_case_paper(&c, 3.0, 20.0, 8.0, 1.0, 4); /* too few for a curve, whose faults are fit's */
    inject_each("read", read_aim, &c);
    strip_case_start(&c, true);
    row = strip_case_step(&c, 0.0, 0.30);
    strip_case_label(&c, row, "covered");
    row->exposure.set = false;
    strip_case_step(&c, 60.0, 0.30);
    strip_case_step(&c, 120.0, 0.35);
    inject_each("safelight", safelight, &c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(strips)};
    return cmocka_run_group_tests_name("strips without memory", tests, NULL, NULL);
}
