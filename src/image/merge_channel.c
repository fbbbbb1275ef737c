/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_channel.h"

#include "core/scanner.h"
#include "image/merge_growth.h"
#include "image/merge_notes.h"
#include "image/merge_rows.h"
#include "image/merge_stated.h"
#include "image/patch.h"
#include <float.h>
#include <math.h>

#define DARKEST 0.01 /* share of places */

/* The dark that both scans have, as far as it was measured. */
double ww__merge_channel_dark(const ww_scanner *scanner, ww_channel channel) {
    return scanner && scanner->dark_scan ? scanner->channel[channel].dark.value : 0.0;
}

static ww__merge_noise noise_of(const ww__merge_both *both, ww_channel channel,
                                ww__merge_blocks *blocks, double ratio, bool amplified) {
    static const ww_scanner_noise none = {0.0, 0.0, 0.0};
    const double white = both->light->kind == WW_SAMPLE_FLOAT ? 1.0 : both->light->white;
    if (!both->scanner)
        return ww__merge_noise_fit(blocks, ratio, 0.0, fmax(ww__merged_read(&none, white), 1e-20),
                                   amplified);
    const ww_scanner_noise *known = &both->scanner->channel[channel].noise;
    return (ww__merge_noise){ww__merged_read(known, white), known->shot * known->shot, 0.0};
}

/* In the shorter scan, by tenths: what a hundredth of the places reach, as fewer may be dust. */
static double darkest_of(const ww__merge_blocks *blocks, double dark) {
    size_t count[WW_SCAN_MERGE_GAINS] = {0}, i = WW_SCAN_MERGE_GAINS - 1;
    for (size_t b = 0; b < blocks->n; b++) {
        const double below = -10.0 * log10(fmax(blocks->block[b].x - dark, DBL_MIN));
        count[(size_t)fmin(fmax(below, 0.0), WW_SCAN_MERGE_GAINS - 1)]++;
    }
    size_t as_dark = count[i];
    while (i > 0 && (double)as_dark < DARKEST * (double)blocks->n)
        as_dark += count[--i];
    return (double)i / 10.0;
}

/* `clips`: light from which on the longer one says nothing. `fixed`: noise that is the same share
 * of light in both, pixel by pixel, which no mean makes less. */
static void fill_gains(ww_scan_merge_channel *channel, const ww__merge_noise *noise, double fixed,
                       double clips) {
    const double r = channel->ratio.value;
    const ww__merge_noise longer =
        ww__merge_noise_longer(noise, r, channel->flaw == WW_SCAN_MERGE_AMPLIFIED);
    const ww__merge_rule beyond_dark = {r, 0.0, 0.0, *noise, longer};
    for (size_t i = 0; i < WW_SCAN_MERGE_GAINS; i++) {
        const double below = (double)i / 10.0;
        const double light = pow(10.0, -below), in_density = 1.0 / (light * log(10.0));
        const double v_s = ww__merge_noise_of(noise, light);
        const double v_l = ww__merge_noise_of(&longer, r * light) / (r * r);
        const double v_f = fixed * fixed * light * light;
        const double w = ww__merge_rule_weight(&beyond_dark, r * light) *
                         ww__merged_fade(r * light + channel->offset, clips);
        channel->gain[i] = (ww_scan_merge_gain){
            below, sqrt(v_s + v_f) * in_density,
            sqrt((1.0 - w) * (1.0 - w) * v_s + w * w * v_l + v_f) * in_density};
    }
}

/* Whether a hundredth of the places is surely darker than the scanner's own black, which no scan
 * of these settings is. */
static bool is_blacker(const ww__merge_both *both, ww_channel channel,
                       const ww__merge_blocks *blocks) {
    enum { SURELY = 5 }; /* sd of a mean */
    size_t n = 0;
    if (!both->scanner->dark_scan)
        return false;
    const ww_scanner_channel *known = &both->scanner->channel[channel];
    const double least = known->dark.low - SURELY * known->noise.read / sqrt(WW__MERGE_PIXELS) -
                         ww__merge_light_step(both->light, known->dark.low);
    for (size_t i = 0; i < blocks->n; i++)
        n += blocks->block[i].x < least;
    return (double)n > DARKEST * (double)blocks->n;
}

/* px that the scans lie apart, negative: not known. */
static double apart_of(const ww_scan_merge *merge) {
    const ww_scan_merge_shift *shift = &merge->shift;
    return shift->places > 0 ? hypot(shift->x, shift->y) : -1.0;
}

/* What noise and black say of the exposures. */
static ww__merge_kind kind_of(const ww__merge_both *both, ww_channel channel,
                              ww__merge_blocks *blocks, double ratio, double off, double apart,
                              const ww__merge_stated *stated) {
    const bool decoded = both->scanner && ww__scanner_is_encoded(both->scanner);
    if (decoded && !both->shorter->gamma.set && is_blacker(both, channel, blocks))
        return WW__MERGE_BLACKER;
    const ww__merge_growth growth = ww__merge_growth_find(
        blocks, both->light, ratio, off, ww__merge_channel_dark(both->scanner, channel), apart);
    const bool asked = decoded && !both->shorter->gamma.set && !ww__merge_stated_allows(stated);
    return ww__merge_growth_says(&growth, !decoded, asked);
}

