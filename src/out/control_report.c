/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/control_words.h"
#include "out/report.h"
#include <string.h>

static void take_density(ww__report *report, bool set, double density) {
    ww__text cell = WW__TEXT_INIT;
    if (set)
        ww__words_control_density(&cell, density);
    else
        ww__text_add(&cell, "-");
    ww__report_take(report, &cell);
}

static void take_deviation(ww__report *report, bool set, double deviation) {
    ww__text cell = WW__TEXT_INIT;
    if (set)
        ww__words_control_deviation(&cell, deviation);
    else
        ww__text_add(&cell, "-");
    ww__report_take(report, &cell);
}

/* --- one strip on its charts ----------------------------------------------------------------- */

static void add_measure(const ww_control *control, const ww_control_chart *chart, size_t at,
                        ww__report *report) {
    const ww_control_point *point = &chart->point[at];
    ww_optional lower, upper;
    bool user;
    ww__text cell = WW__TEXT_INIT;
    ww_control_limits_of(chart, &lower, &upper, &user);
    ww__report_name(report, chart->measure);
    ww__report_item(report, chart->kind == WW_CONTROL_SPREAD ? "" : ww_control_channel_name(chart));
    take_density(report, chart->kind != WW_CONTROL_SPREAD, chart->aim);
    take_density(report, point->read, point->value);
    take_deviation(report, point->read, point->deviation);
    take_deviation(report, lower.set, lower.value - chart->aim);
    take_deviation(report, upper.set, upper.value - chart->aim);
    ww__report_item(report, user ? "yours" : chart->has_history ? "history" : "none yet");
    if (control->slow != WW_CONTROL_SLOW_NONE) {
        if (point->has_slow)
            ww__text_add_format(&cell, "%+.0f", 100.0 * point->slow);
        else
            ww__text_add(&cell, "-");
        ww__report_take(report, &cell);
    }
    ww__words_control_marks(&cell, point->rules);
    ww__report_take(report, &cell);
}

static void add_measures(const ww_control *control, const ww_control_series *series,
                         ww__report *report) {
    const bool slow = control->slow != WW_CONTROL_SLOW_NONE;
    ww__heading heading[] = {{"measure", ""}, {"channel", ""}, {"aim", "D"}, {"strip", "D"},
                             {"off", "D"},    {"from", "D"},   {"to", "D"},  {"limits", ""},
                             {"", ""},        {"", ""}};
    size_t at;
    const ww_control_lot *lot = ww_control_focus(series, &at);
    if (!lot)
        return;
    if (slow)
        heading[8] = (ww__heading){ww_control_slow_name(control->slow), "% of its limit"};
    ww__report_table(report, "The strip", slow ? 10 : 9, slow ? "llrrrrrlrl" : "llrrrrrll");
    ww__report_headings(report, heading);
    for (size_t c = 0; c < lot->n_charts; c++)
        add_measure(control, &lot->chart[c], at, report);
}

/* --- strips ---------------------------------------------------------------------------------- */

static void take_name(ww__report *report, const char *name) {
    ww__report_name(report, *name ? name : "-");
}

/* All that a row breaks, each once: "LD green: beyond the limit". */
static void take_row_rules(const ww_control_lot *lot, const ww_control_row *row,
                           ww__report *report) {
    ww__text cell = WW__TEXT_INIT;
    const ww_control_chart *first = ww__words_control_first(lot, row->at);
    size_t more = 0;
    for (size_t c = 0; c < lot->n_charts; c++)
        more += lot->chart[c].point[row->at].rules != 0 && &lot->chart[c] != first;
    if (first && first->point[row->at].rules) {
        ww__words_control_marks(&cell, first->point[row->at].rules);
        if (more > 0)
            ww__text_add_format(&cell, ", %zu more", more);
    }
    ww__report_take(report, &cell);
}

