/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/surround.h"

#include "image/density.h"
#include "image/measure_notes.h"
#include "image/patch.h"
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <wedgework/number.h>

/* Of half the strip's width: where rows of pieces begin, and how broad a piece is. */
static const double near_row = 0.1, far_row = 0.6, broad = 0.3;
static const double edge_px = 3.0;      /* by which an edge is blurred */
static const double piece = 1.0 / 12.0; /* of the strip's length */
static const double reach = 0.1;        /* D, as far beyond its thinnest step a doubt doubles */

enum { ALONG = 3, ROWS = 2, PIECES_MOST = 2 * ROWS * (ALONG + 1) };

/* ------------------------------------------------------------------------------------ pieces */

typedef struct pieces {
    const ww_picture *picture;
    const ww__strip_found *found;
    ww__area area[PIECES_MOST];
    size_t n;
} pieces;

/* A piece whose middle lies at u along the strip and v across it. */
static void add(pieces *p, double u, double v, double half_u, double half_v) {
    const ww__strip_found *f = p->found;
    const ww__area area = {.centre = {f->origin[0] + u * f->along[0] + v * f->across[0],
                                      f->origin[1] + u * f->along[1] + v * f->across[1]},
                           .along = {f->along[0], f->along[1]},
                           .across = {f->across[0], f->across[1]},
                           .half_u = half_u,
                           .half_v = half_v};
    if (ww__area_pixels(&area, p->picture->width, p->picture->height) >= WW__NOTES_PIXELS)
        p->area[p->n++] = area;
}

static void place(pieces *p) {
    const ww__strip_found *f = p->found;
    const double first = f->edge[0], last = f->edge[f->n], length = last - first;
    const double half = 0.5 * broad * f->half;
    for (size_t row = 0; row < ROWS; row++) {
        const double off = fmax((row > 0 ? far_row : near_row) * f->half, edge_px) + half;
        for (int side = -1; side <= 1; side += 2) {
            for (size_t i = 0; i < ALONG; i++)
                add(p, first + length * ((double)i + 0.5) / ALONG, side * (f->half + off),
                    0.5 * piece * length, half);
            add(p, side < 0 ? first - off : last + off, 0.0, half, half);
        }
    }
}

ww_status ww__surround_read(const ww_picture *picture, const ww__strip_found *found,
                            const ww_scanner *scanner, size_t threads,
                            ww_surround surround[WW_CHANNEL_COUNT], ww_error *err) {
    assert(picture && found && found->n > 0 && surround);
    pieces p = {.picture = picture, .found = found};
    ww_patch patch[PIECES_MOST];
    place(&p);
    if (p.n == 0)
        return WW_OK;
    const ww_status status = ww__patch_read(picture, p.area, p.n, scanner, threads, patch, err);
    for (size_t i = 0; i < p.n && status == WW_OK; i++)
        for (size_t k = 0; k < picture->channels; k++) {
            const ww_channel c = ww__patch_channel(picture, k);
            const ww_patch_channel *seen = &patch[i].channel[c];
            const bool tells =
                patch[i].n >= WW__NOTES_PIXELS && patch[i].rejected <= WW__DENSITY_LEFT_OUT;
            if (tells && !(surround[c].seen && seen->code <= surround[c].code))
                surround[c] = (ww_surround){true, seen->code, seen->clipped, seen->sd};
        }
    return status;
}

/* -------------------------------------------------------------------------------------- note */

double ww__surround_light(const ww_scanner *scanner, int c, double code) {
    const ww_scanner_channel *channel = &scanner->channel[c];
    return ww_scanner_light(scanner, code) - channel->k * channel->flare.value -
           channel->dark.value;
}

/* D up to which two lights near that of density 0 may be the same: the doubt of the scale there. */
static double limit_at_0(const ww_scanner_channel *channel) {
    const ww_scanner_point *thin = &channel->point[channel->n_points - 1];
    return hypot(WW__NOTES_BASE, thin->doubt * (1.0 + fmax(thin->density, 0.0) / reach));
}

