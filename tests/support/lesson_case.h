/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_LESSON_CASE_H
#define WEDGEWORK_TESTS_LESSON_CASE_H

#include "support/support.h"
#include <wedgework/lesson.h>

/* A film of which every number is known: base 0.20, gamma 0.62, and one figure of each kind. */
static inline void lesson_case_make(ww_lesson *lesson) {
    ww_lesson_request request = WW_LESSON_REQUEST_INIT;
    request.seed = 20731;
    request.kind = WW_LESSON_FILM;
    request.fault = WW_LESSON_DECIMAL_COMMA;
    test_status("lesson", ww_lesson_make(&request, lesson, NULL), WW_OK, NULL);
    lesson->at = 9;
    lesson->size = 1.07;
    lesson->given[9].density = 1.0;
    lesson->given[0].density = 0.21;
    lesson->hidden.result[WW_LESSON_BASE] = (ww_lesson_result){true, 0.2, {0.2}, NULL};
    lesson->spoilt.result[WW_LESSON_SPEED_POINT] =
        (ww_lesson_result){true, -2.0, {0.2, -2.05, 0.27, -1.9, 0.36}, NULL};
    lesson->spoilt.result[WW_LESSON_INDEX] = (ww_lesson_result){.why_not = "a reason"};
}

#endif
