/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/lesson.h>

/* --- what is handed out ----------------------------------------------------------------------- */

static void add_task(ww__text *text, const ww_lesson_strip *strip) {
    bool first = true;
    ww__text_add_format(text, "%d steps of a practice %s, read to 0.01 D: find its ",
                        WW_LESSON_STEPS, strip->paper ? "paper" : "film");
    for (int f = 0; f < WW_LESSON_FIGURES; f++) {
        const ww_lesson_rule *rule = ww_lesson_rule_of((ww_lesson_figure)f, strip->paper);
        if (!rule)
            continue;
        ww__text_add_format(text, "%s%s", first ? "" : ", ", rule->heading);
        first = false;
    }
    ww__text_add(text, ", and whether a reading, or all of them, cannot be right.");
}

static void add_where(ww__text *text, const ww_lesson_strip *strip) {
    ww__text_add(text, "Why: log H of a step is log H0 less the density of the wedge over it; log "
                       "H0 is ");
    ww__text_add_number(text, strip->log_h0, 2);
    ww__text_add_format(text,
                        " (%s). The %s is invented, and one reading is good to 0.01 to 0.02 "
                        "D (1 sd).",
                        strip->paper ? "seconds" : "lux seconds", strip->paper ? "paper" : "film");
}

static void take_step(ww__report *report, size_t i) {
    ww__text text = WW__TEXT_INIT;
    if (i == 0)
        ww__text_add(&text, "base");
    else
        ww__text_add_format(&text, "%zu", i);
    ww__report_take(report, &text);
}

static void take_two(ww__report *report, bool there, double value) {
    if (there)
        ww__report_number(report, value, 2);
    else
        ww__report_item(report, "-");
}

/* A comma that parts a density shows in the table, as it does in the file. */
static void take_density(ww__report *report, const ww_lesson *lesson, size_t i) {
    ww__text text = WW__TEXT_INIT;
    const bool comma = lesson->fault == WW_LESSON_DECIMAL_COMMA && i == lesson->at;
    ww__text_add_number(&text, comma ? lesson->size : lesson->given[i].density, 2);
    if (comma && !text.failed)
        *strchr(text.bytes, '.') = ',';
    ww__report_take(report, &text);
}

static void add_readings(const ww_lesson *lesson, ww__report *report) {
    static const ww__heading heading[] = {{"step", ""}, {"wedge", "D"}, {"density", "D"}};
    ww__report_table(report, "Readings", sizeof heading / sizeof heading[0], "rrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < lesson->n; i++) {
        take_step(report, i);
        take_two(report, !lesson->given[i].base, lesson->given[i].wedge);
        take_density(report, lesson, i);
    }
}

static void add_rules(bool paper, ww__report *report) {
    ww__report_list(report, "How", false);
    for (int f = 0; f < WW_LESSON_FIGURES; f++) {
        const ww_lesson_rule *rule = ww_lesson_rule_of((ww_lesson_figure)f, paper);
        ww__text text = WW__TEXT_INIT;
        if (!rule)
            continue;
        ww__text_add_format(&text, "%s: %s; %s.", rule->heading, rule->rule, rule->formula);
        ww__report_take(report, &text);
    }
}

void ww__lesson_report(const ww_lesson *lesson, ww__report *report) {
    ww__text sentence = WW__TEXT_INIT;
    add_task(&sentence, &lesson->strip);
    ww__report_act(report, &sentence);
    add_where(&sentence, &lesson->strip);
    ww__report_why(report, &sentence);
    add_readings(lesson, report);
    add_rules(lesson->strip.paper, report);
}

/* --- the answers ------------------------------------------------------------------------------ */

static void add_fault(ww__text *text, const ww_lesson *lesson) {
    if (lesson->fault == WW_LESSON_SOUND) {
        ww__text_add(text, "There is no fault.");
        return;
    }
    ww__text_add_format(text, "The fault: %s", ww_lesson_fault_what(lesson->fault));
    if (lesson->fault == WW_LESSON_SWAPPED_ROWS)
        ww__text_add_format(text, ", %zu and %zu", lesson->at, lesson->at + 1);
    else if (lesson->at > 0)
        ww__text_add_format(text, " (step %zu)", lesson->at);
    if (lesson->fault == WW_LESSON_FLARE) {
        ww__text_add(text, " (");
        ww__text_add_number(text, 100.0 * lesson->size, 1);
        ww__text_add(text, " % of open light)");
    }
    if (lesson->fault == WW_LESSON_WRONG_ZERO) {
        ww__text_add(text, " (all are ");
        ww__text_add_number(text, fabs(lesson->size), 2);
        ww__text_add(text, " D too thin)");
    }
    ww__text_add_format(text, "; it shows by this: %s.", ww_lesson_fault_sign(lesson->fault));
}

