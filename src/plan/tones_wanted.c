/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/curve_vary.h"
#include "core/readings.h"
#include "plan/print_parts.h"
#include "plan/tones_parts.h"
#include <math.h>
#include <stdlib.h>
#include <wedgework/exposure.h>
#include <wedgework/readings_light.h>
#include <wedgework/viewing.h>

static const double every = 0.10;   /* [log10] rows of a straight print: a third of a stop */
static const double moved = 0.01;   /* [sd] as of the chain's doubts */
static const double nearest = 1e-9; /* [log10] tones closer than that are one */

/* --- what is wanted --------------------------------------------------------------------------- */

static ww_status reserve(ww_tones_wanted *wanted, size_t n, ww_error *err) {
    wanted->row = calloc(n + 1, sizeof *wanted->row);
    return wanted->row ? WW_OK
                       : ww_error_set(err, WW_EMEMORY, "no memory for %zu tones of a print", n);
}

/* Falls in a straight line from what white looks to have. */
static ww_status take_straight(const ww_tones_request *r, ww_tones_wanted *wanted, ww_error *err) {
    const size_t steps = (size_t)floor(r->subject_range / every + nearest);
    const double white =
        ww_viewing_veil(wanted->paper_white + WW__TONES_FIRST_TONE, r->viewing_flare);
    const ww_status status = reserve(wanted, steps + 2, err);
    if (status != WW_OK)
        return status;
    wanted->straight = true;
    wanted->slope = r->wanted_slope;
    for (size_t i = 0; i <= steps; i++)
        wanted->row[wanted->n++].scene = -every * (double)i;
    if (r->subject_range - every * (double)steps > nearest)
        wanted->row[wanted->n++].scene = -r->subject_range;
    for (size_t i = 0; i < wanted->n; i++)
        wanted->row[i].viewed = white - r->wanted_slope * wanted->row[i].scene;
    return WW_OK;
}

static ww_status check_table(const ww_readings *print, ww_error *err) {
    const ww_material material = print->meta.material;
    if (material == WW_MATERIAL_FILM || material == WW_MATERIAL_NEGATIVE ||
        material == WW_MATERIAL_WEDGE)
        return ww_error_set_at(
            err, WW_EMISMATCH, print->file, 0,
            "these are readings of a %s; a wanted print has densities, or L*, of "
            "a print",
            ww_material_name(material));
    if (print->exposure == WW_EXPOSURE_NONE || print->exposure == WW_EXPOSURE_TIME)
        return ww_error_set_at(err, WW_EMISMATCH, print->file, 0,
                               "no column says which tone of the scene a row is; give stop (0 is "
                               "white, -1 a stop darker) or logh (log10 of luminance over white)");
    return WW_OK;
}

static ww_status take_row(const ww_readings *print, size_t i, ww_channel channel, double zero,
                          ww_tones_wanted *wanted, ww_error *err) {
    const ww_row *from = &print->row[i];
    ww_tones_wanted_row *row = &wanted->row[wanted->n];
    if (from->is_base || from->cell[channel].state != WW_CELL_VALUE)
        return WW_OK;
    const ww_status status = ww_readings_log_h(print, i, &row->scene, err);
    if (status != WW_OK)
        return status;
    if (wanted->n > 0 && !(row->scene < row[-1].scene - nearest))
        return ww_error_set_at(err, WW_EMISMATCH, print->file, from->line,
                               "this tone of the scene is no darker than the one before it; give "
                               "rows from white on, each darker than the last");
    row->viewed = from->cell[channel].value + zero;
    row->error = ww_readings_error(&from->cell[channel]);
    wanted->n++;
    return WW_OK;
}

