/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/print_beside.h"
#include "base/escape.h"
#include "out/print_words.h"
#include "out/words.h"
#include <math.h>
#include <string.h>

static void add_stops(ww_optional stops, ww__report *report) {
    ww__text cell = WW__TEXT_INIT;
    if (stops.set)
        ww__words_stops(&cell, stops.value, true);
    ww__report_cut_unit(&cell);
    ww__text_add(&cell, stops.set ? "" : "-");
    ww__report_take(report, &cell);
}

static void add_density(ww_optional density, ww__report *report) {
    ww__text cell = WW__TEXT_INIT;
    ww__words_optional(&cell, density);
    ww__report_take(report, &cell);
}

static void add_seconds(ww_optional seconds, double step_s, ww__report *report) {
    ww__text cell = WW__TEXT_INIT;
    if (seconds.set)
        ww__words_seconds(&cell, seconds.value, step_s);
    ww__report_cut_unit(&cell);
    ww__text_add(&cell, seconds.set ? "" : "-");
    ww__report_take(report, &cell);
}

/* ------------------------------------------------------------------------------ two exposures */

void ww__print_beside_splits(const ww_print_plan *plan, double step_s, ww__report *report) {
    static const ww__heading heading[] = {{"split", ""}, {"soft", "s"}, {"hard", "s"}};
    size_t n = 0;
    for (size_t i = 0; i < plan->n_papers; i++) {
        const ww_print_paper *paper = &plan->paper[i];
        if (!ww__words_print_mixed(paper))
            continue;
        if (n++ == 0) {
            ww__report_table(report, "The two exposures of a split", 3, "lrr");
            ww__report_headings(report, heading);
        }
        ww__report_name(report, paper->contrast);
        add_seconds((ww_optional){true, paper->split.soft_s}, step_s, report);
        add_seconds((ww_optional){true, paper->split.hard_s}, step_s, report);
    }
}

/* ------------------------------------------------------------------------- softer and harder */

enum { SOFTER, CHOSEN, HARDER, BESIDE, NAME_SIZE = 24 };

static bool is_nearer(const ww_print_paper *paper, const ww_print_paper *so_far,
                      const ww_print_paper *best) {
    /* Who changes the filter keeps the paper in the box. */
    const bool same = strcmp(paper->paper, best->paper) == 0;
    const bool same_so_far = so_far && strcmp(so_far->paper, best->paper) == 0;
    if (!so_far || same != same_so_far)
        return !so_far || same;
    return fabs(paper->paper_range.value - best->paper_range.value) <
           fabs(so_far->paper_range.value - best->paper_range.value);
}

/* The papers whose range lies next above and next below that of the best: of the same paper where
 * that has one, else of any. */
static void find_neighbours(const ww_print_plan *plan, const ww_print_paper *beside[BESIDE]) {
    const ww_print_paper *best = &plan->paper[0];
    const double range = best->paper_range.value;
    beside[SOFTER] = beside[HARDER] = NULL;
    beside[CHOSEN] = best;
    if (!ww_quantity_present(best->paper_range))
        return;
    for (size_t i = 1; i < plan->n_papers; i++) {
        const ww_print_paper *paper = &plan->paper[i];
        const double other = paper->paper_range.value;
        if (!ww_quantity_present(paper->paper_range) || paper->n_tones != best->n_tones)
            continue;
        if (other > range && is_nearer(paper, beside[SOFTER], best))
            beside[SOFTER] = paper;
        if (other < range && is_nearer(paper, beside[HARDER], best))
            beside[HARDER] = paper;
    }
}

/* "filter 1, D", or its name where it has no label */
static void set_unit(const ww_print_paper *paper, ww__text *text) {
    char shown[64];
    if (paper->contrast && *paper->contrast)
        ww__words_contrast(text, ww__escape_message(paper->contrast, shown, sizeof shown));
    else
        ww__text_add(text, ww__escape_message(paper->paper, shown, sizeof shown));
    ww__text_add(text, ", D");
}

/* Its side, or the name of another paper than the chosen one: the order tells the side. */
static const char *side_of(const ww_print_paper *paper, const ww_print_paper *best,
                           const char *side, char shown[], size_t size) {
    return strcmp(paper->paper, best->paper) == 0 ? side
                                                  : ww__escape_message(paper->paper, shown, size);
}

void ww__print_beside_mark(bool beyond, ww__report *report) {
    ww__report_list(report, "Marks", false);
    if (beyond)
        ww__report_item(
            report, "Where a print is marked *, an end falls outside the paper's measured range.");
}

