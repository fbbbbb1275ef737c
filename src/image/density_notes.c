/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/density_notes.h"

#include "core/scanner.h"
#include "image/density.h"
#include "image/fault.h"
#include "image/grain.h"
#include "image/measure_notes.h"
#include "image/surround.h"
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <wedgework/number.h>

static const char with_more[] = "scan with more exposure, or set the black point lower";

/* The limit of a density that is only known by one. */
static const char *less_than(const ww_measured *m, const ww__fault *f, char text[32]) {
    return ww_number_format(m->patch[f->patch].channel[f->channel].density.value, 2, text, 32);
}

static bool is_clipped(const ww_patch_channel *channel, bool light, const ww_scanner *scanner) {
    if (scanner)
        return channel->clipped > WW__DENSITY_CLIPPED &&
               channel->reach == (light ? WW_REACH_LIGHT : WW_REACH_DARK);
    return channel->clipped > WW__NOTES_CLIPPED;
}

/* Without a scanner file there are codes only, and whoever makes densities of them must know. */
static ww_status note_clipped(ww_measured *m, const char *what, bool light,
                              const ww_scanner *scanner, ww_error *err) {
    ww__fault clip = {.patches = 0};
    char words[WW__FAULT_WORDS], share[32], limit[32], means[80];
    for (size_t i = 0; i < m->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const ww_patch_channel *channel = &m->patch[i].channel[c];
            if (m->has[c] && is_clipped(channel, light, scanner) &&
                light == (channel->code > 0.5 * m->white))
                ww__fault_keep(&clip, i, (ww_channel)c, channel->clipped);
        }
    if (clip.patches == 0)
        return WW_OK;
    if (!scanner)
        snprintf(means, sizeof means, "a density would be %s than the code says",
                 light ? "less" : "more");
    else if (light)
        snprintf(means, sizeof means, "there is no density but that it is less than %s",
                 less_than(m, &clip, limit));
    else
        snprintf(means, sizeof means, "there is no density but that it is over what was seen");
    return ww_notes_add(&m->notes, err,
                        light ? "%s: %s %% of the pixels are clipped at the greatest code, so %s; "
                                "scan with less exposure"
                              : "%s: %s %% of the pixels are clipped at code 0, so %s; %s",
                        ww__fault_who(m, what, &clip, words),
                        ww__fault_percent(clip.value, share, sizeof share), means, with_more);
}

/* Density by which light changes across a patch; 0 where grain may be all of it. */
static double uneven(const ww_measured *m, size_t i, int c, const ww_scanner *scanner) {
    const ww_patch_channel *channel = &m->patch[i].channel[c];
    const double surely = WW__GRAIN_SURELY * ww__grain_drift_error(m, i, c);
    const double half = 0.5 * fabs(channel->drift);
    const double low = ww__density_light(scanner, m->white, channel->code - half);
    const double high = ww__density_light(scanner, m->white, channel->code + half);
    return 2.0 * half > surely && low > 0.0 ? log10(high / low) : 0.0;
}

static ww_status note_uneven(ww_measured *m, const char *what, const ww_scanner *scanner,
                             ww_error *err) {
    ww__fault slope = {.patches = 0};
    char words[WW__FAULT_WORDS], density[32];
    for (size_t i = 0; i < m->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const double change = m->has[c] ? uneven(m, i, c, scanner) : 0.0;
            if (change > WW__NOTES_UNEVEN && !ww__density_is_none(m, i))
                ww__fault_keep(&slope, i, (ww_channel)c, change);
        }
    if (slope.patches == 0)
        return WW_OK;
    ww_number_format(slope.value, 3, density, sizeof density);
    return ww_notes_add(&m->notes, err,
                        "%s: the light changes by %s D from one side to the other; the mean stands "
                        "for its middle, with more doubt; move it to where the lamp is even, or "
                        "check how it lies",
                        ww__fault_who(m, what, &slope, words), density);
}

