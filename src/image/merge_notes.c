/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_notes.h"

#include "core/scanner.h"
#include "image/fault.h"
#include "image/measure.h"
#include "image/merge_shift.h"
#include <math.h>
#include <stdio.h>
#include <wedgework/number.h>

static const double other_longer = 0.97, equal_until = 1.03; /* ratio */
static const double uneven = 0.02;                           /* share of light off the line: told */
static const double no_line = 0.2;                           /* and refused */
static const double resolutions_alike = 0.005, mm_per_inch = 25.4;
static const double moved_from = 0.3; /* px, said */

ww_scan_merge_flaw ww__merge_flaw(ww__merge_kind kind, const ww__merge_line *line) {
    if (kind == WW__MERGE_AMPLIFIED)
        return WW_SCAN_MERGE_AMPLIFIED;
    if (kind == WW__MERGE_SHARPENED)
        return WW_SCAN_MERGE_SHARPENED;
    if (kind == WW__MERGE_DECODED || kind == WW__MERGE_BLACKER)
        return WW_SCAN_MERGE_DECODED;
    return fabs(line->bent) > uneven ? WW_SCAN_MERGE_UNEVEN : WW_SCAN_MERGE_SOUND;
}

static ww_status refuse_same(const ww_scan_merge *merge, const ww_picture *longer,
                             const ww_picture *shorter, ww_channel channel, ww_error *err) {
    char ratio[32];
    return ww_error_set_at(
        err, WW_EMISMATCH, longer->file, 0,
        "has the very noise of '%.200s' (%s), pixel by pixel: it is the same scan, its codes times "
        "%s, and holds nothing that the other does not; scan the negative again with more light or "
        "a longer time, not brighter by software",
        shorter->file ? shorter->file : "the other scan", ww_channel_name(channel),
        ww_number_format(merge->channel[channel].ratio.value, 2, ratio, sizeof ratio));
}

static ww_status refuse_encoded(const ww_picture *longer, ww_channel channel, ww_error *err) {
    return ww_error_set_at(
        err, WW_EINPUT, longer->file, 0,
        "its codes are no light: their noise falls where they rise (%s), as in codes that are a "
        "power of light (gamma, sRGB), and that of light never does; give --scanner with a file "
        "made from a scan with these settings, or scan both linear",
        ww_channel_name(channel));
}

ww_status ww__merge_note_noise(ww_scan_merge *merge, const ww_picture *longer,
                               const ww_picture *shorter, ww_channel channel, ww__merge_kind kind,
                               ww_error *err) {
    const char *name = ww_channel_name(channel);
    switch (kind) {
    case WW__MERGE_SAME:
        return refuse_same(merge, longer, shorter, channel, err);
    case WW__MERGE_ENCODED:
        return refuse_encoded(longer, channel, err);
    case WW__MERGE_AMPLIFIED:
        return ww_notes_add(
            &merge->notes, err,
            "The longer scan has as much noise for its light as the shorter one (%s): its codes "
            "were multiplied after the light was counted, by software or an amplifier, and no "
            "photons were added. The two are averaged. More scans at the exposure of the shorter "
            "one help as much; only a longer time or a brighter lamp helps more. Where the shorter "
            "one is a mean of more scans than the longer, that may be all: merge means of as many.",
            name);
    case WW__MERGE_SHARPENED:
        return ww_notes_add(
            &merge->notes, err,
            "The longer scan has more noise for its light than if its codes had only been "
            "multiplied (%s): it was sharpened, or the shorter one smoothed, or that is a mean of "
            "more scans. Scan both with neither, and merge means of as many.",
            name);
    case WW__MERGE_DISPLACED:
        return ww_notes_add(
            &merge->notes, err,
            "What the scans differ by may be detail that lies displaced, or the noise of codes "
            "that "
            "were multiplied by software (%s): whether the longer scan counted more light cannot "
            "be told. Weights are as if it did; for less doubt scan both without touching film or "
            "holder.",
            name);
    case WW__MERGE_DECODED:
        return ww_notes_add(
            &merge->notes, err,
            "Noise grows faster from the shorter scan to the longer than light makes it (%s): "
            "these scans do not seem to be encoded as the scanner file holds it. Make one with the "
            "settings of these scans, or, if they are linear, leave --scanner out.",
            name);
    case WW__MERGE_BLACKER:
        return ww_notes_add(
            &merge->notes, err,
            "Tones are darker than the scanner's own black, as the scanner file measured it (%s): "
            "these scans are not encoded as it holds, or their black was taken off. Make one with "
            "the settings of these scans, or, if they are linear, leave --scanner out.",
            name);
    case WW__MERGE_SOUND:
        break;
    }
    return WW_OK;
}