static void take_result(ww__report *report, const ww_lesson_rule *rule,
                        const ww_lesson_result *result) {
    if (result->there)
        ww__report_number(report, result->value, rule->decimals);
    else
        ww__report_item(report, "-");
}

static void add_figures(const ww_lesson *lesson, ww__report *report) {
    static const ww__heading heading[] = {{"figure", ""},
                                          {"unit", ""},
                                          {"of the", "hidden curve"},
                                          {"of the", "sound readings"},
                                          {"of those", "handed out"}};
    ww__report_table(report, "Figures", sizeof heading / sizeof heading[0], "llrrr");
    ww__report_headings(report, heading);
    for (int f = 0; f < WW_LESSON_FIGURES; f++) {
        const ww_lesson_rule *rule = ww_lesson_rule_of((ww_lesson_figure)f, lesson->strip.paper);
        if (!rule)
            continue;
        ww__report_item(report, rule->heading);
        ww__report_item(report, rule->unit);
        take_result(report, rule, &lesson->hidden.result[f]);
        take_result(report, rule, &lesson->sound.result[f]);
        take_result(report, rule, &lesson->spoilt.result[f]);
    }
}

/* "gamma 0.64, by gamma = sum ..., with steepest 0.66, x from -2.15, ..." */
static void add_working(ww__text *text, const ww_lesson_rule *rule,
                        const ww_lesson_result *result) {
    if (!result->there) {
        ww__text_add_format(text, "No %s: %s.", rule->heading, result->why_not);
        return;
    }
    ww__text_add_format(text, "%s ", rule->heading);
    ww__text_add_number(text, result->value, rule->decimals);
    ww__text_add_format(text, "%s%s, by %s, with ", *rule->unit ? " " : "", rule->unit,
                        rule->formula);
    for (size_t i = 0; i < WW_LESSON_NUMBERS && rule->number[i]; i++) {
        const bool count = strcmp(rule->number[i], "steps") == 0;
        const bool small = strcmp(rule->number[i], "Hm") == 0;
        ww__text_add_format(text, "%s%s ", i > 0 ? ", " : "", rule->number[i]);
        ww__text_add_number(text, result->number[i], count ? 0 : small ? 5 : 3);
    }
    ww__text_add(text, ".");
}

static void add_workings(const ww_lesson *lesson, const char *title,
                         const ww_lesson_working *working, ww__report *report) {
    ww__report_list(report, title, false);
    for (int f = 0; f < WW_LESSON_FIGURES; f++) {
        const ww_lesson_rule *rule = ww_lesson_rule_of((ww_lesson_figure)f, lesson->strip.paper);
        ww__text text = WW__TEXT_INIT;
        if (!rule)
            continue;
        add_working(&text, rule, &working->result[f]);
        ww__report_take(report, &text);
    }
}

static void add_rows(const ww_lesson *lesson, ww__report *report) {
    static const ww__heading heading[] = {{"step", ""},    {"wedge", "D"}, {"log H", ""},
                                          {"hidden", "D"}, {"read", "D"},  {"given", "D"}};
    ww__report_table(report, "Rows", sizeof heading / sizeof heading[0], "rrrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i <= WW_LESSON_STEPS; i++) {
        const ww_lesson_row *row = &lesson->strip.row[i];
        take_step(report, i);
        take_two(report, i > 0, row->wedge);
        take_two(report, i > 0, row->log_h);
        ww__report_number(report, row->hidden, 3);
        ww__report_number(report, row->read, 2);
        if (i < lesson->n)
            take_density(report, lesson, i);
        else
            ww__report_item(report, "-");
    }
}

void ww__lesson_answers_report(const ww_lesson *lesson, ww__report *report) {
    const ww_lesson_strip *strip = &lesson->strip;
    ww__text sentence = WW__TEXT_INIT;
    ww__text_add_format(&sentence, "Answers to seed %lu, student %lu, a practice %s. ", strip->seed,
                        strip->student, strip->paper ? "paper" : "film");
    add_fault(&sentence, lesson);
    ww__report_act(report, &sentence);
    ww__text_add(&sentence, "Why: the hidden curve is known; one reading of this student is good "
                            "to ");
    ww__text_add_number(&sentence, strip->sd, 3);
    ww__text_add(&sentence, " D (1 sd), so that readings by hand differ from it even where nothing "
                            "is spoilt.");
    ww__report_why(report, &sentence);
    add_figures(lesson, report);
    if (lesson->fault != WW_LESSON_SOUND)
        add_workings(lesson, "Worked from the readings as given", &lesson->spoilt, report);
    add_workings(lesson, "Worked from the sound readings", &lesson->sound, report);
    add_workings(lesson, "Worked from the hidden curve", &lesson->hidden, report);
    add_rows(lesson, report);
}
