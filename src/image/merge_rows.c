/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_rows.h"

#include "core/picture.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { NEAR = 2048 }; /* px */

double ww__merge_rule_weight(const ww__merge_rule *rule, double light) {
    const double r = rule->ratio, from_shorter = (light - rule->offset) / r;
    const double v_s = ww__merge_noise_of(&rule->noise, from_shorter - rule->dark);
    const double v_l = ww__merge_noise_of(&rule->longer, light - rule->dark) / (r * r);
    return ww__merged_weight(v_s, v_l);
}

/* --------------------------------------------------------------------------------------- tables */

/* With the fade. */
static double weight_of(const ww__merge_rows *rows, size_t channel, double code) {
    const double light = ww__merge_light_of(rows->light, code);
    const double clipped = ww__merge_light_of(rows->light, rows->clips_from);
    if (!(code < rows->clips_from))
        return 0.0;
    return ww__merge_rule_weight(&rows->rule[channel], light) * ww__merged_fade(light, clipped);
}

/* Weights change slowly: 4096 levels are enough, and stay nearest to the processor. */
static bool fill_weights(ww__merge_rows *rows) {
    enum { LEVELS = 4096 };
    while (rows->light->white / (double)(1u << rows->lower_bits) >= LEVELS)
        rows->lower_bits++;
    rows->levels = rows->light->codes >> rows->lower_bits;
    rows->weight = malloc(rows->channels * rows->levels * sizeof *rows->weight);
    for (size_t i = 0; rows->weight && i < rows->channels * rows->levels; i++) {
        const double first = (double)((i % rows->levels) << rows->lower_bits);
        const double middle = first + 0.5 * (double)((1u << rows->lower_bits) - 1);
        rows->weight[i] = (float)weight_of(rows, i / rows->levels, middle);
    }
    return rows->weight != NULL;
}

/*
 * Encoded codes by light: 256 steps an octave from 2^-40 to 1, straight between them, found by the
 * bits of an IEEE float. A power of 2.4 is met within 0.05 of 65535 codes.
 */
enum { OCTAVES = 40, STEP_BITS = 8, STEPS = 1 << STEP_BITS, CUT = 23 - STEP_BITS };
static const uint32_t least_light = (uint32_t)(127 - OCTAVES) << 23;

