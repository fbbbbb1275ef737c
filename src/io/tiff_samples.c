/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_samples.h"
#include <assert.h>
#include <math.h>
#include <string.h>

typedef ww__tiff_samples layout;

ww_sample ww__tiff_samples_kind(const layout *samples) {
    if (samples->number != WW__TIFF_UNSIGNED || samples->bits > 16)
        return WW_SAMPLE_FLOAT;
    return samples->bits > 8 ? WW_SAMPLE_16 : WW_SAMPLE_8;
}

double ww__tiff_samples_white(const layout *samples) {
    if (samples->number == WW__TIFF_REAL)
        return 1.0;
    return ldexp(1.0, (int)samples->bits - (samples->number == WW__TIFF_SIGNED)) - 1.0;
}

/* Codes turned round are this less the code: least and greatest change places. */
static double turning_sum(const layout *samples) {
    return samples->number == WW__TIFF_SIGNED ? -1.0 : ww__tiff_samples_white(samples);
}

static size_t delivered_size(const layout *samples) {
    switch (ww__tiff_samples_kind(samples)) {
    case WW_SAMPLE_8:
        return sizeof(uint8_t);
    case WW_SAMPLE_16:
        return sizeof(uint16_t);
    case WW_SAMPLE_FLOAT:
        break;
    }
    return sizeof(float);
}

static bool in_place(const layout *samples) {
    return samples->number == WW__TIFF_REAL ? samples->bits == 32
                                            : samples->number == WW__TIFF_UNSIGNED &&
                                                  (samples->bits == 8 || samples->bits == 16);
}

uint64_t ww__tiff_samples_row(const layout *samples, uint64_t width) {
    return (width * samples->side_by_side * samples->bits + 7) / 8;
}

uint64_t ww__tiff_samples_room(const layout *samples, uint64_t width) {
    return in_place(samples) ? 0 : width * samples->channels * delivered_size(samples);
}

/* ------------------------------------------------------------------------------- in their place */

bool ww__tiff_samples_big_endian(void) {
    const uint16_t one = 1;
    unsigned char first;
    memcpy(&first, &one, 1);
    return first == 0;
}

/* Sixteen samples at a time: compilers do not find this by themselves at -O2. */
typedef uint16_t sixteen __attribute__((vector_size(32)));

static void swap_16(unsigned char *row, size_t n) {
    size_t i = 0;
    for (; i + 16 <= n; i += 16) {
        sixteen words;
        memcpy(&words, row + 2 * i, sizeof words);
        words = words << 8 | words >> 8;
        memcpy(row + 2 * i, &words, sizeof words);
    }
    for (; i < n; i++) {
        const unsigned char first = row[2 * i];
        row[2 * i] = row[2 * i + 1];
        row[2 * i + 1] = first;
    }
}

static void swap_32(unsigned char *row, size_t n) {
    for (size_t i = 0; i < n; i++) {
        uint32_t word;
        memcpy(&word, row + 4 * i, sizeof word);
        word = word << 24 | (word & 0xff00) << 8 | (word >> 8 & 0xff00) | word >> 24;
        memcpy(row + 4 * i, &word, sizeof word);
    }
}

/* The greatest code less a code is the code with every bit turned. */
static void turn_bits(unsigned char *row, size_t n_bytes) {
    size_t i = 0;
    for (; i + 8 <= n_bytes; i += 8) {
        uint64_t eight;
        memcpy(&eight, row + i, sizeof eight);
        eight = ~eight;
        memcpy(row + i, &eight, sizeof eight);
    }
    for (; i < n_bytes; i++)
        row[i] = (unsigned char)~row[i];
}

static void turn_reals(unsigned char *row, size_t n) {
    for (size_t i = 0; i < n; i++) {
        float sample;
        memcpy(&sample, row + 4 * i, sizeof sample);
        sample = 1.0f - sample;
        memcpy(row + 4 * i, &sample, sizeof sample);
    }
}

static void change_row(const layout *samples, unsigned char *row, size_t n) {
    if (samples->bits > 8 && samples->big_endian != ww__tiff_samples_big_endian()) {
        if (samples->bits == 16)
            swap_16(row, n);
        else
            swap_32(row, n);
    }
    if (samples->min_is_white && samples->number == WW__TIFF_REAL)
        turn_reals(row, n);
    else if (samples->min_is_white)
        turn_bits(row, n * (samples->bits / 8));
}

/* ----------------------------------------------------------------------------------- into room */

/* Codes of a row, one after the other. */
typedef struct codes {
    const unsigned char *next;
    uint64_t held; /* bits taken from the row but not yet given */
    unsigned n_held;
    unsigned bits;
    bool words, big_endian;
} codes;

static codes codes_of(const layout *samples, const unsigned char *row) {
    const unsigned bits = samples->bits;
    return (codes){.next = row,
                   .bits = bits,
                   .words = bits == 16 || bits == 24 || bits == 32 || bits == 64,
                   .big_endian = samples->big_endian};
}

