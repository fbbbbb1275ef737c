/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "plan/compare_parts.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double alike = 1e-6; /* what was sent, of 1 */

/* --- what can be compared --------------------------------------------------------------------- */

/* Status and kind bind densities; of lightness and luminance there is one kind alone. */
static ww_status check(const ww_compare_print *a, const ww_compare_print *b, ww_error *err) {
    char one[200], other[200];
    ww__escape_message(a->name, one, sizeof one);
    ww__escape_message(b->name, other, sizeof other);
    if (a->status != b->status && a->status != WW_STATUS_UNKNOWN &&
        b->status != WW_STATUS_UNKNOWN && !a->from_light && !b->from_light)
        return ww_error_set(err, WW_EMISMATCH,
                            "'%s' was read in status %s and '%s' in status %s, which are not one "
                            "scale; read both in one of them",
                            one, ww_density_status_name(a->status), other,
                            ww_density_status_name(b->status));
    if (a->density != b->density && a->density != WW_DENSITY_UNKNOWN &&
        b->density != WW_DENSITY_UNKNOWN && !a->screen && !b->screen)
        return ww_error_set(
            err, WW_EMISMATCH,
            "'%s' was read by %s and '%s' by %s; compare prints with prints, and films "
            "with films",
            one, ww_density_kind_name(a->density), other, ww_density_kind_name(b->density));
    return WW_OK;
}

static ww_status find_channels(const ww_compare_print *a, const ww_compare_print *b,
                               ww_compare_pair *pair, ww_error *err) {
    static const ww_channel order[] = {WW_BLUE, WW_RED, WW_GREEN, WW_VISUAL}; /* the last wins */
    bool any = false;
    char one[200], other[200];
    for (size_t k = 0; k < sizeof order / sizeof order[0]; k++) {
        const ww_channel c = order[k];
        pair->has[c] = a->has[c] && b->has[c] &&
                       (!pair->above_white || (a->white_of[c].set && b->white_of[c].set));
        if (pair->has[c])
            pair->main = c;
        any = any || pair->has[c];
    }
    return any ? WW_OK
               : ww_error_set(
                     err, WW_EMISMATCH,
                     "'%s' and '%s' have no density of one filter, nor L* in both; read both "
                     "through the same filter, or give L*",
                     ww__escape_message(a->name, one, sizeof one),
                     ww__escape_message(b->name, other, sizeof other));
}

static ww_status tell(const ww_compare_print *a, const ww_compare_print *b,
                      const ww_compare_pair *pair, ww_notes *notes, ww_error *err) {
    char one[200], other[200];
    ww_status status = WW_OK;
    ww__escape_message(a->name, one, sizeof one);
    ww__escape_message(b->name, other, sizeof other);
    if ((a->status == WW_STATUS_UNKNOWN) != (b->status == WW_STATUS_UNKNOWN) && !a->from_light &&
        !b->from_light)
        status = ww_notes_add(
            notes, err,
            "'%s' does not say the status of its densities; it is taken to be that "
            "of %s, %s.",
            a->status == WW_STATUS_UNKNOWN ? one : other,
            a->status == WW_STATUS_UNKNOWN ? other : one,
            ww_density_status_name(a->status == WW_STATUS_UNKNOWN ? b->status : a->status));
    if (status == WW_OK && pair->above_white)
        status = ww_notes_add(notes, err,
                              "'%s' and '%s' are compared above each one's own white, where the "
                              "densities of one of them begin.",
                              one, other);
    if (status == WW_OK && pair->n < a->n && !a->curve)
        status = ww_notes_add(notes, err,
                              "%zu of %zu tones of '%s' have no counterpart in '%s' and play no "
                              "part.",
                              a->n - pair->n, a->n, one, other);
    if (status == WW_OK && pair->between > 0)
        status =
            ww_notes_add(notes, err,
                         "%zu of %zu tones of '%s' stand between two of '%s': there its density "
                         "is read on a straight line, and a bend between them is not in the "
                         "doubt.",
                         pair->between, pair->n, one, other);
    if (status == WW_OK && a->curve)
        status = ww_notes_add(notes, err,
                              "Curves are laid over each other at their speed points (else at "
                              "the middle of their densities), every channel at its own: exposure "
                              "and filters take up what that moves.");
    return status;
}

/* --- tones that belong together --------------------------------------------------------------- */

static bool sent_alike(const ww_compare_tone *one, const ww_compare_tone *other) {
    return fabs(one->sent.value - other->sent.value) < alike;
}

static bool same_scale(const ww_compare_print *a, const ww_compare_print *b) {
    if (a->control == WW_COMPARE_LABEL || b->control == WW_COMPARE_LABEL)
        return false;
    return (a->control == WW_COMPARE_LOG_H) == (b->control == WW_COMPARE_LOG_H);
}

static const ww_compare_tone *find_name(const ww_compare_print *print,
                                        const ww_compare_tone *like) {
    for (size_t i = 0; i < print->n; i++) {
        const ww_compare_tone *tone = &print->tone[i];
        if ((tone->base && like->base) ||
            (tone->base == like->base && strcmp(tone->label, like->label) == 0))
            return tone;
    }
    return NULL;
}

