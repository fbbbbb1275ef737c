/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "plan/scan_parts.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

ww_status ww__scan_tones_column(const ww_scan_request *request, ww_channel channel,
                                ww_channel *column, ww_error *err) {
    const ww_readings *negative = request->negative;
    if (negative->has[channel]) {
        *column = channel;
        return WW_OK;
    }
    if (channel == WW_VISUAL)
        return ww_readings_black_and_white_channel(negative, column, err);
    if (negative->has[WW_VISUAL] && negative->meta.emulsion != WW_EMULSION_COLOUR_NEGATIVE) {
        *column = WW_VISUAL;
        return WW_OK;
    }
    return ww_error_set_at(err, WW_ENODATA, negative->file, 0,
                           "the scanner has a %s channel and the negative no %s densities, which "
                           "no other channel tells of a colour film; read it in red, green and "
                           "blue",
                           ww_channel_name(channel), ww_channel_name(channel));
}

/* Readings relative to the base are brought to open light by the base row, where that gives the
 * base's own density; the base row itself is absolute then. */
static ww_status find_zero(const ww__print_negative *negative, double *zero, ww_notes *notes,
                           ww_error *err) {
    const ww__print_spot *base = ww__print_tones_base(negative);
    *zero = 0.0;
    if (negative->pooled.meta.relative != WW_RELATIVE_BASE)
        return WW_OK;
    if (!base || base->density < WW__PRINT_BASE_LEAST)
        return ww_error_set_at(err, WW_ENODATA, negative->pooled.file, 0,
                               "the densities are relative to the film's base, whose own density "
                               "is not given, and it sets the exposure; add a row 'base' with its "
                               "density against open light");
    *zero = base->density;
    if (!notes)
        return WW_OK;
    return ww__print_say(notes, err,
                         "The negative's densities are relative to its base; the base row's %.2f "
                         "was added. Where they are absolute, take the line 'relative to' out: it "
                         "would be counted twice.",
                         base->density);
}

static ww_status add_tone(const ww__print_spot *spot, double zero, ww_scan_channel *made,
                          ww_error *err) {
    const ww__print_end *thin = &spot->end[WW_PART_THIN], *dense = &spot->end[WW_PART_DENSE];
    ww_scan_tone *tone = &made->tone[made->n_tones];
    *tone = (ww_scan_tone){.base = spot->base, .over = spot->over || dense->state == WW_CELL_OVER};
    tone->density = (spot->judged ? dense->density : spot->density) + (spot->base ? 0.0 : zero);
    if (spot->judged)
        tone->thin = (ww_optional){true, thin->density + zero};
    tone->tone = strdup(spot->name);
    if (!tone->tone)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu tones", made->n_tones + 1);
    made->n_tones++;
    return WW_OK;
}

static double thin_end(const ww_scan_tone *tone) {
    return tone->thin.set ? tone->thin.value : tone->density;
}

/* A base that is there and was not read is thinner than what would stand in, and would clip. */
static ww_status refuse_unread_base(const ww__print_negative *negative, ww_channel channel,
                                    ww_error *err) {
    const ww_readings *pooled = &negative->pooled;
    for (size_t i = 0; i < pooled->n; i++)
        if (pooled->row[i].is_base && !ww__print_tones_base(negative))
            return ww_error_set_at(
                err, WW_ENODATA, pooled->file, pooled->row[i].line,
                "the film's base has no %s density, and it sets the exposure; read it again (where "
                "a scan was too light for it, at the exposure of the wedge's), or take the row out "
                "and the thinnest tone stands in",
                ww_channel_name(channel));
    return WW_OK;
}

/* The film's base, else the thinnest tone. */
static ww_status find_base(const ww__print_negative *negative, ww_scan_channel *made, double *error,
                           ww_error *err) {
    size_t best = made->n_tones;
    const ww_status status = refuse_unread_base(negative, made->read, err);
    if (status != WW_OK)
        return status;
    for (size_t i = 0; i < made->n_tones; i++) {
        const ww_scan_tone *tone = &made->tone[i];
        if (tone->over)
            continue;
        if (best == made->n_tones || (tone->base && !made->tone[best].base) ||
            (tone->base == made->tone[best].base && thin_end(tone) < thin_end(&made->tone[best])))
            best = i;
    }
    if (best == made->n_tones)
        return ww_error_set_at(err, WW_ENODATA, negative->pooled.file, 0,
                               "no tone of the negative has a %s density; read its base and the "
                               "densest cloud, each with its name in a column 'tone'",
                               ww_channel_name(made->read));
    made->base = best;
    made->stands_in = !made->tone[best].base;
    made->base_density = thin_end(&made->tone[best]);
    *error = ww__print_tones_named(negative, made->tone[best].tone)->error;
    return WW_OK;
}

