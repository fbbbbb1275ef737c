/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "plan/strip_parts.h"
#include <math.h>

/* The trade's ladder: to find, to settle, to finish. */
static const double ladder[] = {1.0, 1.0 / 2.0, 1.0 / 3.0, 1.0 / 6.0, 1.0 / 12.0};
enum { RUNGS = sizeof ladder / sizeof ladder[0], COUNT_LEAST = 5, COUNT_MOST = 9 };
#define A_LITTLE 1e-6
#define SLOW 0.3 /* [D/log H] a tenth of a paper's slope and less is its shoulder's end */

static double to_stops(double log_t) {
    return log_t / WW__STRIP_LOG_STOP;
}

/* Largest rung that is finer than `gap` by a third or more, and no coarser than what is known
 * already calls for; the finest where none is. */
static double finer(double gap, double half) {
    for (size_t i = 0; i < RUNGS; i++)
        if (ladder[i] <= fmin(0.67 * gap, 1.5 * half) + A_LITTLE)
            return ladder[i];
    return ladder[RUNGS - 1];
}

/* Finest rung from 1/3 up that spans `stops` in six steps. */
static double spanning(double stops) {
    for (size_t i = 3; i-- > 1;)
        if ((WW__STRIP_COUNT - 1) * ladder[i] >= stops)
            return ladder[i];
    return ladder[0];
}

/* Says so where no next strip can be set. */
static ww_status told(ww_strip *strip, ww_status status, const ww_error *why, ww_error *err) {
    if (status == WW_EDOMAIN)
        return ww__print_say(&strip->notes, err,
                             "No next strip can be set: %s. With another stop of the lens, all "
                             "times move by as many stops.",
                             why->msg);
    return status == WW_OK ? WW_OK : ww_error_set(err, status, "%s", why->msg);
}

/* --- a strip that does not bracket the aim ---------------------------------------------------- */

/* Stops beyond the strip's end by its last slope. A guess: it chooses the next step, and no time is
 * made of it. */
static double guess(const ww__strip_line *line, bool dark, double density) {
    const ww__strip_point *end = &line->point[dark ? 0 : line->n - 1];
    double slope;
    if (line->n < 2)
        return 3.0;
    slope = dark ? (end[1].density - end->density) / (end[1].log_t - end->log_t)
                 : (end->density - end[-1].density) / (end->log_t - end[-1].log_t);
    return slope > 0.0 ? to_stops(fabs(density - end->density) / slope) : HUGE_VAL;
}

/* From the end of this strip on, so that the two overlap by a piece; shorter where the timer or an
 * hour ends it. */
ww_status ww__strip_next_beyond(ww_strip *strip, double end_s, bool dark, double step,
                                ww_error *err) {
    ww_error why = WW_ERROR_INIT;
    ww_status status = WW_EDOMAIN;
    for (size_t count = WW__STRIP_COUNT; count >= WW_STRIP_COUNT_LEAST && status == WW_EDOMAIN;
         count--) {
        const double half = exp2(0.5 * (double)(count - 1) * step);
        status = ww__strip_series_make(dark ? end_s / half : end_s * half, step, count,
                                       strip->timer_step_s, &strip->series, &why);
    }
    return told(strip, status, &why, err);
}

/* A step beyond the instrument is darker than what it reads, and may be darker than the aim. */
static ww_status note_over(ww_strip *strip, double end_s, ww_error *err) {
    for (size_t i = 0; i < strip->n_steps; i++)
        if (strip->step[i].state == WW_CELL_OVER && strip->step[i].time_s > end_s)
            return ww__print_say(&strip->notes, err,
                                 "Step '%s' (%.4g s) is beyond the instrument: the aim may lie "
                                 "before it, where these readings do not tell.",
                                 ww__print_show(strip->step[i].step).text, strip->step[i].time_s);
    return WW_OK;
}

static ww_status beyond(ww_strip *strip, const ww__strip_line *line, double density,
                        ww_error *err) {
    const bool dark = strip->place == WW_STRIP_DARK;
    const ww__strip_point *end = &line->point[dark ? 0 : line->n - 1];
    ww_status status = ww__print_say(
        &strip->notes, err,
        "The strip does not reach the aim: its %s step, %.4g s, reads %.2f. The next strip begins "
        "there and goes on to %s light.",
        dark ? "lightest" : "darkest", pow(10.0, end->log_t), end->density, dark ? "less" : "more");
    if (status == WW_OK && !dark && line->n > 1 && end->density >= WW__STRIP_BLACK_LEAST &&
        end->density - end[-1].density < SLOW * (end->log_t - end[-1].log_t))
        status = ww_notes_add(&strip->notes, err,
                              "Density rises slowly at that end: the paper may have no black so "
                              "deep.");
    if (status == WW_OK && !dark)
        status = note_over(strip, pow(10.0, end->log_t), err);
    if (status == WW_OK)
        status = ww__strip_next_beyond(strip, pow(10.0, end->log_t), dark,
                                       spanning(guess(line, dark, density)), err);
    return status;
}