/* Names pair tones unless they contradict what was sent. */
static bool names_serve(const ww_compare_print *a, const ww_compare_print *b) {
    size_t found = 0, few = a->n < b->n ? a->n : b->n;
    for (size_t i = 0; i < a->n; i++) {
        const ww_compare_tone *tone = &a->tone[i], *other = find_name(b, tone);
        if (!other)
            continue;
        if (same_scale(a, b) && !tone->base && tone->sent.set && other->sent.set &&
            !sent_alike(tone, other))
            return false;
        found++;
    }
    return 2 * found >= few && found > 0;
}

/* The grey for which most, but no more than that was sent (least, but no less). */
static const ww_compare_tone *beside(const ww_compare_print *print, ww_channel channel, double sent,
                                     bool below) {
    const ww_compare_tone *best = NULL;
    for (size_t i = 0; i < print->n; i++) {
        const ww_compare_tone *tone = &print->tone[i];
        if (!tone->neutral || !tone->sent.set || !tone->density[channel].set)
            continue;
        const double off = (below ? 1.0 : -1.0) * (sent - tone->sent.value);
        if (off > -alike && (!best || off < fabs(sent - best->sent.value)))
            best = tone;
    }
    return best;
}

/* --- differences ------------------------------------------------------------------------------ */

static double zero_of(const ww_compare_pair *pair, const ww_compare_print *print, int channel) {
    return pair->above_white ? print->white_of[channel].value : 0.0;
}

static void take(const ww_compare_print *a, const ww_compare_print *b, const ww_compare_pair *pair,
                 int c, double one, double one_error, double other, double other_error,
                 ww_compare_difference *made) {
    double error = hypot(one_error, other_error);
    if (pair->above_white)
        error = hypot(error, hypot(a->white_error[c], b->white_error[c]));
    made->density[c] =
        (ww_optional){true, (other - zero_of(pair, b, c)) - (one - zero_of(pair, a, c))};
    made->half[c] = WW__COMPARE_95 * error;
}

/* Tone against tone; `share` of the way from `other` to `next`. */
static bool differ(const ww_compare_print *a, const ww_compare_print *b,
                   const ww_compare_pair *pair, const ww_compare_tone *tone,
                   const ww_compare_tone *other, const ww_compare_tone *next, double share,
                   ww_compare_difference *made) {
    bool any = false;
    *made = (ww_compare_difference){.a = (size_t)(tone - a->tone),
                                    .b = (size_t)((share < 0.5 ? other : next) - b->tone),
                                    .between = other != next};
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (!pair->has[c] || !tone->density[c].set || !other->density[c].set ||
            !next->density[c].set)
            continue;
        take(a, b, pair, c, tone->density[c].value, tone->error[c],
             (1.0 - share) * other->density[c].value + share * next->density[c].value,
             hypot((1.0 - share) * other->error[c], share * next->error[c]), made);
        any = true;
    }
    if (other == next && tone->has_lab && other->has_lab) {
        made->de2000 = (ww_optional){true, ww_colour_de2000(tone->lab, other->lab)};
        made->de2000_half = WW__COMPARE_95 * hypot(tone->lab_error, other->lab_error);
        any = true;
    }
    return any;
}

static bool difference_at(const ww_compare_print *a, const ww_compare_print *b,
                          const ww_compare_pair *pair, bool by_name, const ww_compare_tone *tone,
                          ww_compare_difference *made) {
    if (by_name) {
        const ww_compare_tone *other = find_name(b, tone);
        return other && differ(a, b, pair, tone, other, other, 0.0, made);
    }
    if (!tone->neutral || !tone->sent.set)
        return false;
    const double sent = tone->sent.value;
    const ww_compare_tone *from = beside(b, pair->main, sent, true);
    const ww_compare_tone *to = beside(b, pair->main, sent, false);
    if (!from || !to)
        return false;
    const double gap = to->sent.value - from->sent.value;
    if (gap < 2.0 * alike)
        return differ(a, b, pair, tone, from, from, 0.0, made);
    return differ(a, b, pair, tone, from, to, (sent - from->sent.value) / gap, made);
}

static ww_status find_differences(const ww_compare_print *a, const ww_compare_print *b,
                                  ww_compare_pair *pair, ww_error *err) {
    const bool by_name = !a->curve && names_serve(a, b);
    char one[200], other[200];
    pair->tone = calloc(a->n + 1, sizeof *pair->tone);
    if (!pair->tone)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu tones", a->n);
    for (size_t i = 0; i < a->n && (by_name || same_scale(a, b)); i++)
        if (difference_at(a, b, pair, by_name, &a->tone[i], &pair->tone[pair->n])) {
            pair->between += pair->tone[pair->n].between;
            pair->n++;
        }
    return pair->n > 0
               ? WW_OK
               : ww_error_set(
                     err, WW_EMISMATCH,
                     "'%s' and '%s' have no tone in common; give both the same steps, or say "
                     "in a column value or gray what was sent for each",
                     ww__escape_message(a->name, one, sizeof one),
                     ww__escape_message(b->name, other, sizeof other));
}

ww_status ww__compare_pair(const ww_comparison *comparison, ww_compare_pair *pair, ww_notes *notes,
                           ww_error *err) {
    const ww_compare_print *a = &comparison->print[pair->a], *b = &comparison->print[pair->b];
    ww_status status = check(a, b, err);
    pair->above_white = a->above_white || b->above_white;
    if (status == WW_OK)
        status = find_channels(a, b, pair, err);
    if (status == WW_OK)
        status = find_differences(a, b, pair, err);
    return status == WW_OK ? tell(a, b, pair, notes, err) : status;
}
