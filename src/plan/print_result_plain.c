/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_result_parts.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * What is plain before any cause is put to the readings: all of them at an end of the paper, or two
 * tones the other way round, or all of them.
 */

static const double sure = 3.0;        /* sd of a difference that chance does not give */
static const double told_apart = 0.10; /* [D] tones foretold nearer than that may change places */

/* -1 for paper white, +1 for black: what came out there could be any exposure beyond. */
static int end_of(const ww__result *result, double net) {
    const double dmax = result->candidate->sheet->dmax;
    return (net > dmax - WW__PRINT_MERGED) - (net < WW__PRINT_FIRST_TONE);
}

/* The end that every reading is at, where some were foretold elsewhere; 0 for none. */
static int find_end(const ww__result *result) {
    const int end = end_of(result, result->point[0].came);
    bool foretold = true;
    for (size_t i = 0; i < result->n; i++) {
        if (end_of(result, result->point[i].came) != end)
            return 0;
        foretold = foretold && end_of(result, result->point[i].foretold) == end;
    }
    return foretold ? 0 : end;
}

/* By how much log H the plan is missed at least: the tone foretold farthest from that end. */
static double least_miss(const ww__result *result, int end) {
    const ww__print_sheet *sheet = result->candidate->sheet;
    double at = end < 0 ? sheet->low : sheet->high, most = 0.0;
    (void)ww__print_papers_log_h(
        sheet, end < 0 ? WW__PRINT_FIRST_TONE : sheet->dmax - WW__PRINT_MERGED, &at);
    for (size_t i = 0; i < result->n; i++)
        if (isfinite(result->point[i].log_h))
            most = fmax(most, end * (at - result->point[i].log_h));
    return most;
}

/* The tone not read that is last to go to that end; "" where there is none. */
static const char *find_last(const ww__result *result, int end) {
    const ww__print_spot *last = NULL;
    for (size_t i = 0; i < result->negative->n; i++) {
        const ww__print_spot *spot = &result->negative->spot[i];
        bool read = spot->base || !spot->known;
        for (size_t k = 0; k < result->n; k++)
            read = read || result->point[k].spot == spot;
        if (!read && (!last || end * (spot->seen - last->seen) > 0.0))
            last = spot;
    }
    return last ? last->name : "";
}

/* ------------------------------------------------------------------------------- swapped */

static double error_of(const ww__result *result, size_t i) {
    const size_t at = i * result->n + i;
    return sqrt(result->own[at] + result->shared[at]);
}

/* Whether two readings lie the other way round than foretold, beyond their errors. A negative can
 * do that in no light and on no paper. */
static bool is_inverted(const ww__result *result, size_t i, size_t k, double came_i,
                        double came_k) {
    const double foretold = result->point[i].foretold - result->point[k].foretold;
    const double came = came_i - came_k;
    return foretold * came < 0.0 &&
           fabs(came) > sure * hypot(error_of(result, i), error_of(result, k));
}

/* Whether all are in order once two of them have changed places. */
static bool sorts(const ww__result *result, size_t one, size_t other) {
    for (size_t i = 0; i < result->n; i++) {
        for (size_t k = 0; k < i; k++) {
            const size_t from_i = i == one ? other : i == other ? one : i;
            const size_t from_k = k == one ? other : k == other ? one : k;
            if (is_inverted(result, i, k, result->point[from_i].came, result->point[from_k].came))
                return false;
        }
    }
    return true;
}

static bool find_swapped(const ww__result *result, size_t *one, size_t *other) {
    for (size_t i = 0; i < result->n; i++) {
        for (size_t k = 0; k < i; k++) {
            const ww__result_point *a = &result->point[i], *b = &result->point[k];
            if (a->spot == b->spot || fabs(a->foretold - b->foretold) < told_apart ||
                fabs(a->came - b->came) < told_apart ||
                !is_inverted(result, i, k, a->came, b->came) || !sorts(result, i, k))
                continue;
            *one = k;
            *other = i;
            return true;
        }
    }
    return false;
}

/* ------------------------------------------------------------------------------ reversed */

/* The lightest and the darkest foretold, where every two tones that were foretold apart came out
 * the other way round, of three at least; two of them look swapped. */
static bool find_reversed(const ww__result *result, size_t *light, size_t *dark) {
    size_t one = 0, other = 0, between = 0;
    for (size_t i = 0; i < result->n; i++) {
        for (size_t k = 0; k < i; k++) {
            const double foretold = result->point[i].foretold - result->point[k].foretold;
            if (fabs(foretold) >= told_apart &&
                foretold * (result->point[i].came - result->point[k].came) >= 0.0)
                return false;
        }
        if (result->point[i].foretold < result->point[one].foretold)
            one = i;
        if (result->point[i].foretold > result->point[other].foretold)
            other = i;
    }
    for (size_t i = 0; i < result->n; i++)
        between += result->point[i].foretold - result->point[one].foretold >= told_apart &&
                   result->point[other].foretold - result->point[i].foretold >= told_apart;
    *light = one;
    *dark = other;
    return between > 0 &&
           is_inverted(result, one, other, result->point[one].came, result->point[other].came);
}

static ww_status refuse_reversed(const ww__result *result, size_t light, size_t dark,
                                 ww_error *err) {
    const ww__result_point *a = &result->point[light], *b = &result->point[dark];
    char text[WW__PRINT_TEXT_SIZE];
    ww__print_format(
        text, sizeof text,
        "the print's tones all lie the other way round than a negative prints them: "
        "'%s' reads %.2f and '%s' %.2f above white, foretold were %.2f and %.2f; these "
        "look like the negative's readings, give those of the print",
        ww__print_show(a->spot->name).text, ww__print_net(a->came),
        ww__print_show(b->spot->name).text, ww__print_net(b->came), ww__print_net(a->foretold),
        ww__print_net(b->foretold));
    return ww_error_set_at(err, WW_EMISMATCH, result->print->file, 0, "%s", text);
}

ww_status ww__result_plain_find(const ww__result *result, ww_print_miss *miss, ww_error *err) {
    const int end = find_end(result);
    const char *telling = "", *other = "";
    size_t one = 0, two = 0;
    if (find_reversed(result, &one, &two))
        return refuse_reversed(result, one, two, err);
    if (end != 0) {
        miss->sight = end < 0 ? WW_MISS_ALL_WHITE : WW_MISS_ALL_BLACK;
        miss->least = least_miss(result, end);
        telling = find_last(result, end);
    } else if (find_swapped(result, &one, &two)) {
        miss->sight = WW_MISS_SWAPPED;
        telling = result->point[one].spot->name;
        other = result->point[two].spot->name;
    }
    miss->telling = strdup(telling);
    miss->other = strdup(other);
    return miss->telling && miss->other ? WW_OK
                                        : ww_error_set(err, WW_EMEMORY, "no memory for a name");
}