static ww_status take_pooled(ww_readings *print, ww_tones_wanted *wanted, ww_error *err) {
    ww_channel channel;
    ww_error why = WW_ERROR_INIT;
    (void)ww_readings_light(print);
    const double zero = print->meta.relative == WW_RELATIVE_WHITE ? wanted->paper_white : 0.0;
    ww_status status = ww_readings_black_and_white_channel(print, &channel, &why);
    if (status != WW_OK)
        return ww_error_set_at(err, status, print->file, 0, "%s", why.msg);
    status = reserve(wanted, print->n, err);
    for (size_t i = 0; i < print->n && status == WW_OK; i++)
        status = take_row(print, i, channel, zero, wanted, err);
    if (status == WW_OK && wanted->n < 2)
        status = ww_error_set_at(err, WW_ENODATA, print->file, 0,
                                 "a wanted print has two tones at least, and here stands %s; add "
                                 "rows",
                                 wanted->n == 1 ? "one" : "none");
    return status;
}

static ww_status take_table(const ww_readings *given, ww_tones_wanted *wanted, ww_error *err) {
    ww_readings pooled = WW_READINGS_INIT;
    ww_status status = check_table(given, err);
    if (status == WW_OK)
        status = ww_readings_pool(given, &pooled, err);
    if (status == WW_OK)
        status = take_pooled(&pooled, wanted, err);
    ww_readings_release(&pooled);
    return status;
}

/* --- back through the paper ------------------------------------------------------------------- */

static ww_tones_want why_not(const ww_tone_chain *chain, double viewed) {
    double print, light;
    if (ww_exposure_unflare(viewed, chain->viewing_flare, &print, NULL) != WW_OK)
        return WW_TONES_VEILED;
    const bool falling = chain->paper->shape.falling;
    light = ww_model_density(&chain->paper->shape,
                             falling ? chain->paper->domain_high : chain->paper->domain_low, NULL);
    return print < light ? WW_TONES_TOO_LIGHT : WW_TONES_TOO_DARK;
}

/* Exposures that the paper needs, by a paper that may have been moved. */
static void expose(const ww_tone_chain *chain, ww_tones_wanted *wanted) {
    for (size_t i = 0; i < wanted->n; i++) {
        ww_tones_wanted_row *row = &wanted->row[i];
        double log_h;
        row->paper_log_h = (ww_optional){false, 0.0};
        if (ww_tone_chain_expose(chain, row->viewed, &log_h, NULL) == WW_OK)
            row->paper_log_h = (ww_optional){true, log_h};
        row->want = row->paper_log_h.set ? WW_TONES_HAD : why_not(chain, row->viewed);
        if (row->want == WW_TONES_HAD && i > 0 && row->viewed < row[-1].viewed - nearest)
            row->want = WW_TONES_REVERSED;
    }
}

static bool find_thinnest(ww_tones_wanted *wanted) {
    bool any = false;
    for (size_t i = 0; i < wanted->n; i++) {
        const ww_optional log_h = wanted->row[i].paper_log_h;
        if (log_h.set && (!any || log_h.value > wanted->row[wanted->thinnest].paper_log_h.value)) {
            wanted->thinnest = i;
            any = true;
        }
    }
    return any;
}

/* Film density that lets through less light than the thinnest by so much log H. */
static bool film_behind(const ww_tone_chain *chain, double thinnest, double less, double *density) {
    double seen = 0.0;
    (void)ww_exposure_flare(chain->callier * thinnest, chain->enlarger_flare, &seen, NULL);
    return ww_tone_chain_unseen(chain, seen + less, density, NULL) == WW_OK;
}

static void develop(const ww_tone_chain *chain, double thinnest, ww_tones_wanted *wanted) {
    const double most = wanted->row[wanted->thinnest].paper_log_h.value;
    for (size_t i = 0; i < wanted->n; i++) {
        ww_tones_wanted_row *row = &wanted->row[i];
        double seen = 0.0, density;
        (void)ww_exposure_flare(-row->scene, chain->flare, &seen, NULL);
        row->film_log_h = chain->white_log_h - seen;
        if (!row->paper_log_h.set)
            continue;
        row->light = (ww_optional){true, pow(10.0, row->paper_log_h.value - most)};
        if (film_behind(chain, thinnest, most - row->paper_log_h.value, &density))
            row->negative = (ww_quantity){density, density, density, WW_FITTED};
        else
            row->want = WW_TONES_FLARED;
    }
}

/* --- doubt ------------------------------------------------------------------------------------ */

