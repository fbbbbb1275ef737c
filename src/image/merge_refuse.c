/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_refuse.h"

#include "core/scanner.h"
#include "image/measure.h"
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/number.h>

static ww_status compare_forms(const ww_picture *a, const ww_picture *b, ww_error *err) {
    if (a->width != b->width || a->height != b->height)
        return ww_error_set_at(err, WW_EMISMATCH, b->file, 0,
                               "is of %zu x %zu px, but '%.200s' of %zu x %zu; scan both with one "
                               "frame and resolution",
                               b->width, b->height, a->file, a->width, a->height);
    if (a->channels != b->channels)
        return ww_error_set_at(
            err, WW_EMISMATCH, b->file, 0, "is in %s, but '%.200s' in %s; scan both the same way",
            b->channels == 1 ? "grey" : "colour", a->file, a->channels == 1 ? "grey" : "colour");
    if (a->bits != b->bits || a->sample != b->sample || a->white != b->white)
        return ww_error_set_at(err, WW_EMISMATCH, b->file, 0,
                               "has %u bits a sample, but '%.200s' %u of them, or another kind; "
                               "scan both with the same settings",
                               b->bits, a->file, a->bits);
    if ((a->icc != NULL) != (b->icc != NULL))
        return ww_error_set_at(err, WW_EMISMATCH, b->file, 0,
                               "carries %s colour profile, unlike '%.200s': their codes may mean "
                               "different light; export both alike",
                               b->icc ? "a" : "no", a->file);
    if (a->icc && (a->n_icc != b->n_icc || memcmp(a->icc, b->icc, a->n_icc) != 0))
        return ww_error_set_at(err, WW_EMISMATCH, b->file, 0,
                               "carries another colour profile than '%.200s': their codes mean "
                               "different light; export both alike",
                               a->file);
    return WW_OK;
}

static ww_status check_encoding(const ww_picture *picture, const ww_scanner *scanner,
                                ww_error *err) {
    char power[32];
    if (scanner || !picture->gamma.set ||
        (picture->gamma.value < WW__SCANNER_ENCODED &&
         picture->gamma.value > 1.0 / WW__SCANNER_ENCODED))
        return WW_OK;
    ww_number_format(picture->gamma.value, 1, power, sizeof power);
    return ww_error_set_at(err, WW_EINPUT, picture->file, 0,
                           "its codes are no light: the colour profile '%.100s' encodes them, as a "
                           "power of %s or like one; give --scanner with a file made from a scan "
                           "with these settings, or export both scans linear",
                           picture->profile ? picture->profile : "", power);
}

ww_status ww__merge_check(const ww_picture *a, const ww_picture *b, const ww_scanner *scanner,
                          ww_error *err) {
    ww_status status = compare_forms(a, b, err);
    if (status == WW_OK)
        status = check_encoding(a, scanner, err);
    if (status == WW_OK)
        status = ww__measure_settings(a, scanner, err);
    return status;
}

ww_status ww__merge_refuse_overlap(const ww_picture *a, const ww_picture *b, ww_channel channel,
                                   size_t n, size_t seen, size_t least, ww_error *err) {
    if (seen < least)
        return ww_error_set_at(
            err, WW_ENODATA, b->file, 0,
            "its %zu x %zu px hold %zu places of 8 x 8 px: too few for the ratio "
            "of the exposures, which needs %zu; scan a larger frame, or with a "
            "higher resolution",
            b->width, b->height, seen, least);
    return ww_error_set_at(err, WW_ENODATA, b->file, 0,
                           "only %zu of %zu places looked at hold light, unclipped, here and in "
                           "'%.200s' (%s): too few for the ratio of the exposures, which needs %zu "
                           "of 8 x 8 px; scan again with exposures less far apart, so that some "
                           "tones are neither clipped in the one nor black in the other",
                           n, seen, a->file, ww_channel_name(channel), least);
}