static void add_on_paper(const ww_print_paper *paper, size_t tone, ww__report *report) {
    const ww_print_tone *on = &paper->tone[tone];
    ww__text cell = WW__TEXT_INIT;
    if (on->print_thin.set && on->print_dense.set)
        ww__words_range(&cell, on->print_thin.value, on->print_dense.value, 2);
    else
        ww__words_optional(&cell, on->print);
    ww__text_add(&cell, on->beyond ? " *" : "");
    ww__report_take(report, &cell);
    add_stops(on->burn_stops, report);
}

void ww__print_beside_papers(const ww_print_plan *plan, ww__report *report) {
    static const char *const side[BESIDE] = {"softer", "chosen", "harder"};
    const ww_print_paper *beside[BESIDE];
    ww__heading heading[1 + 2 * BESIDE] = {{"tone", ""}};
    ww__text unit[BESIDE] = {WW__TEXT_INIT, WW__TEXT_INIT, WW__TEXT_INIT};
    char name[BESIDE][NAME_SIZE];
    size_t columns = 1;
    bool beyond = false;
    find_neighbours(plan, beside);
    if (!beside[SOFTER] && !beside[HARDER])
        return;
    for (int k = 0; k < BESIDE; k++) {
        if (!beside[k])
            continue;
        set_unit(beside[k], &unit[k]);
        report->failed |= unit[k].failed;
        heading[columns++] =
            (ww__heading){side_of(beside[k], beside[CHOSEN], side[k], name[k], sizeof name[k]),
                          ww__text_string(&unit[k])};
        heading[columns++] = (ww__heading){"burn", "stops"};
    }
    ww__report_table(report, "Straight print on the next softer and harder", columns, "lrrrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < beside[CHOSEN]->n_tones; i++) {
        ww__report_name(report, beside[CHOSEN]->tone[i].tone);
        for (int k = 0; k < BESIDE; k++)
            if (beside[k]) {
                add_on_paper(beside[k], i, report);
                beyond |= beside[k]->tone[i].beyond;
            }
    }
    ww__print_beside_mark(beyond, report);
    for (int k = 0; k < BESIDE; k++)
        ww__text_release(&unit[k]);
}

/* ------------------------------------------------------------------ flash, and the softer burn */

void ww__print_beside_flash(const ww_print_paper *paper, double step_s, ww__report *report) {
    static const ww__heading heading[] = {
        {"tone", ""},     {"detail", "D straight"},           {"burned", "D"},
        {"flashed", "D"}, {"print flashed", "D above paper"}, {"burn besides", "stops"}};
    ww__text item = WW__TEXT_INIT;
    if (!paper->flash.set)
        return;
    ww__report_table(report, "With a flash in place of burning", sizeof heading / sizeof heading[0],
                     "lrrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < paper->n_tones; i++) {
        const ww_print_tone *tone = &paper->tone[i];
        if (tone->base || !tone->flash_print.set)
            continue;
        ww__report_name(report, tone->tone);
        add_density(tone->separation_straight, report);
        add_density(tone->separation, report);
        add_density(tone->flash_separation, report);
        add_density(tone->flash_print, report);
        add_stops(tone->flash_burn_stops, report);
    }
    ww__report_list(report, "The flash", false);
    ww__text_add(&item, "Flash the whole sheet ");
    ww__words_seconds(&item, paper->flash.time_s, step_s);
    ww__text_add(&item,
                 " before or after the exposure, with the light that the flash strip had: it "
                 "leaves ");
    ww__words_interval(&item, paper->flash.white, 3);
    ww__text_add(&item, " D on bare paper, where 0.01 D is the least that an eye sees, and lets a "
                        "tone show with ");
    ww__text_add_number(&item, paper->flash.lift, 2);
    ww__text_add(&item, " log H less.");
    ww__report_take(report, &item);
}

void ww__print_beside_soft_burn(const ww_print_paper *paper, double step_s, ww__report *report) {
    static const ww__heading heading[] = {{"tone", ""},
                                          {"as the print", "s"},
                                          {"detail", "D"},
                                          {"softer filter", "s"},
                                          {"detail", "D"}};
    bool any = false;
    for (size_t i = 0; i < paper->n_tones; i++)
        any |= paper->tone[i].soft_seconds.set;
    if (!any)
        return;
    ww__report_table(report, "Burning through the softer filter",
                     sizeof heading / sizeof heading[0], "lrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < paper->n_tones; i++) {
        const ww_print_tone *tone = &paper->tone[i];
        const ww_optional seconds[] = {tone->burn_seconds, tone->soft_seconds};
        const ww_optional detail[] = {tone->separation, tone->soft_separation};
        if (!tone->soft_seconds.set)
            continue;
        ww__report_name(report, tone->tone);
        for (int k = 0; k < 2; k++) {
            add_seconds(seconds[k], step_s, report);
            add_density(detail[k], report);
        }
    }
}
