/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include "out/tones_words.h"
#include "out/words.h"
#include <math.h>

static const double log_stop = 0.30102999566398119521; /* log10 2 */

static void take_value(ww__report *report, ww_quantity q, int decimals) {
    ww__text text = WW__TEXT_INIT;
    if (ww_quantity_present(q))
        ww__text_add_number(&text, q.value, decimals);
    else
        ww__text_add(&text, "-");
    ww__report_take(report, &text);
}

static void take_optional(ww__report *report, ww_optional value, int decimals) {
    take_value(report, (ww_quantity){value.value, 0.0, 0.0, value.set ? WW_FITTED : WW_ABSENT},
               decimals);
}

/* Half-width, of the wider side, on the steps that the value is shown in. */
static void take_doubt(ww__report *report, ww_quantity q, double step, int decimals, bool known) {
    const double half = fmax(q.high - q.value, q.value - q.low);
    ww__text text = WW__TEXT_INIT;
    if (known && ww_quantity_present(q))
        ww__text_add_number(&text, ww_doubt_shown(half, step), decimals);
    else
        ww__text_add(&text, "-");
    ww__report_take(report, &text);
}

static void take_stops(ww__report *report, double scene) {
    ww__text text = WW__TEXT_INIT;
    ww__tones_stops(&text, scene);
    ww__report_take(report, &text);
}

static void add_tones(const ww_tones_chain *c, ww__report *report) {
    static const ww__heading heading[] = {{"scene", "stops"}, {"film", "log H"}, {"film", "D"},
                                          {"trust", "+-D"},   {"print", "D"},    {"trust", "+-D"},
                                          {"looks", "L*"},    {"gradient", ""},  {"detail", ""}};
    ww__report_table(report, "The scene, stop by stop", sizeof heading / sizeof heading[0],
                     "rrrrrrrrl");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < c->n; i++) {
        const ww_tones_row *row = &c->row[i];
        take_stops(report, row->point.scene);
        ww__report_number(report, row->point.film_log_h, 2);
        take_value(report, row->negative, 2);
        take_doubt(report, row->negative, 0.01, 2, c->doubted);
        take_value(report, row->print, 2);
        take_doubt(report, row->print, 0.01, 2, c->doubted);
        take_value(report, row->lightness, 1);
        take_value(report, row->gradient, 2);
        ww__report_item(report, ww_tones_fate_name(row->fate));
    }
}

static void add_links(const ww_tones_chain *c, ww__report *report) {
    static const ww__heading heading[] = {{"scene", "stops"}, {"camera", ""}, {"film", ""},
                                          {"enlarger", ""},   {"paper", ""},  {"viewing", ""},
                                          {"together", ""},   {"trust", "+-"}};
    ww__report_table(report, "Gradients, link by link", sizeof heading / sizeof heading[0],
                     "rrrrrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < c->n; i++) {
        take_stops(report, c->row[i].point.scene);
        for (int k = 0; k < WW_TONE_LINKS; k++)
            take_optional(report, c->row[i].point.slope[k], 2);
        take_value(report, c->row[i].gradient, 2);
        take_doubt(report, c->row[i].gradient, 0.01, 2, c->doubted);
    }
}

/* Columns that say which chain a row is of: what is alike in all is left out. */
enum { WHICH_MOST = 3 };

typedef struct which {
    bool film, paper, channel;
    size_t n;
} which;

static which find_which(const ww_tones *tones) {
    which w = {.n = 0};
    for (size_t i = 1; i < tones->n; i++) {
        w.film |= tones->chain[i].film_at != tones->chain[0].film_at;
        w.paper |= tones->chain[i].paper_at != tones->chain[0].paper_at;
        w.channel |= tones->chain[i].paper_channel != tones->chain[0].paper_channel;
    }
    w.n = (size_t)w.film + (size_t)w.paper + (size_t)w.channel;
    return w;
}

static void take_which(ww__report *report, const which *w, const ww_tones_chain *c) {
    if (w->film)
        ww__report_name(report, c->film);
    if (w->paper)
        ww__report_name(report, c->paper);
    if (w->channel)
        ww__report_item(report, ww_channel_name(c->paper_channel));
}

/* A table whose first columns are those; `own` follow, all to the right but the last, which is
 * aligned as `last` says. */
static void begin_which(ww__report *report, const char *title, const which *w,
                        const ww__heading own[], size_t n, char last) {
    ww__heading heading[WW__COLUMNS_MAX];
    char align[WW__COLUMNS_MAX + 1];
    size_t at = 0;
    if (w->film)
        heading[at++] = (ww__heading){"film", ""};
    if (w->paper)
        heading[at++] = (ww__heading){"paper", ""};
    if (w->channel)
        heading[at++] = (ww__heading){"channel", ""};
    for (size_t i = 0; i < at + n; i++)
        align[i] = i < at ? 'l' : i + 1 < at + n ? 'r' : last;
    align[at + n] = '\0';
    for (size_t i = 0; i < n; i++)
        heading[at + i] = own[i];
    ww__report_table(report, title, at + n, align);
    ww__report_headings(report, heading);
}

