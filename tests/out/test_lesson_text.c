/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/lesson_case.h"
#include <stdlib.h>
#include <wedgework/lesson_text.h>

/* Source: the case. */

static char *unfolded(char *text) {
    for (char *at = text; *at; at++)
        if (*at == '\n')
            *at = ' ';
    return text;
}

static void handed_out(void **state) {
    const ww_text_style style = {.timer_step_s = 0.1};
    ww_lesson lesson;
    char *text = NULL;
    (void)state;
    lesson_case_make(&lesson);
    test_status("text", ww_lesson_text(&lesson, &style, &text, NULL), WW_OK, NULL);
    unfolded(text);
    test_holds("task", text,
               "21 steps of a practice film, read to 0.01 D: find its base+fog, speed point, "
               "exposure index, gamma, average gradient, contrast index");
    test_holds("as typed", text, "1,07");
    test_holds("formula", text, "CI = (D2 - base) / (x2 - x0)");
    test_lacks("no seed", text, "20731");
    test_lacks("no fault", text, "comma");
    test_lacks("no curve", text, "hidden");
    free(text);
}

static void answers(void **state) {
    const ww_text_style style = {.timer_step_s = 0.1};
    ww_lesson lesson;
    char *text = NULL;
    (void)state;
    lesson_case_make(&lesson);
    test_status("text", ww_lesson_answers(&lesson, &style, &text, NULL), WW_OK, NULL);
    unfolded(text);
    test_holds("act", text,
               "Answers to seed 20731, student 1, a practice film. The fault: one "
               "density was typed with a comma");
    test_holds("step", text, "(step 9); it shows by this:");
    test_holds("working", text,
               "speed point -2.00 log H, by log Hm = x1 + (base + 0.10 - D1) / "
               "(D2 - D1) (x2 - x1), with base 0.200, x1 -2.050, D1 0.270, x2 "
               "-1.900, D2 0.360.");
    test_holds("why not", text, "No contrast index: a reason.");
    free(text);
    lesson.fault = WW_LESSON_SOUND;
    test_status("text", ww_lesson_answers(&lesson, &style, &text, NULL), WW_OK, NULL);
    test_holds("none", text, "There is no fault.");
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(handed_out), cmocka_unit_test(answers)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
