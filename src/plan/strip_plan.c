/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "plan/strip_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/exposure.h>

#define LEAST_ADDITION 1.0     /* [s] of light that a lamp and a hand repeat; common practice */
#define OFF_SHOWN (1.0 / 24.0) /* [stops] half the finest step that a hand sets */

enum { LINE_SIZE = 300 };

static ww_status check(double value, double low, double high, const char *what, const char *unit,
                       ww_error *err) {
    char line[LINE_SIZE];
    if (value >= low && value <= high)
        return WW_OK;
    return ww_error_set(err, WW_EDOMAIN, "%s",
                        ww__print_format(line, sizeof line, "%s can't be %g %s; give %.3g to %g %s",
                                         what, value, unit, low, high, unit));
}

ww_status ww__strip_timer_check(double timer_step_s, ww_error *err) {
    return check(timer_step_s, WW_STRIP_TIMER_LEAST, WW_STRIP_TIMER_MOST, "the timer's step", "s",
                 err);
}

static ww_status check_request(double centre_s, double step_stops, size_t count,
                               double timer_step_s, ww_error *err) {
    ww_status status = check(centre_s, WW_STRIP_CENTRE_LEAST, WW_STRIP_CENTRE_MOST,
                             "the centre of a strip", "s", err);
    /* A step written as 0.0416667 is the twenty-fourth part of a stop, too. */
    if (status == WW_OK)
        status = check(step_stops, WW_STRIP_STEP_LEAST * (1.0 - 1e-3), WW_STRIP_STEP_MOST,
                       "the step of a strip", "stops", err);
    if (status == WW_OK)
        status = check((double)count, WW_STRIP_COUNT_LEAST, WW_STRIP_COUNT_MOST,
                       "a strip's number of pieces", "pieces", err);
    return status == WW_OK ? ww__strip_timer_check(timer_step_s, err) : status;
}

/* Ends that no timer gives, or nobody waits for. */
static ww_status check_ends(double shortest_s, double longest_s, double timer_step_s,
                            ww_error *err) {
    char line[LINE_SIZE];
    if (!(longest_s <= WW_STRIP_TIME_MOST))
        return ww_error_set(
            err, WW_EDOMAIN, "%s",
            ww__print_format(line, sizeof line,
                             "the longest piece would get %.4g s, more than an hour; take fewer "
                             "pieces, a smaller step or a shorter centre",
                             longest_s));
    if (shortest_s < timer_step_s * (1.0 - 1e-9))
        return ww_error_set(
            err, WW_EDOMAIN, "%s",
            ww__print_format(line, sizeof line,
                             "the shortest piece would get %.3g s, and the timer goes by %.3g s; "
                             "take fewer pieces, a smaller step, or stop the lens down for a "
                             "longer centre",
                             shortest_s, timer_step_s));
    return WW_OK;
}

static ww_status fill(double centre_s, double step_stops, size_t count, double timer_step_s,
                      ww_strip_piece piece[], ww_error *err) {
    double before = 0.0;
    for (size_t i = 0; i < count; i++) {
        ww_strip_piece *p = &piece[i];
        char line[LINE_SIZE];
        p->time_s = centre_s * exp2(step_stops * ((double)i - 0.5 * (double)(count - 1)));
        ww_status status = ww_exposure_round(p->time_s, timer_step_s, &p->set_s, err);
        if (status == WW_OK)
            status = ww_exposure_stops(p->time_s, p->set_s, &p->off_stops, err);
        if (status != WW_OK)
            return status;
        if (!(p->set_s - before > 0.5 * timer_step_s))
            return ww_error_set(
                err, WW_EDOMAIN, "%s",
                ww__print_format(line, sizeof line,
                                 "pieces %zu and %zu would get the same seconds on a timer that "
                                 "goes by %.3g s; take a larger step, or stop the lens down for a "
                                 "longer centre",
                                 i, i + 1, timer_step_s));
        status = ww_exposure_round(p->set_s - before, timer_step_s, &p->add_s, err);
        if (status != WW_OK)
            return status;
        before = p->set_s;
    }
    return WW_OK;
}