/* D by which what lay beside the wedge was lighter than its density 0. */
static double beside_above_0(const ww_scanner *scanner, int c) {
    const ww_scanner_channel *channel = &scanner->channel[c];
    if (!channel->surround.set)
        return -HUGE_VAL;
    const double light = ww__surround_light(scanner, c, channel->surround.value);
    return light > 0.0 ? log10(light / channel->k) : -HUGE_VAL;
}

/* Whether what lay beside the wedge was as light as density 0, or lighter: bare glass. */
static bool tells_base(const ww_scanner *scanner, int c) {
    return beside_above_0(scanner, c) >= -limit_at_0(&scanner->channel[c]);
}

double ww__surround_above(const ww_scanner *scanner, int c, double code, double *limit) {
    const ww_scanner_channel *channel = &scanner->channel[c];
    const double beside = beside_above_0(scanner, c);
    const double now = ww__surround_light(scanner, c, code);
    *limit = beside > 0.0 ? WW__NOTES_BASE : limit_at_0(channel);
    return now > 0.0 ? log10(now / channel->k) - fmax(beside, 0.0) : -HUGE_VAL;
}

double ww__surround_code(const ww_scanner *scanner, int c, double above) {
    const ww_scanner_channel *channel = &scanner->channel[c];
    const double open = pow(10.0, above + fmax(beside_above_0(scanner, c), 0.0));
    return ww_scanner_code(scanner,
                           channel->k * (open + channel->flare.value) + channel->dark.value);
}

bool ww__surround_below_0(const ww_scanner *scanner, int c, double code,
                          char words[WW__SURROUND_WORDS]) {
    double limit;
    char base[32];
    assert(scanner && words);
    const double beside = beside_above_0(scanner, c);
    const bool lighter = ww__surround_above(scanner, c, code, &limit) > limit;
    if (beside > limit_at_0(&scanner->channel[c]) && !lighter) {
        snprintf(words, WW__SURROUND_WORDS,
                 "below 0 but no lighter than what lay beside the wedge when the scanner was "
                 "calibrated: the wedge's densities leave out its base, about %s D, and so do all "
                 "densities here",
                 ww_number_format(beside, 2, base, sizeof base));
        return false;
    }
    snprintf(words, WW__SURROUND_WORDS,
             "lighter than open light was when the scanner was calibrated: exposure, lamp or "
             "levels have changed since%s, and all densities here are off; calibrate anew with the "
             "settings of this scan",
             tells_base(scanner, c) ? ""
                                    : " (or the wedge's densities leave out its base; no open "
                                      "light lay beside it that would tell)");
    return true;
}

/* D by which the surround is lighter than anything was; 0 where that may be none. */
static double lighter(const ww_scanner *scanner, int c, double code) {
    double limit;
    const double by = ww__surround_above(scanner, c, code, &limit);
    return by > limit ? by : 0.0;
}

ww_status ww__surround_note(ww_measured *measured, const ww_scanner *scanner, ww_error *err) {
    double most = 0.0;
    int worst = 0;
    bool all = true;
    char shown[32], channel[24] = "";
    assert(measured && scanner);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const double by = measured->has[c] && measured->surround[c].seen
                              ? lighter(scanner, c, measured->surround[c].code)
                              : 0.0;
        all = all && (by > 0.0 || !measured->has[c]);
        if (by > most) {
            most = by;
            worst = c;
        }
    }
    if (most == 0.0)
        return WW_OK;
    if (!all)
        snprintf(channel, sizeof channel, " (%s)", ww_channel_name((ww_channel)worst));
    const bool clipped = measured->surround[worst].clipped > WW__DENSITY_CLIPPED;
    ww__density_put_off(measured);
    ww_number_format(most, 2, shown, sizeof shown);
    return ww_notes_add(
        &measured->notes, err,
        "Beside the strip%s the scan is %s%s D lighter than open light was when "
        "the scanner was calibrated%s: exposure, lamp or levels have changed since "
        "(automatic ones?), and all densities here are off: too thin by %s as "
        "much if the codes are encoded as they were (gamma, sRGB), by far more if "
        "not%s. Lock the exposure and calibrate anew with the settings of this scan",
        channel, clipped ? "at least " : "", shown, clipped ? ", and clipped" : "",
        clipped ? "at least" : "about",
        tells_base(scanner, worst) ? "" : "; or else the wedge's densities leave out its base");
}
