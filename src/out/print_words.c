/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/print_words.h"
#include "base/escape.h"
#include "out/words.h"
#include <math.h>
#include <string.h>

enum { NAMED_MAX = 3 }; /* tones that the sentence names; the table has them all */

/* Plain enough to stand bare in a sentence, and in a command that a hand copies. */
static bool is_word(const char *name) {
    for (const char *at = name; *at; at++) {
        const bool letter = (*at >= 'a' && *at <= 'z') || (*at >= 'A' && *at <= 'Z');
        const bool other = (*at >= '0' && *at <= '9') || *at == '-' || *at == '_';
        if (!letter && !other && (unsigned char)*at < 0x80)
            return false;
    }
    return *name != '\0';
}

/* As a noun is: "the a" and "the VII" are no English. */
static bool is_noun(const char *name) {
    const bool figures = name[strcspn(name, "0123456789")] != '\0';
    const bool shouted = name[0] >= 'A' && name[0] <= 'Z' && name[1] >= 'A' && name[1] <= 'Z';
    return is_word(name) && strlen(name) >= 3 && !figures && !shouted;
}

/* "the cloud", but "'sky above the quay'" where a name is more or less than a noun. */
static void add_tone(ww__text *text, const char *tone) {
    const bool word = is_noun(tone);
    char shown[64];
    ww__text_add(text, word ? "the " : "'");
    ww__text_add(text, ww__escape_message(tone, shown, sizeof shown));
    ww__text_add(text, word ? "" : "'");
}

/* "grade 2 1/2 (Quayside gloss)", "nominal grade 2", or the paper's name. */
static void add_paper(ww__text *text, const ww_print_paper *paper) {
    const bool labelled = paper->contrast && *paper->contrast && !paper->nominal;
    char name[64], label[64];
    ww__escape_message(paper->paper ? paper->paper : "", name, sizeof name);
    if (labelled)
        ww__words_contrast(text, ww__escape_message(paper->contrast, label, sizeof label));
    if (*name)
        ww__text_add_format(text, labelled ? " (%s)" : "%s", name);
    if (!labelled && !*name)
        ww__text_add(text, "the paper given");
}

bool ww__words_print_worked(const ww_print_tone *tone) {
    return !tone->base && tone->verdict == WW_VERDICT_BURN && tone->burn_stops.set;
}

const char *ww__words_print_given_up(const ww_print_tone *tone) {
    static const char *const falls[] = {NULL,
                                        "paper white",
                                        "lighter than measured",
                                        "darker than measured",
                                        "merges into black",
                                        "glint, white"};
    if (tone->base)
        return NULL;
    if (tone->verdict == WW_VERDICT_LOST || tone->verdict == WW_VERDICT_BLOCKED)
        return ww_verdict_name(tone->verdict);
    return falls[tone->falls] ? falls[tone->falls] : tone->refused_stops.set ? "off its aim" : NULL;
}

const char *ww__words_print_fate(const ww_print_tone *tone) {
    const char *given_up = ww__words_print_given_up(tone);
    const bool dodged =
        tone->verdict == WW_VERDICT_BURN && tone->burn_stops.set && tone->burn_stops.value < 0;
    if (given_up)
        return given_up;
    return tone->base ? "film base" : dodged ? "dodge" : ww_verdict_name(tone->verdict);
}

bool ww__words_print_mixed(const ww_print_paper *paper) {
    return paper->split.set && paper->split.soft_s > 0.0 && paper->split.hard_s > 0.0;
}

void ww__words_print_both(ww__text *text, const ww_print_paper *paper, double seconds,
                          double step_s) {
    const ww_print_split *split = &paper->split;
    const double soft = split->soft_s / (split->soft_s + split->hard_s);
    ww__text_add(text, "soft ");
    ww__words_seconds(text, soft * seconds, step_s);
    ww__text_add(text, ", hard ");
    ww__words_seconds(text, (1.0 - soft) * seconds, step_s);
}

/* A move on one tone: by the filter or filters of the print, or, where that is known, soft
 * alone. */
typedef struct move {
    const char *what, *tone;
    double stops;
    ww_optional seconds, soft_seconds;
} move;

/* The order in which moves are told. What the recipe's hand does besides comes last. */
typedef enum work { WORK_BURN, WORK_DODGE, WORK_HAND, WORKS } work;

static bool find_move(const ww_print_tone *tone, work kind, move *found) {
    static const char *const what[] = {"burn", "dodge", "by hand"};
    const bool burn = tone->burn_stops.value >= 0.0;
    if (kind == WORK_HAND)
        *found = (move){
            what[kind], tone->tone, tone->hand_stops.value, tone->hand_seconds, {false, 0.0}};
    else
        *found = (move){what[kind], tone->tone, tone->burn_stops.value, tone->burn_seconds,
                        tone->soft_seconds};
    return kind == WORK_HAND ? tone->hand_stops.set
                             : ww__words_print_worked(tone) && burn == (kind == WORK_BURN);
}

