/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_OUT_WORKING_READ_H
#define WEDGEWORK_TESTS_OUT_WORKING_READ_H

#include "out/working.h"
#include "results.h"

/* Sets a working as HTML, to be freed: every step has a formula and says where it comes from. The
 * report is released. */
static inline char *read_working(ww__report *report) {
    ww__text html = WW__TEXT_INIT;
    const char *at;
    assert_int_equal(report->n, 1);
    assert_int_equal(report->block[0].kind, WW__STEPS);
    assert_true(report->block[0].n > 0 && report->block[0].n % 4 == 0);
    for (size_t i = 0; i < report->block[0].n; i++)
        if (i % 4 != 2)
            test_true(report->block[0].item[i], report->block[0].item[i][0] != '\0');
    ww__report_set_html(report, &html);
    test_status("working", ww__report_status(report, NULL), WW_OK, NULL);
    ww__report_release(report);
    at = strstr(ww__text_string(&html), "nan");
    test_true("no number is none", !at);
    return html.bytes;
}

#endif