/* A part of a tone has a column of its own; "cloud/thin" is how messages name one, and no tone. */
static const char *part_typed(const ww_scan_channel *made, const char *tone) {
    const size_t n = strlen(tone);
    for (size_t i = 0; i < made->n_tones; i++) {
        const char *name = made->tone[i].tone;
        if (strncmp(name, tone, n) == 0 &&
            (strcmp(name + n, "/thin") == 0 || strcmp(name + n, "/dense") == 0))
            return "; its thin and dense ends are rows of one tone, told apart in a column 'part'";
    }
    return "";
}

static ww_status keep(const ww_scan_request *request, const ww__print_negative *negative,
                      ww_scan_channel *made, ww_error *err) {
    char names[WW__PRINT_TEXT_SIZE / 2];
    for (size_t k = 0; k < request->n_keep; k++) {
        ww_scan_tone *found = NULL;
        for (size_t i = 0; i < made->n_tones; i++)
            if (!made->tone[i].base && strcmp(made->tone[i].tone, request->keep[k]) == 0)
                found = &made->tone[i];
        if (found) {
            found->kept = true;
            continue;
        }
        if (strcmp(request->keep[k], "base") == 0)
            return ww_error_set_at(err, WW_EMISMATCH, negative->pooled.file, 0,
                                   "'base' is the film's own base, which holds no detail; keep a "
                                   "tone of the picture");
        ww__print_placing_names(negative, names, sizeof names);
        return ww_error_set_at(err, WW_EMISMATCH, negative->pooled.file, 0,
                               "there is no tone '%s' with a %s density to keep; the tones with "
                               "one are: %s%s",
                               ww__print_show(request->keep[k]).text, ww_channel_name(made->read),
                               names, part_typed(made, request->keep[k]));
    }
    return WW_OK;
}

static bool denser(const ww_scan_tone *a, const ww_scan_tone *b) {
    return !b->over && (a->over || a->density > b->density);
}

/* Of the tones to be kept, or of all but the base, the densest. */
static ww_status find_highlight(const ww_scan_request *request, const ww__print_negative *negative,
                                ww_scan_channel *made, ww_error *err) {
    size_t best = made->n_tones;
    for (size_t i = 0; i < made->n_tones; i++) {
        const ww_scan_tone *tone = &made->tone[i];
        const bool counts = request->n_keep > 0 ? tone->kept : !tone->base;
        if (counts && (best == made->n_tones || denser(tone, &made->tone[best])))
            best = i;
    }
    if (best == made->n_tones)
        return ww_error_set_at(err, WW_ENODATA, negative->pooled.file, 0,
                               "only the base has a %s density; read the densest cloud, too, with "
                               "its name in a column 'tone'",
                               ww_channel_name(made->read));
    made->highlight = best;
    made->tone[best].kept = true;
    return WW_OK;
}

static ww_status read_into(const ww_scan_request *request, ww__print_negative *negative,
                           ww_scan_channel *made, double *error, ww_notes *notes, ww_error *err) {
    double zero = 0.0;
    ww_status status = ww__print_tones_gather(request->negative, made->read, negative, err);
    if (status == WW_OK && notes)
        status = ww_notes_copy(&negative->pooled.notes, notes, err);
    if (status == WW_OK)
        status = find_zero(negative, &zero, notes, err);
    if (status != WW_OK)
        return status;
    made->tone = calloc(negative->n + 1, sizeof *made->tone);
    if (!made->tone)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu tones", negative->n);
    for (size_t i = 0; i < negative->n && status == WW_OK; i++)
        if (negative->spot[i].known || negative->spot[i].over)
            status = add_tone(&negative->spot[i], zero, made, err);
    if (status == WW_OK)
        status = find_base(negative, made, error, err);
    if (status == WW_OK)
        status = keep(request, negative, made, err);
    return status == WW_OK ? find_highlight(request, negative, made, err) : status;
}

ww_status ww__scan_tones_read(const ww_scan_request *request, ww_scan_channel *made, double *error,
                              ww_notes *notes, ww_error *err) {
    ww__print_negative negative = WW__PRINT_NEGATIVE_INIT;
    const ww_status status = read_into(request, &negative, made, error, notes, err);
    ww__print_negative_release(&negative);
    return status;
}
