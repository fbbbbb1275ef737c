/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/balance_words.h"
#include "base/escape.h"
#include "out/scan_words.h"
#include "out/words.h"
#include <math.h>
#include <string.h>

enum { COLOURS = WW_BALANCE_COLOURS };

static const double seen_cc = 1.25;          /* [CC] half the finest step of the trade */
static const double set_cc = 0.25;           /* less is no change that a hand sets */
static const double seen_stops = 1.0 / 24.0; /* half of a twelfth */
static const double same_stops = 1e-6;
static const double log_stop_cc = 30.103; /* [CC] of a stop of all light */

const char *ww__words_filter_unit(const ww_balance *balance) {
    return fabs(balance->head_scale - 1.0) < 1e-9 ? "CC" : "dial";
}

/* How dark the eye sees it [stops], which sees most of green and least of blue: common practice. */
static double seen_darkness(const ww_balance *balance) {
    const double *excess = balance->excess_cc;
    return (0.3 * excess[0] + 0.6 * excess[1] + 0.1 * excess[2]) / log_stop_cc;
}

void ww__words_cast(ww__text *text, const ww_balance *balance) {
    const double *excess = balance->excess_cc;
    const double mean = (excess[0] + excess[1] + excess[2]) / COLOURS;
    const double darkness = seen_darkness(balance);
    const bool dense = fabs(darkness) > seen_stops;
    size_t most = 0;
    bool cast;
    for (size_t c = 1; c < COLOURS; c++)
        if (fabs(excess[c] - mean) > fabs(excess[most] - mean))
            most = c;
    cast = fabs(excess[most] - mean) > seen_cc;
    if (balance->left_alone || (!dense && !cast)) {
        ww__text_add(text, "right in density and colour");
        return;
    }
    if (dense)
        ww__text_add(text, darkness > 0.0 ? "too dark" : "too light");
    else
        ww__text_add(text, "right in density");
    if (cast)
        ww__text_add_format(text, "%s %s", dense ? " and too" : " but too",
                            ww_cast_name((ww_channel)most, excess[most] > mean));
    else
        ww__text_add(text, " but neutral");
}

static void add_amount(ww__text *text, double amount) {
    ww__text_add_number(text, amount, fabs(amount - round(amount)) < 0.005 ? 0 : 1);
}

/* What a change is told against: a stored plan is exact, and its print was set. */
static ww_pack set_before(const ww_balance *balance) {
    ww_pack before = balance->from.pack;
    if (balance->stored)
        ww_pack_round(&before, balance->filter_step);
    return before;
}

/* One after the other, "add" and "take out" each said once where it holds for both. */
static size_t add_filters(ww__text *text, const ww_balance *balance, bool out) {
    const ww_pack before = set_before(balance);
    size_t n = 0;
    for (int f = 0; f < WW_FILTER_COUNT; f++) {
        const double by = balance->settable.pack.cc[f] - before.cc[f];
        if (!(out ? by < -set_cc : by > set_cc))
            continue;
        ww__text_add(text, n++ > 0 ? " and " : out ? "take out " : "add ");
        add_amount(text, fabs(by));
        ww__text_add_format(text, " %s", ww_filter_name((ww_filter)f));
    }
    return n;
}

void ww__words_filter_change(ww__text *text, const ww_balance *balance) {
    const double stops = log2(balance->settable.time_s / balance->from.time_s);
    ww__text added = WW__TEXT_INIT;
    const size_t out = add_filters(text, balance, true);
    const size_t in = add_filters(&added, balance, false);
    if (in > 0)
        ww__text_add_format(text, "%s%s", out > 0 ? ", " : "", ww__text_string(&added));
    text->failed |= added.failed;
    ww__text_release(&added);
    if (fabs(stops) < same_stops) {
        ww__text_add(text,
                     out + in == 0 ? "leave pack and time as they are" : ", the time as it was");
        return;
    }
    ww__text_add(text, out + in == 0 ? "leave the pack, " : ", ");
    if (fabs(stops) < seen_stops) {
        ww__text_add(text, "the time all but as it was");
        return;
    }
    ww__words_stops(text, fabs(stops), false);
    ww__text_add(text, stops > 0.0 ? " more" : " less");
}

void ww__words_filter_setting(ww__text *text, const ww_balance_setting *setting, double step_s) {
    char pack[WW_PACK_TEXT_SIZE];
    ww_pack_format(&setting->pack, pack);
    ww__text_add(text, pack[0] == '0' && !pack[1] ? "no filter" : pack);
    ww__text_add(text, ", ");
    ww__words_seconds(text, setting->time_s, step_s);
}

