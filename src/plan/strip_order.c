/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "plan/strip_parts.h"
#include <math.h>
#include <stdlib.h>

bool ww__strip_order_darker(const ww_strip_step *lighter, const ww_strip_step *darker) {
    const double rise = darker->density - lighter->density;
    return rise > WW__STRIP_FALL &&
           rise > WW__STRIP_FALL_ERRORS * hypot(lighter->error, darker->error);
}

/* Whether `later`, which got more light, is lighter than `earlier` beyond error. */
static bool falls(const ww_strip_step *earlier, const ww_strip_step *later) {
    return later->time_s > earlier->time_s && ww__strip_order_darker(later, earlier);
}

/* Whether two that got the same light differ beyond error. */
static bool differ(const ww_strip_step *a, const ww_strip_step *b) {
    return a->time_s == b->time_s && (ww__strip_order_darker(a, b) || ww__strip_order_darker(b, a));
}

/* Pairs that a step falls or differs in, among those not flagged. */
static void count_pairs(const ww_strip *strip, const size_t order[], size_t n, size_t count[]) {
    for (size_t i = 0; i < n; i++)
        count[i] = 0;
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++) {
            const ww_strip_step *a = &strip->step[order[i]], *b = &strip->step[order[k]];
            if (!a->out_of_order && !b->out_of_order && (falls(a, b) || differ(a, b))) {
                count[i]++;
                count[k]++;
            }
        }
}

static ww_status flag(ww_strip *strip, size_t at, ww_error *err) {
    ww_strip_step *step = &strip->step[at];
    bool twice = false;
    for (size_t i = 0; i < strip->n_steps; i++)
        twice |= strip->step[i].state == WW_CELL_VALUE && differ(&strip->step[i], step);
    step->out_of_order = true;
    return ww__print_say(&strip->notes, err,
                         "Step '%s' (%.4g s) is out of order: %s. It was left out; read it again, "
                         "and check its time.",
                         ww__print_show(step->step).text, step->time_s,
                         twice ? "another of the same time reads another density"
                               : "more light must not print lighter");
}

/* Whether density falls all the way from the first of these steps to the last: none is darker than
 * one before it, and the fall is more than error without its first step and without its last. */
static bool falls_throughout(const ww_strip *strip, const size_t order[], size_t n) {
    if (n < 3 || !falls(&strip->step[order[0]], &strip->step[order[n - 2]]) ||
        !falls(&strip->step[order[1]], &strip->step[order[n - 1]]))
        return false;
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++)
            if (ww__strip_order_darker(&strip->step[order[i]], &strip->step[order[k]]))
                return false;
    return true;
}

static void leave_out(ww_strip *strip, const size_t order[], size_t from, size_t n) {
    for (size_t i = from; i < n; i++)
        strip->step[order[i]].out_of_order = true;
}

/* One that lightens with time throughout says nothing but that its times are from the other end. */
static ww_status refuse_turned(ww_strip *strip, const size_t order[], size_t n, ww_error *err) {
    const ww_strip_step *first = &strip->step[order[0]], *last = &strip->step[order[n - 1]];
    strip->place = WW_STRIP_TURNED;
    leave_out(strip, order, 0, n);
    return ww__print_say(&strip->notes, err,
                         "More light prints lighter throughout, from step '%s' (%.4g s) to step "
                         "'%s' (%.4g s): the strip is turned round, or its times are. Nothing was "
                         "taken from it; give the times from its other end.",
                         ww__print_show(first->step).text, first->time_s,
                         ww__print_show(last->step).text, last->time_s);
}

/* The first step after which density falls to the strip's end, in two steps or more; n for none.
 * Readings that fall one after another need not each fall by more than their error. */
static size_t find_tail(const ww_strip *strip, const size_t order[], size_t n) {
    size_t top = 0;
    for (size_t i = 1; i < n; i++)
        if (strip->step[order[i]].density >= strip->step[order[top]].density)
            top = i;
    if (n - top < 3 || !falls(&strip->step[order[top]], &strip->step[order[n - 1]]))
        return n;
    for (size_t i = top + 1; i < n; i++)
        if (!(strip->step[order[i - 1]].density - strip->step[order[i]].density > WW__STRIP_FALL))
            return n;
    return top + 1;
}

/* Density that falls to the strip's very end is more light than the paper takes; the far side of
 * the darkest step has no say. */
static ww_status cut_tail(ww_strip *strip, const size_t order[], size_t n, ww_error *err) {
    const size_t tail = find_tail(strip, order, n);
    if (tail == n)
        return WW_OK;
    strip->reversed = true;
    leave_out(strip, order, tail, n);
    return ww__print_say(&strip->notes, err,
                         "After step '%s' (%.4g s) density falls to the end of the strip: reversal "
                         "(solarised, by more light than this paper takes), or the times of those "
                         "pieces are off. What comes after it was left out; check the times.",
                         ww__print_show(strip->step[order[tail - 1]].step).text,
                         strip->step[order[tail - 1]].time_s);
}

ww_status ww__strip_order_check(ww_strip *strip, const size_t order[], size_t n, ww_error *err) {
    const bool turned = falls_throughout(strip, order, n);
    ww_status status =
        turned ? refuse_turned(strip, order, n, err) : cut_tail(strip, order, n, err);
    size_t *count = calloc(n + 1, sizeof *count), most = 1;
    if (!count && status == WW_OK)
        status = ww_error_set(err, WW_EMEMORY, "no memory for %zu steps", n);
    /* The step that is in most pairs is the one that is off; of a pair alone, either may be. */
    while (status == WW_OK && most > 0) {
        count_pairs(strip, order, n, count);
        most = 0;
        for (size_t i = 0; i < n; i++)
            most = count[i] > most ? count[i] : most;
        for (size_t i = 0; i < n && most > 0 && status == WW_OK; i++)
            if (count[i] == most)
                status = flag(strip, order[i], err);
    }
    free(count);
    return status;
}
