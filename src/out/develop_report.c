/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/develop_words.h"
#include "out/report.h"
#include "out/words.h"
#include <math.h>

#define LOG_STOP 0.30102999566398119521 /* log10 2 */

static void take_interval(ww__report *report, ww_quantity q, int decimals) {
    ww__text cell = WW__TEXT_INIT;
    ww__words_interval(&cell, q, decimals);
    ww__report_take(report, &cell);
}

static void take_optional(ww__report *report, ww_optional value, int decimals, bool sign) {
    ww__text cell = WW__TEXT_INIT;
    if (value.set && sign && value.value >= 0.5 * pow(10.0, -decimals))
        ww__text_add(&cell, "+");
    if (value.set)
        ww__text_add_number(&cell, value.value, decimals);
    else
        ww__text_add(&cell, "-");
    ww__report_take(report, &cell);
}

/* --- curves ----------------------------------------------------------------------------------- */

static const char *remark_of(const ww_development *d, const ww_develop_row *row) {
    if (row->other_temperature)
        return "for temperature";
    if (row->falls)
        return "less than before";
    if (d->aimed && !ww_quantity_present(row->contrast[d->measure]))
        return "not used";
    return "";
}

static void add_contrasts(const ww_development *d, ww__report *report) {
    const bool over = d->measure == WW_DEVELOP_OVER_RANGE;
    bool any = false;
    for (size_t i = 0; i < d->n; i++)
        any = any || remark_of(d, &d->row[i])[0] != '\0';
    const ww__heading heading[] = {{"developed", "min"},
                                   {over ? "gradient" : "contrast index", over ? "that range" : ""},
                                   {over ? "contrast index" : "average gradient", ""},
                                   {"gamma", ""},
                                   {"off", ""},
                                   {"", ""}};
    ww__report_table(report, "How contrast grows", sizeof heading / sizeof heading[0] - !any,
                     "rlllrl");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < d->n; i++) {
        const ww_develop_row *row = &d->row[i];
        ww__text cell = WW__TEXT_INIT;
        ww__text_add_format(&cell, "%g", row->time_min);
        if (row->other_temperature)
            ww__text_add_format(&cell, ", %g C", row->temperature_c.value);
        ww__report_take(report, &cell);
        take_interval(report,
                      row->contrast[over ? WW_DEVELOP_OVER_RANGE : WW_DEVELOP_CONTRAST_INDEX], 2);
        take_interval(report,
                      row->contrast[over ? WW_DEVELOP_CONTRAST_INDEX : WW_DEVELOP_AVERAGE_GRADIENT],
                      2);
        take_interval(report, row->contrast[WW_DEVELOP_GAMMA], 2);
        take_optional(report, row->off, 3, true);
        if (any)
            ww__report_item(report, remark_of(d, row));
    }
}

static void add_speeds(const ww_development *d, ww__report *report) {
    static const ww__heading heading[] = {{"developed", "min"},     {"base+fog", "D"},
                                          {"speed point", "log H"}, {"speed", ""},
                                          {"gained", "stop"},       {"index", "for the meter"}};
    ww__report_table(report, "Speed and fog",
                     sizeof heading / sizeof heading[0] - !d->metered_index.set, "rllrrl");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < d->n; i++) {
        const ww_develop_row *row = &d->row[i];
        const ww_optional speed = {ww_quantity_present(row->speed), row->speed.value};
        ww__text cell = WW__TEXT_INIT;
        ww__text_add_format(&cell, "%g", row->time_min);
        if (row->other_temperature)
            ww__text_add_format(&cell, ", %g C", row->temperature_c.value);
        ww__report_take(report, &cell);
        take_interval(report, row->base_fog, 2);
        take_interval(report, row->speed_point, 2);
        take_optional(report, speed, 0, false);
        take_optional(report, row->speed_stops, 2, true);
        if (d->metered_index.set)
            take_interval(report, row->exposure_index, 0);
    }
}

/* --- the law ---------------------------------------------------------------------------------- */

static void add_laws(const ww_development *d, ww__report *report) {
    static const ww__heading heading[] = {
        {"of", ""}, {"levels off at", ""}, {"rate", "1/min"}, {"begins at", "min"}};
    ww__report_table(report, "The law of development", sizeof heading / sizeof heading[0], "llll");
    ww__report_headings(report, heading);
    for (int m = 0; m < WW_DEVELOP_MEASURES; m++) {
        const ww_time_gamma *law = &d->law[m];
        if (!d->has_law[m] || !ww_quantity_present(law->gamma_infinity))
            continue;
        ww__report_item(report, m == WW_DEVELOP_OVER_RANGE
                                    ? "gradient over that range"
                                    : ww__words_develop_measure((ww_develop_measure)m));
        take_interval(report, law->gamma_infinity, 2);
        take_interval(report, law->rate, 3);
        take_interval(report, law->start, 1);
    }
}

