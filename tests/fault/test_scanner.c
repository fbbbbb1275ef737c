/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_made.h"
#include "fault/inject.h"
#include "io/scanner_document.h"
#include <wedgework/start.h>

/* Source: definition (the Status lines of the headers). */

static ww_status check_and_release(ww_scanner *scanner, ww_status status) {
    test_true("all or nothing", (scanner->notes.n > 0) == (status == WW_OK));
    ww_scanner_release(scanner);
    return status;
}

static ww_status fit(void *context, ww_error *err) {
    const made_scan *s = context;
    ww_scanner scanner = WW_SCANNER_INIT;
    const ww_status status = ww_scanner_fit(&s->measured, &s->wedge, NULL, &scanner, err);
    if (status == WW_OK)
        test_close("k", scanner.channel[WW_VISUAL].k, 0.9, 1e-6);
    return check_and_release(&scanner, status);
}

static ww_status parse(void *context, ww_error *err) {
    ww_scanner scanner = WW_SCANNER_INIT;
    (void)context;
    return check_and_release(&scanner,
                             ww_scanner_file_parse("s.json", scanner_document,
                                                   sizeof scanner_document - 1, &scanner, err));
}

static ww_status write(void *context, ww_error *err) {
    char *text = NULL;
    size_t n = 0;
    const ww_status status = ww_scanner_file_text(context, &text, &n, err);
    test_true("all or nothing", (text != NULL) == (status == WW_OK));
    free(text);
    return status;
}

/* Seen with GSL 2.7: the most that one failing constructor leaves behind. */
enum { GSL_LOSES = 60 };

static void calibrations_bear_no_memory(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    (void)state;
    made_wedge(&s, 8, 0.05, 0.3, 16);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    inject_each_but("fit", fit, &s, GSL_LOSES);
}

static void scanner_files_bear_no_memory(void **state) {
    ww_scanner scanner = WW_SCANNER_INIT;
    (void)state;
    test_status("parse",
                ww_scanner_file_parse("s.json", scanner_document, sizeof scanner_document - 1,
                                      &scanner, NULL),
                WW_OK, NULL);
    inject_each("parse", parse, NULL);
    inject_each("text", write, &scanner);
    ww_scanner_release(&scanner);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(calibrations_bear_no_memory),
        cmocka_unit_test(scanner_files_bear_no_memory),
    };
    (void)ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