/* The patch of which most was left out, or else that which changes most. */
static ww_status note_none(ww_measured *m, const char *what, const ww_scanner *scanner,
                           ww_error *err) {
    ww__fault none = {.patches = 0};
    char words[WW__FAULT_WORDS], number[32], why[80] = "its pixels differ too much";
    bool light = false;
    for (size_t i = 0; i < m->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            if (m->has[c] && m->patch[i].channel[c].reach == WW_REACH_NONE)
                ww__fault_keep(&none, i, (ww_channel)c,
                               m->patch[i].rejected > WW__DENSITY_LEFT_OUT
                                   ? 100.0 * m->patch[i].rejected
                                   : uneven(m, i, c, scanner));
    if (none.patches == 0)
        return WW_OK;
    const ww_patch *patch = &m->patch[none.patch];
    const double share = patch->rejected;
    const double clipped = ww__density_clipped(m, none.patch, &light);
    if (clipped > 0.0)
        snprintf(why, sizeof why, "%s %% of its pixels are clipped and others are not",
                 ww__fault_percent(clipped, number, sizeof number));
    else if (share > WW__DENSITY_LEFT_OUT || (share > WW__DENSITY_DUST && patch->line == 0))
        snprintf(why, sizeof why, "%s %% of its pixels are unlike the rest",
                 ww__fault_percent(share, number, sizeof number));
    else if (none.value > WW__DENSITY_UNEVEN)
        snprintf(why, sizeof why, "it changes by %s D from one side to the other",
                 ww_number_format(none.value, 2, number, sizeof number));
    return ww_notes_add(&m->notes, err, "%s: %s, so it has no one density and none is given; %s",
                        ww__fault_who(m, what, &none, words), why,
                        clipped > 0.0 ? light ? "scan with less exposure" : with_more
                        : patch->radius > 0.0
                            ? "move it onto one even tone or make it smaller (see measure "
                              "--overlay), or clean it and scan again"
                            : "see measure --overlay, clean it and scan again");
}

static ww_status note_misfit(ww_measured *m, const ww_scanner *scanner, ww_error *err) {
    if (!scanner->misfit)
        return WW_OK;
    ww__density_put_off(m);
    return ww_notes_add(&m->notes, err, WW__DENSITY_MISFIT);
}

/* Or the scanner: ww__scanner_scale_off of 1 D. */
static ww_status note_scale(ww_measured *m, const ww_scanner *scanner, ww_error *err) {
    const double off = ww__scanner_scale_off(scanner, 1.0);
    char percent[32];
    if (scanner->misfit || !(off > 0.0))
        return WW_OK;
    return ww_notes_add(&m->notes, err,
                        "The wedge that the scanner was calibrated on is off by %s %% throughout, "
                        "or the scanner is, as the notes of its calibration say: densities follow "
                        "the wedge's file, and their doubts hold the other; calibrate on another "
                        "wedge",
                        ww_number_format(100.0 * off, 1, percent, sizeof percent));
}

/* Those by which all densities are off; or else those that only lack the wedge's base. */
static ww_status note_below_0(ww_measured *m, const char *what, const ww_scanner *scanner,
                              ww_error *err) {
    ww__fault kinds[2] = {{.patches = 0}, {.patches = 0}};
    char words[WW__FAULT_WORDS], density[32], means[WW__SURROUND_WORDS];
    for (size_t i = 0; i < m->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const ww_patch_channel *channel = &m->patch[i].channel[c];
            if (m->has[c] && ww__density_is_below_0(&channel->density))
                ww__fault_keep(&kinds[ww__surround_below_0(scanner, c, channel->code, means)], i,
                               (ww_channel)c, channel->density.value);
        }
    const bool off = kinds[1].patches > 0;
    const ww__fault *light = &kinds[off];
    if (light->patches == 0)
        return WW_OK;
    const ww_patch_channel *worst = &m->patch[light->patch].channel[light->channel];
    (void)ww__surround_below_0(scanner, (int)light->channel, worst->code, means);
    if (off)
        ww__density_put_off(m);
    return ww_notes_add(&m->notes, err, "%s: density %s%s, %s",
                        ww__fault_who(m, what, light, words),
                        worst->density.state == WW_CELL_LESS ? "less than " : "",
                        ww_number_format(light->value, 2, density, sizeof density), means);
}

static ww_status note_reach(ww_measured *m, const char *what, ww_reach reach,
                            const ww_scanner *scanner, ww_error *err) {
    static const char *const says[] = {
        [WW_REACH_THINNER] = "a little thinner than the wedge that calibrated the scanner; the "
                             "density is the model's",
        [WW_REACH_DENSER] = "a little denser than the wedge that calibrated the scanner, by hardly "
                            "more than its doubt; the density is the model's",
        [WW_REACH_LIGHT] = "lighter than the scanner can be trusted with by its wedge, so there is "
                           "no density but that it is less than ",
        [WW_REACH_DARK] = "denser than the scanner can be trusted with by its wedge, so there is "
                          "no density"};
    ww__fault found = {.patches = 0};
    char words[WW__FAULT_WORDS], limit[32] = "";
    for (size_t i = 0; i < m->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const ww_patch_channel *channel = &m->patch[i].channel[c];
            if (m->has[c] && channel->reach == reach &&
                !is_clipped(channel, reach == WW_REACH_LIGHT, scanner))
                ww__fault_keep(&found, i, (ww_channel)c, 0.0);
        }
    if (found.patches == 0)
        return WW_OK;
    if (reach == WW_REACH_LIGHT)
        less_than(m, &found, limit);
    return ww_notes_add(&m->notes, err, "%s: %s%s", ww__fault_who(m, what, &found, words),
                        says[reach], limit);
}

ww_status ww__density_notes(ww_measured *measured, const char *what,
                            const ww_measure_request *request, ww_error *err) {
    static const ww_reach reaches[] = {WW_REACH_LIGHT, WW_REACH_THINNER, WW_REACH_DARK,
                                       WW_REACH_DENSER};
    assert(measured && what && request);
    const ww_scanner *scanner = request->scanner;
    ww_status status = WW_OK;
    if (!request->calibrates)
        status = note_clipped(measured, what, true, scanner, err);
    if (status == WW_OK && !request->calibrates)
        status = note_clipped(measured, what, false, scanner, err);
    if (status == WW_OK)
        status = note_uneven(measured, what, scanner, err);
    if (status != WW_OK || !scanner)
        return status;
    status = note_none(measured, what, scanner, err);
    if (status == WW_OK)
        status = note_misfit(measured, scanner, err);
    if (status == WW_OK)
        status = note_scale(measured, scanner, err);
    if (status == WW_OK)
        status = note_below_0(measured, what, scanner, err);
    for (size_t i = 0; i < sizeof reaches / sizeof reaches[0] && status == WW_OK; i++)
        status = note_reach(measured, what, reaches[i], scanner, err);
    return status;
}
