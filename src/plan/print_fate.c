/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What the negative's tones become on one paper. */
typedef struct paper_view {
    const ww__print_negative *negative;
    const ww__print_sheet *sheet;
    double shift; /* log H on the paper = shift - density seen */
} paper_view;

static double log_h_of(const paper_view *view, double seen) {
    return view->shift - seen;
}

/* Net print density, absent where the paper was not measured. */
static ww_optional print_of(const paper_view *view, double log_h) {
    ww_optional print = {false, 0.0};
    print.set = ww__print_papers_net(view->sheet, log_h, &print.value, NULL);
    return print;
}

/* The same where it is known on one side only: at least, or at most, the end of what was measured.
 */
static double bound_of(const paper_view *view, double log_h) {
    if (log_h < view->sheet->low)
        return view->sheet->lightest;
    if (log_h > view->sheet->high)
        return view->sheet->darkest;
    return print_of(view, log_h).value;
}

/* Log H that local work brings to a tone; moves that no hand would make are none. */
static double move_for(double from_log_h, double to_log_h) {
    const double move = to_log_h - from_log_h;
    return fabs(move) < WW__PRINT_LEAST_MOVE * WW__PRINT_LOG_STOP ? 0.0 : move;
}

/*
 * Local work: a placed tone goes to its aim. Another one that was read at both ends is there for
 * its detail: where its dense end would not show it gets what brings that to the first tone, unless
 * it is blocked. A tone read as a whole may be a glint, which is not burned in unasked. What no
 * print takes, and what would only grey a place without detail, is told and not planned.
 */
static void move_tone(const paper_view *view, const ww__print_spot *spot, bool first,
                      ww__print_fate *fate, ww_print_tone *tone) {
    const double light = log_h_of(view, spot->end[WW_PART_DENSE].seen);
    double target = 0.0, move = 0.0;
    if (spot->base || first)
        return;
    if (spot->aim.set) {
        if (ww__print_papers_log_h(view->sheet, spot->aim.value, &target)) {
            move = move_for(log_h_of(view, spot->seen), target);
        } else if (fate->unreached++ == 0) {
            fate->unreached_tone = spot->name;
        }
    } else if (spot->judged && tone->verdict != WW_VERDICT_BLOCKED &&
               ww__print_papers_log_h(view->sheet, WW__PRINT_FIRST_TONE, &target) &&
               light < target) {
        move = move_for(light, target);
    }
    const double stops = move / WW__PRINT_LOG_STOP;
    const bool refused = fabs(stops) > WW__PRINT_MOST_MOVE || tone->verdict == WW_VERDICT_BLOCKED;
    if (move != 0.0)
        *(refused ? &tone->refused_stops : &tone->burn_stops) = (ww_optional){true, stops};
}

static bool is_blocked(const ww__print_spot *spot) {
    const ww__print_end *thin = &spot->end[WW_PART_THIN], *dense = &spot->end[WW_PART_DENSE];
    const double difference = dense->density - thin->density;
    /* A difference that is 0.03 to the last digit written is 0.03. */
    return difference < WW__PRINT_FILM_DETAIL - 1e-9 ||
           difference < 2.0 * hypot(thin->error, dense->error);
}

/* The tone's detail in the print. Beyond the measured range it is held to be no more than what
 * the measured range shows of it. */
static void judge_detail(const paper_view *view, const ww__print_spot *spot, double work,
                         ww_print_tone *tone) {
    const double thin = log_h_of(view, spot->end[WW_PART_THIN].seen);
    const double dense = log_h_of(view, spot->end[WW_PART_DENSE].seen);
    const ww_optional after_thin = print_of(view, thin + work);
    const ww_optional after_dense = print_of(view, dense + work);
    const double held = bound_of(view, thin + work) - bound_of(view, dense + work);
    tone->print_thin = print_of(view, thin);
    tone->print_dense = print_of(view, dense);
    if (tone->print_thin.set && tone->print_dense.set)
        tone->separation_straight =
            (ww_optional){true, tone->print_thin.value - tone->print_dense.value};
    else
        tone->beyond = true;
    if (after_thin.set && after_dense.set)
        tone->separation = (ww_optional){true, after_thin.value - after_dense.value};
    if (tone->verdict != WW_VERDICT_BLOCKED && held < WW__PRINT_DETAIL)
        tone->verdict = WW_VERDICT_LOST;
}

