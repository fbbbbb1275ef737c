/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_result_parts.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * What is plain before any cause is put to the readings: all of them at an end of the paper, or all
 * of them the other way round, or two that were exchanged (print_result_swapped.c).
 */

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

/* ------------------------------------------------------------------------------ reversed */

/* The lightest and the darkest foretold, where every two tones that were foretold apart came out
 * the other way round, of three at least; two of them look swapped. */
static bool find_reversed(const ww__result *result, size_t *light, size_t *dark) {
    size_t one = 0, other = 0, between = 0;
    for (size_t i = 0; i < result->n; i++) {
        for (size_t k = 0; k < i; k++) {
            const double foretold = result->point[i].foretold - result->point[k].foretold;
            if (fabs(foretold) >= WW__RESULT_APART &&
                foretold * (result->point[i].came - result->point[k].came) >= 0.0)
                return false;
        }
        if (result->point[i].foretold < result->point[one].foretold)
            one = i;
        if (result->point[i].foretold > result->point[other].foretold)
            other = i;
    }
    for (size_t i = 0; i < result->n; i++)
        between += result->point[i].foretold - result->point[one].foretold >= WW__RESULT_APART &&
                   result->point[other].foretold - result->point[i].foretold >= WW__RESULT_APART;
    *light = one;
    *dark = other;
    return between > 0 && ww__result_inverted(result, one, other);
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

static ww_status name_tones(const char *telling, const char *other, ww_print_miss *miss,
                            ww_error *err) {
    miss->telling = strdup(telling);
    miss->other = strdup(other);
    return miss->telling && miss->other ? WW_OK
                                        : ww_error_set(err, WW_EMEMORY, "no memory for a name");
}

ww_status ww__result_plain_find(const ww__result *result, ww_print_miss *miss, ww_error *err) {
    const int end = find_end(result);
    size_t one = 0, two = 0;
    bool swapped = false;
    ww_status status;
    if (find_reversed(result, &one, &two))
        return refuse_reversed(result, one, two, err);
    if (end != 0) {
        miss->sight = end < 0 ? WW_MISS_ALL_WHITE : WW_MISS_ALL_BLACK;
        miss->least = least_miss(result, end);
        return name_tones(find_last(result, end), "", miss, err);
    }
    status = ww__result_swapped_find(result, &swapped, &one, &two, err);
    if (status != WW_OK || !swapped)
        return status == WW_OK ? name_tones("", "", miss, err) : status;
    miss->sight = WW_MISS_SWAPPED;
    return name_tones(result->point[one].spot->name, result->point[two].spot->name, miss, err);
}
