/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "plan/tones_parts.h"
#include <math.h>

const char *ww__tones_file(const char *const file[], size_t i) {
    return file ? file[i] : NULL;
}

/* --- numbers ---------------------------------------------------------------------------------- */

typedef struct limit {
    const char *what;
    double value, low, high;
    bool high_open;
} limit;

static ww_status check_limit(const limit *of, ww_error *err) {
    char shown[160];
    if (of->value >= of->low && (of->high_open ? of->value < of->high : of->value <= of->high))
        return WW_OK;
    return ww_error_set(err, WW_EDOMAIN, "%s",
                        ww__print_format(shown, sizeof shown, "%s of %g is not within %g to %s%g",
                                         of->what, of->value, of->low,
                                         of->high_open ? "under " : "", of->high));
}

static ww_status check_numbers(const ww_tones_request *r, ww_error *err) {
    const limit all[] = {
        {"a subject range", r->subject_range, WW_TONES_RANGE_LEAST, WW_TONES_RANGE_MOST, false},
        {"a camera flare", r->flare, 0.0, 1.0, true},
        {"an enlarger flare", r->enlarger_flare, 0.0, 1.0, true},
        {"a viewing flare", r->viewing_flare, 0.0, 1.0, true},
        {"a Callier factor", r->callier, WW_PRINT_CALLIER_LEAST, WW_PRINT_CALLIER_MOST, false},
        {"an exposure", r->film_stops, -WW_TONES_STOPS_MOST, WW_TONES_STOPS_MOST, false},
        {"a placed tone", r->place_stops, 0.0, r->subject_range / WW__TONES_STOP + 1e-9, false},
        {"a placed density", r->place_density, WW_PRINT_AIM_LEAST, WW_PRINT_AIM_MOST, false},
        {"a detail", r->detail, WW_TONES_DETAIL_LEAST, WW_TONES_DETAIL_MOST, false},
        {"a wanted slope", r->wanted_slope, WW_TONES_SLOPE_LEAST, WW_TONES_SLOPE_MOST, false}};
    ww_status status = WW_OK;
    for (size_t i = 0; i < sizeof all / sizeof all[0] && status == WW_OK; i++)
        status = check_limit(&all[i], err);
    return status;
}

/* --- kinds ------------------------------------------------------------------------------------ */

static bool is_reversal(const ww_curve *curve) {
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        if (curve->channel[c].fitted && curve->channel[c].shape.falling)
            return true;
    return false;
}

static ww_status check_film(const ww_curve *curve, const char *file, ww_error *err) {
    const ww_material material = curve->meta.material;
    if (material != WW_MATERIAL_UNKNOWN && material != WW_MATERIAL_FILM)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "this is the curve of a %s; --film takes curves of films",
                               ww_material_name(material));
    if (curve->meta.density == WW_DENSITY_REFLECTION)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "these densities are of reflection, as a paper's are; --film takes "
                               "curves of films, read in transmission");
    return WW_OK;
}

static ww_status check_paper(const ww_curve *curve, const char *file, ww_error *err) {
    const ww_material material = curve->meta.material;
    if (material != WW_MATERIAL_UNKNOWN && material != WW_MATERIAL_PAPER &&
        material != WW_MATERIAL_PRINT && material != WW_MATERIAL_STRIP)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "this is the curve of a %s; --paper takes curves of papers",
                               ww_material_name(material));
    if (curve->meta.density == WW_DENSITY_TRANSMISSION)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "these densities are of transmission, and an eye sees a paper's of "
                               "reflection; --paper takes curves of papers");
    if (curve->meta.relative == WW_RELATIVE_BASE)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "these densities are relative to a film base; a paper's are "
                               "absolute or relative to white");
    return WW_OK;
}

/* What is laid over each other must have been read alike. */
static ww_status check_alike(const ww_curve *const curve[], const char *const file[], size_t n,
                             const char *what, ww_error *err) {
    const ww_meta *known = NULL;
    for (size_t i = 0; i < n; i++) {
        const ww_meta *meta = &curve[i]->meta;
        if (meta->status == WW_STATUS_UNKNOWN)
            continue;
        if (known && known->status != meta->status)
            return ww_error_set_at(err, WW_EMISMATCH, ww__tones_file(file, i), 0,
                                   "%ss read in status %s and in status %s can't be laid over each "
                                   "other; read them alike",
                                   what, ww_density_status_name(known->status),
                                   ww_density_status_name(meta->status));
        known = meta;
    }
    return WW_OK;
}

static ww_status check_process(const ww_tones_request *r, ww_error *err) {
    for (size_t f = 0; f < r->n_films; f++)
        for (size_t p = 0; p < r->n_papers; p++)
            if (is_reversal(r->film[f]) != is_reversal(r->paper[p]))
                return ww_error_set_at(
                    err, WW_EMISMATCH, ww__tones_file(r->paper_file, p), 0,
                    "%s paper prints this %s film as a negative; give a paper for %s",
                    is_reversal(r->paper[p]) ? "a reversal" : "this",
                    is_reversal(r->film[f]) ? "reversal" : "negative",
                    is_reversal(r->film[f]) ? "slides" : "negatives");
    return WW_OK;
}

