/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/settings.h"

#include "core/readings.h"
#include "image/density.h"
#include "image/fault.h"
#include "image/surround.h"
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <wedgework/number.h>

/* What a scan shows of the settings that it was made with, all channels together. */
typedef struct evidence {
    bool exposure; /* what is named glass is as light as open light was */
    bool alike;    /* something is, and may be film base that got more light */
    bool encoding; /* the profile is, or a mask beside: levels and encoding move what is dark */
    double mask;   /* D by which the mask is lighter, where masks differ most */
    double glass;  /* D by which what may be bare glass is darker than open light was; 0: none is */
} evidence;

/* Where light comes back there is no open light that could be laid bare. */
static bool has_open_light(const ww_scanner *scanner) {
    return scanner->density != WW_DENSITY_REFLECTION;
}

static bool is_open(const ww_scanner *scanner, int c, double code) {
    double limit;
    const double above = ww__surround_above(scanner, c, code, &limit);
    return fabs(above) <= limit;
}

static bool is_named_glass(const ww_measured *m, size_t i) {
    return i >= m->n - m->n_spots && ww__readings_is_glass_word(m->patch[i].step);
}

/* Whether a patch is as light as open light was; `named`: one that is named glass. */
static bool has_open_patch(const ww_measured *m, int c, const ww_scanner *scanner, bool named) {
    for (size_t i = 0; i < m->n; i++) {
        const ww_patch_channel *patch = &m->patch[i].channel[c];
        if ((!named || is_named_glass(m, i)) && !(patch->clipped > WW__DENSITY_CLIPPED) &&
            is_open(scanner, c, patch->code))
            return true;
    }
    return false;
}

static bool has_alike(const ww_measured *m, int c, const ww_scanner *scanner) {
    const ww_surround *beside = &m->surround[c];
    return (beside->seen && !(beside->clipped > WW__DENSITY_CLIPPED) &&
            is_open(scanner, c, beside->code)) ||
           has_open_patch(m, c, scanner, false);
}

/* Of open light, 0 to 1. */
static double share_of(const ww_scanner *scanner, int c, double code) {
    double limit;
    return fmin(pow(10.0, ww__surround_above(scanner, c, code, &limit)), 1.0);
}

/* D by which the mask is lighter than that of the wedge; false where one of them is none. */
static bool compare_masks(const ww_measured *m, int c, const ww_scanner *scanner, double *lighter) {
    const ww_optional then = scanner->channel[c].surround;
    if (!m->surround[c].seen || !then.set ||
        share_of(scanner, c, m->surround[c].code) > WW__SETTINGS_SHARE ||
        share_of(scanner, c, then.value) > WW__SETTINGS_SHARE)
        return false;
    const double was = ww_scanner_light(scanner, then.value);
    const double is = ww_scanner_light(scanner, m->surround[c].code);
    *lighter = was > 0.0 && is > 0.0 ? log10(is / was) : 0.0;
    return was > 0.0 && is > 0.0;
}

/* D by which what lies beside is darker than open light was; 0 where that is no bare glass: it is
 * as light, no lighter than some step, as the margin of a film, or darker by over a stop. */
static double dark_glass(const ww_measured *m, int c, const ww_scanner *scanner) {
    const ww_surround *beside = &m->surround[c];
    double limit;
    if (!beside->seen)
        return 0.0;
    for (size_t i = 0; i < m->n; i++)
        if (m->patch[i].channel[c].code >= beside->code)
            return 0.0;
    const double darker = -ww__surround_above(scanner, c, beside->code, &limit);
    return darker > limit && darker < log10(2.0) ? darker : 0.0;
}

