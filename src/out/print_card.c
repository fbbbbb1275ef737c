/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/print_card.h"
#include "base/escape.h"
#include "out/print_words.h"
#include "out/words.h"
#include <math.h>
#include <string.h>

/* The card on its way into a page. */
typedef struct card {
    const ww_print_plan *plan;
    const ww_print_request *request;
    const ww_print_paper *paper;
    ww__text *html;
} card;

static void add_cell(const card *c, ww__text *cell, bool number) {
    ww__text_add(c->html, number ? "<td class=\"r\">" : "<td>");
    ww__escape_html(c->html, ww__text_string(cell));
    ww__text_add(c->html, "</td>");
    ww__text_release(cell);
}

static void add_head(const card *c, const char *first, const char *second, const char *third) {
    ww__text_add_format(c->html, "<table>\n<thead><tr><th scope=\"col\">%s</th>", first);
    ww__text_add_format(
        c->html,
        "<th scope=\"col\" class=\"r\">%s</th><th scope=\"col\" class=\"r\">%s</th></tr></thead>\n",
        second, third);
    ww__text_add(c->html, "<tbody>\n");
}

/* The negative and the paper; then what the timer and the filter are set to. */
static void add_settings(const card *c) {
    const char *name = c->request->negative ? c->request->negative->meta.name : NULL;
    ww__text text = WW__TEXT_INIT;
    ww__text_add(
        c->html,
        "<section class=\"card\" id=\"card\" aria-label=\"Card for the darkroom's wall\">\n"
        "<h2>");
    ww__escape_html(c->html, name && *name ? name : "Print");
    ww__text_add(c->html, "</h2>\n<p class=\"big\">");
    if (c->paper->time_s.set)
        ww__words_seconds(&text, c->paper->time_s.value, c->request->timer_step_s);
    else
        ww__text_add(&text, "no time yet");
    ww__escape_html(c->html, ww__text_string(&text));
    ww__text_release(&text);
    ww__text_add(c->html, "</p>\n<p>");
    ww__words_material(&text, c->paper->paper, c->paper->nominal ? NULL : c->paper->contrast,
                       "the paper given");
    if (ww__words_print_mixed(c->paper)) {
        ww__text_add(&text, "; ");
        ww__words_print_both(&text, c->paper, c->paper->time_s.value, c->request->timer_step_s);
    }
    if (c->paper->doubt_stops.set) {
        ww__text_add(&text, "; trust +-");
        ww__words_doubt(&text, c->paper->doubt_stops.value);
    }
    ww__escape_html(c->html, ww__text_string(&text));
    ww__text_release(&text);
    ww__text_add(c->html, "</p>\n");
}

/* Seconds with their sign: what to add, or to hold back. */
static void add_seconds(const card *c, ww_optional seconds) {
    ww__text cell = WW__TEXT_INIT;
    if (seconds.set) {
        ww__text_add(&cell, seconds.value < 0.0 ? "-" : "+");
        ww__words_seconds(&cell, fabs(seconds.value), c->request->timer_step_s);
    }
    add_cell(c, &cell, true);
}

/* Of a move in both exposures a hand sets the seconds of each: "more: soft 3.0 s, hard 0.9 s". */
static void add_both(const card *c, ww_optional seconds) {
    ww__text cell = WW__TEXT_INIT;
    if (!seconds.set || !ww__words_print_mixed(c->paper)) {
        add_seconds(c, seconds);
        return;
    }
    ww__text_add(&cell, seconds.value < 0.0 ? "less: " : "more: ");
    ww__words_print_both(&cell, c->paper, fabs(seconds.value), c->request->timer_step_s);
    add_cell(c, &cell, true);
}

/* The seconds of a burn through the softer filter alone. */
static void add_soft_burn(const card *c, ww_optional seconds) {
    ww__text cell = WW__TEXT_INIT;
    if (!seconds.set)
        return;
    ww__text_add(c->html, "<tr><td>or through the soft filter alone</td>");
    add_cell(c, &cell, true);
    add_seconds(c, seconds);
    ww__text_add(c->html, "</tr>\n");
}

static void add_move(const card *c, const char *what, const char *tone, double stops,
                     ww_optional seconds) {
    ww__text cell = WW__TEXT_INIT;
    ww__text_add(c->html, "<tr>");
    ww__text_add_format(&cell, "%s %s", what, tone);
    add_cell(c, &cell, false);
    ww__words_stops(&cell, stops, true);
    add_cell(c, &cell, true);
    add_both(c, seconds);
    ww__text_add(c->html, "</tr>\n");
}

