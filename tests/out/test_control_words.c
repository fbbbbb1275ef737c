/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/control_words.h"
#include "support/control_case.h"
#include <stdlib.h>

static char *act(const ww_control *control) {
    ww__text text = WW__TEXT_INIT;
    ww__words_control_act(&text, control);
    return text.bytes;
}

static char *why(const ww_control *control) {
    ww__text text = WW__TEXT_INIT;
    ww__words_control_why(&text, control);
    return text.bytes;
}

/* Source: the interface: the act first, in units that can be set; a strip is confirmed before
 * anything is changed. */
static const struct {
    const char *row, *limits;
    double value[2];
    size_t n;
    const char *act, *why;
} said_of[] = {
    {"in",
     "measure,control\nLD,0.08\n",
     {0.73},
     1,
     "In control: strip 1 of 2026-11-01 is within all limits; nearest to one is LD visual "
     "+0.03 "
     "D off its aim, its limit +0.08.",
     "LD visual is 0.73 D; its aim is 0.70, your limits are 0.62 to 0.78."},
    {"out",
     "measure,control\nLD,0.08\n",
     {0.81},
     1,
     "Out of control: strip 1 of 2026-11-01 reads LD visual +0.11 D off its aim, its limit "
     "+0.08. Stop, and confirm with a second strip before you change anything.",
     "LD visual is 0.81 D; its aim is 0.70, your limits are 0.62 to 0.78."},
    {"out by a reading's error",
     "measure,control\nLD,0.08\n",
     {0.79},
     1,
     "Out of control: strip 1 of 2026-11-01 reads LD visual +0.09 D off its aim, its limit "
     "+0.08. Stop, and confirm with a second strip before you change anything.",
     "LD visual is 0.79 D; its aim is 0.70, your limits are 0.62 to 0.78; it is beyond by "
     "0.010, which one reading's error (+-0.02) may be: read it again first."},
    {"out again",
     "measure,control\nLD,0.08\n",
     {0.81, 0.82},
     2,
     "Out of control: strip 2 of 2026-11-02 reads LD visual +0.12 D off its aim, its limit "
     "+0.08. The strip before it says so too: stop, and find the cause.",
     NULL},
    {"out to the other side",
     "measure,control\nLD,0.08\n",
     {0.81, 0.58},
     2,
     "Out of control: strip 2 of 2026-11-02 reads LD visual -0.12 D off its aim, its limit "
     "-0.08. Stop, and confirm with a second strip before you change anything.",
     NULL},
    {"action",
     "measure,action,control\nLD,0.06,0.08\n",
     {0.77},
     1,
     "Warning: strip 1 of 2026-11-01 reads LD visual +0.07 D off its aim: beyond the action "
     "limit. Within limits: go on, and run the next strip soon.",
     NULL},
    {"one side",
     "measure,control\nLD,+0.08\n",
     {0.731},
     1,
     "In control: strip 1 of 2026-11-01 is within all limits; nearest to one is LD visual "
     "+0.031 D off its aim, its limit +0.08.",
     "LD visual is 0.731 D; its aim is 0.70, your limits are up to 0.78."},
    {"no limits",
     NULL,
     {0.71},
     1,
     "Not judged yet: strip 1 of 2026-11-01 has no limits; furthest is LD visual +0.01 D off "
     "its aim.",
     "LD visual is 0.71 D; its aim is 0.70, there are no limits yet."},
};

static void sentences(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof said_of / sizeof *said_of; i++) {
        ww_control_log log = WW_CONTROL_LOG_INIT;
        ww_control control;
        char *said;
        control_case_series(&log, 0.7, said_of[i].value, said_of[i].n);
        if (said_of[i].limits)
            control_case_limits(&log, "main", said_of[i].limits);
        control = control_case_judge(&log, NULL);
        said = act(&control);
        test_text(said_of[i].row, said, said_of[i].act);
        free(said);
        said = why(&control);
        if (said_of[i].why)
            test_text(said_of[i].row, said, said_of[i].why);
        free(said);
        ww_control_release(&control);
        ww_control_log_release(&log);
    }
}

static void several_and_none(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control = control_case_judge(&log, NULL);
    char *said = act(&control);
    (void)state;
    test_holds("none", said, "no strip counts");
    free(said);
    ww_control_release(&control);
    test_status("reference", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_limits(&log, "film", "measure,control\nLD,0.08\n");
    control_case_strip(&log, "film", "left", "2026-11-01", CONTROL_WORKED);
    control_case_strip(&log, "film", "right", "2026-11-01",
                       "step,red,green,blue\nD-min,0.32,0.63,0.72\nLD,0.53,0.76,0.98\n"
                       "HD,1.30,1.77,2.03\n");
    control_case_strip(&log, "paper", "", "2026-11-01", CONTROL_WORKED);
    control = control_case_judge(&log, NULL);
    said = act(&control);
    test_text("each", said,
              "Out of control: film, right. In control: film, left; paper (no limits yet). "
              "Stop what is out, and confirm with a second strip before you change anything.");
    free(said);
    said = why(&control);
    test_holds("which", said, "film, right, strip 2 of 2026-11-01");
    free(said);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void parts(void **state) {
    static const struct {
        double deviation;
        const char *text;
    } rows[] = {{0.08, "+0.08"},           {-0.08, "-0.08"},  {0.0, "0.00"},
                {0.1 + 0.2 - 0.3, "0.00"}, {0.031, "+0.031"}, {-0.0004, "0.000"},
                {1.0 / 3.0, "+0.333"}};
    ww__text text = WW__TEXT_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww__words_control_deviation(&text, rows[i].deviation);
        test_text("deviation", text.bytes, rows[i].text);
        ww__text_release(&text);
    }
    ww__words_control_rules(&text, WW_CONTROL_RULE_TWO | WW_CONTROL_RULE_TREND);
    test_text("rules", text.bytes, "2 of 3 beyond 2 sigma, trend of 6");
    ww__text_release(&text);
    ww__words_control_marks(&text, WW_CONTROL_RULE_TWO | WW_CONTROL_RULE_TREND);
    test_text("marks", text.bytes, "2 of 3, trend");
    ww__text_release(&text);
    ww__words_control_marks(&text, WW_CONTROL_RULE_TWO | WW_CONTROL_RULE_LIMIT);
    test_text("the limit alone", text.bytes, "beyond");
    ww__text_release(&text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sentences),
        cmocka_unit_test(several_and_none),
        cmocka_unit_test(parts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
