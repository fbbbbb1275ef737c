/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

void ww__print_placing_names(const ww__print_negative *negative, char text[], size_t size) {
    size_t used = 0;
    snprintf(text, size, "none");
    for (size_t i = 0; i < negative->n; i++) {
        const ww__print_name name = ww__print_show(negative->spot[i].name);
        if (!negative->spot[i].known || used + strlen(name.text) + sizeof ", " > size)
            continue;
        used += (size_t)snprintf(text + used, size - used, "%s%s", used > 0 ? ", " : "", name.text);
    }
}

ww_status ww__print_placing_find(const ww__print_negative *negative, const char *name,
                                 const char *act, size_t *index, ww_error *err) {
    const char *file = negative->pooled.file;
    const ww__print_name shown = ww__print_show(name);
    char names[WW__PRINT_TEXT_SIZE / 2];
    for (size_t i = 0; i < negative->n; i++) {
        const ww__print_spot *spot = &negative->spot[i];
        if (strcmp(spot->name, name) != 0)
            continue;
        if (spot->over)
            return ww_error_set_at(err, WW_ENODATA, file, 0,
                                   "to %s '%s' its density is needed, and it reads beyond the "
                                   "instrument; read it on one that reaches further",
                                   act, shown.text);
        *index = i;
        return WW_OK;
    }
    ww__print_placing_names(negative, names, sizeof names);
    return ww_error_set_at(err, WW_ENODATA, file, 0,
                           "to %s '%s' a density is needed, and no row of that tone has one; the "
                           "tones with one are: %s",
                           act, shown.text, names);
}

static ww_status place_one(const ww_print_place *place, ww__print_negative *negative, size_t *index,
                           ww_error *err) {
    const ww_status status = ww__print_placing_find(negative, place->tone, "place", index, err);
    const ww__print_name name = ww__print_show(place->tone);
    char text[WW__PRINT_TEXT_SIZE];
    ww__print_spot *spot;
    if (status != WW_OK)
        return status;
    spot = &negative->spot[*index];
    if (spot->base)
        return ww_error_set(err, WW_EDOMAIN,
                            "'base' is the film's base+fog, which is placed nowhere; place a tone "
                            "of the picture");
    if (!(place->aim >= WW_PRINT_AIM_LEAST && place->aim <= WW_PRINT_AIM_MOST))
        return ww_error_set(
            err, WW_EDOMAIN, "%s",
            ww__print_format(text, sizeof text,
                             "'%s' can't be placed at %g: aims are densities above paper "
                             "white; give %g to %g",
                             name.text, place->aim, WW_PRINT_AIM_LEAST, WW_PRINT_AIM_MOST));
    if (spot->aim.set)
        return ww_error_set(err, WW_EDOMAIN, "'%s' is placed twice; place it once", name.text);
    spot->aim = (ww_optional){true, place->aim};
    return WW_OK;
}

/* What is denser on the negative prints lighter. */
static ww_status check_order(const ww__print_negative *negative, ww_error *err) {
    const ww__print_spot *first = &negative->spot[negative->first];
    char text[WW__PRINT_TEXT_SIZE];
    bool burn;
    for (size_t i = 0; i < negative->n; i++) {
        for (size_t k = 0; k < negative->n; k++) {
            const ww__print_spot *a = &negative->spot[i], *b = &negative->spot[k];
            if (!a->aim.set || !b->aim.set || a->aim.value <= b->aim.value ||
                a->density < b->density)
                continue;
            burn = a != first; /* what sets the time stays placed */
            ww__print_format(
                text, sizeof text,
                "'%s' (%.2f on the negative) is to print darker than '%s' (%.2f), which "
                "is no denser: a negative prints the other way round, and the rest is local work; "
                "leave '%s' out of --place and %s it by hand, under \"moves\" in the recipe that "
                "-o writes",
                ww__print_show(a->name).text, a->density, ww__print_show(b->name).text, b->density,
                ww__print_show(burn ? a->name : b->name).text, burn ? "burn" : "dodge");
            return ww_error_set(err, WW_EDOMAIN, "%s", text);
        }
    }
    return WW_OK;
}

/* The thinnest (sign -1) or densest (+1) tone of the picture other than `but`, of the placed ones
 * with an aim unlike the first's only where asked; n where there is none. */
static size_t extreme(const ww__print_negative *negative, double sign, size_t but, bool placed) {
    size_t best = negative->n;
    for (size_t i = 0; i < negative->n; i++) {
        const ww__print_spot *spot = &negative->spot[i];
        if (i == but || spot->base || !spot->known || (sign > 0.0 && !placed && spot->over) ||
            (placed && (!spot->aim.set || spot->aim.value == negative->first_aim)))
            continue;
        if (best == negative->n || sign * (spot->density - negative->spot[best].density) > 0.0)
            best = i;
    }
    return best;
}