/* A single end is shown where it falls; it allows no verdict. */
static void show_ends(const paper_view *view, const ww__print_spot *spot, ww_print_tone *tone) {
    const ww__print_end *thin = &spot->end[WW_PART_THIN], *dense = &spot->end[WW_PART_DENSE];
    if (thin->state == WW_CELL_VALUE)
        tone->print_thin = print_of(view, log_h_of(view, thin->seen));
    if (dense->state == WW_CELL_VALUE)
        tone->print_dense = print_of(view, log_h_of(view, dense->seen));
}

/* A tone read as a whole that more than a print takes would not bring to the first tone that shows:
 * white on any paper, for papers differ by far less there. So is one whose aim was refused. */
static bool is_glint(const paper_view *view, const ww__print_spot *spot, const ww_print_tone *tone,
                     double log_h) {
    double first_tone = 0.0;
    return (!spot->aim.set || tone->refused_stops.set) && ww__print_tones_whole(spot) &&
           ww__print_papers_log_h(view->sheet, WW__PRINT_FIRST_TONE, &first_tone) &&
           first_tone - log_h > WW__PRINT_MOST_MOVE * WW__PRINT_LOG_STOP;
}

/* Where a tone without detail to be judged falls. One on its aim is where it was wanted. */
static ww_print_falls falls_of(const paper_view *view, const ww__print_spot *spot,
                               const ww_print_tone *tone, double work) {
    const double log_h = log_h_of(view, spot->seen) + work, print = bound_of(view, log_h);
    double aim = 0.0;
    if (spot->base || spot->judged ||
        (spot->aim.set && !tone->refused_stops.set &&
         ww__print_papers_log_h(view->sheet, spot->aim.value, &aim)))
        return WW_FALLS_ON_PAPER;
    if (print >= view->sheet->dmax - WW__PRINT_MERGED)
        return WW_FALLS_BLACK;
    if (log_h > view->sheet->high)
        return WW_FALLS_DARKER;
    if (is_glint(view, spot, tone, log_h))
        return WW_FALLS_GLINT;
    if (print < WW__PRINT_DETAIL)
        return WW_FALLS_WHITE;
    return log_h < view->sheet->low ? WW_FALLS_LIGHTER : WW_FALLS_ON_PAPER;
}

/* More than a print takes: what its aim asks for, or what moves by hand bring it to. */
static void count_work(const ww__print_spot *spot, const ww_print_tone *tone, double work,
                       ww__print_fate *fate) {
    const double asked = work / WW__PRINT_LOG_STOP + tone->refused_stops.value;
    const bool by_hand = tone->hand_stops.set && !tone->refused_stops.set;
    if (isinf(work)) {
        if (fate->held_back++ == 0)
            fate->held_back_tone = spot->name;
    } else if (fabs(asked) > WW__PRINT_MOST_MOVE) {
        size_t *count = by_hand ? &fate->overdone : &fate->overworked;
        if ((*count)++ == 0)
            *(by_hand ? &fate->overdone_tone : &fate->overworked_tone) = spot->name;
    }
}

static void count_fate(const ww__print_negative *negative, const ww__print_spot *spot,
                       const ww_print_tone *tone, double work, ww__print_fate *fate) {
    if (tone->verdict == WW_VERDICT_BLOCKED && fate->blocked++ == 0)
        fate->blocked_tone = spot->name;
    if (tone->verdict == WW_VERDICT_LOST && !tone->refused_stops.set && fate->lost++ == 0)
        fate->lost_tone = spot->name;
    count_work(spot, tone, work, fate);
    if (!spot->aim.set && tone->falls == WW_FALLS_BLACK && fate->merged++ == 0)
        fate->merged_tone = spot->name;
    if (!spot->aim.set && negative->contrast && spot == &negative->spot[negative->other] &&
        (tone->falls == WW_FALLS_WHITE || tone->falls == WW_FALLS_GLINT) && fate->bare++ == 0)
        fate->bare_tone = spot->name;
}

/* Ways in which tones are given up so far. */
static size_t losses(const ww__print_fate *fate) {
    return fate->unreached + fate->lost + fate->blocked + fate->merged + fate->bare +
           fate->overworked + fate->overdone + fate->held_back;
}

static char *copy_name(const char *name) {
    const size_t size = strlen(name) + 1;
    char *copy = malloc(size);
    return copy ? memcpy(copy, name, size) : NULL;
}

