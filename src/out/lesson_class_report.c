/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include "out/scan_words.h"
#include <assert.h>
#include <math.h>
#include <wedgework/lesson_class.h>

static size_t departing(const ww_lesson_class *made) {
    size_t n = 0;
    for (size_t i = 0; i < made->n; i++) {
        bool any = false;
        for (int f = 0; f < WW_LESSON_FIGURES; f++)
            any |= made->member[i].departs[f];
        n += any;
    }
    return n;
}

static void add_act(ww__text *text, const ww_lesson_class *made) {
    const ww_lesson_figure f = made->paper ? WW_LESSON_RANGE : WW_LESSON_GAMMA;
    const ww_lesson_rule *rule = ww_lesson_rule_of(f, made->paper);
    const ww_lesson_spread *spread = &made->spread[f];
    ww__text_add_format(text, "%zu students' files: ", made->n);
    if (spread->n > 0) {
        ww__text_add_format(text, "%s ", rule->heading);
        ww__text_add_number(text, spread->median, rule->decimals);
        ww__text_add(text, " +-");
        ww__text_add_number(text, spread->sd, rule->decimals);
        ww__text_add(text, " (median, 1 sd of a student); ");
    }
    ww__text_add_format(text, "%zu depart%s from the class", departing(made),
                        departing(made) == 1 ? "s" : "");
    if (made->n >= 3 || made->n_copied > 0) /* of two files nothing can be told */
        ww__text_add_format(text, "; %zu pair%s read more alike than chance allows", made->n_copied,
                            made->n_copied == 1 ? "" : "s");
    ww__text_add(text, ".");
}

static void add_spread(const ww_lesson_class *made, ww__report *report) {
    static const ww__heading heading[] = {{"figure", ""},  {"unit", ""},     {"students", ""},
                                          {"median", ""},  {"sd", "robust"}, {"least", ""},
                                          {"greatest", ""}};
    ww__report_table(report, "The class", sizeof heading / sizeof heading[0], "llrrrrr");
    ww__report_headings(report, heading);
    for (int f = 0; f < WW_LESSON_FIGURES; f++) {
        const ww_lesson_rule *rule = ww_lesson_rule_of((ww_lesson_figure)f, made->paper);
        const ww_lesson_spread *spread = &made->spread[f];
        if (!rule || spread->n == 0)
            continue;
        ww__report_item(report, rule->heading);
        ww__report_item(report, rule->unit);
        ww__report_number(report, (double)spread->n, 0);
        ww__report_number(report, spread->median, rule->decimals);
        ww__report_number(report, spread->sd, rule->decimals);
        ww__report_number(report, spread->least, rule->decimals);
        ww__report_number(report, spread->greatest, rule->decimals);
    }
}

static void take_figure(ww__report *report, const ww_lesson_member *member, ww_lesson_figure f,
                        const ww_lesson_rule *rule) {
    ww__text text = WW__TEXT_INIT;
    if (member->working.result[f].there)
        ww__text_add_number(&text, member->working.result[f].value, rule->decimals);
    else
        ww__text_add(&text, "-");
    ww__text_add(&text, member->departs[f] ? " *" : "  ");
    ww__report_take(report, &text);
}

static void add_members(const ww_lesson_class *made, ww__report *report) {
    ww__heading heading[WW_LESSON_FIGURES + 1] = {{"student", ""}};
    size_t n = 1;
    for (int f = 0; f < WW_LESSON_FIGURES; f++) {
        const ww_lesson_rule *rule = ww_lesson_rule_of((ww_lesson_figure)f, made->paper);
        if (rule)
            heading[n++] = (ww__heading){rule->heading, rule->unit};
    }
    ww__report_table(report, "Students (*: departs)", n, "lrrrrrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < made->n; i++) {
        ww__text name = WW__TEXT_INIT;
        ww__words_file(&name, made->member[i].file, "a file");
        ww__report_take(report, &name);
        for (int f = 0; f < WW_LESSON_FIGURES; f++) {
            const ww_lesson_rule *rule = ww_lesson_rule_of((ww_lesson_figure)f, made->paper);
            if (rule)
                take_figure(report, &made->member[i], (ww_lesson_figure)f, rule);
        }
    }
}

static void add_copied(const ww_lesson_class *made, ww__report *report) {
    ww__report_list(report, "Alike beyond chance", true);
    for (size_t i = 0; i < made->n_copied; i++) {
        const ww_lesson_pair *pair = &made->copied[i];
        ww__text text = WW__TEXT_INIT;
        ww__words_file_quoted(&text, made->member[pair->a].file, "a file");
        ww__text_add(&text, " and ");
        ww__words_file_quoted(&text, made->member[pair->b].file, "a file");
        ww__text_add_format(&text, " agree in %zu of %zu rows", pair->alike, pair->rows);
        if (fabs(pair->shift) > 0.0) {
            ww__text_add(&text, ", all but for the same ");
            ww__text_add_number(&text, fabs(pair->shift), 2);
            ww__text_add(&text, " D");
        }
        ww__text_add_format(&text,
                            "; by chance any pair of such a class does so once in 10^%.0f classes: "
                            "ask whether both were read",
                            floor(-log10(fmax(pair->chance, 1e-300))));
        ww__report_take(report, &text);
    }
}

void ww__lesson_class_report(const ww_lesson_class *made, ww__report *report) {
    ww__text sentence = WW__TEXT_INIT;
    add_act(&sentence, made);
    ww__report_act(report, &sentence);
    ww__text_add(&sentence,
                 "Why: each file was worked as by hand; a figure departs where it is off "
                 "the median by more than 3.5 robust sd and than reading explains.");
    ww__report_why(report, &sentence);
    add_spread(made, report);
    add_members(made, report);
    add_copied(made, report);
    ww__report_notes(report, &made->notes);
}

ww_status ww_lesson_class_text(const ww_lesson_class *made, const ww_text_style *style, char **text,
                               ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(made && style && text);
    ww__lesson_class_report(made, &report);
    return ww__report_make_text(&report, style, text, err);
}