static void add_work(const card *c) {
    size_t n = 0;
    for (size_t i = 0; i < c->paper->n_tones; i++) {
        const ww_print_tone *tone = &c->paper->tone[i];
        const bool planned = ww__words_print_worked(tone);
        if (!planned && !tone->hand_stops.set)
            continue;
        if (n++ == 0)
            add_head(c, "local work", "stop", "seconds");
        if (planned) {
            add_move(c, tone->burn_stops.value < 0.0 ? "dodge" : "burn", tone->tone,
                     tone->burn_stops.value, tone->burn_seconds);
            add_soft_burn(c, tone->soft_seconds);
        }
        if (tone->hand_stops.set)
            add_move(c, tone->hand_stops.value < 0.0 ? "by hand dodge" : "by hand burn", tone->tone,
                     tone->hand_stops.value, tone->hand_seconds);
    }
    ww__text_add(c->html, n > 0 ? "</tbody>\n</table>\n" : "<p>No burning or dodging.</p>\n");
}

/* What the dry print is read against. */
static void add_checks(const card *c) {
    ww__text cell = WW__TEXT_INIT;
    add_head(c, "check, dry", "negative D", "D above paper");
    for (size_t i = 0; i < c->paper->n_tones; i++) {
        const ww_print_tone *tone = &c->paper->tone[i];
        const char *given_up = ww__words_print_given_up(tone);
        if (tone->base)
            continue;
        ww__text_add(c->html, "<tr>");
        ww__text_add(&cell, tone->tone);
        if (given_up)
            ww__text_add_format(&cell, ": %s", given_up);
        add_cell(c, &cell, false);
        ww__text_add_number(&cell, tone->negative, 2);
        add_cell(c, &cell, true);
        ww__words_print_density(&cell, tone);
        add_cell(c, &cell, true);
        ww__text_add(c->html, "</tr>\n");
    }
    ww__text_add(c->html, "</tbody>\n</table>\n");
}

/* A fact where it is known, else a line to write on. */
static void add_fact(const card *c, const char *name, const char *known) {
    ww__text_add_format(c->html, "%s ", name);
    if (known && *known)
        ww__escape_html(c->html, known);
    else
        ww__text_add(c->html, "<span class=\"blank\">&nbsp;</span>");
    ww__text_add(c->html, "<br>\n");
}

static void add_number(const card *c, const char *name, const char *before, ww_optional number) {
    ww__text text = WW__TEXT_INIT;
    if (number.set) {
        ww__text_add(&text, before);
        ww__text_add_exact(&text, number.value);
    }
    add_fact(c, name, ww__text_string(&text));
    ww__text_release(&text);
}

static const ww_meta *meta_of(const card *c) {
    if (c->paper->split.set && c->request->split)
        return &c->request->split->meta;
    for (size_t i = 0; i < c->request->n_papers; i++) {
        const ww_meta *meta = &c->request->paper[i]->meta;
        if (meta->name && c->paper->paper && strcmp(meta->name, c->paper->paper) == 0)
            return meta;
    }
    return NULL;
}

static void add_facts(const card *c) {
    const ww_meta *meta = meta_of(c);
    const ww_optional none = {false, 0.0};
    const ww_optional aperture = c->request->aperture.set ? c->request->aperture
                                 : meta                   ? meta->aperture
                                                          : none;
    const ww_optional scale = c->request->scale.set ? c->request->scale : meta ? meta->scale : none;
    ww__text_add(c->html, "<p>");
    add_number(c, "aperture", "f/", aperture);
    add_number(c, "magnification", "", scale);
    add_fact(c, "paper lot", meta ? meta->lot : NULL);
    /* On a paper that was read dry the plan leaves it out. */
    if (c->request->dry_down_percent > 0.0 && meta && meta->read == WW_READ_WET)
        add_number(c, "dry-down %", "", (ww_optional){true, c->request->dry_down_percent});
    add_fact(c, "developer, time, temperature", NULL);
    add_fact(c, "date", NULL);
    ww__text_add(c->html, "</p>\n<div class=\"sketch\">sketch of the moves</div>\n</section>\n");
}

void ww__print_card(const ww_print_plan *plan, const ww_print_request *request, ww__text *html) {
    const card c = {plan, request, plan->paper, html};
    if (plan->n_papers == 0)
        return;
    add_settings(&c);
    add_work(&c);
    add_checks(&c);
    add_facts(&c);
}