static void add_row(const ww_control_series *series, const ww_control_row *row,
                    ww__report *report) {
    const ww_control_strip *strip = row->strip;
    const ww_control_lot *lot = strip->deleted ? NULL : &series->lot[row->lot];
    const ww_control_chart *first = lot ? ww__words_control_first(lot, row->at) : NULL;
    ww__text cell = WW__TEXT_INIT;
    ww__text_add_format(&cell, "%ld", strip->number);
    ww__report_take(report, &cell);
    ww__report_item(report, strip->date);
    take_name(report, strip->lot);
    if (strip->deleted) {
        ww__report_item(report, "taken out");
        ww__report_item(report, "");
        ww__report_item(report, "");
        ww__text_add_format(&cell, "%.10s: ", strip->deleted);
        ww__escape_terminal(&cell, strip->why);
        ww__report_take(report, &cell);
        return;
    }
    ww__report_item(report, row->state != WW_CONTROL_IN || row->judged
                                ? ww_control_state_name(row->state)
                                : "no limits");
    take_deviation(report, first != NULL, first ? first->point[row->at].deviation : 0.0);
    if (first)
        ww__words_control_chart(&cell, first);
    ww__report_take(report, &cell);
    take_row_rules(lot, row, report);
}

static void add_strips(const ww_control *control, const ww_control_series *series,
                       ww__report *report) {
    static const ww__heading heading[] = {{"strip", ""}, {"date", ""}, {"lot", ""}, {"state", ""},
                                          {"off", "D"},  {"in", ""},   {"", ""}};
    if (control->n > 1) {
        ww__text name = WW__TEXT_INIT;
        ww__report_list(report, "Process", false);
        ww__words_control_series(&name, series);
        ww__report_take(report, &name);
    }
    ww__report_table(report, "Strips", sizeof heading / sizeof *heading, "rlllrll");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < series->n_rows; i++)
        if (!series->row[i].strip->deleted || control->deleted)
            add_row(series, &series->row[i], report);
}

/* --- what was noted -------------------------------------------------------------------------- */

static bool is_shown(const ww_control *control, const ww_control_note *note) {
    for (size_t i = 0; i < control->n; i++)
        if (strcmp(control->series[i].process, note->process) == 0 &&
            (!*note->machine || strcmp(control->series[i].machine, note->machine) == 0))
            return true;
    return false;
}

static void add_noted(const ww_control *control, ww__report *report) {
    static const ww__heading heading[] = {{"date", ""}, {"strip", ""}, {"", ""}};
    const ww_control_log *log = control->log;
    ww__report_table(report, "What was noted", 3, "lrl");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < log->n_notes; i++) {
        const ww_control_note *note = &log->note[i];
        ww__text cell = WW__TEXT_INIT;
        if (!is_shown(control, note))
            continue;
        ww__report_item(report, note->date);
        if (note->strip > 0)
            ww__text_add_format(&cell, "%ld", note->strip);
        ww__report_take(report, &cell);
        ww__escape_terminal(&cell, note->text);
        ww__report_take(report, &cell);
    }
}

static void add_notes(const ww_control *control, ww__report *report) {
    const ww_control_series *worst = ww_control_worst(control);
    size_t at;
    const ww_control_lot *lot = worst ? ww_control_focus(worst, &at) : NULL;
    ww__text text = WW__TEXT_INIT;
    ww__report_notes(report, &control->notes);
    if (!lot)
        return;
    ww__words_control_steps(&text, lot);
    ww__report_take(report, &text);
    ww__report_item(report,
                    "In the tables: beyond, its limit; action, the action limit; 3 sigma, "
                    "history's limit, within yours; 2 of 3, beyond 2 sigma; 4 of 5, beyond "
                    "1 sigma; 8, in a row on one side of the centre; trend, 6 in a row that "
                    "rise or fall; drift, what --slow adds up to. The first alone is out "
                    "of control.");
}

void ww__control_report(const ww_control *control, ww__report *report) {
    const ww_control_series *worst = ww_control_worst(control);
    ww__text sentence = WW__TEXT_INIT;
    ww__words_control_act(&sentence, control);
    ww__report_act(report, &sentence);
    ww__words_control_why(&sentence, control);
    ww__report_why(report, &sentence);
    if (worst && control->view != WW_CONTROL_VIEW_LIST)
        add_measures(control, worst, report);
    for (size_t i = 0; i < control->n && control->view != WW_CONTROL_VIEW_STRIP; i++)
        add_strips(control, &control->series[i], report);
    if (control->view != WW_CONTROL_VIEW_STRIP)
        add_noted(control, report);
    ww__report_list(report, "Possible causes, none of them found", false);
    for (size_t i = 0; i < control->causes.n; i++)
        ww__report_item(report, control->causes.text[i]);
    add_notes(control, report);
    ww__report_bath_cautions(report);
}