/* The n-th move in that order, from 0; false where there are fewer. */
static bool nth_move(const ww_print_paper *paper, size_t n, move *found) {
    for (work kind = WORK_BURN; kind < WORKS; kind++)
        for (size_t i = 0; i < paper->n_tones; i++)
            if (find_move(&paper->tone[i], kind, found) && n-- == 0)
                return true;
    return false;
}

size_t ww__words_print_moves(const ww_print_paper *paper) {
    size_t n = 0;
    move found;
    while (nth_move(paper, n, &found))
        n++;
    return n;
}

/* "burn the cloud +1 1/3 stop (27.8 s more)"; of a split "... (soft 4.1 s, hard 3.0 s more; or soft
 * alone 5.2 s)" */
void ww__words_print_move(ww__text *text, const ww_print_paper *paper, size_t n, double step_s) {
    move made;
    if (!nth_move(paper, n, &made))
        return;
    ww__text_add_format(text, "%s ", made.what);
    add_tone(text, made.tone);
    ww__text_add(text, " ");
    ww__words_stops(text, made.stops, true);
    if (!made.seconds.set)
        return;
    ww__text_add(text, " (");
    if (ww__words_print_mixed(paper))
        ww__words_print_both(text, paper, fabs(made.seconds.value), step_s);
    else
        ww__words_seconds(text, fabs(made.seconds.value), step_s);
    ww__text_add(text, made.stops < 0.0 ? " less" : " more");
    if (made.soft_seconds.set) {
        ww__text_add(text, "; or soft alone ");
        ww__words_seconds(text, made.soft_seconds.value, step_s);
    }
    ww__text_add(text, ")");
}

/* One move stands in the sentence; of several, which nobody takes in at a glance, their number. */
static void add_work(ww__text *text, const ww_print_paper *paper, double step_s) {
    const size_t n = ww__words_print_moves(paper);
    if (n > 1)
        ww__text_add_format(text, "; local work in %zu moves, listed below", n);
    if (n != 1)
        return;
    ww__text_add(text, "; ");
    ww__words_print_move(text, paper, 0, step_s);
}

void ww__words_print_density(ww__text *text, const ww_print_tone *tone) {
    const double half = tone->separation.set ? tone->separation.value / 2 : 0.0;
    if (tone->hand_stops.set && tone->print_after.set)
        ww__words_range(text, fmax(0.0, tone->print_after.value - half),
                        tone->print_after.value + half, 2);
    else if (ww__words_print_worked(tone) && tone->aim.set)
        ww__words_range(text, fmax(0.0, tone->aim.value - half), tone->aim.value + half, 2);
    else if (ww__words_print_worked(tone) && tone->separation.set)
        ww__words_range(text, WW__FIRST_TONE, WW__FIRST_TONE + tone->separation.value, 2);
    else if (tone->print_thin.set && tone->print_dense.set)
        ww__words_range(text, tone->print_dense.value, tone->print_thin.value, 2);
    else
        ww__words_optional(text, tone->print);
}

/* The tone that the eye checks first: of those worked on, one with detail before one without; else
 * one that was placed. */
static const ww_print_tone *find_checked(const ww_print_paper *paper) {
    const ww_print_tone *worked = NULL, *placed = NULL;
    for (size_t i = 0; i < paper->n_tones; i++) {
        const ww_print_tone *tone = &paper->tone[i];
        if (ww__words_print_worked(tone) && tone->separation.set)
            return tone;
        if (!worked && ww__words_print_worked(tone) && tone->aim.set)
            worked = tone;
        if (!placed && !tone->base && tone->aim.set && tone->print.set)
            placed = tone;
    }
    return worked ? worked : placed;
}

/* Whether the sentence has named this tone, with its one move, and no other. */
static bool is_alone(const ww_print_paper *paper, const ww_print_tone *named) {
    for (size_t i = 0; i < paper->n_tones; i++) {
        const ww_print_tone *tone = &paper->tone[i];
        if (tone != named && !tone->base &&
            (ww__words_print_worked(tone) || tone->hand_stops.set ||
             tone->verdict == WW_VERDICT_LOST || tone->verdict == WW_VERDICT_BLOCKED))
            return false;
    }
    return ww__words_print_worked(named) && !named->hand_stops.set;
}

static void add_expected(ww__text *text, const ww_print_paper *paper) {
    const ww_print_tone *tone = find_checked(paper);
    if (!tone)
        return;
    ww__text_add(text, "; expect ");
    if (is_alone(paper, tone))
        ww__text_add(text, "it");
    else
        add_tone(text, tone->tone);
    ww__text_add(text, " at ");
    ww__words_print_density(text, tone);
    ww__text_add(text, " above paper");
}

