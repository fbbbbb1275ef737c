/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/report.h"
#include "out/words.h"
#include <math.h>
#include <wedgework/match.h>

enum { ROWS = 20, NAME_SIZE = 80 };

/* "62 %", "0.38" */
static void add_value(ww__text *text, const ww_match *match, double control) {
    const char *unit = ww_ramp_unit(match->ramp);
    ww__text_add_number(text, control, unit[0] ? 0 : 2);
    ww__text_add_format(text, "%s%s", unit[0] ? " " : "", unit);
}

static void add_control(ww__text *text, const ww_match *match, double drive) {
    add_value(text, match, ww_ramp_control(match->ramp, drive));
}

/* "+0.03", "0.00" */
static void add_signed(ww__text *text, double value) {
    ww__text_add(text, value >= 0.005 ? "+" : "");
    ww__text_add_number(text, value, 2);
}

/* Two decimals, and no doubt looks surer than a hundredth. */
static void add_doubt(ww__text *text, double doubt) {
    ww__text_add_number(text, ww_doubt_shown(doubt, 0.01), 2);
}

static const ww_match_channel *worst_of(const ww_match *match) {
    return &match->channel[match->worst_channel];
}

/* Differences that nobody would tell are none to speak of. */
static bool is_apart(const ww_match *match) {
    return fabs(match->worst.density) > WW_MATCH_TOLD;
}

/* What all the rest hangs on. */
static void add_slip(const ww_match *match, ww__text *text) {
    const ww_tone_slip *slip = &match->slip;
    const char *what = slip->moved > 0 ? "skipped" : "read twice";
    char shown[NAME_SIZE];
    if (slip->moved == 0)
        return;
    ww__text_add_format(text, slip->taken ? "A step was %s near " : "A step may have been %s near ",
                        what);
    add_value(text, match, slip->control);
    if (match->slip_in)
        ww__text_add_format(text, " in '%s'",
                            ww__escape_message(match->slip_in, shown, sizeof shown));
    ww__text_add_format(text, ": look at the rows there, or read them again. %s",
                        slip->taken ? "With all later readings a step " : "As they stand, ");
    ww__text_add(text, !slip->taken ? "send " : slip->moved > 0 ? "on, send " : "back, send ");
}

static void add_act(const ww_match *match, ww__text *text) {
    const ww_match_channel *c = worst_of(match);
    add_slip(match, text);
    ww__text_add_format(text, "%s%s through this curve%s: ", match->slip.moved ? "" : "Send ",
                        match->n > 1 ? "each colour" : "gray", match->n > 1 ? " of its own" : "");
    if (!is_apart(match)) {
        ww__text_add_format(text, "all tones come out %s, trust +-",
                            match->lightness ? "in equal steps of L*" : "as the aim's");
        add_doubt(text, match->kept_miss.doubt);
        ww__text_add(text, " D.");
        return;
    }
    ww__text_add(text, "tones up to ");
    ww__text_add_number(text, c->kept_density, 2);
    ww__text_add_format(text, " D %s come out as the aim's, trust +-",
                        match->absolute ? "over this paper" : "above white");
    add_doubt(text, match->kept_miss.doubt);
    ww__text_add(text, " D; the worst that remains is ");
    add_signed(text, match->worst.density);
    ww__text_add(text, ww_ramp_unit(match->ramp)[0] ? " D at " : " D at value ");
    add_control(text, match, match->worst.drive);
    ww__text_add_format(text, "%s%s.", match->n > 1 ? " in " : "", match->n > 1 ? c->name : "");
}

/* " (Heron rag)" */
static void add_name(ww__text *text, const char *name) {
    char shown[NAME_SIZE];
    if (name)
        ww__text_add_format(text, " (%s)", ww__escape_message(name, shown, sizeof shown));
}

static void add_why(const ww_match *match, ww__text *text) {
    const ww_match_channel *c = worst_of(match);
    ww__text_add(text, "why: this output");
    add_name(text, match->print);
    ww__text_add(text, " goes from ");
    ww__words_range(text, c->white, c->black, 2);
    ww__text_add(text, " D; ");
    if (match->lightness) {
        ww__text_add(text, "equal steps of L* between them are the aim.");
        return;
    }
    ww__text_add(text, "the aim");
    add_name(text, match->aim);
    ww__text_add(text, " from ");
    ww__words_range(text, c->aim.density[0], ww_tone_response_density(&c->aim, c->aim.to), 2);
    ww__text_add_format(text, " D. Matched are %s.",
                        match->absolute ? "densities themselves"
                                        : "densities above each one's own white");
}

static void take_control(ww__report *report, const ww_match *match, double drive) {
    ww__report_number(report, ww_ramp_control(match->ramp, drive),
                      ww_ramp_unit(match->ramp)[0] ? 1 : 3);
}

/* From white to black in equal steps of what is sent. */
static void add_curve(const ww_match *match, const ww_match_channel *c, ww__report *report) {
    const char *unit = ww_ramp_unit(match->ramp)[0] ? ww_ramp_unit(match->ramp) : "value";
    const ww__heading heading[] = {{"in", unit},   {"aim", "D"},  {"as it is", "D"},
                                   {"send", unit}, {"then", "D"}, {"less aim", "D"}};
    ww__report_table(report,
                     match->n == 1                ? "Curve"
                     : c->read == WW_COLUMN_RED   ? "Curve, red"
                     : c->read == WW_COLUMN_GREEN ? "Curve, green"
                                                  : "Curve, blue",
                     sizeof heading / sizeof heading[0], "rrrrrr");
    ww__report_headings(report, heading);
    for (int i = 0; i <= ROWS; i++) {
        const double drive = (double)i / ROWS, send = ww_match_out(c, drive);
        const double wanted = ww_tone_response_at(c->wanted, drive);
        const double then = ww_tone_response_density(&c->print, send);
        ww__text less = WW__TEXT_INIT;
        take_control(report, match, drive);
        ww__report_number(report, wanted, 2);
        ww__report_number(report, ww_tone_response_density(&c->print, drive), 2);
        take_control(report, match, send);
        ww__report_number(report, then, 2);
        add_signed(&less, then - wanted);
        ww__report_take(report, &less);
    }
}

static void add_regions(const ww_match *match, ww__report *report) {
    static const ww__heading heading[] = {
        {"channel", ""}, {"tones", ""}, {"worst", "D"}, {"trust", "+-D"}, {"at", ""}};
    ww__report_table(report, "What remains, output less aim", sizeof heading / sizeof heading[0],
                     "llrrr");
    ww__report_headings(report, heading);
    for (size_t k = 0; k < match->n; k++)
        for (int r = 0; r < WW_REGION_COUNT; r++) {
            const ww_match_miss *miss = &match->channel[k].region[r];
            ww__text text = WW__TEXT_INIT;
            if (!miss->any)
                continue;
            ww__report_item(report, match->channel[k].name);
            ww__report_item(report, ww_viewing_region_word((ww_region_name)r));
            add_signed(&text, miss->density);
            ww__report_take(report, &text);
            add_doubt(&text, miss->doubt);
            ww__report_take(report, &text);
            add_control(&text, match, miss->drive);
            ww__report_take(report, &text);
        }
}

void ww__match_report(const ww_match *match, ww__report *report) {
    ww__text sentence = WW__TEXT_INIT;
    add_act(match, &sentence);
    ww__report_act(report, &sentence);
    add_why(match, &sentence);
    ww__report_why(report, &sentence);
    add_regions(match, report);
    for (size_t i = 0; i < match->n; i++)
        add_curve(match, &match->channel[i], report);
    ww__report_notes(report, &match->notes);
}
