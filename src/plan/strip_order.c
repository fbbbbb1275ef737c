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

/*
 * Density that falls to the strip's very end, in two steps or more, is more light than the paper
 * takes, or the strip numbered from the wrong end; the far side of the darkest step has no say.
 */
static ww_status cut_tail(ww_strip *strip, const size_t order[], size_t n, ww_error *err) {
    size_t top = 0, after;
    for (size_t i = 1; i < n; i++)
        if (strip->step[order[i]].density >= strip->step[order[top]].density)
            top = i;
    for (after = top + 1; after < n; after++)
        if (!falls(&strip->step[order[after - 1]], &strip->step[order[after]]))
            break;
    if (after < n || n - top < 3)
        return WW_OK;
    for (size_t i = top + 1; i < n; i++)
        strip->step[order[i]].out_of_order = true;
    return ww__print_say(&strip->notes, err,
                         "After step '%s' (%.4g s) density falls to the end of the strip: more "
                         "light than this paper takes, or times given from the wrong end. What "
                         "comes after it was left out; check the times.",
                         ww__print_show(strip->step[order[top]].step).text,
                         strip->step[order[top]].time_s);
}

ww_status ww__strip_order_check(ww_strip *strip, const size_t order[], size_t n, ww_error *err) {
    ww_status status = cut_tail(strip, order, n, err);
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
