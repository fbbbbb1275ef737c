/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/strip_words.h"
#include "out/words.h"
#include <math.h>

/* Shorter pieces a hand's second spoils, longer ones the lamp's heat and patience; common
 * practice. */
static const double shortest_s = 2.0, longest_s = 120.0;

/* Stops of the lens, opened is less, that bring all pieces where a hand and patience have them. */
static double find_lens(const ww_strip_series *series) {
    const double first = series->piece[0].time_s, last = series->piece[series->n - 1].time_s;
    const double opened = ceil(log2(last / longest_s) - 1e-9);
    const double stopped = ceil(log2(shortest_s / first) - 1e-9);
    return opened > 0.0 ? -opened : fmax(0.0, stopped);
}

/* The timer's time of a piece, with the lens `stops` from where the series has it. */
static double set_of(const ww_strip *strip, size_t piece, double stops) {
    const ww_strip_piece *at = &strip->series.piece[piece];
    const double step_s = ww__words_strip_timer(strip);
    return stops == 0.0 ? at->set_s : step_s * round(at->time_s * exp2(stops) / step_s);
}

/* "give the whole strip 8.0 s, then cover piece by piece and add 2.1, 2.6 and 3.3 s" */
static void add_hand(ww__text *text, const ww_strip *strip, double stops) {
    const size_t n = strip->series.n;
    ww__text_add(text, "give the whole strip ");
    ww__words_strip_time(text, strip, set_of(strip, 0, stops));
    ww__text_add(text, ", then cover piece by piece and add ");
    for (size_t i = 1; i < n; i++) {
        ww__text_add(text, i == 1 ? "" : i + 1 < n ? ", " : " and ");
        ww__words_strip_bare(text, strip, set_of(strip, i, stops) - set_of(strip, i - 1, stops));
    }
    ww__text_add(text, " s");
}

void ww__words_strip_series(ww__text *text, const ww_strip *strip) {
    const ww_strip_series *series = &strip->series;
    ww__text_add_format(text, "%zu pieces in ", series->n);
    ww__words_stops(text, series->step_stops, false);
    ww__text_add(text, " around ");
    ww__words_strip_time(text, strip, series->centre_s);
    ww__text_add(text, ": ");
    add_hand(text, strip, 0.0);
    ww__text_add(text, ".");
}

static void add_lens(ww__text *text, const char *with, double stops) {
    ww__text_add_format(text, "%s the lens %s ", with, stops < 0.0 ? "opened" : "stopped down");
    ww__words_stops(text, fabs(stops), false);
}

void ww__words_strip_lens(ww__text *text, const ww_strip *strip) {
    const double stops = strip->series.n > 0 ? find_lens(&strip->series) : 0.0;
    if (stops == 0.0)
        return;
    add_lens(text, "With", stops);
    ww__text_add(text, ": ");
    add_hand(text, strip, stops);
    ww__text_add(text, ".");
}

/* "25.0 to 95.0 s", of the first piece and the last */
static void add_span(ww__text *text, const ww_strip *strip, double stops) {
    ww__words_strip_bare(text, strip, set_of(strip, 0, stops));
    ww__text_add(text, " to ");
    ww__words_strip_time(text, strip, set_of(strip, strip->series.n - 1, stops));
}

void ww__words_strip_next(ww__text *text, const ww_strip *strip) {
    const ww_strip_series *series = &strip->series;
    if (series->n > 0) {
        const double stops = find_lens(series);
        ww__text_add_format(text, ". Next, a strip of %zu pieces in ", series->n);
        ww__words_stops(text, series->step_stops, false);
        ww__text_add(text, ", ");
        add_span(text, strip, 0.0);
        if (stops != 0.0) {
            add_lens(text, "; with", stops);
            ww__text_add(text, ", ");
            add_span(text, strip, stops);
        }
    }
    ww__text_add(text, ".");
}
