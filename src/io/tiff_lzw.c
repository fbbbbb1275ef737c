/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_lzw.h"
#include <assert.h>
#include <string.h>

enum { CLEAR = 256, END = 257, FIRST = 258, LEAST_WIDTH = 9, MOST_WIDTH = 12 };
enum { IN_WORD = 7, LONGER = IN_WORD + 1, NUMBER_AT = 8 * IN_WORD };

/* -------------------------------------------------------------------------------------- bits */

typedef struct reader {
    const unsigned char *next, *end;
    uint64_t held; /* the next bits, from the highest down */
    unsigned n;    /* how many of them */
} reader;

static inline uint64_t word_at(const unsigned char *in) {
    return (uint64_t)in[0] << 56 | (uint64_t)in[1] << 48 | (uint64_t)in[2] << 40 |
           (uint64_t)in[3] << 32 | (uint64_t)in[4] << 24 | (uint64_t)in[5] << 16 |
           (uint64_t)in[6] << 8 | (uint64_t)in[7];
}

/* To 56 bits or more, as far as there are any. What is held beyond n bits is what follows, or 0. */
static inline void fill(reader *from) {
    if (from->end - from->next >= 8) {
        from->held |= word_at(from->next) >> from->n;
        from->next += (63 - from->n) / 8;
        from->n |= 56;
        return;
    }
    while (from->n < 56 && from->next < from->end) {
        from->held |= (uint64_t)*from->next++ << (56 - from->n);
        from->n += 8;
    }
}

/* WW__TIFF_LZW_CODES: there are not so many bits left. */
static inline unsigned take(reader *from, unsigned width) {
    if (from->n < width)
        fill(from);
    if (from->n < width)
        return WW__TIFF_LZW_CODES;
    const unsigned code = (unsigned)(from->held >> (64 - width));
    from->held <<= width;
    from->n -= width;
    return code;
}

/* ----------------------------------------------------------------------------------- strings */

typedef struct string {
    uint64_t word;
    size_t at, n; /* where it was written last */
} string;

static inline void put_word(unsigned char *out, uint64_t word) {
    const unsigned char bytes[8] = {(unsigned char)word,         (unsigned char)(word >> 8),
                                    (unsigned char)(word >> 16), (unsigned char)(word >> 24),
                                    (unsigned char)(word >> 32), (unsigned char)(word >> 40),
                                    (unsigned char)(word >> 48), (unsigned char)(word >> 56)};
    memcpy(out, bytes, sizeof bytes);
}

/* The string and one byte more. */
static inline uint64_t longer(const string *before, unsigned char byte) {
    const uint64_t bytes = before->word & ((UINT64_C(1) << NUMBER_AT) - 1);
    if (before->n >= IN_WORD)
        return (uint64_t)LONGER << NUMBER_AT | bytes;
    return bytes | (uint64_t)byte << 8 * before->n | (uint64_t)(before->n + 1) << NUMBER_AT;
}

/* Writes a string of more than 7 bytes that lies wholly before `to`; in eights, beyond its end. */
static void copy(unsigned char *out, size_t from, size_t to, size_t n) {
    for (size_t i = 0; i < n; i += 8)
        memcpy(out + to + i, out + from + i, 8);
}

/* ------------------------------------------------------------------------------ a whole chunk */

typedef struct output {
    unsigned char *bytes;
    size_t done, n;
} output;

/* The code's string at the end of the output, and where it lies; false: it is none, or too long. */
static inline bool put_string(const ww__tiff_lzw *lzw, unsigned code, output *out, string *now) {
    *now = (string){lzw->word[code], out->done, (size_t)(lzw->word[code] >> NUMBER_AT)};
    if (now->n == LONGER)
        now->n = lzw->place[code].n;
    if (now->n > out->n - out->done)
        return false;
    if (now->n <= IN_WORD)
        put_word(out->bytes + out->done, now->word);
    else
        copy(out->bytes, lzw->place[code].at, out->done, now->n);
    out->done += now->n;
    return true;
}

/* The string that is only now to get this code: the one before, and its first byte again. */
static bool put_newest(const string *before, output *out, string *now) {
    const unsigned char first = (unsigned char)before->word;
    *now = (string){longer(before, first), out->done, before->n + 1};
    if (now->n > out->n - out->done)
        return false;
    memcpy(out->bytes + out->done, out->bytes + before->at, before->n);
    out->bytes[out->done + before->n] = first;
    out->done += now->n;
    return true;
}

/* From after a clear code up to the next one, or to the end of the output. */
static bool decode_run(ww__tiff_lzw *lzw, reader *from, output *out) {
    unsigned next = FIRST, width = LEAST_WIDTH, code = take(from, width);
    string before, now;
    while (code == CLEAR)
        code = take(from, width);
    if (code >= CLEAR || !put_string(lzw, code, out, &before))
        return false;
    while (out->done < out->n) {
        code = take(from, width);
        if (code == CLEAR)
            return true;
        if (code == END || code > next || next == WW__TIFF_LZW_CODES ||
            !(code < next ? put_string(lzw, code, out, &now) : put_newest(&before, out, &now)))
            return false;
        lzw->word[next] = longer(&before, (unsigned char)now.word);
        lzw->place[next].at = (uint32_t)before.at;
        lzw->place[next].n = (uint32_t)(before.n + 1);
        before = now;
        if (++next == (1u << width) - 1 && width < MOST_WIDTH)
            width++; /* one code early, as TIFF has it */
    }
    return true;
}

bool ww__tiff_lzw_decode(ww__tiff_lzw *lzw, const unsigned char *in, size_t n_in,
                         unsigned char *out, size_t n_out) {
    reader from = {.next = in, .end = in + n_in};
    output to = {.bytes = out, .n = n_out};
    assert(lzw && in && out && n_out < UINT32_MAX);
    for (unsigned i = 0; i < CLEAR; i++)
        lzw->word[i] = i | UINT64_C(1) << NUMBER_AT;
    /* Files from before TIFF 5 have bits the other way round, and begin otherwise. */
    if (take(&from, LEAST_WIDTH) != CLEAR)
        return false;
    while (to.done < n_out)
        if (!decode_run(lzw, &from, &to))
            return false;
    return true;
}

/* -------------------------------------------------------------------------------- predictor 2 */

static void add_up_8(unsigned char *row, size_t n, size_t next) {
    unsigned char sum = 0;
    for (size_t i = 0; i < n; i += next)
        row[i] = sum = (unsigned char)(sum + row[i]);
}

static void add_up_16(unsigned char *row, size_t n, size_t next) {
    uint16_t sum = 0, difference;
    for (size_t i = 0; i < n; i += next) {
        memcpy(&difference, row + 2 * i, sizeof difference);
        sum = (uint16_t)(sum + difference);
        memcpy(row + 2 * i, &sum, sizeof sum);
    }
}

void ww__tiff_lzw_add_up(unsigned char *row, size_t n_samples, size_t side_by_side, unsigned bits) {
    assert(row && side_by_side > 0 && (bits == 8 || bits == 16));
    for (size_t s = 0; s < side_by_side && s < n_samples; s++) {
        if (bits == 8)
            add_up_8(row + s, n_samples - s, side_by_side);
        else
            add_up_16(row + 2 * s, n_samples - s, side_by_side);
    }
}