/* log H of a row less that of the thinnest, by a moved paper. */
static bool less_by(const ww_tone_chain *chain, const ww_channel_curve *paper,
                    const ww_tones_wanted *wanted, size_t i, double *less) {
    ww_tone_chain varied = *chain;
    double at, most;
    varied.paper = paper;
    if (ww_tone_chain_expose(&varied, wanted->row[i].viewed, &at, NULL) != WW_OK ||
        ww_tone_chain_expose(&varied, wanted->row[wanted->thinnest].viewed, &most, NULL) != WW_OK)
        return false;
    *less = most - at;
    return true;
}

static double slope_of(const ww_tone_chain *chain, const ww_tones_wanted_row *row) {
    double density, slope = 0.0;
    if (!row->paper_log_h.set ||
        ww_curve_density(chain->paper, row->paper_log_h.value, &density, &slope, NULL) != WW_OK)
        return 0.0;
    return slope * ww_exposure_flare_slope(density, chain->viewing_flare);
}

/* What reading the wanted tone is wrong by, in log H of the paper. */
static double read_wrong(const ww_tone_chain *chain, const ww_tones_wanted_row *row) {
    const double misfit = WW__TONES_MISFIT * chain->paper->residual_rms;
    return hypot(row->error, misfit) / fmax(fabs(slope_of(chain, row)), 1e-9);
}

static void doubt_row(const ww_tone_chain *chain, const ww__curve_directions *directions, size_t i,
                      ww_tones_wanted *wanted) {
    ww_tones_wanted_row *row = &wanted->row[i];
    double variance = 0.0;
    if (!ww_quantity_present(row->negative) || i == wanted->thinnest)
        return;
    for (size_t k = 0; k < directions->n; k++) {
        const ww_channel_curve up = ww__curve_vary(chain->paper, directions, k, moved);
        const ww_channel_curve down = ww__curve_vary(chain->paper, directions, k, -moved);
        double high, low;
        if (less_by(chain, &up, wanted, i, &high) && less_by(chain, &down, wanted, i, &low))
            variance += (high - low) * (high - low) / (4.0 * moved * moved);
    }
    const double own = read_wrong(chain, row);
    const double thin = read_wrong(chain, &wanted->row[wanted->thinnest]);
    const double slope =
        chain->callier *
        ww_exposure_flare_slope(chain->callier * row->negative.value, chain->enlarger_flare);
    const double half = WW__TONES_95 * sqrt(variance + own * own + thin * thin) / fmax(slope, 1e-9);
    row->negative.low -= half;
    row->negative.high += half;
}

/* --- what it comes to ------------------------------------------------------------------------- */

static void take_slope(ww_optional *slope, double value, bool least) {
    if (!slope->set || (least ? value < slope->value : value > slope->value))
        *slope = (ww_optional){true, value};
}

static void find_slopes(ww_tones_wanted *wanted) {
    for (size_t i = 0; i < wanted->n; i++) {
        ww_tones_wanted_row *row = &wanted->row[i];
        const ww_tones_wanted_row *a = i > 0 ? row - 1 : row;
        const ww_tones_wanted_row *b = i + 1 < wanted->n ? row + 1 : row;
        if (!ww_quantity_present(row->negative))
            continue;
        a = ww_quantity_present(a->negative) ? a : row;
        b = ww_quantity_present(b->negative) ? b : row;
        if (!(a->film_log_h - b->film_log_h > nearest))
            continue;
        row->slope = (ww_optional){true, (a->negative.value - b->negative.value) /
                                             (a->film_log_h - b->film_log_h)};
        take_slope(&wanted->slope_least, row->slope.value, true);
        take_slope(&wanted->slope_most, row->slope.value, false);
    }
}

static void sum_up(ww_tones_wanted *wanted) {
    double thin = 0.0, dense = 0.0;
    bool any = false;
    for (size_t i = 0; i < wanted->n; i++) {
        const ww_tones_wanted_row *row = &wanted->row[i];
        wanted->n_had += row->want == WW_TONES_HAD;
        if (!ww_quantity_present(row->negative))
            continue;
        thin = any ? fmin(thin, row->negative.value) : row->negative.value;
        dense = any ? fmax(dense, row->negative.value) : row->negative.value;
        any = true;
    }
    wanted->range = (ww_optional){any, dense - thin};
    find_slopes(wanted);
}

