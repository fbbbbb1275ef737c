/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/working.h"
#include <math.h>
#include <wedgework/strip.h>

static void add_series(const ww_strip *strip, ww__report *report) {
    const ww_strip_series *series = &strip->series;
    ww__text numbers = WW__TEXT_INIT;
    if (series->n == 0)
        return;
    ww__text_add_format(&numbers,
                        "%.2f x 2^(%.3f x -%.1f) = %.2f s to %.2f x 2^(%.3f x %.1f) = "
                        "%.2f s",
                        series->centre_s, series->step_stops, 0.5 * (double)(series->n - 1),
                        series->piece[0].time_s, series->centre_s, series->step_stops,
                        0.5 * (double)(series->n - 1), series->piece[series->n - 1].time_s);
    ww__working_step(report, "light of a piece",
                     "t = centre x 2^(step x (i - (count - 1) / 2)), i = 0 ... count - 1", &numbers,
                     ww__working_definition);
    if (series->n < 2)
        return;
    ww__text_add_format(&numbers, "%.2f - %.2f = %.2f s for the second", series->piece[1].time_s,
                        series->piece[0].time_s, series->piece[1].time_s - series->piece[0].time_s);
    ww__working_step(report, "what is added before a piece is covered",
                     "its own light less that of the piece before, on the timer's step", &numbers,
                     ww__working_definition);
}

/* Both steps either side of the aim: the straight line between them, to check the curve by. */
static void add_between(const ww_strip *strip, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    if (strip->lighter.set && strip->darker.set && strip->aim.set) {
        const ww_strip_step *a = &strip->step[(size_t)strip->lighter.value];
        const ww_strip_step *b = &strip->step[(size_t)strip->darker.value];
        const double log_t = log10(a->time_s) + (strip->aim.value - a->density) /
                                                    (b->density - a->density) *
                                                    log10(b->time_s / a->time_s);
        if (b->density > a->density && a->time_s > 0 && b->time_s > 0)
            ww__text_add_format(&numbers,
                                "straight between the two: log t = %.4f + (%.3f - %.3f) / (%.3f - "
                                "%.3f) x %.4f = %.4f, %.2f s; the curve through all gives %.2f s",
                                log10(a->time_s), strip->aim.value, a->density, b->density,
                                a->density, log10(b->time_s / a->time_s), log_t, pow(10, log_t),
                                strip->best.value);
    }
    ww__working_step(
        report, "time that gives the aim",
        "log t = log t1 + (aim - D1) (log t2 - log t1) / (D2 - D1) between the two steps "
        "either side, bent as the steps beside them bend",
        &numbers,
        "common practice; monotone cubic: Fritsch and Butland, SIAM J. Sci. Stat. "
        "Comput. 5 (1984) 300-304");
}

static void add_proof(const ww_strip *strip, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    if (strip->black.set)
        ww__text_add_format(&numbers, "%.2f - %.2f = %.2f D", strip->black.value, WW_STRIP_BLACK,
                            strip->black.value - WW_STRIP_BLACK);
    ww__working_step(report, "standard proof time",
                     "the least t at which clear film prints within 0.05 D of maximum black",
                     &numbers, "common practice of the standard proof");
}

static void add_safelight(const ww_strip *strip, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    ww__text_add_format(&numbers, "these readings could show %.3f D", strip->least_change);
    ww__working_step(report, "a change",
                     "D of a piece - D of the covered piece, where it is 0.02 D or more and beyond "
                     "its error",
                     &numbers, "common practice: paper makers' tests use pre-exposed paper");
}

void ww__working_strip(const ww_strip *strip, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    ww__working_begin(report);
    if (strip->white.set) {
        ww__text_add_format(&numbers, "paper white %.3f D", strip->white.value);
        ww__working_step(report, "density above paper", "D as read - D of paper white", &numbers,
                         ww__working_definition);
    }
    if (strip->kind == WW_STRIP_READ)
        add_between(strip, report);
    else if (strip->kind == WW_STRIP_PROOF)
        add_proof(strip, report);
    else if (strip->kind == WW_STRIP_SAFELIGHT)
        add_safelight(strip, report);
    add_series(strip, report);
}
