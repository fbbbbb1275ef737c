/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/develop_words.h"
#include "out/words.h"
#include <math.h>

static const double step_s = 5.0; /* what a clock on the wall is read to */

const char *ww__words_develop_measure(ww_develop_measure measure) {
    static const char *const words[] = {"contrast index", "average gradient", "gamma",
                                        "average gradient"};
    return words[measure];
}

static long seconds_of(double minutes, int way) {
    const double steps = 60.0 * minutes / step_s;
    const double whole = way < 0   ? floor(steps + 1e-9)
                         : way > 0 ? ceil(steps - 1e-9)
                                   : round(steps);
    return lround(whole * step_s);
}

void ww__words_develop_time(ww__text *text, double minutes, int way) {
    const long seconds = seconds_of(minutes, way);
    if (seconds >= 60)
        ww__text_add_format(text, "%ld min", seconds / 60);
    if (seconds < 60 || seconds % 60 > 0)
        ww__text_add_format(text, "%s%ld s", seconds >= 60 ? " " : "", seconds % 60);
}

void ww__words_develop_clock(ww__text *text, double minutes, int way) {
    const long seconds = seconds_of(minutes, way);
    ww__text_add_format(text, "%ld:%02ld", seconds / 60, seconds % 60);
}

void ww__words_develop_interval(ww__text *text, ww_quantity time) {
    ww__words_develop_time(text, time.value, 0);
    ww__text_add(text, " (");
    ww__words_develop_time(text, time.low, -1);
    ww__text_add(text, " to ");
    ww__words_develop_time(text, time.high, 1);
    ww__text_add(text, ")");
}

static void add_temperature(ww__text *text, const ww_development *d) {
    if (d->temperature_c.set)
        ww__text_add_format(text, " at %g C", d->temperature_c.value);
}

/* "a contrast index of 0.56"; "1.20 D of a subject of 2.10 (average gradient 0.57)" */
static void add_aim(ww__text *text, const ww_development *d) {
    if (d->density_range.set) {
        ww__text_add_number(text, d->density_range.value, 2);
        ww__text_add(text, " D of a subject range of ");
        ww__text_add_number(text, d->subject_range.value, 2);
        ww__text_add(text, " (average gradient ");
        ww__text_add_number(text, d->aim, 2);
        ww__text_add(text, ")");
        return;
    }
    ww__text_add_format(text, "a %s of ", ww__words_develop_measure(d->measure));
    ww__text_add_number(text, d->aim, ww__text_decimals(d->aim));
}

/* --- no time ---------------------------------------------------------------------------------- */

static const ww_develop_row *end_of(const ww_development *d, bool longest) {
    const ww_develop_row *end = NULL;
    for (size_t i = 0; i < d->n; i++)
        if (!d->row[i].other_temperature && ww_quantity_present(d->row[i].contrast[d->measure]) &&
            (!end || longest))
            end = &d->row[i];
    return end;
}

static void add_end(ww__text *text, const ww_development *d, bool longest) {
    const ww_develop_row *end = end_of(d, longest);
    if (!end)
        return;
    ww__text_add(text, longest ? "the longest time, " : "the shortest time, ");
    ww__words_develop_time(text, end->time_min, 0);
    ww__text_add(text, ", gives ");
    ww__text_add_number(text, end->contrast[d->measure].value, 2);
}

static void add_next(ww__text *text, const ww_development *d) {
    if (!d->next_min.set)
        return;
    ww__text_add(text, ". Next, develop a strip for ");
    ww__words_develop_time(text, round(2.0 * d->next_min.value) / 2.0, 0);
}

static void add_levels_off(ww__text *text, const ww_development *d) {
    const ww_quantity level = d->law[d->measure].gamma_infinity;
    ww__text_add(text, ": contrast levels off ");
    if (!ww_quantity_present(level)) {
        ww__text_add(text, "below it, as far as these times tell");
        add_next(text, d);
        return;
    }
    ww__text_add(text, "at ");
    ww__words_interval(text, level, 2);
    if (level.high < d->aim)
        ww__text_add(text, " in this developer, at this temperature; what is to print harder needs "
                           "a harder paper, or a more active developer");
    else
        add_next(text, d);
}

static void add_no_time(ww__text *text, const ww_development *d) {
    const bool elsewhere = d->other_temperature && d->answer.place == WW_TIME_GAMMA_INSIDE;
    ww__text_add(text, "No time");
    if (d->other_temperature)
        add_temperature(text, d);
    ww__text_add(text, " for ");
    add_aim(text, d);
    if (elsewhere) {
        ww__text_add_format(text, ": these curves tell %g C, where it is ",
                            d->by_temperature.reference_c);
        ww__words_develop_time(text, d->answer.time.value, 0);
        ww__text_add_format(text, ". Next, develop a strip at %g C", d->temperature_c.value);
        return;
    }
    switch (d->answer.place) {
    case WW_TIME_GAMMA_INSIDE:
        break;
    case WW_TIME_GAMMA_LONGER:
    case WW_TIME_GAMMA_SHORTER:
        ww__text_add(text, ": ");
        add_end(text, d, d->answer.place == WW_TIME_GAMMA_LONGER);
        ww__text_add(text, ", and it lies more than a quarter past that");
        add_next(text, d);
        break;
    case WW_TIME_GAMMA_NEVER:
        add_levels_off(text, d);
        break;
    case WW_TIME_GAMMA_LEVEL:
        ww__text_add(text, ": contrast does not grow with time in these curves");
        add_next(text, d);
        break;
    }
}