static evidence collect(const ww_measured *m, const ww_scanner *scanner) {
    bool glass = has_open_light(scanner);
    evidence e = {.exposure = glass, .alike = glass, .encoding = true};
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        double lighter = 0.0;
        if (!m->has[c])
            continue;
        const double darker = dark_glass(m, c, scanner);
        glass = glass && darker > 0.0;
        e.glass = glass ? fmax(e.glass, darker) : 0.0;
        e.exposure = e.exposure && has_open_patch(m, c, scanner, true);
        e.alike = e.alike && has_alike(m, c, scanner);
        e.encoding = e.encoding && compare_masks(m, c, scanner, &lighter) &&
                     fabs(lighter) <= WW__SETTINGS_MASK;
        e.mask = fabs(lighter) > fabs(e.mask) ? lighter : e.mask;
    }
    e.encoding = e.encoding || (m->profile && scanner->profile);
    return e;
}

static ww_status note_unchecked(const evidence *e, const ww_scanner *scanner, ww_notes *notes,
                                ww_error *err) {
    char by[32], mask[160] = "", glass[240] = "";
    if (e->exposure && e->encoding)
        return WW_OK;
    if (e->glass > 0.0)
        snprintf(glass, sizeof glass,
                 ". What lies beside the strip is %s D darker than open light was when the scanner "
                 "was calibrated: if it is bare glass and no film, exposure, lamp or levels have "
                 "changed, and all densities here are too dense by about that",
                 ww_number_format(e->glass, 2, by, sizeof by));
    if (fabs(e->mask) > WW__SETTINGS_MASK)
        snprintf(mask, sizeof mask,
                 ". The mask is %s D %s than the wedge's was: unless it is another one, they have "
                 "changed",
                 ww_number_format(fabs(e->mask), 2, by, sizeof by),
                 e->mask > 0.0 ? "lighter" : "darker");
    if (e->exposure)
        return ww_notes_add(notes, err,
                            "Open light here is as it was for the scanner file, and so is the "
                            "exposure; nothing shows whether levels and encoding are, and the "
                            "trust holds only if they are: a scan of the wedge would check them%s.",
                            mask);
    if (e->alike)
        return ww_notes_add(notes, err,
                            "The lightest here is as light as open light was for the scanner "
                            "file. If it is open light, the exposure is as it was%s; if it is film "
                            "base, this scan got more light than the wedge's, and all densities "
                            "are too low by what that base has. `measure` with a --spot named "
                            "glass, on bare glass, would tell%s.",
                            e->encoding ? "" : ", though nothing shows levels and encoding", mask);
    return ww_notes_add(
        notes, err,
        "Nothing in this scan shows whether exposure%s are those of the scanner "
        "file, and the trust holds only if they are: %s%s%s.",
        e->encoding ? " and levels" : ", levels and encoding",
        has_open_light(scanner)
            ? "`measure` with a --spot named glass, on bare glass, would check the exposure, and "
              "a scan of the wedge all of them"
            : "a scan of the wedge would check them",
        mask, glass);
}

/* What is named glass is open light, or the scan was exposed otherwise. */
static ww_status note_glass(ww_measured *m, const ww_scanner *scanner, ww_error *err) {
    ww__fault glass = {.patches = 0};
    char words[WW__FAULT_WORDS], density[32], stops[32];
    for (size_t i = m->n - m->n_spots; i < m->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            double limit;
            const double code = m->patch[i].channel[c].code;
            if (!m->has[c] || !is_named_glass(m, i))
                continue;
            const double above = ww__surround_above(scanner, c, code, &limit);
            if (fabs(above) > limit)
                ww__fault_keep(&glass, i, (ww_channel)c, above);
        }
    if (glass.patches == 0)
        return WW_OK;
    ww__density_put_off(m);
    ww_number_format(fabs(glass.value), 2, density, sizeof density);
    ww_number_format(fabs(glass.value) / log10(2.0), 2, stops, sizeof stops);
    return ww_notes_add(
        &m->notes, err,
        "%s: %s D (%s stop) %s than open light was when the scanner was "
        "calibrated. If this is bare glass, exposure, lamp or levels have changed "
        "since (automatic ones?), and all densities here are too %s, by about as "
        "much if the codes are encoded as they were; lock the exposure and calibrate "
        "anew with the settings of this scan",
        ww__fault_who(m, "spot", &glass, words), density, stops,
        glass.value > 0.0 ? "lighter" : "darker", glass.value > 0.0 ? "thin" : "dense");
}