ww_status ww__merge_note_stated(ww_scan_merge *merge, ww_channel channel,
                                const ww__merge_stated *stated, ww__merge_verdict verdict,
                                ww_error *err) {
    const char *name = ww_channel_name(channel);
    char times[32], over[32];
    if (verdict == WW__MERGE_STATED_OTHER)
        return ww_notes_add(
            &merge->notes, err,
            "Noise grows less with light than the scanner file holds (%s): these scans are of "
            "other settings, or encoded (gamma, sRGB) where the file takes codes for light. Then "
            "stops and noise are wrong, and a step may show where the scans meet. Make a scanner "
            "file with the settings of these scans, or scan both with those of the file.",
            name);
    ww_number_format(stated->times.value, 1, times, sizeof times);
    ww_number_format(1.0 / stated->times.value, 1, over, sizeof over);
    if (verdict == WW__MERGE_STATED_MORE)
        return ww_notes_add(
            &merge->notes, err,
            "These scans have %s times the noise that the scanner file holds (%s): there is as "
            "much more than is told here. Weights are by the file and may not be the best, which "
            "makes no step. Make a scanner file with the settings of these scans, or leave "
            "--scanner out where they are linear: then noise is measured on them.",
            times, name);
    if (verdict == WW__MERGE_STATED_LESS)
        return ww_notes_add(
            &merge->notes, err,
            "The scanner file holds %s times the noise that these scans have (%s), as where they "
            "are means of several passes or were smoothed: there is as much less than is told "
            "here. Weights are by the file and may not be the best, which makes no step. To have "
            "it told right make a scanner file with the settings of these scans, or leave "
            "--scanner out where they are linear: then noise is measured on them.",
            over, name);
    return WW_OK;
}

ww_status ww__merge_note_line(ww_scan_merge *merge, ww_channel channel, const ww__merge_line *line,
                              ww_error *err) {
    const char *name = ww_channel_name(channel);
    char text[32];
    ww_status status = WW_OK;
    if (line->ratio < other_longer && channel == WW_VISUAL)
        return ww_error_set(err, WW_EMISMATCH,
                            "the two scans are in no proportion: the one that is lighter as a "
                            "whole is darker where both hold light; give two scans of one "
                            "negative, neither of them turned, inverted or edited");
    if (line->ratio < other_longer)
        return ww_error_set(err, WW_EMISMATCH,
                            "neither scan is the longer exposure in all channels: in %s it is the "
                            "other one; expose all channels of one scan longer than those of the "
                            "other",
                            name);
    if (fabs(line->bent) > no_line)
        return ww_error_set(err, WW_EMISMATCH,
                            "the two scans are in no proportion (%s: off by %s %% of the light at "
                            "some level, and 20 %% would show as a step); give two scans with "
                            "exposure locked and nothing corrected, and --scanner where codes are "
                            "encoded",
                            name, ww__fault_percent(fabs(line->bent), text, sizeof text));
    if (line->guessed)
        status = ww_notes_add(&merge->notes, err,
                              "Tones that both scans hold are too alike to tell their black from "
                              "the ratio (%s): it is taken as one for both and as up to 2 %% of "
                              "the scale, and what it may be is in the doubt of the stops. A scan "
                              "in the dark tells: make a scanner file with --dark, and give it by "
                              "--scanner.",
                              name);
    else if (line->through_dark)
        status =
            ww_notes_add(&merge->notes, err,
                         "Tones that both scans hold are too alike to tell their black from "
                         "the ratio (%s): both blacks are taken as the scanner file's, and "
                         "stops and their trust hold with those. Were they 0.1 %% of the scale "
                         "lighter, the scans would be %s stops further apart.",
                         name, ww_number_format(line->by_black, 2, text, sizeof text));
    if (status == WW_OK && fabs(line->bent) > uneven)
        status = ww_notes_add(&merge->notes, err,
                              "The two scans are not in one proportion at all levels (%s: off by "
                              "%s %% of the light at some): were codes encoded, or exposures not "
                              "locked? There may be a step of as much where they meet; what they "
                              "are off by is in the doubt of the stops.",
                              name, ww__fault_percent(fabs(line->bent), text, sizeof text));
    return status;
}