/* "3.0 px to the right of and 1.2 px below"; a way that rounds to nothing is left out. */
static const char *displaced(const ww__merge_place *place, char *text, size_t size) {
    char right[32], down[32];
    const char *side = place->right < 0.0 ? "left" : "right";
    const char *height = place->down < 0.0 ? "above" : "below";
    ww_number_format(fabs(place->right), 1, right, sizeof right);
    ww_number_format(fabs(place->down), 1, down, sizeof down);
    if (strcmp(right, "0.0") == 0)
        snprintf(text, size, "%s px %s", down, height);
    else if (strcmp(down, "0.0") == 0)
        snprintf(text, size, "%s px to the %s of", right, side);
    else
        snprintf(text, size, "%s px to the %s of and %s px %s", right, side, down, height);
    return text;
}

/* What the other places show, and what may have moved: a part and the whole look alike where the
 * rest could not be compared. */
static const char *what_moved(const ww__merge_place place[WW__MERGE_PLACES],
                              const ww__merge_place *worst, char *text, size_t size) {
    size_t compared = 0, alike = 0;
    for (size_t i = 0; i < WW__MERGE_PLACES; i++) {
        const ww__merge_place *p = &place[i];
        const bool seen = p->known || p->apart;
        compared += seen;
        alike += seen && hypot(p->right - worst->right, p->down - worst->down) <= 1.0;
    }
    if (alike < compared)
        return "and elsewhere otherwise, as if turned, scaled or moved in part";
    if (compared == WW__MERGE_PLACES)
        return "and alike at all places looked at";
    if (compared == 1)
        snprintf(text, size, "the one of %d places that could be compared, as a whole or in part",
                 WW__MERGE_PLACES);
    else
        snprintf(text, size,
                 "and alike at the %zu of %d places that could be compared, as a whole or in part",
                 compared, WW__MERGE_PLACES);
    return text;
}

ww_status ww__merge_refuse_shift(const ww_picture *longer,
                                 const ww__merge_place place[WW__MERGE_PLACES],
                                 const ww__merge_place *worst, ww_error *err) {
    char where[128], moved[128];
    return ww_error_set_at(
        err, WW_EMISMATCH, longer->file, 0,
        "lies %s the other scan at %zu,%zu, %s: more than 1 px, and merging would blur edges; scan "
        "both without touching film or holder in between, or, where the whole lies so, align them "
        "first",
        displaced(worst, where, sizeof where), worst->x, worst->y,
        what_moved(place, worst, moved, sizeof moved));
}

ww_status ww__merge_refuse_unlike(const ww_picture *longer, const ww_picture *shorter,
                                  size_t unlike, ww_error *err) {
    return ww_error_set_at(
        err, WW_EMISMATCH, longer->file, 0,
        "does not show what '%.200s' shows: at %zu of %d places looked at both hold detail that "
        "matches nowhere within %d px; give two scans of one negative in one frame, neither of "
        "them turned, scaled, inverted or edited, scanned without touching film or holder in "
        "between",
        shorter->file ? shorter->file : "the other scan", unlike, WW__MERGE_PLACES,
        WW__MERGE_REACH);
}

/* Where in the picture, in words. */
static const char *third_of(const ww_picture *picture, const ww__merge_place *place) {
    static const char *const name[3][3] = {{"upper left", "upper middle", "upper right"},
                                           {"middle left", "middle", "middle right"},
                                           {"lower left", "lower middle", "lower right"}};
    return name[place->y * 3 / picture->height][place->x * 3 / picture->width];
}

ww_status ww__merge_refuse_part(const ww_picture *longer, const ww__merge_place *place,
                                ww_error *err) {
    char far[128];
    return ww_error_set_at(
        err, WW_EMISMATCH, longer->file, 0,
        "lies %s the other scan around %zu,%zu (%s of the picture), but not as a whole: more than "
        "1 px, and merging would blur edges there; film that buckled or slipped does so: scan both "
        "again without touching it in between, flattened, and merge then",
        displaced(place, far, sizeof far), place->x, place->y, third_of(longer, place));
}
