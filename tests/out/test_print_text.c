/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"
#include <wedgework/print_text.h>

/* Source: the interface's example of a first line and the order of a text. */
static void comes_in_the_readers_order(void **state) {
    static const char *const order[] = {
        "Grade 2 1/2 (Quayside gloss), 18.4 s; burn the cloud +1 1/3 stop (27.8 s more);\n"
        "expect it at 0.08 to 0.12 above paper; trust +-1/6 stop.\n"
        "Why: it takes 1.05 log H",
        "\nPapers, best first\n",
        "\nTones on the best paper\n",
        "\nWhat the doubt is made of\n",
        "\nNotes\n",
        "\nCautions\n"};
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    struct made_plan made;
    char *text = NULL;
    const char *at;
    (void)state;
    make_plan(&made);
    assert_int_equal(ww_notes_add(&made.plan.notes, NULL, "A note."), WW_OK);
    test_status("plan", ww_print_text(&made.plan, &style, &text, NULL), WW_OK, NULL);
    at = text;
    for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
        at = strstr(at, order[i]);
        if (!at)
            fail_msg("'%s' is not in its place in:\n%s", order[i], text);
    }
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        test_true("80 columns", strcspn(line, "\n") <= 80);
    free(text);
    ww_notes_release(&made.plan.notes);
}

static void refuses_a_step_that_is_none(void **state) {
    static const double steps[] = {0.0, -0.1, (double)NAN, HUGE_VAL};
    struct made_plan made;
    (void)state;
    make_plan(&made);
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        const ww_text_style style = {.timer_step_s = steps[i]};
        ww_error err = WW_ERROR_INIT;
        char *text = NULL;
        test_status("timer step", ww_print_text(&made.plan, &style, &text, &err), WW_EDOMAIN, &err);
        assert_null(text);
    }
}

static void survives_hostile_names(void **state) {
    static char hostile[] = HOSTILE;
    const ww_text_style style = {.width = 0, .timer_step_s = 0.1};
    struct made_plan made;
    char *text = NULL;
    (void)state;
    make_plan(&made);
    made.tone[1].tone = made.paper[0].paper = made.paper[0].contrast = hostile;
    made.paper[0].why = made.plan.dense_tone = hostile;
    made.paper[0].time_s.set = false;
    test_status("hostile", ww_print_text(&made.plan, &style, &text, NULL), WW_OK, NULL);
    test_lacks("escape sequence", text, "\x1b");
    test_lacks("a line of its own", text, "\n!touch");
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(comes_in_the_readers_order),
        cmocka_unit_test(refuses_a_step_that_is_none),
        cmocka_unit_test(survives_hostile_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