static ww_status tell_tone(const paper_view *view, size_t index, ww__print_fate *fate,
                           ww_print_tone *tone, ww_error *err) {
    const ww__print_spot *spot = &view->negative->spot[index];
    const ww__print_end *thin = &spot->end[WW_PART_THIN], *dense = &spot->end[WW_PART_DENSE];
    const size_t before = losses(fate), blocked = fate->blocked;
    double work;
    *tone = (ww_print_tone){.tone = copy_name(spot->name),
                            .base = spot->base,
                            .negative = spot->density,
                            .aim = spot->aim,
                            .verdict = WW_VERDICT_PRINTS};
    if (!tone->tone)
        return ww_error_set(err, WW_EMEMORY, "no memory for a tone");
    tone->negative_thin = (ww_optional){thin->state == WW_CELL_VALUE, thin->density};
    tone->negative_dense = (ww_optional){dense->state == WW_CELL_VALUE, dense->density};
    tone->print = print_of(view, log_h_of(view, spot->seen));
    tone->beyond = !tone->print.set;
    if (spot->judged && !spot->base && is_blocked(spot))
        tone->verdict = WW_VERDICT_BLOCKED;
    move_tone(view, spot, index == view->negative->first, fate, tone);
    tone->hand_stops = spot->hand;
    work = ww__print_moves_sum(tone->burn_stops, tone->hand_stops);
    tone->print_after = print_of(view, log_h_of(view, spot->seen) + work);
    if (spot->judged && !spot->base)
        judge_detail(view, spot, work, tone);
    else
        show_ends(view, spot, tone);
    tone->falls = falls_of(view, spot, tone, work);
    if (tone->verdict == WW_VERDICT_PRINTS && tone->burn_stops.set)
        tone->verdict = WW_VERDICT_BURN;
    if (!spot->base)
        count_fate(view->negative, spot, tone, work, fate);
    /* What is blocked is so on every paper. */
    if (losses(fate) - before > fate->blocked - blocked)
        fate->given_up++;
    return WW_OK;
}

/* 95 % half-width of log H at a place on the curve; 0 where the fit does not say. */
static double log_h_doubt(const ww__print_sheet *sheet, double log_h) {
    return sheet->beside[0] ? ww__print_between_width(sheet, log_h)
                            : ww__print_papers_width(sheet, log_h);
}

/* Log H between the aims of the two ends; absent where the paper does not have both. */
static void measure_range(const ww__print_negative *negative, const ww__print_sheet *sheet,
                          ww__print_fate *fate, ww_print_paper *paper) {
    const double black = WW__PRINT_BLACK * sheet->dmax;
    const bool to_black = !negative->contrast || !negative->other_aim.set;
    const double aim = to_black ? black : negative->other_aim.value;
    const double sign = aim > negative->first_aim ? 1.0 : -1.0;
    double log_h = 0.0, value, doubt;
    fate->past_black = to_black && sign < 0.0;
    fate->contrast_reached = ww__print_papers_log_h(sheet, aim, &log_h) && !fate->past_black;
    if (!fate->contrast_reached)
        return;
    value = sign * (log_h - fate->first_log_h);
    doubt =
        sheet->nominal
            ? WW__PRINT_NOMINAL_DOUBT * fabs(value)
            : hypot(hypot(log_h_doubt(sheet, log_h), log_h_doubt(sheet, fate->first_log_h)),
                    ww__print_shifted(sheet, log_h) - ww__print_shifted(sheet, fate->first_log_h));
    paper->paper_range =
        (ww_quantity){value, value - doubt, value + doubt, sheet->nominal ? WW_GIVEN : WW_FITTED};
    if (negative->contrast)
        paper->mismatch = value - fabs(negative->spot[negative->other].seen -
                                       negative->spot[negative->first].seen);
}

ww_status ww__print_fate_tell(const ww__print_negative *negative, const ww__print_sheet *sheet,
                              ww__print_fate *fate, ww_print_paper *paper, ww_error *err) {
    const paper_view view = {negative, sheet,
                             fate->first_log_h + negative->spot[negative->first].seen};
    ww_status status = WW_OK;
    assert(fate && paper);
    measure_range(negative, sheet, fate, paper);
    paper->tone = calloc(negative->n, sizeof *paper->tone);
    if (!paper->tone)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu tones", negative->n);
    for (size_t i = 0; i < negative->n && status == WW_OK; i++)
        if (negative->spot[i].known)
            status = tell_tone(&view, i, fate, &paper->tone[paper->n_tones++], err);
    for (size_t i = 0; i < paper->n_tones; i++)
        if (!paper->tone[i].base && paper->tone[i].burn_stops.set)
            paper->work_stops += fabs(paper->tone[i].burn_stops.value);
    paper->holds = fate->contrast_reached && losses(fate) == 0;
    return status;
}