static uint64_t take_word(codes *from) {
    const unsigned n = from->bits / 8;
    uint64_t word = 0;
    for (unsigned i = 0; i < n; i++)
        word = word << 8 | from->next[from->big_endian ? i : n - 1 - i];
    from->next += n;
    return word;
}

static uint64_t take(codes *from) {
    if (from->words)
        return take_word(from);
    while (from->n_held < from->bits) {
        from->held = from->held << 8 | *from->next++;
        from->n_held += 8;
    }
    from->n_held -= from->bits;
    return from->held >> from->n_held & ((UINT64_C(1) << from->bits) - 1);
}

/* IEEE 754 binary16: sign, 5 bits of exponent biased by 15, 10 bits of fraction. */
static double half(uint64_t code) {
    const unsigned exponent = code >> 10 & 0x1f, fraction = code & 0x3ff;
    double size;
    if (exponent == 0x1f)
        size = fraction ? (double)NAN : (double)INFINITY;
    else if (exponent == 0)
        size = ldexp(fraction, -24);
    else
        size = ldexp(1024.0 + fraction, (int)exponent - 25);
    return code & 0x8000 ? -size : size;
}

static double number_of(const layout *samples, uint64_t code) {
    if (samples->number == WW__TIFF_REAL && samples->bits == 64) {
        double number;
        memcpy(&number, &code, sizeof number);
        return number;
    }
    if (samples->number == WW__TIFF_REAL)
        return half(code);
    if (samples->number == WW__TIFF_SIGNED && code >> (samples->bits - 1) & 1)
        return (double)code - ldexp(1.0, (int)samples->bits);
    return (double)code;
}

static void to_8(const layout *samples, const unsigned char *row, size_t width, uint8_t *out) {
    const uint64_t turned = samples->min_is_white ? (UINT64_C(1) << samples->bits) - 1 : 0;
    codes from = codes_of(samples, row);
    for (size_t i = 0; i < width; i++)
        for (size_t c = 0; c < samples->side_by_side; c++) {
            const uint64_t code = take(&from) ^ turned;
            if (c < samples->channels)
                *out++ = (uint8_t)code;
        }
}

static void to_16(const layout *samples, const unsigned char *row, size_t width, uint16_t *out) {
    const uint64_t turned = samples->min_is_white ? (UINT64_C(1) << samples->bits) - 1 : 0;
    codes from = codes_of(samples, row);
    for (size_t i = 0; i < width; i++)
        for (size_t c = 0; c < samples->side_by_side; c++) {
            const uint64_t code = take(&from) ^ turned;
            if (c < samples->channels)
                *out++ = (uint16_t)code;
        }
}

/* Doubles beyond the range of float become infinite there, which is what they are to a scan. */
static float narrowed(double number) {
    if (fabs(number) > 3.4028234663852886e38) /* FLT_MAX; the conversion would be undefined */
        return number > 0.0 ? INFINITY : -INFINITY;
    return (float)number;
}

static void to_float(const layout *samples, const unsigned char *row, size_t width, float *out) {
    const double sum = turning_sum(samples);
    codes from = codes_of(samples, row);
    for (size_t i = 0; i < width; i++)
        for (size_t c = 0; c < samples->side_by_side; c++) {
            const uint64_t code = take(&from);
            if (c < samples->channels) {
                const double number = number_of(samples, code);
                *out++ = narrowed(samples->min_is_white ? sum - number : number);
            }
        }
}

static void convert_row(const layout *samples, const unsigned char *row, size_t width,
                        unsigned char *out) {
    switch (ww__tiff_samples_kind(samples)) {
    case WW_SAMPLE_8:
        to_8(samples, row, width, out);
        return;
    case WW_SAMPLE_16:
        to_16(samples, row, width, (uint16_t *)(void *)out);
        return;
    case WW_SAMPLE_FLOAT:
        to_float(samples, row, width, (float *)(void *)out);
        return;
    }
}

void ww__tiff_samples_deliver(const layout *samples, unsigned char *rows, size_t row_bytes,
                              void *room, ww_block *block) {
    const size_t size = delivered_size(samples);
    const bool stays = in_place(samples);
    const size_t pixel = stays ? samples->side_by_side : samples->channels;
    const size_t pitch = stays ? row_bytes / size : block->width * pixel;
    assert(stays || room);
    for (size_t y = 0; y < block->height; y++) {
        if (stays)
            change_row(samples, rows + y * row_bytes, block->width * pixel);
        else
            convert_row(samples, rows + y * row_bytes, block->width,
                        (unsigned char *)room + y * pitch * size);
    }
    block->kind = ww__tiff_samples_kind(samples);
    block->channels = samples->channels;
    block->sample = stays ? rows : room;
    block->next_x = (ptrdiff_t)pixel;
    block->next_y = (ptrdiff_t)pitch;
}
