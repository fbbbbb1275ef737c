/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <assert.h>
#include <wedgework/lesson_text.h>

ww_status ww_lesson_text(const ww_lesson *lesson, const ww_text_style *style, char **text,
                         ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(lesson && style && text);
    ww__lesson_report(lesson, &report);
    return ww__report_make_text(&report, style, text, err);
}

ww_status ww_lesson_answers(const ww_lesson *lesson, const ww_text_style *style, char **text,
                            ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(lesson && style && text);
    ww__lesson_answers_report(lesson, &report);
    return ww__report_make_text(&report, style, text, err);
}
