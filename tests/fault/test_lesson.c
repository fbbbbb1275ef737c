/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "support/support.h"
#include <stdlib.h>
#include <wedgework/lesson_class.h>
#include <wedgework/lesson_file.h>
#include <wedgework/lesson_text.h>
#include <wedgework/start.h>

/* Source: definition (the Status lines of the headers). */
static ww_status whole(void *context, ww_error *err) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_lesson_request request = WW_LESSON_REQUEST_INIT;
    ww_lesson lesson = {.n = 0};
    char *text[5] = {NULL};
    size_t n;
    (void)context;
    ww_status status = ww_lesson_make(&request, &lesson, err);
    test_true("all or nothing", (lesson.n > 0) == (status == WW_OK));
    if (status == WW_OK)
        status = ww_lesson_file_table(&lesson, &text[0], &n, err);
    if (status == WW_OK)
        status = ww_lesson_file_text(&lesson, &text[1], &n, err);
    if (status == WW_OK)
        status = ww_lesson_file_answers(&lesson, &text[2], &n, err);
    if (status == WW_OK)
        status = ww_lesson_text(&lesson, &style, &text[3], err);
    if (status == WW_OK)
        status = ww_lesson_answers(&lesson, &style, &text[4], err);
    for (size_t i = 0; i < 5; i++)
        free(text[i]);
    return status;
}

/* Three students of one strip. */
static ww_status class_of_three(void *context, ww_error *err) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_lesson_class made = WW_LESSON_CLASS_INIT;
    char *text = NULL, *document = NULL;
    size_t n;
    ww_status status = ww_lesson_class_make(context, 3, &made, err);
    test_true("all or nothing", (made.n > 0) == (status == WW_OK));
    if (status == WW_OK)
        status = ww_lesson_class_text(&made, &style, &text, err);
    if (status == WW_OK)
        status = ww_lesson_class_file_text(&made, &document, &n, err);
    free(text);
    free(document);
    ww_lesson_class_release(&made);
    return status;
}

static void classes(void **state) {
    ww_readings readings[3] = {WW_READINGS_INIT};
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        ww_lesson_request request = WW_LESSON_REQUEST_INIT;
        ww_lesson lesson;
        request.student = i / 2 + 1; /* one file twice */
        test_status("lesson", ww_lesson_make(&request, &lesson, NULL), WW_OK, NULL);
        test_status("table", ww_lesson_table(&lesson, &readings[i], NULL), WW_OK, NULL);
    }
    inject_each("class", class_of_three, readings);
    for (size_t i = 0; i < 3; i++)
        ww_readings_release(&readings[i]);
}

static void lessons(void **state) {
    (void)state;
    ww_start();
    inject_each("lesson", whole, NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(lessons), cmocka_unit_test(classes)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