static void hold_against(const ww_channel_curve *film, ww_tones_wanted *wanted) {
    for (size_t i = 0; i < wanted->n; i++) {
        ww_tones_wanted_row *row = &wanted->row[i];
        double density;
        if (ww_curve_density(film, row->film_log_h, &density, NULL, NULL) != WW_OK)
            continue;
        row->film = (ww_optional){true, density};
        if (!ww_quantity_present(row->negative))
            continue;
        density -= row->negative.value;
        if (!wanted->worst.set || fabs(density) > fabs(wanted->worst.value)) {
            wanted->worst = (ww_optional){true, density};
            wanted->worst_at = i;
        }
    }
}

/* --------------------------------------------------------------------------------------------- */

static ww_status start(const ww_tones_request *r, ww_tones *tones, ww_tone_chain *chain,
                       ww_error *err) {
    ww_tones_wanted *wanted = &tones->wanted;
    ww__tones_pair pair;
    double sd;
    const size_t main = ww_tones_main(tones);
    ww_status status = tones->n > 0 ? WW_OK : ww__tones_channels(r, 0, 0, &pair, err);
    if (status != WW_OK)
        return status;
    wanted->given = true;
    wanted->paper_channel = tones->n > 0 ? tones->chain[main].paper_channel : pair.paper[0];
    wanted->paper_white = ww__tones_white(r->paper[0], wanted->paper_channel, &sd);
    *chain = (ww_tone_chain){.paper = &r->paper[0]->channel[wanted->paper_channel],
                             .flare = r->flare,
                             .callier = r->callier,
                             .enlarger_flare = r->enlarger_flare,
                             .viewing_flare = r->viewing_flare};
    if (tones->n > 0)
        *chain = tones->chain[main].chain;
    wanted->doubted = chain->paper->covariance != NULL;
    wanted->reversal = chain->paper->shape.falling;
    return ww__tones_name(r->paper[0], ww__tones_file(r->paper_file, 0), "paper", &wanted->paper,
                          err);
}

/* The film's own density at the thinnest tone where it has one. */
static double thinnest_of(const ww_tone_chain *chain, const ww_tones_wanted *wanted) {
    double seen = 0.0, density = WW__TONES_THINNEST;
    (void)ww_exposure_flare(-wanted->row[wanted->thinnest].scene, chain->flare, &seen, NULL);
    if (chain->film)
        (void)ww_curve_density(chain->film, chain->white_log_h - seen, &density, NULL, NULL);
    return density;
}

static ww_status work_back(const ww_tones_request *r, const ww_tone_chain *chain,
                           ww_tones_wanted *wanted, ww_error *err) {
    ww__curve_directions directions;
    expose(chain, wanted);
    if (!find_thinnest(wanted))
        return ww_error_set_at(err, WW_ENODATA, ww__tones_file(r->paper_file, 0), 0,
                               "no tone of the wanted print can be had on this paper: the first is "
                               "%s; give another paper or other densities",
                               ww_tones_want_name(wanted->row[0].want));
    develop(chain, thinnest_of(chain, wanted), wanted);
    ww__curve_vary_find(chain->paper, &directions);
    for (size_t i = 0; i < wanted->n && wanted->doubted; i++)
        doubt_row(chain, &directions, i, wanted);
    sum_up(wanted);
    if (chain->film)
        hold_against(chain->film, wanted);
    return WW_OK;
}

ww_status ww__tones_wanted(const ww_tones_request *r, ww_tones *tones, ww_error *err) {
    ww_tones_wanted *wanted = &tones->wanted;
    ww_tone_chain chain;
    ww_status status = start(r, tones, &chain, err);
    if (status == WW_OK)
        status = r->wanted_print ? take_table(r->wanted_print, wanted, err)
                                 : take_straight(r, wanted, err);
    if (status == WW_OK)
        status = work_back(r, &chain, wanted, err);
    tones->holds = wanted->n_had == wanted->n;
    return status;
}