static bool has_base(const ww__print_negative *negative) {
    for (size_t i = 0; i < negative->n; i++)
        if (negative->spot[i].base)
            return true;
    return false;
}

/* Nothing placed: the densest tone goes to 0.08; it must have been read. */
static ww_status place_densest(ww__print_negative *negative, ww_notes *notes, ww_error *err) {
    for (size_t i = 0; i < negative->n; i++)
        if (negative->spot[i].over && !negative->spot[i].base)
            return ww_error_set_at(err, WW_ENODATA, negative->pooled.file, 0,
                                   "the densest tone would set the time, and '%s' reads beyond the "
                                   "instrument; place another tone, or read it on one that reaches "
                                   "further",
                                   ww__print_show(negative->spot[i].name).text);
    negative->first = extreme(negative, 1.0, negative->n, false);
    if (negative->first == negative->n)
        return ww_error_set_at(err, WW_ENODATA, negative->pooled.file, 0, "%s",
                               has_base(negative)
                                   ? "no tone of the picture is here, only the film's base; add a "
                                     "row for each tone that was read"
                                   : "no tone of the negative has a density; give readings with a "
                                     "'tone' column");
    negative->first_aim = WW__PRINT_DENSE_AIM;
    negative->spot[negative->first].aim = (ww_optional){true, WW__PRINT_DENSE_AIM};
    return ww__print_say(notes, err,
                         "Nothing was placed: the densest tone, '%s', goes to %.2f above paper "
                         "white.",
                         ww__print_show(negative->spot[negative->first].name).text,
                         WW__PRINT_DENSE_AIM);
}

/*
 * The other end of the range: the thinnest tone with another aim; where the first is that one, the
 * densest. Where only one tone is placed: the thinnest tone of the negative, at 90 % of net D-max;
 * where that is the first, the densest, at 0.08.
 */
static void choose_other(ww__print_negative *negative) {
    const ww__print_spot *first = &negative->spot[negative->first];
    size_t other = extreme(negative, -1.0, negative->first, true);
    negative->other_aim.set = other < negative->n;
    if (other < negative->n && negative->spot[other].density > first->density)
        other = extreme(negative, 1.0, negative->first, true);
    if (other < negative->n)
        negative->other_aim.value = negative->spot[other].aim.value;
    else
        other = extreme(negative, -1.0, negative->first, false);
    if (!negative->other_aim.set && other < negative->n &&
        negative->spot[other].density >= first->density) {
        other = negative->first_aim > WW__PRINT_DENSE_AIM
                    ? extreme(negative, 1.0, negative->first, false)
                    : negative->n;
        negative->other_aim = (ww_optional){true, WW__PRINT_DENSE_AIM};
    }
    if (other < negative->n && !negative->other_aim.set && negative->spot[other].aim.set)
        other = negative->n; /* placed beside the first: it can't go to black as well */
    negative->other = other;
    negative->contrast = other < negative->n;
}

static ww_status check_range(const ww__print_negative *negative, ww_notes *notes, ww_error *err) {
    const ww__print_spot *first = &negative->spot[negative->first], *other;
    char text[WW__PRINT_TEXT_SIZE];
    if (!negative->contrast)
        return ww_notes_add(notes, err,
                            "'%s' alone sets no contrast, so papers are not told apart by it; read "
                            "the thinnest and the densest tone that must show detail.",
                            ww__print_show(first->name).text);
    other = &negative->spot[negative->other];
    if (fabs(first->density - other->density) >= 2.0 * hypot(first->error, other->error))
        return WW_OK;
    ww__print_format(
        text, sizeof text,
        "the negative has no range: '%s' reads %.2f and '%s' %.2f, the same within the "
        "error of reading; read the thinnest and the densest tone with detail",
        ww__print_show(first->name).text, first->density, ww__print_show(other->name).text,
        other->density);
    return ww_error_set_at(err, WW_ENODATA, negative->pooled.file, 0, "%s", text);
}

ww_status ww__print_placing_set(const ww_print_request *request, ww__print_negative *negative,
                                ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    if (request->n_places == 0) {
        status = place_densest(negative, notes, err);
    } else {
        for (size_t i = request->n_places; i-- > 0 && status == WW_OK;)
            status = place_one(&request->place[i], negative, &negative->first, err);
        if (status == WW_OK) {
            negative->first_aim = request->place[0].aim;
            status = check_order(negative, err);
        }
    }
    if (status != WW_OK)
        return status;
    choose_other(negative);
    return check_range(negative, notes, err);
}