/* What noise says of a scanner file, unless it was said otherwise: a note, and a flaw. */
static ww_status judge_stated(const ww__merge_stated *stated, const ww_scanner *scanner,
                              ww_channel channel, ww_scan_merge *merge, ww_error *err) {
    ww_scan_merge_flaw *flaw = &merge->channel[channel].flaw;
    if (*flaw != WW_SCAN_MERGE_SOUND && *flaw != WW_SCAN_MERGE_UNEVEN)
        return WW_OK;
    const ww__merge_verdict verdict = ww__merge_stated_says(stated);
    if (verdict == WW__MERGE_STATED_RIGHT || verdict == WW__MERGE_STATED_OTHER)
        merge->taken_as_light = false;
    if (verdict == WW__MERGE_STATED_OTHER)
        *flaw = WW_SCAN_MERGE_DECODED;
    else if (verdict == WW__MERGE_STATED_MORE && *flaw == WW_SCAN_MERGE_SOUND)
        *flaw = WW_SCAN_MERGE_NOISIER;
    merge->channel[channel].borne_out = scanner && ww__scanner_is_encoded(scanner) &&
                                        ww__merge_stated_bears_out(stated, scanner->gamma.value);
    merge->channel[channel].quieter = verdict == WW__MERGE_STATED_LESS;
    return ww__merge_note_stated(merge, channel, stated, verdict, err);
}

/* The black of both scans: measured, or as far up as those of scanners go, of 2 % of the scale
 * (common practice), and no lighter than what they show. */
static ww_quantity black_of(const ww_scanner *scanner, ww_channel channel,
                            const ww__merge_blocks *blocks) {
    static const double most = 0.02;
    ww_quantity black = {0.0, 0.0, most, WW_GIVEN};
    if (scanner)
        black = scanner->channel[channel].dark;
    if (scanner && scanner->dark_scan)
        return black;
    for (size_t i = 0; i < blocks->n; i++)
        black.high = fmin(black.high, blocks->block[i].x);
    return (ww_quantity){0.0, fmin(black.low, 0.0), fmax(black.high, 0.0), WW_GIVEN};
}

/* Noise gives the line its weights, and the line's ratio the noise: twice is enough. */
ww_status ww__merge_channel_measure(const ww__merge_both *both, size_t c, ww__merge_blocks *blocks,
                                    ww_scan_merge *merge, ww_error *err) {
    const ww_channel channel = ww__patch_channel(both->shorter, c);
    ww_scan_merge_channel *out = &merge->channel[channel];
    const double dark = ww__merge_channel_dark(both->scanner, channel);
    const ww_quantity black = black_of(both->scanner, channel, blocks);
    ww__merge_noise noise = {0.0, 0.0, 0.0};
    ww__merge_line line = {.ratio = 1.0};
    ww_status status = ww__merge_line_start(blocks, &line.ratio, err);
    for (int round = 0; round < 2 && status == WW_OK; round++) {
        noise = noise_of(both, channel, blocks, line.ratio, false);
        status = ww__merge_line_fit(blocks, both->light, &noise, black, &line, err);
    }
    if (status != WW_OK)
        return status;
    const double doubt = hypot(WW__SCANNER_95 * line.sd, line.bent * line.ratio);
    const double low = line.ratio - line.below - doubt, high = line.ratio + line.above + doubt;
    const double off = fmax(high - line.ratio, line.ratio - low);
    const double apart = apart_of(merge);
    ww__merge_stated stated = {WW_QUANTITY_INIT, WW_QUANTITY_INIT};
    if (both->scanner)
        stated = ww__merge_stated_find(blocks, both->light, &noise, line.ratio, off, dark, apart);
    const ww__merge_kind kind = kind_of(both, channel, blocks, line.ratio, off, apart, &stated);
    noise = noise_of(both, channel, blocks, line.ratio, kind == WW__MERGE_AMPLIFIED);
    const ww_quantity ratio = {line.ratio, low, high, WW_MEASURED};
    *out = (ww_scan_merge_channel){
        .present = true,
        .flaw = ww__merge_flaw(kind, &line),
        .ratio = ratio,
        .stops = {log2(ratio.value), log2(fmax(ratio.low, DBL_MIN)), log2(ratio.high), WW_MEASURED},
        .offset = line.offset,
        .black_taken = line.through_dark && !line.guessed,
        .darkest = darkest_of(blocks, dark),
        .places = blocks->n,
        .read = sqrt(noise.read),
        .shot = sqrt(noise.shot),
        .flicker = sqrt(noise.flicker)};
    fill_gains(out, &noise, both->scanner ? both->scanner->channel[channel].noise.fixed : 0.0,
               ww__merge_light_of(both->light, both->light->clips));
    status = ww__merge_note_noise(merge, both->longer, both->shorter, channel, kind, err);
    if (status == WW_OK)
        status = judge_stated(&stated, both->scanner, channel, merge, err);
    return status == WW_OK ? ww__merge_note_line(merge, channel, &line, err) : status;
}