/* --- the act ---------------------------------------------------------------------------------- */

/* "Expose at index 80 (76, 70 to 83)" */
static void add_index(ww__text *text, const ww_development *d) {
    const ww_quantity e = d->exposure_index;
    int arithmetic = 0, degrees = 0;
    const bool on_scale = ww_speed_round(e.value, &arithmetic, &degrees, NULL) == WW_OK;
    const int decimals = e.value < 10.0 ? 1 : 0;
    ww__text_add(text, "Expose at index ");
    if (on_scale)
        ww__text_add_format(text, "%d (", arithmetic);
    ww__text_add_number(text, e.value, decimals);
    ww__text_add(text, on_scale ? ", " : " (");
    ww__words_range(text, e.low, e.high, decimals);
    ww__text_add(text, ")");
}

static void add_time(ww__text *text, const ww_development *d) {
    if (!ww_quantity_present(d->time)) {
        add_no_time(text, d);
        return;
    }
    ww__text_add(text, "Develop ");
    ww__words_develop_interval(text, d->time);
    add_temperature(text, d);
    ww__text_add(text, " for ");
    add_aim(text, d);
    if (d->time.how == WW_EXTRAPOLATED)
        ww__text_add(text, ", extrapolated");
    if (d->repeats)
        ww__text_add(text, ", if one development comes out like the next");
}

void ww__words_develop_act(ww__text *text, const ww_development *d) {
    if (d->aimed)
        add_time(text, d);
    if (d->aimed && ww_quantity_present(d->exposure_index))
        ww__text_add(text, ". ");
    if (ww_quantity_present(d->exposure_index)) {
        add_index(text, d);
        if (d->index_time_min.set && !(d->aimed && ww_quantity_present(d->time) &&
                                       d->index_time_min.value == d->time.value)) {
            ww__text_add(text, " when developed ");
            ww__words_develop_time(text, d->index_time_min.value, 0);
        }
    } else if (!d->aimed) {
        ww__text_add(text, "No exposure index: no series in stops from a metered exposure "
                           "reaches net 0.10");
    }
    ww__text_add(text, ".");
}

/* --- why -------------------------------------------------------------------------------------- */

static void add_growth(ww__text *text, const ww_development *d) {
    const ww_develop_row *first = end_of(d, false), *last = end_of(d, true);
    if (!first || !last)
        return;
    ww__text_add_format(text, "%s is ", ww__words_develop_measure(d->measure));
    ww__text_add_number(text, first->contrast[d->measure].value, 2);
    ww__text_add(text, " at ");
    ww__words_develop_time(text, first->time_min, 0);
    ww__text_add(text, " and ");
    ww__text_add_number(text, last->contrast[d->measure].value, 2);
    ww__text_add(text, " at ");
    ww__words_develop_time(text, last->time_min, 0);
}

static void add_speed(ww__text *text, const ww_development *d) {
    const ww_quantity gain = d->speed_stops;
    const ww_develop_row *last = end_of(d, true);
    if (!ww_quantity_present(gain) || !last)
        return;
    if (gain.low < 0.0 && gain.high > 0.0) {
        ww__text_add(text, "; the film is as fast as after ");
        ww__words_develop_time(text, last->time_min, 0);
        ww__text_add(text, ", give or take ");
        ww__text_add_number(text, fmax(-gain.low, gain.high), 1);
        ww__text_add(text, " stop");
        return;
    }
    ww__text_add(text, "; the film is ");
    ww__text_add_number(text, fabs(gain.value), 1);
    ww__text_add(text, " (");
    ww__words_range(text, fabs(gain.low), fabs(gain.high), 1);
    ww__text_add_format(text, ") stop %s than after ", gain.value < 0.0 ? "slower" : "faster");
    ww__words_develop_time(text, last->time_min, 0);
}

void ww__words_develop_why(ww__text *text, const ww_development *d) {
    const ww_quantity base = d->base_fog;
    if (!d->aimed) {
        if (ww_quantity_present(d->exposure_index))
            ww__text_add_format(text,
                                "why: metered at index %g; net 0.10 is to lie %.2f stops under "
                                "the metered exposure.",
                                d->metered_index.value, d->below_stops);
        return;
    }
    ww__text_add(text, "why: ");
    add_growth(text, d);
    if (ww_quantity_present(d->time)) {
        add_speed(text, d);
        if (ww_quantity_present(base)) {
            ww__text_add(text, "; base+fog ");
            ww__words_interval(text, base, 2);
        }
    }
    ww__text_add(text, ".");
}