ww_status ww__merge_note_resolution(ww_scan_merge *merge, const ww_picture *shorter,
                                    const ww_picture *longer, ww_error *err) {
    const ww_optional one = ww__measure_resolution(shorter), two = ww__measure_resolution(longer);
    char of_one[32], of_two[32];
    if (!one.set || !two.set || fabs(one.value - two.value) <= resolutions_alike * one.value)
        return WW_OK;
    return ww_notes_add(&merge->notes, err,
                        "The shorter scan says that it has %s px an inch, the longer one %s: scans "
                        "of one frame have one resolution. The merged file says what the shorter "
                        "does.",
                        ww_number_format(mm_per_inch * one.value, 0, of_one, sizeof of_one),
                        ww_number_format(mm_per_inch * two.value, 0, of_two, sizeof of_two));
}

ww_status ww__merge_note_differ(ww_scan_merge *merge, ww_error *err) {
    const ww_scan_merge_differ *differ = &merge->differ;
    if (differ->places == 0)
        return WW_OK;
    merge->holds = false;
    return ww_notes_add(
        &merge->notes, err,
        "At %zu of %zu places of 64 x 64 px the scans differ by more than noise "
        "and what they lie apart as wholes make, most at %.0f,%.0f: has something moved "
        "between them, or dust come or gone? Look there before using the file.",
        differ->places, differ->of, differ->x, differ->y);
}

ww_status ww__merge_note_no_light(ww_scan_merge *merge, const ww_picture *picture,
                                  const ww__no_light *samples, ww_error *err) {
    char words[WW__NO_LIGHT_WORDS], nans[96] = "";
    if (samples->n == 0)
        return WW_OK;
    if (samples->nans > 0)
        snprintf(nans, sizeof nans, ", and NaN at %zu, where that is none either or clipped",
                 samples->nans);
    return ww_notes_add(&merge->notes, err,
                        "%s. The merged file has what the other scan shows there%s. See which "
                        "program left them, export anew, or retouch there.",
                        ww__no_light_words(samples, picture, " in one scan or both", words), nans);
}

static ww_status note_ratio(ww_scan_merge *merge, const ww_scan_merge_channel *channel,
                            ww_error *err) {
    if (channel->ratio.value > equal_until)
        return WW_OK;
    return ww_notes_add(&merge->notes, err,
                        "Both scans have the same exposure: merging averages them, which makes "
                        "noise 1.4 times less, no more.");
}

static ww_status note_clips(ww_scan_merge *merge, const ww_picture *picture,
                            const ww_scanner *scanner, ww_error *err) {
    bool known = false;
    for (int c = 0; scanner && c < WW_CHANNEL_COUNT; c++)
        known = known || scanner->channel[c].clips.set;
    if (!(merge->clips > 0.0 && merge->clips < 0.99 * WW__MERGED_CLIPPED))
        return WW_OK;
    return ww_notes_add(&merge->notes, err, "Codes of the longer scan end at %.0f of %.0f%s.",
                        merge->clips * picture->white / WW__MERGED_CLIPPED, picture->white,
                        known ? ", where by the scanner file the scanner clips"
                              : " with many pixels there, which is taken for where the scanner "
                                "clips");
}

static ww_status note_shift(ww_scan_merge *merge, ww_error *err) {
    char far[32];
    const double shift = hypot(merge->shift.x, merge->shift.y);
    if (merge->shift.places == 0)
        return ww_notes_add(&merge->notes, err,
                            "Whether both scans lie on each other could not be checked: too little "
                            "detail that both hold.");
    if (merge->shift.unlike > 0)
        return ww_notes_add(&merge->notes, err,
                            "At %zu of %d places both scans hold detail that does not match: has "
                            "something moved between them? Look there before using the file.",
                            merge->shift.unlike, WW__MERGE_PLACES);
    if (merge->shift.middle)
        return ww_notes_add(&merge->notes, err,
                            "Only in the middle was there detail enough to see that the scans lie "
                            "on each other, and a turn or another scale displaces nothing there: "
                            "look at the corners before using the file.");
    if (shift <= moved_from)
        return WW_OK;
    ww_number_format(shift, 1, far, sizeof far);
    return ww_notes_add(&merge->notes, err,
                        "The scans lie up to %s px apart: finest detail is a little softer.", far);
}

/* A code of 16 bits against the noise of the darkest light. */
static ww_status note_bits(ww_scan_merge *merge, const ww_scan_merge_channel *channel,
                           const ww_picture *picture, ww_error *err) {
    const double r = channel->ratio.value, sd = channel->read / sqrt(1.0 + r * r);
    if (picture->sample == WW_SAMPLE_FLOAT || sd * 65535.0 > 0.5)
        return WW_OK;
    return ww_notes_add(&merge->notes, err,
                        "In the dark the merged noise is less than half a code of 16 bits: there "
                        "the file's codes limit what is gained. Floating-point scans would be "
                        "merged into floating point.");
}