static ww_status check_callier(const ww_tones_request *r, ww_error *err) {
    for (size_t f = 0; f < r->n_films && fabs(r->callier - 1.0) > 1e-12; f++) {
        const ww_meta *meta = &r->film[f]->meta;
        if (meta->grain == WW_GRAIN_DYE || meta->emulsion == WW_EMULSION_COLOUR_NEGATIVE ||
            meta->emulsion == WW_EMULSION_COLOUR_REVERSAL)
            return ww_error_set_at(err, WW_EMISMATCH, ww__tones_file(r->film_file, f), 0,
                                   "this film's image is of dye, which scatters next to no light: "
                                   "its Callier factor is 1; leave --callier out");
    }
    return WW_OK;
}

static ww_status check_counts(const ww_tones_request *r, ww_error *err) {
    if (r->n_papers == 0)
        return ww_error_set(err, WW_EDOMAIN, "no paper; give the curve of one");
    if (r->n_films == 0 && !r->wanted)
        return ww_error_set(err, WW_EDOMAIN, "no film; give the curve of one, or a wanted print");
    if (r->wanted && (r->n_papers > 1 || r->n_films > 1))
        return ww_error_set(err, WW_EDOMAIN,
                            "a wanted print is worked back through one paper, and held against one "
                            "film at most; leave the others out");
    return WW_OK;
}

ww_status ww__tones_check(const ww_tones_request *r, ww_error *err) {
    ww_status status = check_counts(r, err);
    if (status == WW_OK)
        status = check_numbers(r, err);
    for (size_t i = 0; i < r->n_films && status == WW_OK; i++)
        status = check_film(r->film[i], ww__tones_file(r->film_file, i), err);
    for (size_t i = 0; i < r->n_papers && status == WW_OK; i++)
        status = check_paper(r->paper[i], ww__tones_file(r->paper_file, i), err);
    if (status == WW_OK)
        status = check_process(r, err);
    if (status == WW_OK)
        status = check_alike(r->film, r->film_file, r->n_films, "film", err);
    if (status == WW_OK)
        status = check_alike(r->paper, r->paper_file, r->n_papers, "paper", err);
    return status == WW_OK ? check_callier(r, err) : status;
}

/* --- channels --------------------------------------------------------------------------------- */

static bool has_colours(const ww_curve *curve) {
    return curve->channel[WW_RED].fitted && curve->channel[WW_GREEN].fitted &&
           curve->channel[WW_BLUE].fitted;
}

static bool says_colour(const ww_curve *curve) {
    return curve->meta.emulsion == WW_EMULSION_COLOUR_NEGATIVE ||
           curve->meta.emulsion == WW_EMULSION_COLOUR_REVERSAL;
}

/* In colour where it says so, or where nothing but red, green and blue was read. */
static bool is_colour(const ww_curve *curve) {
    return has_colours(curve) && curve->meta.emulsion != WW_EMULSION_BLACK_AND_WHITE &&
           (says_colour(curve) || !curve->channel[WW_VISUAL].fitted);
}

static ww_status take_one(const ww_curve *curve, const char *file, ww_channel *channel,
                          ww_error *err) {
    ww_error why = WW_ERROR_INIT;
    ww_status status = ww_curve_black_and_white_channel(curve, channel, &why);
    if (status != WW_OK)
        return ww_error_set_at(err, status, file, 0, "%s", why.msg);
    if (!curve->channel[*channel].fitted)
        return ww_error_set_at(err, WW_ENODATA, file, 0,
                               "its %s channel has no curve; read at least 5 exposed steps and "
                               "`fit` them",
                               ww_channel_name(*channel));
    return WW_OK;
}

ww_status ww__tones_channels(const ww_tones_request *r, size_t film, size_t paper,
                             ww__tones_pair *pair, ww_error *err) {
    const ww_curve *f = r->n_films > 0 ? r->film[film] : NULL, *p = r->paper[paper];
    const char *file = ww__tones_file(r->film_file, film);
    ww_status status = WW_OK;
    if (f && says_colour(f) && !has_colours(f))
        return ww_error_set_at(
            err, WW_ENODATA, file, 0,
            "a colour film is followed in red, green and blue, and not all three "
            "have a curve; read and fit them");
    if (f && says_colour(f) && !is_colour(p))
        return ww_error_set_at(err, WW_EMISMATCH, ww__tones_file(r->paper_file, paper), 0,
                               "a colour film on this paper cannot be followed: which of its "
                               "colours the paper sees is not known; give the red, green and blue "
                               "curves of a colour paper");
    *pair = (ww__tones_pair){.n = 1};
    if (f && is_colour(f) && is_colour(p)) {
        pair->n = 3;
        for (int c = WW_RED; c <= WW_BLUE; c++)
            pair->film[c] = pair->paper[c] = (ww_channel)c;
        return WW_OK;
    }
    if (f)
        status = take_one(f, file, &pair->film[0], err);
    return status == WW_OK ? take_one(p, ww__tones_file(r->paper_file, paper), &pair->paper[0], err)
                           : status;
}
