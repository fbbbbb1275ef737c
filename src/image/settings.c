/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/settings.h"

#include "image/surround.h"
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <wedgework/number.h>

static const char unchecked[] =
    "Nothing in this scan shows whether exposure, levels and encoding are those of the scanner "
    "file, and the trust holds only if they are: a --spot on bare glass would check them, or a "
    "scan of the wedge";

static bool is_open(const ww_scanner *scanner, int c, double code) {
    double limit;
    const double above = ww__surround_above(scanner, c, code, &limit);
    return fabs(above) <= limit;
}

static bool shows_open_light(const ww_measured *m, int c, const ww_scanner *scanner) {
    if (m->surround[c].seen && is_open(scanner, c, m->surround[c].code))
        return true;
    for (size_t i = 0; i < m->n; i++)
        if (is_open(scanner, c, m->patch[i].channel[c].code))
            return true;
    return false;
}

/* Of open light, 0 to 1. */
static double share_of(const ww_scanner *scanner, int c, double code) {
    double limit;
    return fmin(pow(10.0, ww__surround_above(scanner, c, code, &limit)), 1.0);
}

/* D by which the mask is lighter than that of the wedge; 0 where one of them is none. */
static double mask_lighter(const ww_measured *m, int c, const ww_scanner *scanner) {
    const ww_optional then = scanner->channel[c].surround;
    if (!m->surround[c].seen || !then.set ||
        share_of(scanner, c, m->surround[c].code) > WW__SETTINGS_SHARE ||
        share_of(scanner, c, then.value) > WW__SETTINGS_SHARE)
        return 0.0;
    const double was = ww_scanner_light(scanner, then.value);
    const double is = ww_scanner_light(scanner, m->surround[c].code);
    return was > 0.0 && is > 0.0 ? log10(is / was) : 0.0;
}

static ww_status note_unchecked(ww_measured *m, const ww_scanner *scanner, ww_error *err) {
    bool checked = true;
    double mask = 0.0;
    char by[32], evidence[160] = "";
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (!m->has[c])
            continue;
        checked = checked && shows_open_light(m, c, scanner);
        const double lighter = mask_lighter(m, c, scanner);
        mask = fabs(lighter) > fabs(mask) ? lighter : mask;
    }
    if (checked)
        return WW_OK;
    if (fabs(mask) > WW__SETTINGS_MASK)
        snprintf(evidence, sizeof evidence,
                 ". The mask is %s D %s than the wedge's was: unless it is another one, they have "
                 "changed",
                 ww_number_format(fabs(mask), 2, by, sizeof by), mask > 0.0 ? "lighter" : "darker");
    return ww_notes_add(&m->notes, err, "%s%s", unchecked, evidence);
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
    const ww_status status =
        known || measured->off ? WW_OK : note_unchecked(measured, scanner, err);
    return status == WW_OK ? note_flare(measured, scanner, err) : status;
}

ww_status ww__settings_whole_note(ww_whole *whole, const ww_scanner *scanner, ww_error *err) {
    bool checked = true;
    assert(whole && scanner);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        checked = checked && (!whole->has[c] || is_open(scanner, c, whole->code[c][WW_WHOLE_P99]) ||
                              is_open(scanner, c, whole->code[c][WW_WHOLE_P99_9]));
    return checked || whole->off ? WW_OK : ww_notes_add(&whole->notes, err, "%s", unchecked);
}
