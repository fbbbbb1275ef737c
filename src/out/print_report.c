/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/print_beside.h"
#include "out/print_miss.h"
#include "out/print_words.h"
#include "out/words.h"
#include <math.h>
#include <wedgework/print.h>

/* "0.03 soft", "0.14 hard", "0.00" */
static void add_mismatch(ww__text *text, double mismatch) {
    const double shown = round(fabs(mismatch) * 100) / 100;
    ww__text_add_number(text, shown, 2);
    if (shown > 0)
        ww__text_add(text, mismatch > 0 ? " soft" : " hard");
}

static void add_seconds(ww__report *report, ww_optional seconds, bool sign, double step_s) {
    ww__text cell = WW__TEXT_INIT;
    if (!seconds.set) {
        ww__report_item(report, "-");
        return;
    }
    if (sign && seconds.value >= 0.5 * step_s)
        ww__text_add(&cell, "+");
    ww__words_seconds(&cell, seconds.value, step_s);
    ww__report_cut_unit(&cell);
    ww__report_take(report, &cell);
}

static void add_contrast(const char *label, ww__report *report) {
    char shown[64];
    ww__text cell = WW__TEXT_INIT;
    ww__words_contrast(&cell, label ? ww__escape_message(label, shown, sizeof shown) : NULL);
    ww__report_take(report, &cell);
}

static void add_papers(const ww_print_plan *plan, double step_s, ww__report *report) {
    static const ww__heading heading[] = {
        {"paper", ""},      {"contrast", ""},       {"time", "s"}, {"trust", "stop"},
        {"takes", "log H"}, {"misses by", "log H"}, {"holds", ""}};
    ww__report_table(report, "Papers, best first", sizeof heading / sizeof heading[0], "llrrrrl");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < plan->n_papers; i++) {
        const ww_print_paper *paper = &plan->paper[i];
        ww__text cell = WW__TEXT_INIT;
        ww__report_name(report, paper->paper);
        add_contrast(paper->contrast, report);
        add_seconds(report, paper->time_s, false, step_s);
        if (paper->doubt_stops.set)
            ww__words_doubt(&cell, paper->doubt_stops.value);
        ww__report_cut_unit(&cell);
        ww__text_add(&cell, paper->doubt_stops.set ? "" : "-");
        ww__report_take(report, &cell);
        ww__words_interval(&cell, paper->paper_range, 2);
        ww__report_take(report, &cell);
        if (ww_quantity_present(plan->negative_range) && ww_quantity_present(paper->paper_range))
            add_mismatch(&cell, paper->mismatch);
        else
            ww__text_add(&cell, "-");
        ww__report_take(report, &cell);
        ww__report_item(report, paper->holds ? "yes" : "no");
    }
}

/* The why of the best paper stands under the act; here is that of the others that fail. */
static void add_failings(const ww_print_plan *plan, ww__report *report) {
    ww__report_list(report, "Papers that do not hold it", false);
    for (size_t i = 1; i < plan->n_papers; i++) {
        const ww_print_paper *paper = &plan->paper[i];
        ww__text item = WW__TEXT_INIT;
        if (paper->holds || !paper->why)
            continue;
        ww__words_material(&item, paper->paper, paper->contrast, "Paper");
        ww__text_add_format(&item, ": %s", paper->why);
        if (paper->no_time)
            ww__text_add_format(&item, " No time: %s.", paper->no_time);
        ww__report_take(report, &item);
    }
}

static void add_ends(ww__text *cell, ww_optional thin, ww_optional dense, ww_optional whole) {
    if (thin.set && dense.set)
        ww__words_range(cell, thin.value, dense.value, 2);
    else
        ww__words_optional(cell, whole);
}

static void add_tone(const ww_print_tone *tone, double step_s, ww__report *report) {
    ww__text cell = WW__TEXT_INIT;
    ww__report_name(report, tone->tone);
    add_ends(&cell, tone->negative_thin, tone->negative_dense, (ww_optional){true, tone->negative});
    ww__report_take(report, &cell);
    add_ends(&cell, tone->print_thin, tone->print_dense, tone->print);
    ww__text_add(&cell, tone->beyond ? " *" : "");
    ww__report_take(report, &cell);
    if (tone->aim.set)
        ww__text_add_number(&cell, tone->aim.value, ww__text_decimals(tone->aim.value));
    else
        ww__words_optional(&cell, tone->aim);
    ww__report_take(report, &cell);
    if (tone->burn_stops.set)
        ww__words_stops(&cell, tone->burn_stops.value, true);
    ww__report_cut_unit(&cell);
    ww__text_add(&cell, tone->burn_stops.set ? "" : "-");
    ww__report_take(report, &cell);
    add_seconds(report, tone->burn_seconds, true, step_s);
    if (tone->base)
        ww__text_add(&cell, "-");
    else
        ww__words_print_density(&cell, tone);
    ww__report_take(report, &cell);
    ww__words_optional(&cell, tone->separation_straight);
    ww__report_take(report, &cell);
    ww__words_optional(&cell, tone->separation);
    ww__report_take(report, &cell);
    ww__report_item(report, ww__words_print_fate(tone));
}

