/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "plan/print_parts.h"
#include "plan/strip_parts.h"
#include <math.h>

enum { STEPS_LEAST = 3, TOTALS_SHOWN = 8, GRIDS = 4 };

/* Whether density rises along the rows (`back`: from the last one up), nowhere falling beyond
 * error. */
static bool rises(const ww_strip *strip, bool back) {
    const ww_strip_step *first = NULL, *before = NULL;
    for (size_t i = 0; i < strip->n_steps; i++) {
        const ww_strip_step *step = &strip->step[back ? strip->n_steps - 1 - i : i];
        if (step->state != WW_CELL_VALUE)
            continue;
        if (before && ww__strip_order_darker(step, before))
            return false;
        first = first ? first : step;
        before = step;
    }
    return before && ww__strip_order_darker(first, before);
}

static double time_at(const ww_strip *strip, bool back, size_t i) {
    return strip->step[back ? strip->n_steps - 1 - i : i].time_s;
}

/* Decimals that the times are written with: they are rounded to as many. */
static int decimals_of(const ww_strip *strip) {
    int decimals = 0;
    for (size_t i = 0; i < strip->n_steps; i++)
        while (decimals + 1 < GRIDS &&
               fabs(remainder(strip->step[i].time_s, pow(10.0, -decimals))) > 1e-6)
            decimals++;
    return decimals;
}

/* Sums that grow by the same factor, as far as they are written, or by the same seconds. */
static bool sums_are_even(const ww_strip *strip, bool back, double grid_s) {
    const size_t n = strip->n_steps;
    const double least = time_at(strip, back, 0);
    double total = 0.0, sum = least, factor;
    bool equal = true, even = true;
    for (size_t i = 0; i < n; i++)
        total += time_at(strip, back, i);
    factor = pow(total / least, 1.0 / (double)(n - 1));
    for (size_t i = 1; i < n; i++) {
        const double want = least * pow(factor, (double)i);
        sum += time_at(strip, back, i);
        even &= fabs(sum - want) <= grid_s + 0.005 * want;
        equal &= fabs(time_at(strip, back, i) - time_at(strip, back, 1)) <= 1e-6;
    }
    return even || equal;
}

/* Two pieces of one time and one density may be two readings of one exposure. */
static bool may_be_repeats(const ww_strip *strip, bool back) {
    const ww_strip_step *first = &strip->step[back ? strip->n_steps - 1 : 0];
    const ww_strip_step *next = &strip->step[back ? strip->n_steps - 2 : 1];
    return next->time_s == first->time_s && next->state == WW_CELL_VALUE &&
           first->state == WW_CELL_VALUE && !ww__strip_order_darker(first, next);
}

static ww_status note_repeats(ww_strip *strip, bool back, ww_error *err) {
    const ww_strip_step *first = &strip->step[back ? strip->n_steps - 1 : 0];
    const ww_strip_step *next = &strip->step[back ? strip->n_steps - 2 : 1];
    return ww__print_say(&strip->notes, err,
                         "Steps '%s' and '%s' both have %.4g s and are taken as readings of one "
                         "exposure. Where the times are what each piece was given in addition, "
                         "give their sums.",
                         ww__print_show(first->step).text, ww__print_show(next->step).text,
                         first->time_s);
}

static ww_status refuse(const ww_strip *strip, bool back, const char *file, ww_error *err) {
    const ww_strip_step *first = &strip->step[back ? strip->n_steps - 1 : 0];
    const ww_strip_step *next = &strip->step[back ? strip->n_steps - 2 : 1];
    const int decimals = decimals_of(strip);
    ww__text totals = WW__TEXT_INIT;
    double sum = 0.0;
    ww_status status;
    for (size_t i = 0; i < strip->n_steps && i < TOTALS_SHOWN; i++) {
        sum += time_at(strip, back, i);
        ww__text_add(&totals, i > 0 ? ", " : "");
        ww__text_add_number(&totals, sum, decimals);
    }
    ww__text_add(&totals, strip->n_steps > TOTALS_SHOWN ? ", ..." : "");
    if (totals.failed)
        status = ww_error_set(err, WW_EMEMORY, "no memory for a message");
    else
        status = ww_error_set_at(
            err, WW_EDOMAIN, file, 0,
            "the times are what each step was given in addition, not all that it got: step '%s' "
            "has %s step '%s' and the strip darkens, and their sums are an even series; "
            "give the sums, %s s, or check the time of step '%s'",
            ww__print_show(next->step).text,
            next->time_s < first->time_s ? "less than" : "no more than",
            ww__print_show(first->step).text, ww__text_string(&totals),
            ww__print_show(first->step).text);
    ww__text_release(&totals);
    return status;
}

ww_status ww__strip_added_check(ww_strip *strip, const char *file, ww_error *err) {
    const bool back = rises(strip, true);
    if (strip->n_steps < STEPS_LEAST || (!back && !rises(strip, false)) ||
        time_at(strip, back, 1) > time_at(strip, back, 0) ||
        !sums_are_even(strip, back, pow(10.0, -decimals_of(strip))))
        return WW_OK;
    return may_be_repeats(strip, back) ? note_repeats(strip, back, err)
                                       : refuse(strip, back, file, err);
}
