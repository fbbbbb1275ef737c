/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/working.h"
#include <math.h>

static const char *const colour[] = {"red", "green", "blue"};

static void add_changes(const ww_balance *balance, ww__report *report) {
    const ww_balance_tone *tone = &balance->tone[balance->solved_for];
    const bool negative = balance->kind == WW_BALANCE_NEGATIVE;
    ww__text numbers = WW__TEXT_INIT;
    for (size_t c = 0; c < WW_BALANCE_COLOURS; c++) {
        ww__text_add_format(&numbers, "%s%s %.3f to %.3f D: %.3f", c > 0 ? "; " : "", colour[c],
                            tone->print[c], tone->aim[c], tone->change[c]);
        if (tone->slope[c] != 0.0)
            ww__text_add_format(&numbers, " (slope there %.2f)", tone->slope[c]);
    }
    ww__working_step(
        report, "log exposure that each layer lacks",
        negative ? "log H = D of the new negative - D of the standard negative"
                 : "D = sum of dyes of the layers, each by the paper's own curve; log H(aim) - log "
                   "H(print), about (aim - D) / slope where dyes are pure",
        &numbers,
        negative ? ww__working_definition
                 : "the slope: common practice; dyes' unwanted absorptions: amounts from memory");
}

static void add_response(const ww_balance *balance, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    for (size_t c = 0; c < WW_BALANCE_COLOURS; c++) {
        const double *term = balance->response.term[c];
        ww__text_add_format(&numbers, "%s%s: %.2f log t, %.2f dY, %.2f dM, %.2f dC",
                            c > 0 ? "; " : "", colour[c], term[0], term[1], term[2], term[3]);
    }
    ww__working_step(
        report, "what time and filters do",
        "log H_c = b_c1 log10(t / t0) + b_c2 dY + b_c3 dM + b_c4 dC, filters in "
        "hundredths of CC",
        &numbers,
        balance->ring_rows > 0
            ? "this ring-around, with a usual head as what was thought before (Gaussian "
              "prior, textbook)"
            : "a usual head: common practice, amounts from memory");
}

/* The solution put into the response gives back the change. */
static void add_solution(const ww_balance *balance, ww__report *report) {
    const ww_balance_setting *from = &balance->from, *to = &balance->exact;
    ww__text numbers = WW__TEXT_INIT;
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        ww__text_add_format(&numbers, "%s %.1f %+.1f = %.1f, ", ww_filter_name((ww_filter)f),
                            from->pack.cc[f], balance->change.cc[f], to->pack.cc[f]);
    ww__text_add_format(&numbers, "time %.2f x 2^%.3f = %.2f s", from->time_s, balance->stops,
                        to->time_s);
    ww__working_step(report, "pack and time",
                     "solve these three for log t and two filters; what all three filters share is "
                     "taken out as grey",
                     &numbers,
                     "linear equations; 46Y+38M+12C are 34Y+26M: an army correspondence "
                     "course");
}

static void add_doubt(const ww_balance *balance, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    double sum = 0.0;
    if (!balance->doubt_known || balance->n_budget == 0)
        return;
    ww__text_add(&numbers, "sqrt(");
    for (size_t i = 0; i < balance->n_budget; i++) {
        ww__text_add_format(&numbers, "%s%.2f^2", i > 0 ? " + " : "", balance->budget[i].cc);
        sum += balance->budget[i].cc * balance->budget[i].cc;
    }
    ww__text_add_format(&numbers, ") = %.2f CC", sqrt(sum));
    ww__working_step(report, "doubt of the pack",
                     "root of the sum of the squares of what it is made of, 95 % half-widths",
                     &numbers, "propagation of errors to first order (textbook)");
}

void ww__working_balance(const ww_balance *balance, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    ww__working_begin(report);
    if (balance->n_tones > 0 && balance->solved_for < balance->n_tones)
        add_changes(balance, report);
    if (balance->kind == WW_BALANCE_CARRIED) {
        ww__text_add_format(&numbers, "time x %.3f x 2^%.3f", balance->carried.factor,
                            balance->carried.stops);
        ww__working_step(report, "offset", "one change of pack and time carries every recipe",
                         &numbers, ww__working_practice);
    } else {
        add_response(balance, report);
    }
    add_solution(balance, report);
    if (balance->crossover.known) {
        ww__text_add_format(&numbers, "%.1f CC at most, +- %.1f", balance->crossover.worst_cc,
                            balance->crossover.doubt_cc);
        ww__working_step(
            report, "crossover",
            "100 x what a colour lacks at one grey less what it lacks at the middle one", &numbers,
            "CC as 0.01 of log exposure: definition");
    }
    add_doubt(balance, report);
}
