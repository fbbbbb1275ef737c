/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/report.h"
#include "out/scan_words.h"
#include "out/strip_words.h"
#include "out/words.h"
#include <math.h>

#define OFF_SHOWN (1.0 / 24.0) /* [stops] half the finest step that a hand sets */
#define HALF_WIDTH 1.959963984540054

/* The heading has the unit. */
static void take_seconds(ww__report *report, double seconds, double step_s) {
    ww__text cell = WW__TEXT_INIT;
    ww__words_seconds(&cell, seconds, step_s);
    ww__report_cut_unit(&cell);
    ww__report_take(report, &cell);
}

static void add_steps(const ww_strip *strip, ww__report *report) {
    const ww__heading heading[] = {{"step", ""},
                                   {strip->kind == WW_STRIP_SAFELIGHT ? "under it" : "time", "s"},
                                   {"density", strip->white.set ? "D above paper" : "D"},
                                   {"trust", "+-D"},
                                   {"", ""}};
    ww__report_table(report, "Steps", sizeof heading / sizeof heading[0], "lrrrl");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < strip->n_steps; i++) {
        const ww_strip_step *step = &strip->step[i];
        char shown[64];
        ww__text cell = WW__TEXT_INIT;
        ww__report_item(report, ww__escape_message(step->step, shown, sizeof shown));
        if (step->covered)
            ww__report_item(report, "0");
        else
            take_seconds(report, step->time_s, ww__words_strip_timer(strip));
        if (step->state == WW_CELL_VALUE)
            ww__text_add_number(&cell, step->density, 2);
        else
            ww__text_add(&cell, "over");
        ww__report_take(report, &cell);
        if (step->state == WW_CELL_VALUE)
            ww__words_trust(&cell, HALF_WIDTH * step->error);
        ww__report_take(report, &cell);
        ww__words_strip_remark(&cell, step);
        ww__report_take(report, &cell);
    }
}

static void add_series(const ww_strip *strip, ww__report *report) {
    static const ww__heading heading[] = {
        {"piece", ""}, {"exact", "s"}, {"in all", "s"}, {"added", "s"}, {"off", "stop"}};
    const ww_strip_series *series = &strip->series;
    ww__text lens = WW__TEXT_INIT;
    ww__report_table(report,
                     strip->kind == WW_STRIP_PLAN ? "The strip to expose" : "The next strip",
                     sizeof heading / sizeof heading[0], "rrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < series->n; i++) {
        const ww_strip_piece *piece = &series->piece[i];
        ww__text cell = WW__TEXT_INIT;
        ww__text_add_format(&cell, "%zu", i + 1);
        ww__report_take(report, &cell);
        ww__text_add_number(&cell, piece->time_s, 2);
        ww__report_take(report, &cell);
        take_seconds(report, piece->set_s, ww__words_strip_timer(strip));
        take_seconds(report, piece->add_s, ww__words_strip_timer(strip));
        if (fabs(piece->off_stops) > OFF_SHOWN)
            ww__text_add_format(&cell, "%+.2f", piece->off_stops);
        ww__report_take(report, &cell);
    }
    ww__report_list(report, "How to give it", false);
    ww__report_item(report,
                    "The whole strip open for the first piece's seconds; then cover a piece, "
                    "give what the next one adds, and so on. Each piece by itself, the others "
                    "covered, gets the seconds in all.");
    if (strip->kind != WW_STRIP_PLAN)
        ww__words_strip_lens(&lens, strip);
    if (lens.n > 0)
        ww__report_take(report, &lens);
}

void ww__strip_report(const ww_strip *strip, ww__report *report) {
    ww__text sentence = WW__TEXT_INIT;
    ww__words_strip_act(&sentence, strip);
    ww__report_act(report, &sentence);
    ww__words_strip_why(&sentence, strip);
    ww__report_why(report, &sentence);
    if (strip->n_steps > 0)
        add_steps(strip, report);
    if (strip->series.n > 0)
        add_series(strip, report);
    ww__report_notes(report, &strip->notes);
    ww__report_cautions(report);
}