ww_status ww__strip_series_make(double centre_s, double step_stops, size_t count,
                                double timer_step_s, ww_strip_series *series, ww_error *err) {
    ww_strip_piece *piece;
    ww_status status = check_request(centre_s, step_stops, count, timer_step_s, err);
    if (status == WW_OK) {
        const double half = exp2(0.5 * step_stops * (double)(count - 1));
        status = check_ends(centre_s / half, centre_s * half, timer_step_s, err);
    }
    if (status != WW_OK)
        return status;
    piece = calloc(count, sizeof *piece);
    if (!piece)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu pieces", count);
    status = fill(centre_s, step_stops, count, timer_step_s, piece, err);
    if (status != WW_OK) {
        free(piece);
        return status;
    }
    free(series->piece);
    *series = (ww_strip_series){centre_s, step_stops, piece, count};
    return WW_OK;
}

/* --- what a hand should know ------------------------------------------------------------------ */

static ww_status note_rounding(const ww_strip_series *series, ww_notes *notes, ww_error *err) {
    double worst = 0.0;
    size_t n = 0;
    for (size_t i = 0; i < series->n; i++) {
        const double off = fabs(series->piece[i].off_stops);
        worst = fmax(worst, off);
        n += off > OFF_SHOWN;
    }
    if (n == 0)
        return WW_OK;
    return ww__print_say(notes, err,
                         "Rounded to the timer, %zu of %zu pieces stand%s off by more than 1/24 "
                         "stop, the worst by %.2f stop: write down the seconds that were really "
                         "given, and read the strip by those.",
                         n, series->n, n == 1 ? "s" : "", worst);
}

static ww_status note_short(const ww_strip_series *series, ww_notes *notes, ww_error *err) {
    double least = series->piece[0].add_s;
    size_t at = 0;
    for (size_t i = 1; i < series->n; i++)
        if (series->piece[i].add_s < least) {
            least = series->piece[i].add_s;
            at = i;
        }
    if (least >= LEAST_ADDITION * (1.0 - 1e-9))
        return WW_OK;
    return ww__print_say(notes, err,
                         "Piece %zu adds only %.3g s. Under a second, the lamp coming on and going "
                         "off is a good part of the exposure, and nobody repeats it: stop the lens "
                         "down and make all of it longer, take a larger step, or expose each piece "
                         "by itself.",
                         at + 1, least);
}

static ww_status note_practice(const ww_strip_series *series, ww_notes *notes, ww_error *err) {
    ww_status status = ww__print_say(
        notes, err,
        "Cover, don't uncover: so the whole strip gets its first light as the print will, and what "
        "was covered first got least. Each burst of light has the lamp warm up anew, and the last "
        "piece gets %zu of them: where that matters, give each piece all its seconds by itself.",
        series->n);
    if (status == WW_OK)
        status = ww_notes_add(notes, err,
                              "Lay the strip so that the tone that matters runs along all of it, "
                              "light clouds for a light aim: a strip across another tone settles "
                              "another tone.");
    return status;
}

static ww_status add_notes(ww_strip *strip, ww_error *err) {
    ww_status status = note_short(&strip->series, &strip->notes, err);
    if (status == WW_OK)
        status = note_rounding(&strip->series, &strip->notes, err);
    if (status == WW_OK)
        status = note_practice(&strip->series, &strip->notes, err);
    return status;
}

ww_status ww_strip_plan(double centre_s, double step_stops, size_t count, double timer_step_s,
                        ww_strip *strip, ww_error *err) {
    ww_strip made = {.kind = WW_STRIP_PLAN, .holds = true, .timer_step_s = timer_step_s};
    ww_status status;
    assert(strip);
    status = ww__strip_series_make(centre_s, step_stops, count, timer_step_s, &made.series, err);
    if (status == WW_OK)
        status = add_notes(&made, err);
    if (status != WW_OK) {
        ww_strip_release(&made);
        return status;
    }
    *strip = made;
    return WW_OK;
}