static float of_bits(uint32_t bits) {
    float value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

static void fill_encoded(const ww__merge_light *light, float encoded[]) {
    for (uint32_t i = 0; i <= OCTAVES * STEPS; i++)
        encoded[i] = (float)(65535.0 * ww__merge_light_share(
                                           light, (double)of_bits(least_light + (i << CUT))));
    encoded[OCTAVES * STEPS + 1] = encoded[OCTAVES * STEPS];
}

static inline float encode(const float encoded[], float light) {
    uint32_t bits;
    if (!(light < 1.0f))
        return 65535.0f;
    memcpy(&bits, &light, sizeof bits);
    if (!(light > 0.0f) || bits < least_light)
        return 0.0f;
    bits -= least_light;
    const uint32_t i = bits >> CUT, between = bits & ((1u << CUT) - 1);
    return encoded[i] + (encoded[i + 1] - encoded[i]) * (float)between / (float)(1u << CUT);
}

ww_status ww__merge_rows_new(const ww__merge_light *light, const ww__merge_rule rule[],
                             size_t channels, ww__merge_rows *rows, ww_error *err) {
    assert(light && rule && rows && channels <= WW__MERGE_CHANNELS);
    const double clipped = ww__merge_light_of(light, light->clips);
    ww__merge_rows made = {.light = light, .rule = rule, .channels = channels};
    made.clips_from = light->clips;
    made.fades_from =
        light->white * ww__merge_light_share(light, clipped * pow(10.0, -WW__MERGED_BLEND));
    if (light->kind != WW_SAMPLE_FLOAT) {
        bool room = fill_weights(&made);
        if (light->scanner)
            room = (made.encoded = malloc((OCTAVES * STEPS + 2) * sizeof *made.encoded)) && room;
        if (!room) {
            ww__merge_rows_release(&made);
            return ww_error_set(err, WW_EMEMORY, "no memory for a table of codes");
        }
        if (made.encoded)
            fill_encoded(light, made.encoded);
    }
    *rows = made;
    return WW_OK;
}

void ww__merge_rows_release(ww__merge_rows *rows) {
    if (!rows)
        return;
    free(rows->weight);
    free(rows->encoded);
    *rows = (ww__merge_rows)WW__MERGE_ROWS_INIT;
}

/* --------------------------------------------------------------------------------------- mixing */

static inline uint16_t rounded(float code) {
    return code < 65535.0f ? code > 0.0f ? (uint16_t)(code + 0.5f) : 0 : 65535;
}

static inline unsigned code_at(const void *samples, bool wide, size_t i) {
    return wide ? ((const uint16_t *)samples)[i] : ((const uint8_t *)samples)[i];
}

/* One channel of integers. `wide` and `coded` are known where it is called, so that they cost
 * nothing inside; where codes are light, no table is asked. */
static inline void mix_integers(const ww__merge_rows *rows, size_t c, const void *shorter,
                                const void *longer, bool wide, bool coded, size_t n,
                                uint16_t *merged, ww__merge_count *count) {
    const float *const weight = rows->weight + c * rows->levels;
    const float *const light = rows->light->light;
    const float unit = (float)(1.0 / rows->light->white);
    const float scale = (float)(1.0 / rows->rule[c].ratio);
    const float offset = (float)(rows->rule[c].offset / rows->rule[c].ratio);
    const unsigned fades = (unsigned)ceil(rows->fades_from), lower = rows->lower_bits;
    const unsigned clips = (unsigned)ceil(rows->clips_from);
    size_t fading = 0, clipped = 0;
    for (size_t i = c; i < n; i += rows->channels) {
        const unsigned code_s = code_at(shorter, wide, i), code_l = code_at(longer, wide, i);
        const float s = coded ? light[code_s] : unit * (float)code_s;
        const float l = (coded ? light[code_l] : unit * (float)code_l) * scale - offset;
        const float w = code_l < clips ? weight[code_l >> lower] : 0.0f;
        const float mixed = s + w * (l - s);
        fading += code_l >= fades;
        clipped += code_l >= clips;
        merged[i] = rounded(coded ? encode(rows->encoded, mixed) : 65535.0f * mixed);
    }
    count->shorter[c] += clipped;
    count->blended[c] += fading - clipped;
}

static void mix_channel(const ww__merge_rows *rows, size_t c, const void *shorter,
                        const void *longer, size_t n, uint16_t *merged, ww__merge_count *count) {
    const bool wide = rows->light->kind == WW_SAMPLE_16, coded = rows->light->scanner != NULL;
    if (wide && !coded)
        mix_integers(rows, c, shorter, longer, true, false, n, merged, count);
    else if (wide)
        mix_integers(rows, c, shorter, longer, true, true, n, merged, count);
    else
        mix_integers(rows, c, shorter, longer, false, coded, n, merged, count);
}

/* Whether a sample is a number, and not further below dark than noise goes. */
static bool means_light(const ww__merge_rows *rows, size_t c, double code) {
    const ww__merge_rule *rule = &rows->rule[c];
    const double noise = WW__NO_LIGHT_BELOW * sqrt(rule->noise.read) + fabs(rule->offset);
    return !ww__no_light_is(rows->light->scanner, rows->light->white, code, rule->dark - noise);
}

/* Of what each of the two has light for. */
static double mix_one(const ww__merge_rows *rows, size_t c, double shorter, double longer,
                      bool from_shorter, bool from_longer) {
    const ww__merge_rule *rule = &rows->rule[c];
    const double s = ww__merge_light_of(rows->light, shorter);
    const double l = (ww__merge_light_of(rows->light, longer) - rule->offset) / rule->ratio;
    double mixed = s;
    if (!from_shorter)
        mixed = from_longer ? l : (double)NAN;
    else if (from_longer)
        mixed = s + weight_of(rows, c, longer) * (l - s);
    /* Floating point keeps what is below 0, where it means light. */
    return rows->light->scanner && !isnan(mixed) ? ww__merge_light_share(rows->light, mixed)
                                                 : mixed;
}

static void mix_float(const ww__merge_rows *rows, const float *shorter, const float *longer,
                      size_t n, float *merged, ww__merge_count *count) {
    for (size_t i = 0; i < n; i++) {
        const size_t c = i % rows->channels;
        const double code_s = (double)shorter[i], code_l = (double)longer[i];
        const bool clipped = !(code_l < rows->clips_from);
        const bool s = means_light(rows, c, code_s), l = means_light(rows, c, code_l);
        const double mixed = mix_one(rows, c, code_s, code_l, s, l && !clipped);
        count->shorter[c] += clipped;
        count->blended[c] += !clipped && code_l >= rows->fades_from;
        merged[i] = (float)mixed;
        if (!s || !l)
            ww__no_light_add(&count->none, count->from + i / rows->channels, s ? code_l : code_s,
                             isnan(mixed));
    }
}

void ww__merge_rows_mix(const ww__merge_rows *rows, const void *shorter, const void *longer,
                        size_t n, void *merged, ww__merge_count *count) {
    const size_t samples = n * rows->channels;
    if (rows->light->kind == WW_SAMPLE_FLOAT) {
        mix_float(rows, shorter, longer, samples, merged, count);
        return;
    }
    /* Channel after channel, of as many pixels as stay near the processor. */
    for (size_t from = 0; from < samples; from += NEAR * rows->channels) {
        const size_t some =
            samples - from < NEAR * rows->channels ? samples - from : NEAR * rows->channels;
        const size_t at = from * ww__picture_sample_bytes(rows->light->kind);
        for (size_t c = 0; c < rows->channels; c++)
            mix_channel(rows, c, (const unsigned char *)shorter + at,
                        (const unsigned char *)longer + at, some, (uint16_t *)merged + from, count);
    }
}
