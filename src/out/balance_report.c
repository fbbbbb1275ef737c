/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/balance_words.h"
#include "out/report.h"
#include "out/scan_words.h"
#include "out/words.h"
#include <math.h>

enum { COLOURS = WW_BALANCE_COLOURS };

static const double sd_of_95 = 1.959963984540054;
static const double seen_term = 0.005; /* a change of a term that the table's digits show */

static void take_setting(ww__report *report, const char *what, const ww_pack *pack, double time_s,
                         int decimals) {
    ww__report_item(report, what);
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        ww__report_number(report, pack->cc[f], 1);
    ww__report_number(report, time_s, decimals);
}

static void add_settings(const ww_balance *balance, ww__report *report) {
    const char *unit = ww__words_filter_unit(balance);
    const ww__heading heading[] = {
        {"", ""}, {"yellow", unit}, {"magenta", unit}, {"cyan", unit}, {"time", "s"}};
    const ww_balance_burn *burn = &balance->burn;
    ww__report_table(report, "Pack and time", sizeof heading / sizeof heading[0], "lrrrr");
    ww__report_headings(report, heading);
    take_setting(report, balance->kind == WW_BALANCE_PRINT ? "this print" : "before",
                 &balance->from.pack, balance->from.time_s, 2);
    take_setting(report, "exact", &balance->exact.pack, balance->exact.time_s, 2);
    take_setting(report, "to set", &balance->settable.pack, balance->settable.time_s, 2);
    if (burn->set && burn->possible) {
        take_setting(report, "burn, exact", &burn->exact.pack, burn->exact.time_s, 2);
        take_setting(report, "burn, to set", &burn->settable.pack, burn->settable.time_s, 2);
    }
}

static void add_tone(const ww_balance *balance, const ww_balance_tone *tone, ww__report *report) {
    const bool print = balance->kind == WW_BALANCE_PRINT;
    for (size_t c = 0; c < COLOURS; c++) {
        ww__text cell = WW__TEXT_INIT;
        if (c == 0)
            ww__report_name(report, tone->tone);
        else
            ww__report_item(report, "");
        ww__report_item(report, ww_channel_name((ww_channel)c));
        ww__report_number(report, tone->print[c], 2);
        ww__report_number(report, tone->aim[c], 2);
        if (tone->foretold)
            ww__report_number(report, tone->predicted[c], 2);
        else
            ww__report_item(report, "-");
        if (tone->foretold)
            ww__words_trust(&cell, tone->predicted_half[c]);
        else
            ww__text_add(&cell, "-");
        ww__report_take(report, &cell);
        if (print)
            ww__report_number(report, tone->left_cc[c], 1);
        else
            ww__report_item(report, "-");
    }
}

static void add_tones(const ww_balance *balance, ww__report *report) {
    const bool print = balance->kind == WW_BALANCE_PRINT;
    const ww__heading heading[] = {{"grey", ""},
                                   {"", ""},
                                   {print ? "print" : "standard", "D"},
                                   {print ? "aim" : "new", "D"},
                                   {"next", "D"},
                                   {"trust", "+-D"},
                                   {"left", "CC"}};
    ww__report_table(report, print ? "Greys, and the next print as set" : "Negatives",
                     sizeof heading / sizeof heading[0], "llrrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < balance->n_tones; i++)
        add_tone(balance, &balance->tone[i], report);
}

/* Whether an act was learned: a print about something else moves what is taken as usual, too. */
static const char *known_by(const ww_balance *balance, size_t act) {
    ww_response usual;
    ww_response_usual(&usual);
    if (balance->told[act])
        return "from prints";
    for (size_t c = 0; c < COLOURS; c++)
        if (fabs(balance->response.term[c][act] - usual.term[c][act]) > seen_term)
            return "partly from prints";
    return "taken as usual";
}

/* The 95 % half-width of what an act does, in the channel where it is widest, as 10 CC of it. */
static double act_trust(const ww_response *response, size_t act) {
    double most = 0.0;
    for (size_t c = 0; c < COLOURS; c++)
        most = fmax(most,
                    response->covariance[(c * WW_RESPONSE_ACTS + act) * (WW_RESPONSE_TERMS + 1)]);
    return 10.0 * sd_of_95 * sqrt(most);
}

/* What 10 CC, or 1/3 stop, do to the log exposure of each channel, as CC; ideal: 10 and nothing. */
static void add_response(const ww_balance *balance, ww__report *report) {
    static const ww__heading heading[] = {{"act", ""},    {"red", "CC"},     {"green", "CC"},
                                          {"blue", "CC"}, {"trust", "+-CC"}, {"known", ""}};
    static const char *const act[] = {"1/3 stop more", "10 CC yellow", "10 CC magenta",
                                      "10 CC cyan"};
    const ww_response *response = &balance->response;
    if (balance->ring_rows == 0)
        return;
    ww__report_table(report, "What acts do here, as change of light",
                     sizeof heading / sizeof heading[0], "lrrrrl");
    ww__report_headings(report, heading);
    for (size_t a = 0; a < WW_RESPONSE_ACTS; a++) {
        ww__report_item(report, act[a]);
        for (size_t c = 0; c < COLOURS; c++)
            ww__report_number(report, 10.0 * response->term[c][a], 1);
        ww__report_number(report, act_trust(response, a), 1);
        ww__report_item(report, known_by(balance, a));
    }
}

static void add_budget(const ww_balance *balance, ww__report *report) {
    const ww__heading heading[] = {
        {"from", ""}, {"half-width, 95 %", ww__words_filter_unit(balance)}, {"", ""}};
    double most = 0.0;
    ww__report_table(report, "What the doubt is made of", sizeof heading / sizeof heading[0],
                     "lrl");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < balance->n_budget; i++)
        most = fmax(most, balance->budget[i].cc);
    for (size_t i = 0; i < balance->n_budget; i++) {
        ww__report_item(report, balance->budget[i].from);
        ww__report_number(report, balance->budget[i].cc, 1);
        ww__report_item(report, most > 0.0 && balance->budget[i].cc >= most ? "the largest" : "");
    }
}

static void add_ring_rows(const ww_balance *balance, ww__report *report) {
    if (balance->ring_row.n == 0)
        return;
    ww__report_list(report, "This print as rows of --ring, below " WW_BALANCE_RING_COLUMNS, false);
    for (size_t i = 0; i < balance->ring_row.n; i++)
        ww__report_item(report, balance->ring_row.text[i]);
}

void ww__balance_report(const ww_balance *balance, ww__report *report) {
    ww__text sentence = WW__TEXT_INIT;
    ww__words_balance_act(&sentence, balance);
    ww__report_first(&sentence, &balance->first);
    ww__report_act(report, &sentence);
    ww__words_balance_why(&sentence, balance);
    ww__report_why(report, &sentence);
    add_settings(balance, report);
    if (balance->kind != WW_BALANCE_CARRIED) {
        add_tones(balance, report);
        add_response(balance, report);
    }
    if (balance->n_budget > 0)
        add_budget(balance, report);
    add_ring_rows(balance, report);
    ww__report_notes(report, &balance->notes);
    ww__report_cautions(report);
}