/* A power of light in proportion is in proportion, too: where noise does not bear out that a
 * scanner file decodes what was encoded, the stops that were set do, or do not. */
static ww_status note_decoded(ww_scan_merge *merge, const ww_scan_merge_channel *channel,
                              const ww_picture *picture, const ww_scanner *scanner, ww_error *err) {
    char stops[32], light[32], power[32];
    bool borne_out = false, denied = false;
    if (!scanner || !ww__scanner_is_encoded(scanner) || picture->gamma.set)
        return WW_OK;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        borne_out = borne_out || merge->channel[c].borne_out;
        denied = denied || merge->channel[c].flaw == WW_SCAN_MERGE_DECODED;
    }
    ww_number_format(scanner->gamma.value, 1, power, sizeof power);
    if (borne_out && !denied)
        return ww_notes_add(&merge->notes, err,
                            "Codes are encoded, near a power of %s, by the scanner file, and the "
                            "scans bear it out: so decoded, their noise grows with light as the "
                            "file holds.",
                            power);
    return ww_notes_add(
        &merge->notes, err,
        "That codes are encoded, near a power of %s, is the scanner file's word, which %s: if they "
        "are light, these scans are about %s stops apart, not %s, and the merged file is wrong. "
        "See which was set, and in the first case leave --scanner out.",
        power, denied ? "the scans deny" : "their noise does not bear out",
        ww_number_format(channel->stops.value / scanner->gamma.value, 1, light, sizeof light),
        ww_number_format(channel->stops.value, 1, stops, sizeof stops));
}

static ww_status note_taken(ww_scan_merge *merge, const ww_picture *picture,
                            const ww_scanner *scanner, ww_error *err) {
    if (scanner)
        return ww_notes_add(&merge->notes, err,
                            "Codes are taken as light, as the scanner file holds them, and nothing "
                            "in the scans bears it out. If they are not (gamma, sRGB), stops and "
                            "noise are wrong, and a step may show where the scans meet: see how "
                            "they were exported.");
    return ww_notes_add(&merge->notes, err,
                        "Nothing says how codes are encoded: they are taken as light%s. If "
                        "they are not (gamma, sRGB), stops and noise are wrong, and a step "
                        "may show where the scans meet: give --scanner with a file made from "
                        "a scan with these settings.",
                        picture->bits <= 8 ? ", which in files of 8 bits they seldom are" : "");
}

static ww_status note_whose_noise(ww_scan_merge *merge, const ww_scan_merge_channel *channel,
                                  const ww_scanner *scanner, ww_error *err) {
    if (scanner)
        return ww_notes_add(&merge->notes, err,
                            "What codes are, and their noise, is the scanner file's, for scans "
                            "with the settings that it was made with.");
    ww_status status =
        ww_notes_add(&merge->notes, err,
                     "Noise is what the two scans differ by: a pattern of the sensor that both "
                     "have alike is not in it, and merging leaves it.");
    if (status == WW_OK && channel->flicker > 0.0)
        status = ww_notes_add(
            &merge->notes, err,
            "Part of it, %.2g %% of the light at every tone, comes neither of counting "
            "photons nor of reading them out: so does light that flickers, or "
            "grain that lies a fraction of a pixel off. A longer exposure does "
            "not help against that; a mean of more scans does.",
            100.0 * channel->flicker);
    return status;
}

ww_status ww__merge_note(ww_scan_merge *merge, const ww_picture *picture, const ww_scanner *scanner,
                         ww_error *err) {
    const ww_scan_merge_channel *channel =
        &merge->channel[picture->channels == 1 ? WW_VISUAL : WW_GREEN];
    ww_status status = WW_OK;
    if (merge->taken_as_light)
        status = note_taken(merge, picture, scanner, err);
    if (status == WW_OK)
        status = note_decoded(merge, channel, picture, scanner, err);
    if (status == WW_OK)
        status = note_whose_noise(merge, channel, scanner, err);
    if (status == WW_OK)
        status = note_ratio(merge, channel, err);
    if (status == WW_OK)
        status = note_clips(merge, picture, scanner, err);
    if (status == WW_OK)
        status = note_shift(merge, err);
    if (status == WW_OK)
        status = note_bits(merge, channel, picture, err);
    return status;
}