static void doubt_flare(ww_measured *m, int c, double share) {
    for (size_t i = 0; i < m->n; i++) {
        ww_cell *density = &m->patch[i].channel[c].density;
        if (density->state == WW_CELL_VALUE && density->sd.set)
            density->sd.value = hypot(density->sd.value, WW__SETTINGS_FLARE * share *
                                                             pow(10.0, density->value) / log(10.0));
    }
}

static ww_status note_flare(ww_measured *m, const ww_scanner *scanner, ww_error *err) {
    double now = 0.0, then = 0.0;
    char shares[2][32], thinner[32];
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_optional wedge = scanner->channel[c].surround;
        if (!m->has[c] || !m->surround[c].seen || !wedge.set)
            continue;
        const double is = share_of(scanner, c, m->surround[c].code);
        const double was = share_of(scanner, c, wedge.value);
        doubt_flare(m, c, fabs(is - was));
        if (fabs(is - was) > fabs(now - then))
            now = is, then = was;
    }
    if (!(fabs(now - then) > WW__SETTINGS_SHARE))
        return WW_OK;
    ww_number_format(100.0 * now, 0, shares[0], sizeof shares[0]);
    ww_number_format(100.0 * then, 0, shares[1], sizeof shares[1]);
    if (now < then)
        return ww_notes_add(
            &m->notes, err,
            "Beside the strip lies %s %% of open light, beside the wedge of the "
            "scanner file lay %s %%: flare from there is in the calibration but not "
            "here, and dense steps may read denser: their doubt holds 1 %% of it; mask "
            "the wedge alike and calibrate anew",
            shares[0], shares[1]);
    ww_number_format(log10(1.0 + now - then), 2, thinner, sizeof thinner);
    return ww_notes_add(
        &m->notes, err,
        "Beside the strip lies %s %% of open light, beside the wedge of the scanner "
        "file lay %s %%: flare from there is not in the calibration, and dense "
        "steps read thinner, density 2.00 by %s D if 1 %% of it strays, as their doubt "
        "holds; mask the strip as the wedge was",
        shares[0], shares[1], thinner);
}

ww_status ww__settings_note(ww_measured *measured, bool known, const ww_scanner *scanner,
                            ww_error *err) {
    assert(measured && scanner);
    ww_status status = WW_OK;
    if (!measured->off && has_open_light(scanner))
        status = note_glass(measured, scanner, err);
    if (status == WW_OK && !known && !measured->off) {
        const evidence shown = collect(measured, scanner);
        status = note_unchecked(&shown, scanner, &measured->notes, err);
    }
    return status == WW_OK ? note_flare(measured, scanner, err) : status;
}

ww_status ww__settings_pixels_note(bool alike, const char *profile, const ww_scanner *scanner,
                                   ww_notes *notes, ww_error *err) {
    const evidence shown = {.alike = alike && has_open_light(scanner),
                            .encoding = profile && scanner->profile};
    return note_unchecked(&shown, scanner, notes, err);
}

ww_status ww__settings_whole_note(ww_whole *whole, const char *profile, const ww_scanner *scanner,
                                  ww_error *err) {
    bool open = true;
    assert(whole && scanner);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        open = open && (!whole->has[c] || is_open(scanner, c, whole->code[c][WW_WHOLE_P99]) ||
                        is_open(scanner, c, whole->code[c][WW_WHOLE_P99_9]));
    return whole->off ? WW_OK
                      : ww__settings_pixels_note(open, profile, scanner, &whole->notes, err);
}