/* Moves that the recipe has from a hand; the columns "then" have them in. */
static void add_hand(const ww_print_paper *paper, double step_s, ww__report *report) {
    static const ww__heading heading[] = {{"tone", ""}, {"burn, dodge", "stops"}, {"", "s"}};
    ww__report_table(report, "By hand besides", 3, "lrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < paper->n_tones; i++) {
        const ww_print_tone *tone = &paper->tone[i];
        ww__text cell = WW__TEXT_INIT;
        if (!tone->hand_stops.set)
            continue;
        ww__report_name(report, tone->tone);
        ww__words_stops(&cell, tone->hand_stops.value, true);
        ww__report_cut_unit(&cell);
        ww__report_take(report, &cell);
        add_seconds(report, tone->hand_seconds, true, step_s);
    }
}

static void add_tones(const ww_print_paper *paper, double step_s, ww__report *report) {
    static const ww__heading heading[] = {{"tone", ""},
                                          {"negative", "D"},
                                          {"straight", "D above paper"},
                                          {"aim", "D"},
                                          {"burn, dodge", "stops"},
                                          {"", "s"},
                                          {"then", "D above paper"},
                                          {"detail", "D straight"},
                                          {"detail", "D then"},
                                          {"fate", ""}};
    bool beyond = false;
    ww__report_table(report, "Tones on the best paper", sizeof heading / sizeof heading[0],
                     "lrrrrrrrrl");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < paper->n_tones; i++) {
        add_tone(&paper->tone[i], step_s, report);
        beyond |= paper->tone[i].beyond;
    }
    add_hand(paper, step_s, report);
    ww__print_beside_mark(beyond, report);
}

static void add_budget(const ww_print_paper *paper, ww__report *report) {
    static const ww__heading heading[] = {{"from", ""}, {"half-width, 95 %", "stop"}, {"", ""}};
    size_t largest = 0;
    for (size_t i = 1; i < paper->n_budget; i++)
        if (paper->budget[i].stops > paper->budget[largest].stops)
            largest = i;
    ww__report_table(report, "What the doubt is made of", 3, "lrl");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < paper->n_budget; i++) {
        ww__text cell = WW__TEXT_INIT;
        ww__report_item(report, paper->budget[i].from);
        ww__text_add_number(&cell, paper->budget[i].stops, 2);
        ww__report_take(report, &cell);
        ww__report_item(report, i == largest ? "the largest" : "");
    }
}

static void add_range_note(const ww_print_plan *plan, ww__report *report) {
    ww__text item = WW__TEXT_INIT;
    ww__report_list(report, "Range of the negative", false);
    if (!ww_quantity_present(plan->negative_range))
        return;
    ww__words_interval(&item, plan->negative_range, 2);
    ww__text_add(&item, " log H");
    if (plan->thin_tone && *plan->thin_tone && plan->dense_tone && *plan->dense_tone)
        ww__text_add_format(&item, ", from '%s' to '%s'", plan->thin_tone, plan->dense_tone);
    ww__text_add(&item, ", as the paper sees it.");
    ww__report_take(report, &item);
}

/* One move stands in the act. */
static void add_moves(const ww_print_paper *paper, double step_s, ww__report *report) {
    const size_t n = ww__words_print_moves(paper);
    ww__report_list(report, "Local work", false);
    for (size_t i = 0; n > 1 && i < n; i++) {
        ww__text item = WW__TEXT_INIT;
        ww__words_print_move(&item, paper, i, step_s);
        ww__report_take(report, &item);
    }
}

void ww__print_report(const ww_print_plan *plan, double timer_step_s, ww__report *report) {
    ww__text sentence = WW__TEXT_INIT;
    ww__words_print_act(&sentence, plan, timer_step_s);
    ww__report_first(&sentence, &plan->first);
    ww__report_act(report, &sentence);
    ww__words_print_why(&sentence, plan, timer_step_s);
    ww__report_why(report, &sentence);
    if (plan->n_papers > 0)
        add_moves(&plan->paper[0], timer_step_s, report);
    ww__print_miss_say(plan->miss, report);
    if (plan->n_papers > 0) {
        add_papers(plan, timer_step_s, report);
        ww__print_beside_splits(plan, timer_step_s, report);
        add_failings(plan, report);
        add_tones(&plan->paper[0], timer_step_s, report);
        ww__print_beside_papers(plan, report);
        ww__print_beside_flash(&plan->paper[0], timer_step_s, report);
        ww__print_beside_soft_burn(&plan->paper[0], timer_step_s, report);
        add_budget(&plan->paper[0], report);
    }
    ww__print_miss_tables(plan->miss, report);
    add_range_note(plan, report);
    ww__report_notes(report, &plan->notes);
    ww__report_cautions(report);
}
