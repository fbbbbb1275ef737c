/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_rows.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static const double blend = 0.1; /* D over which the longer scan fades out */

double ww__merge_rule_weight(const ww__merge_rule *rule, double light) {
    const double r = rule->ratio, from_shorter = (light - rule->offset) / r;
    const double v_s = ww__merge_noise_of(&rule->noise, from_shorter - rule->dark);
    const double v_l = ww__merge_noise_of(&rule->noise, light - rule->dark) / (r * r);
    return v_s + v_l > 0.0 ? v_s / (v_s + v_l) : 0.5;
}

double ww__merge_rule_fade(double light, double clipped) {
    if (!(light < clipped))
        return 0.0;
    const double below = light > 0.0 ? log10(clipped / light) : HUGE_VAL;
    return fmin(below / blend, 1.0);
}

/* --------------------------------------------------------------------------------------- tables */

static ww__merge_part part_of(const ww__merge_rows *rows, size_t channel, double code) {
    const ww__merge_rule *rule = &rows->rule[channel];
    const double light = ww__merge_light_of(rows->light, code);
    const double clipped = ww__merge_light_of(rows->light, WW__MERGE_CLIPPED * rows->light->white);
    const double weight = code < rows->clips_from ? ww__merge_rule_weight(rule, light) *
                                                        ww__merge_rule_fade(light, clipped)
                                                  : 0.0;
    return (ww__merge_part){(float)((light - rule->offset) / rule->ratio), (float)weight};
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
    const double clipped = ww__merge_light_of(light, WW__MERGE_CLIPPED * light->white);
    ww__merge_rows made = {.light = light, .rule = rule, .channels = channels};
    made.clips_from = WW__MERGE_CLIPPED * light->white;
    made.fades_from = light->white * ww__merge_light_share(light, clipped * pow(10.0, -blend));
    if (light->kind != WW_SAMPLE_FLOAT) {
        made.part = malloc(channels * light->codes * sizeof *made.part);
        made.encoded = light->scanner ? malloc((OCTAVES * STEPS + 2) * sizeof *made.encoded) : NULL;
        if (!made.part || (light->scanner && !made.encoded)) {
            ww__merge_rows_release(&made);
            return ww_error_set(err, WW_EMEMORY, "no memory for a table of codes");
        }
        for (size_t c = 0; c < channels; c++)
            for (size_t i = 0; i < light->codes; i++)
                made.part[c * light->codes + i] = part_of(&made, c, (double)i);
        if (made.encoded)
            fill_encoded(light, made.encoded);
    }
    *rows = made;
    return WW_OK;
}

void ww__merge_rows_release(ww__merge_rows *rows) {
    if (!rows)
        return;
    free(rows->part);
    free(rows->encoded);
    *rows = (ww__merge_rows)WW__MERGE_ROWS_INIT;
}

/* --------------------------------------------------------------------------------------- mixing */

static inline uint16_t rounded(const float encoded[], float light) {
    const float code = encoded ? encode(encoded, light) : 65535.0f * light;
    return code > 0.0f ? (uint16_t)(fminf(code, 65535.0f) + 0.5f) : 0;
}

static inline unsigned code_at(const void *samples, bool wide, size_t i) {
    return wide ? ((const uint16_t *)samples)[i] : ((const uint8_t *)samples)[i];
}

/* One channel of integers; `wide` is known where it is called, so that it costs nothing inside. */
static inline void mix_integers(const ww__merge_rows *rows, size_t c, const void *shorter,
                                const void *longer, bool wide, size_t n, uint16_t *merged,
                                ww__merge_count *count) {
    const ww__merge_part *const part = rows->part + c * rows->light->codes;
    const float *const light = rows->light->light;
    const unsigned fades = (unsigned)ceil(rows->fades_from);
    const unsigned clips = (unsigned)ceil(rows->clips_from);
    size_t fading = 0, clipped = 0;
    for (size_t i = c; i < n; i += rows->channels) {
        const unsigned code = code_at(longer, wide, i);
        const float s = light[code_at(shorter, wide, i)];
        fading += code >= fades;
        clipped += code >= clips;
        merged[i] = rounded(rows->encoded, s + part[code].weight * (part[code].light - s));
    }
    count->shorter[c] += clipped;
    count->blended[c] += fading - clipped;
}

static float mix_one(const ww__merge_rows *rows, size_t c, double shorter, double longer) {
    const double s = ww__merge_light_of(rows->light, shorter);
    const ww__merge_part l = part_of(rows, c, longer);
    double mixed = s + (double)l.weight * ((double)l.light - s);
    if (isnan(longer))
        mixed = s;
    else if (isnan(shorter))
        mixed = (double)l.light;
    /* Floating point keeps what is below 0, where it means light. */
    if (rows->light->scanner && !isnan(mixed))
        mixed = ww__merge_light_share(rows->light, mixed);
    return (float)mixed;
}

static void mix_float(const ww__merge_rows *rows, const float *shorter, const float *longer,
                      size_t n, float *merged, ww__merge_count *count) {
    for (size_t i = 0; i < n; i++) {
        const size_t c = i % rows->channels;
        const double code = (double)longer[i];
        const bool clipped = !(code < rows->clips_from);
        count->shorter[c] += clipped;
        count->blended[c] += !clipped && code >= rows->fades_from;
        merged[i] = mix_one(rows, c, (double)shorter[i], code);
    }
}

void ww__merge_rows_mix(const ww__merge_rows *rows, const void *shorter, const void *longer,
                        size_t n, void *merged, ww__merge_count *count) {
    const size_t samples = n * rows->channels;
    if (rows->light->kind == WW_SAMPLE_FLOAT) {
        mix_float(rows, shorter, longer, samples, merged, count);
        return;
    }
    for (size_t c = 0; c < rows->channels; c++)
        if (rows->light->kind == WW_SAMPLE_16)
            mix_integers(rows, c, shorter, longer, true, samples, merged, count);
        else
            mix_integers(rows, c, shorter, longer, false, samples, merged, count);
}