static void add_trust(ww__text *text, const ww_balance *balance, double filter, double stops) {
    ww__text_add(text, "; trust +-");
    ww__text_add_number(text, ww_doubt_shown(filter, 0.5), 1);
    ww__text_add_format(text, " %s and +-", ww__words_filter_unit(balance));
    ww__words_doubt(text, stops);
}

/* Of three filters in the light the part that all have is grey, which the plan takes out. */
static bool is_grey_taken_out(const ww_balance *balance) {
    const double *had = balance->from.pack.cc;
    return !balance->left_alone && fmin(had[0], fmin(had[1], had[2])) > set_cc;
}

/* A print within what is seen of its aim: any change left is of less than a step. */
static bool is_right(const ww_balance *balance) {
    const double *excess = balance->excess_cc;
    for (size_t c = 0; c < COLOURS; c++)
        if (fabs(excess[c]) > seen_cc)
            return false;
    return true;
}

static void add_burn(ww__text *text, const ww_balance *balance) {
    const ww_balance_burn *burn = &balance->burn;
    char shown[64];
    if (!burn->set || !burn->possible)
        return;
    ww__text_add_format(text, "; burn '%s' with ",
                        ww__escape_message(balance->tone[burn->tone].tone, shown, sizeof shown));
    ww__words_filter_setting(text, &burn->settable, balance->timer_step_s);
    ww__text_add(text, " more");
    if (burn->doubt.known)
        add_trust(text, balance, burn->doubt.filter, burn->doubt.stops);
}

/* More time on a print that is too dark, less on one too light (on reversal paper the other way):
 * filters take light. */
static void add_light_of_filters(ww__text *text, const ww_balance *balance) {
    const double darkness = seen_darkness(balance);
    const double stops = log2(balance->settable.time_s / balance->from.time_s);
    const bool more_wanted = (darkness < 0.0) != balance->reversal;
    if (fabs(darkness) <= seen_stops || fabs(stops) < seen_stops || more_wanted == (stops > 0.0))
        return;
    ww__text_add(text, stops > 0.0 ? " for the light that the filters take"
                                   : " as the filters take less light");
}

/* What to set; of a time that none gives, that, and what gives another. */
static void add_set(ww__text *text, const ww_balance *balance) {
    const double time_s = balance->settable.time_s;
    if (!(time_s >= WW_BALANCE_TIME_LEAST && time_s <= WW_BALANCE_TIME_MOST)) {
        ww__text_add(text, "; it cannot be set: ");
        ww__text_add_number(text, time_s, time_s < WW_BALANCE_TIME_LEAST ? 3 : 0);
        ww__text_add(text, " s is beyond the ");
        ww__text_add_number(text, WW_BALANCE_TIME_LEAST, 1);
        ww__text_add(text, " to ");
        ww__text_add_number(text, WW_BALANCE_TIME_MOST, 0);
        ww__text_add_format(text, " s of a print; %s the lens, or look at what was given",
                            time_s > WW_BALANCE_TIME_MOST ? "open" : "stop down");
        return;
    }
    ww__text_add(text, "; set ");
    ww__words_filter_setting(text, &balance->settable, balance->timer_step_s);
    if (balance->doubt_known)
        add_trust(text, balance, balance->doubt_cc, balance->doubt_stops);
    add_burn(text, balance);
}

/* Which readings would tell the filters, by what leaves most of them in doubt besides what filters
 * do. */
static void add_teller(ww__text *text, const ww_balance *balance) {
    static const struct {
        const char *from, *act;
        bool colour;
    } rows[] = {{"readings", "read this print again, several times, first in ", true},
                {"aim", "read the aim again, several times, first in ", true},
                {"paper curve", "read more steps of this paper, and fit them again", false},
                {"wedge", "give the paper's curve a wedge that was measured", false},
                {"paper's dyes", "this needs a print that is nearer to its aim", false},
                {"repeatability", "make the same print again, and read both", false},
                {"prints' scatter", "make the same print again, and read both", false}};
    enum { ROWS = sizeof rows / sizeof *rows };
    double most = -1.0;
    size_t at = 0;
    for (size_t i = 0; i < balance->n_budget; i++)
        for (size_t k = 0; k < ROWS; k++)
            if (strcmp(balance->budget[i].from, rows[k].from) == 0 &&
                balance->budget[i].cc > most) {
                most = balance->budget[i].cc;
                at = k;
            }
    ww__text_add_format(text, "%s%s", rows[at].act,
                        rows[at].colour ? ww_channel_name(balance->least_sure) : "");
}