static void add_losses(const ww_tones *tones, ww__report *report) {
    static const ww__heading own[] = {
        {"from", "stops"}, {"to", "stops"}, {"over", "stops"}, {"dies in", ""}};
    const which w = find_which(tones);
    begin_which(report, "Where detail dies", &w, own, sizeof own / sizeof own[0], 'l');
    for (size_t i = 0; i < tones->n; i++) {
        const ww_tones_chain *c = &tones->chain[i];
        for (size_t k = 0; k < c->n_runs; k++) {
            const ww_tones_run *run = &c->run[k];
            if (run->fate == WW_TONES_KEPT)
                continue;
            take_which(report, &w, c);
            take_stops(report, run->from);
            take_stops(report, run->to);
            ww__report_number(report, (run->from - run->to) / log_stop, 1);
            ww__report_item(report, ww_tones_fate_name(run->fate));
        }
    }
}

static void add_chains(const ww_tones *tones, ww__report *report) {
    static const ww__heading own[] = {{"kept", "stops"}, {"trust", "+-"}, {"white", "D"},
                                      {"grey", "D"},     {"grey", "L*"},  {"gradient", ""},
                                      {"darkest", "D"}};
    const which w = find_which(tones);
    if (tones->n < 2)
        return;
    begin_which(report, "Beside each other", &w, own, sizeof own / sizeof own[0], 'r');
    for (size_t i = 0; i < tones->n; i++) {
        const ww_tones_chain *c = &tones->chain[i];
        take_which(report, &w, c);
        take_value(report, c->kept_stops, 1);
        take_doubt(report, c->kept_stops, 0.1, 1, c->doubted);
        take_value(report, c->row[0].print, 2);
        take_value(report, c->grey.print, 2);
        take_value(report, c->grey.lightness, 1);
        take_value(report, c->grey.gradient, 2);
        take_value(report, c->row[c->n - 1].print, 2);
    }
}

static void add_wanted(const ww_tones *tones, ww__report *report) {
    static const ww__heading heading[] = {{"scene", "stops"}, {"print", "D"},   {"film", "log H"},
                                          {"film", "D"},      {"trust", "+-D"}, {"slope", ""},
                                          {"paper", "log H"}, {"light", "%"},   {"given", "D"}};
    const ww_tones_wanted *w = &tones->wanted;
    const bool given = w->worst.set;
    ww__report_table(report, "The film, or the file, that gives it",
                     sizeof heading / sizeof heading[0] - !given, given ? "rrrrrrrrr" : "rrrrrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < w->n; i++) {
        const ww_tones_wanted_row *row = &w->row[i];
        take_stops(report, row->scene);
        ww__report_number(report, row->viewed, 2);
        ww__report_number(report, row->film_log_h, 2);
        take_value(report, row->negative, 2);
        take_doubt(report, row->negative, 0.01, 2, w->doubted);
        take_optional(report, row->slope, 2);
        take_optional(report, row->paper_log_h, 2);
        take_optional(report, (ww_optional){row->light.set, 100.0 * row->light.value}, 1);
        if (given)
            take_optional(report, row->film, 2);
    }
}

static void add_refused(const ww_tones *tones, ww__report *report) {
    const ww_tones_wanted *w = &tones->wanted;
    static const ww__heading heading[] = {{"scene", "stops"}, {"print", "D"}, {"is", ""}};
    ww__report_table(report, "What cannot be had", 3, "rrl");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < w->n; i++) {
        if (w->row[i].want == WW_TONES_HAD)
            continue;
        take_stops(report, w->row[i].scene);
        ww__report_number(report, w->row[i].viewed, 2);
        ww__report_item(report, ww_tones_want_name(w->row[i].want));
    }
}

void ww__tones_report(const ww_tones *tones, ww__report *report) {
    ww__text sentence = WW__TEXT_INIT;
    ww__tones_act(tones, &sentence);
    ww__report_act(report, &sentence);
    ww__tones_why(tones, &sentence);
    ww__report_why(report, &sentence);
    if (tones->wanted.given) {
        add_refused(tones, report);
        add_wanted(tones, report);
    } else {
        const ww_tones_chain *c = &tones->chain[ww_tones_main(tones)];
        add_chains(tones, report);
        add_tones(c, report);
        add_losses(tones, report);
        add_links(c, report);
    }
    ww__report_notes(report, &tones->notes);
}