/* --- what is asked ---------------------------------------------------------------------------- */

static const char *place_of(const ww_develop_range *range) {
    if (ww_quantity_present(range->time))
        return range->time.how == WW_EXTRAPOLATED ? "extrapolated" : "";
    if (range->short_of > 0)
        return "steps end first";
    switch (range->answer.place) {
    case WW_TIME_GAMMA_SHORTER:
        return "develop shorter first";
    case WW_TIME_GAMMA_LONGER:
        return "develop longer first";
    case WW_TIME_GAMMA_NEVER:
        return "levels off below";
    case WW_TIME_GAMMA_LEVEL:
        return "does not grow";
    case WW_TIME_GAMMA_INSIDE:
        break;
    }
    return "temperature";
}

/* "7:15", or "6:50 to 7:45": tables have no room for the words. */
static void take_clock(ww__report *report, ww_quantity time, bool interval) {
    ww__text cell = WW__TEXT_INIT;
    if (!ww_quantity_present(time)) {
        ww__text_add(&cell, "-");
    } else if (interval) {
        ww__words_develop_clock(&cell, time.low, -1);
        ww__text_add(&cell, " to ");
        ww__words_develop_clock(&cell, time.high, 1);
    } else {
        ww__words_develop_clock(&cell, time.value, 0);
    }
    ww__report_take(report, &cell);
}

static void add_ranges(const ww_development *d, ww__report *report) {
    static const ww__heading heading[] = {{"subject", ""},  {"range", "log"},     {"", "stops"},
                                          {"gradient", ""}, {"develop", "min:s"}, {"95 %", "min:s"},
                                          {"", ""}};
    bool any = false;
    for (size_t i = 0; i < d->n_ranges; i++)
        any = any || place_of(&d->range[i])[0] != '\0';
    ww__report_table(report, "Subjects of other ranges onto the same density range",
                     sizeof heading / sizeof heading[0] - !any, "lrrrrrl");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < d->n_ranges; i++) {
        const ww_develop_range *range = &d->range[i];
        ww__text cell = WW__TEXT_INIT;
        ww__text_add(&cell, "N");
        if (range->n != 0)
            ww__text_add_format(&cell, "%+d", range->n);
        ww__report_take(report, &cell);
        ww__report_number(report, range->subject_range, 2);
        ww__report_number(report, range->subject_range / LOG_STOP, 1);
        ww__report_number(report, range->gradient, 2);
        take_clock(report, range->time, false);
        take_clock(report, range->time, true);
        if (any)
            ww__report_item(report, place_of(range));
    }
}

static void add_temperatures(const ww_development *d, ww__report *report) {
    static const ww__heading heading[] = {
        {"temperature", "C"}, {"develop", "min:s"}, {"95 %", "min:s"}};
    ww__report_table(report, "At your temperatures", sizeof heading / sizeof heading[0], "rrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < d->by_temperature.n; i++) {
        const ww_develop_at *at = &d->by_temperature.at[i];
        ww__text cell = WW__TEXT_INIT;
        ww__text_add_format(&cell, "%g", at->temperature_c);
        ww__report_take(report, &cell);
        take_clock(report, at->time, false);
        take_clock(report, at->time, true);
    }
}

static void add_doubts(const ww_development *d, ww__report *report) {
    static const ww__heading heading[] = {{"from", ""}, {"half-width, 95 %", "min"}, {"", ""}};
    size_t largest = 0;
    for (size_t i = 1; i < d->n_doubts; i++)
        if (d->doubt[i].minutes > d->doubt[largest].minutes)
            largest = i;
    ww__report_table(report, "What the doubt is made of", sizeof heading / sizeof heading[0],
                     "lrl");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < d->n_doubts; i++) {
        ww__report_item(report, d->doubt[i].from);
        ww__report_number(report, d->doubt[i].minutes, 2);
        ww__report_item(report, i == largest ? "the largest" : "");
    }
}

void ww__develop_report(const ww_development *development, ww__report *report) {
    const ww_development *d = development;
    ww__text sentence = WW__TEXT_INIT;
    ww__words_develop_act(&sentence, d);
    ww__report_act(report, &sentence);
    ww__words_develop_why(&sentence, d);
    ww__report_why(report, &sentence);
    if (d->n_ranges > 0)
        add_ranges(d, report);
    if (d->by_temperature.n > 1)
        add_temperatures(d, report);
    add_contrasts(d, report);
    add_speeds(d, report);
    add_laws(d, report);
    if (ww_quantity_present(d->time))
        add_doubts(d, report);
    ww__report_notes(report, &d->notes);
    ww__report_bath_cautions(report);
}