void ww__words_balance_act(ww__text *text, const ww_balance *balance) {
    if (balance->untold) {
        ww__text_add(
            text, "the readings do not tell the filters, whose doubt is wider than their change: ");
        add_teller(text, balance);
        ww__text_add(text, ". As a guess, ");
    }
    if (balance->kind == WW_BALANCE_PRINT) {
        ww__words_cast(text, balance);
        ww__text_add(text, is_grey_taken_out(balance)
                               ? ", and what all three filters share only holds back light: "
                           : is_right(balance) && !balance->left_alone
                               ? " to within a step of filters or time: "
                               : ": ");
    } else {
        const ww_balance_setting before = {set_before(balance), balance->from.time_s};
        ww__text_add(text, balance->kind == WW_BALANCE_NEGATIVE ? "for the new negative, from "
                                                                : "carried over, from ");
        ww__words_filter_setting(text, &before, balance->timer_step_s);
        ww__text_add(text, ": ");
    }
    ww__words_filter_change(text, balance);
    if (balance->kind == WW_BALANCE_PRINT)
        add_light_of_filters(text, balance);
    add_set(text, balance);
    ww__text_add(text, ".");
}

static void add_densities(ww__text *text, const double density[COLOURS]) {
    for (size_t c = 0; c < COLOURS; c++) {
        ww__text_add(text, c > 0 ? ", " : "");
        ww__text_add_number(text, density[c], 2);
    }
}

/* Whether nothing but doubt keeps the next print from its aim. */
static bool is_aimed(const ww_balance_tone *tone) {
    bool aimed = true;
    for (size_t c = 0; c < COLOURS; c++)
        aimed = aimed && fabs(tone->predicted[c] - tone->aim[c]) <= WW_BALANCE_WITHIN &&
                fabs(tone->left_cc[c]) <= WW_BALANCE_WITHIN_CC;
    return aimed;
}

static void add_print_why(ww__text *text, const ww_balance *balance) {
    const ww_balance_tone *tone = &balance->tone[balance->solved_for];
    char shown[64];
    ww__text_add(text, "Why: ");
    if (*tone->tone)
        ww__text_add_format(text, "'%s' reads ",
                            ww__escape_message(tone->tone, shown, sizeof shown));
    else
        ww__text_add(text, "the grey reads ");
    add_densities(text, tone->print);
    ww__text_add(text, " in red, green and blue and shall read ");
    add_densities(text, tone->aim);
    if (tone->foretold) {
        ww__text_add(text, "; expect ");
        add_densities(text, tone->predicted);
        ww__text_add(text, tone->within          ? ", within a hand's tolerance"
                           : balance->left_alone ? ", as it is"
                           : is_aimed(tone)
                               ? ", but count on a further print: the doubt is wider than a "
                                 "hand's tolerance"
                               : ", which is not within a hand's tolerance");
    }
    ww__text_add(text, balance->crossover.found
                           ? ". The greys cross over: no filtration makes all of them neutral."
                           : ".");
}

static void add_carried_why(ww__text *text, const ww_balance *balance) {
    const ww_balance_offset *by = &balance->carried;
    bool lot = fabs(by->stops) > same_stops;
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        lot = lot || fabs(by->change.cc[f]) > 0.0;
    ww__text_add(text, "Why: ");
    if (lot)
        ww__text_add(text, "the stored pack and time were changed as the other plan changed its "
                           "own");
    if (fabs(log2(by->factor)) > same_stops) {
        ww__text_add(text, lot ? ", and the other size takes " : "the other size takes ");
        ww__text_add_number(text, by->factor, 2);
        ww__text_add(text, " times the time");
    } else if (!lot) {
        ww__text_add(text, "what it is carried by changes nothing");
    }
    if (balance->n_tones > 0) {
        const ww_balance_tone *tone = &balance->tone[0];
        ww__text_add(text, "; expect the grey at the stored plan's aim, ");
        add_densities(text, tone->predicted);
        ww__text_add(text, " in red, green and blue, give or take ");
        ww__words_trust(text, fmax(tone->predicted_half[0],
                                   fmax(tone->predicted_half[1], tone->predicted_half[2])));
        ww__text_add(text, " D");
    }
    ww__text_add(text, ".");
}

void ww__words_balance_why(ww__text *text, const ww_balance *balance) {
    if (balance->kind == WW_BALANCE_PRINT) {
        add_print_why(text, balance);
    } else if (balance->kind == WW_BALANCE_NEGATIVE) {
        const ww_balance_tone *tone = &balance->tone[balance->solved_for];
        ww__text_add(text, "Why: the standard negative reads ");
        add_densities(text, tone->print);
        ww__text_add(text, " in red, green and blue, the new one ");
        add_densities(text, tone->aim);
        ww__text_add(text, "; what it holds back more, it is given more.");
    } else {
        add_carried_why(text, balance);
    }
}