/* "; lost: the cloud, 'far shore'" */
static void add_fate(ww__text *text, const ww_print_paper *paper, ww_verdict verdict) {
    size_t n = 0;
    for (size_t i = 0; i < paper->n_tones; i++) {
        if (paper->tone[i].base || paper->tone[i].verdict != verdict)
            continue;
        if (++n > NAMED_MAX)
            continue;
        if (n == 1)
            ww__text_add_format(text, "; %s: ", ww_verdict_name(verdict));
        else
            ww__text_add(text, ", ");
        add_tone(text, paper->tone[i].tone);
    }
    if (n > NAMED_MAX)
        ww__text_add_format(text, " and %zu more", n - NAMED_MAX);
}

/* The tone that sets the time: the straight print puts it on its aim. Without any, the dense end.
 */
static const char *find_time_tone(const ww_print_plan *plan) {
    const ww_print_tone *nearest = NULL;
    for (size_t i = 0; i < plan->paper[0].n_tones; i++) {
        const ww_print_tone *tone = &plan->paper[0].tone[i];
        if (!tone->base && tone->aim.set && tone->print.set &&
            (!nearest || fabs(tone->print.value - tone->aim.value) <
                             fabs(nearest->print.value - nearest->aim.value)))
            nearest = tone;
    }
    if (nearest)
        return nearest->tone;
    return plan->dense_tone && *plan->dense_tone ? plan->dense_tone : NULL;
}

/* Without a time there is one thing to do next: the test print that gives it. */
static void add_test_print(ww__text *text, const ww_print_plan *plan) {
    const char *tone = find_time_tone(plan);
    ww__text_add(text, "; no time yet. Next, make one test print, read ");
    if (tone)
        add_tone(text, tone);
    else
        ww__text_add(text, "the densest tone");
    ww__text_add_format(text, " above paper, and give it as --test SECONDS:%s=DENSITY",
                        tone && is_word(tone) ? tone : "TONE");
}

void ww__words_print_act(ww__text *text, const ww_print_plan *plan, double timer_step_s) {
    const ww_print_paper *best = plan->paper;
    if (plan->n_papers == 0) {
        ww__text_add(text,
                     "No recommendation: there is no paper with a curve. Next, fit one from at "
                     "least 5 exposed steps.");
        return;
    }
    if (!plan->holds)
        ww__text_add_format(text, "No paper %sholds all that was asked for; nearest is ",
                            plan->n_papers > 1 ? "here " : "");
    add_paper(text, best);
    if (best->time_s.set) {
        ww__text_add(text, ", ");
        ww__words_seconds(text, best->time_s.value, timer_step_s);
        if (ww__words_print_mixed(best)) {
            ww__text_add(text, " in all: ");
            ww__words_print_both(text, best, best->time_s.value, timer_step_s);
        }
    }
    add_work(text, best, timer_step_s);
    add_fate(text, best, WW_VERDICT_LOST);
    add_fate(text, best, WW_VERDICT_BLOCKED);
    add_expected(text, best);
    if (best->doubt_stops.set) {
        ww__text_add(text, "; trust +-");
        ww__words_doubt(text, best->doubt_stops.value);
    }
    if (!best->time_s.set && best->no_time)
        ww__text_add_format(text, "; no time: %s", best->no_time);
    else if (!best->time_s.set)
        add_test_print(text, plan);
    ww__text_add(text, ".");
}

/* " Flashed 1.0 s and not burned, the cloud parts by 0.03 D, where the burn parts it by 0.04; white
 * greys by 0.010." The tone is the first that is burned for its detail. */
static void add_flash(ww__text *text, const ww_print_paper *paper, double step_s) {
    for (size_t i = 0; paper->flash.set && i < paper->n_tones; i++) {
        const ww_print_tone *tone = &paper->tone[i];
        if (!ww__words_print_worked(tone) || !(tone->burn_stops.value > 0.0) ||
            !tone->separation.set || !tone->flash_separation.set)
            continue;
        ww__text_add(text, " Flashed ");
        ww__words_seconds(text, paper->flash.time_s, step_s);
        ww__text_add(text, " and not burned, ");
        add_tone(text, tone->tone);
        ww__text_add_format(text,
                            " parts by %.2f D, where the burn parts it by %.2f; white greys by ",
                            tone->flash_separation.value, tone->separation.value);
        ww__words_interval(text, paper->flash.white, 3);
        ww__text_add(text, " D.");
        return;
    }
}

void ww__words_print_why(ww__text *text, const ww_print_plan *plan, double timer_step_s) {
    if (plan->n_papers == 0 || !plan->paper[0].why || !*plan->paper[0].why)
        return;
    ww__text_add(text, "Why: ");
    ww__text_add(text, plan->paper[0].why);
    if (text->n > 0 && text->bytes[text->n - 1] != '.')
        ww__text_add(text, ".");
    add_flash(text, plan->paper, timer_step_s);
}