/* --- a strip that does ------------------------------------------------------------------------ */

/* The middle of times that will all do; of a proof the least is wanted. */
static double centre_of(const ww_strip *strip) {
    return strip->plateau && strip->kind == WW_STRIP_READ
               ? sqrt(strip->plateau_from_s * strip->plateau_to_s)
               : strip->best.value;
}

/* A finer one around the time; enough pieces to hold the interval, the aim away from the ends. */
static ww_status around(ww_strip *strip, double step, ww_error *err) {
    const double wide = to_stops(log10(strip->best.high / strip->best.low));
    ww_error why = WW_ERROR_INIT;
    ww_status status = WW_EDOMAIN;
    size_t count = COUNT_LEAST;
    while (count < COUNT_MOST && (double)(count - 1) * step < wide + 2.0 * step - A_LITTLE)
        count += 2;
    for (; count >= WW_STRIP_COUNT_LEAST && status == WW_EDOMAIN; count -= 2)
        status = ww__strip_series_make(centre_of(strip), step, count, strip->timer_step_s,
                                       &strip->series, &why);
    return told(strip, status, &why, err);
}

/* One piece that is the aim within error: what lies either side of it tells the rest. */
static ww_status around_one(ww_strip *strip, double time_s, ww_error *err) {
    ww_error why = WW_ERROR_INIT;
    const ww_status status = ww__strip_series_make(time_s, ladder[2], COUNT_LEAST,
                                                   strip->timer_step_s, &strip->series, &why);
    return told(strip, status, &why, err);
}

static ww_status inside(ww_strip *strip, const ww__strip_line *line, const ww__strip_found *found,
                        ww_error *err) {
    const double half = 0.5 * to_stops(log10(strip->best.high / strip->best.low));
    const bool between = found->crossed && line->n > 1;
    const double gap =
        between ? to_stops(line->point[found->before + 1].log_t - line->point[found->before].log_t)
                : 0.0;
    const bool open = strip->low_open || strip->high_open;
    if (strip->enough)
        return ww_notes_add(&strip->notes, err,
                            "No further strip: from there on one black cannot be told from "
                            "another, and the shortest of these times is enough.");
    if (!open && half <= WW__STRIP_SETTLED + A_LITTLE)
        return ww_notes_add(&strip->notes, err,
                            "No further strip: this one settles it to 1/12 stop, and a hand does "
                            "not repeat less.");
    if (!open && (gap <= WW__STRIP_SETTLED + 0.01 || to_stops(found->half) >= 0.5 * half))
        if (gap <= 1.0 / 6.0 + 0.01)
            return ww_notes_add(&strip->notes, err,
                                "No further strip: what is left is the error of the readings. Read "
                                "the steps either side of the aim several times.");
    return around(strip, open ? ladder[2] : finer(gap, half), err);
}

ww_status ww__strip_next_plan(ww_strip *strip, const ww__strip_line *line,
                              const ww__strip_found *found, double density, ww_error *err) {
    switch (strip->place) {
    case WW_STRIP_INSIDE:
        return line->n > 1 ? inside(strip, line, found, err)
                           : around_one(strip, pow(10.0, line->point[0].log_t), err);
    case WW_STRIP_LIGHT:
    case WW_STRIP_DARK:
        return beyond(strip, line, density, err);
    case WW_STRIP_NO_REACH:
        return ww__print_say(&strip->notes, err,
                             "The darkest steps are alike at %.2f: that is this paper's black, and "
                             "no time prints darker. Aim for less.",
                             line->point[line->n - 1].density);
    case WW_STRIP_TURNED: /* told where it was found */
        return WW_OK;
    case WW_STRIP_DISORDER:
        break;
    }
    return ww_notes_add(&strip->notes, err,
                        "The aim lies beside steps that are out of order. Nothing is taken from "
                        "them: read them again before another strip is made.");
}
