/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_TIFF_MADE_H
#define WEDGEWORK_TESTS_TIFF_MADE_H

#include "support/support.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <tiffio.h>

/* TIFF files written by libtiff, whose codes are known: made_code of the stored place. */
typedef struct made {
    const char *name;
    uint32_t width, height;
    unsigned samples, photometric; /* the first 1 or 3 samples are the picture's */
    unsigned bits, format, planar, compression, predictor, orientation;
    uint32_t tile, rows; /* tile 0: strips of `rows` */
    const char *mode;    /* "w" with l or b, and 8 for BigTIFF */
    bool smooth;         /* for lossy codecs */
    bool reversed_bits;
} made;

static inline unsigned made_channels(const made *file) {
    return file->photometric == PHOTOMETRIC_RGB ? 3 : 1;
}

/* Anything that differs from place to place, and uses every bit. */
static inline uint64_t made_raw(const made *file, uint64_t x, uint64_t y, uint64_t s) {
    uint64_t mixed = (x * 0x9e3779b97f4a7c15 + y * 0xbf58476d1ce4e5b9 + s * 0x94d049bb133111eb) ^
                     0x2545f4914f6cdd1d;
    if (file->smooth)
        return 20 + x + 2 * y + 30 * s;
    mixed = (mixed ^ mixed >> 29) * 0xbf58476d1ce4e5b9;
    mixed ^= mixed >> 32;
    return mixed;
}

/* The number that the file holds there. Real ones are eighths of 256ths, exact in every format. */
static inline double made_code(const made *file, uint64_t x, uint64_t y, uint64_t s) {
    const uint64_t raw = made_raw(file, x, y, s), mask = (UINT64_C(1) << (file->bits % 64)) - 1;
    if (file->format == SAMPLEFORMAT_IEEEFP)
        return (double)(raw & 2047) / 2048.0;
    if (file->format == SAMPLEFORMAT_INT && raw >> (file->bits - 1) & 1)
        return -(double)(mask - (raw & mask) + 1);
    return (double)(raw & mask);
}

/* Its bits, for packing. Half: sign, 5 bits of exponent with bias 15, 10 bits (IEEE 754). */
static inline uint64_t made_bits(const made *file, uint64_t x, uint64_t y, uint64_t s) {
    const uint64_t raw = made_raw(file, x, y, s);
    const double value = made_code(file, x, y, s);
    if (file->format != SAMPLEFORMAT_IEEEFP)
        return file->bits < 64 ? raw & ((UINT64_C(1) << file->bits) - 1) : raw;
    if (file->bits == 64) {
        uint64_t bits;
        memcpy(&bits, &value, sizeof bits);
        return bits;
    }
    if (file->bits == 32) {
        const float narrow = (float)value;
        uint32_t bits;
        memcpy(&bits, &narrow, sizeof bits);
        return bits;
    }
    if (value == 0.0)
        return 0;
    {
        int exponent;
        const double fraction = frexp(value, &exponent); /* 0.5 <= fraction < 1 */
        return (uint64_t)(exponent + 14) << 10 | (uint64_t)((fraction * 2.0 - 1.0) * 1024.0);
    }
}

/* Packs one sample behind the others: words in this machine's order, other sizes highest first. */
static inline void made_put(unsigned char *row, size_t index, unsigned bits, uint64_t code) {
    if (bits == 8 || bits == 16 || bits == 24 || bits == 32 || bits == 64) {
        const unsigned n = bits / 8;
        for (unsigned i = 0; i < n; i++) /* least byte first: tests run on such machines */
            row[index * n + i] = (unsigned char)(code >> 8 * i);
        return;
    }
    for (unsigned i = 0; i < bits; i++) {
        const size_t at = index * bits + i;
        if (code >> (bits - 1 - i) & 1)
            row[at / 8] = (unsigned char)(row[at / 8] | 0x80 >> at % 8);
    }
}

/*
 * libtiff 4.5 swaps words of big-endian files before its floating-point predictor, which takes them
 * for this machine's: what it writes is not what the predictor's definition (technical note 3:
 * highest byte first) and its own reader ask for. Swapped once more, it is.
 */
static inline void made_swap(unsigned char *bytes, size_t n, size_t size) {
    for (size_t i = 0; i + size <= n; i += size)
        for (size_t k = 0; k < size / 2; k++) {
            const unsigned char first = bytes[i + k];
            bytes[i + k] = bytes[i + size - 1 - k];
            bytes[i + size - 1 - k] = first;
        }
}

/* The samples of a rectangle of a plane (or of all planes) as libtiff wants them. */
static inline unsigned char *made_pixels(const made *file, uint32_t x, uint32_t y, uint32_t width,
                                         uint32_t height, unsigned plane, size_t *n) {
    const unsigned side = file->planar == PLANARCONFIG_SEPARATE ? 1 : file->samples;
    const size_t row = ((size_t)width * side * file->bits + 7) / 8;
    unsigned char *bytes = calloc(row, height);
    assert_non_null(bytes);
    for (uint32_t j = 0; j < height && y + j < file->height; j++)
        for (uint32_t i = 0; i < width && x + i < file->width; i++)
            for (unsigned s = 0; s < side; s++)
                made_put(bytes + j * row, (size_t)i * side + s, file->bits,
                         made_bits(file, x + i, y + j, side == 1 ? plane : s));
    *n = row * height;
    if (file->predictor == 3 && strchr(file->mode, 'b'))
        made_swap(bytes, *n, file->bits / 8);
    return bytes;
}

static inline void made_tags(const made *file, TIFF *tiff) {
    TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, file->width);
    TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, file->height);
    TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, (int)file->bits);
    TIFFSetField(tiff, TIFFTAG_SAMPLESPERPIXEL, (int)file->samples);
    TIFFSetField(tiff, TIFFTAG_SAMPLEFORMAT, (int)file->format);
    TIFFSetField(tiff, TIFFTAG_PLANARCONFIG, (int)file->planar);
    TIFFSetField(tiff, TIFFTAG_COMPRESSION, (int)file->compression);
    TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC, (int)file->photometric);
    TIFFSetField(tiff, TIFFTAG_ORIENTATION, (int)file->orientation);
    if (file->reversed_bits)
        TIFFSetField(tiff, TIFFTAG_FILLORDER, FILLORDER_LSB2MSB);
    if (file->predictor)
        TIFFSetField(tiff, TIFFTAG_PREDICTOR, (int)file->predictor);
    if (file->compression == COMPRESSION_JPEG)
        TIFFSetField(tiff, TIFFTAG_JPEGQUALITY, 100);
    if (file->compression == COMPRESSION_WEBP)
        TIFFSetField(tiff, TIFFTAG_WEBP_LOSSLESS, 1);
    if (file->samples > made_channels(file)) {
        const uint16_t extra[8] = {EXTRASAMPLE_UNASSALPHA};
        TIFFSetField(tiff, TIFFTAG_EXTRASAMPLES, (int)(file->samples - made_channels(file)), extra);
    }
    if (file->tile) {
        TIFFSetField(tiff, TIFFTAG_TILEWIDTH, file->tile);
        TIFFSetField(tiff, TIFFTAG_TILELENGTH, file->tile);
    } else
        TIFFSetField(tiff, TIFFTAG_ROWSPERSTRIP, file->rows);
}

/* Writes a page; false where libtiff refuses to. */
static inline bool made_write_page(const made *file, TIFF *tiff) {
    const unsigned planes = file->planar == PLANARCONFIG_SEPARATE ? file->samples : 1;
    const uint32_t width = file->tile ? file->tile : file->width;
    const uint32_t height = file->tile ? file->tile : file->rows;
    uint32_t chunk = 0;
    bool written = true;
    made_tags(file, tiff);
    for (unsigned plane = 0; plane < planes; plane++)
        for (uint32_t y = 0; y < file->height; y += height)
            for (uint32_t x = 0; x < file->width; x += width) {
                const uint32_t left = file->height - y;
                const uint32_t rows = file->tile || left > height ? height : left;
                size_t n;
                unsigned char *bytes = made_pixels(file, x, y, width, rows, plane, &n);
                written = written &&
                          (file->tile ? TIFFWriteEncodedTile(tiff, chunk, bytes, (tmsize_t)n)
                                      : TIFFWriteEncodedStrip(tiff, chunk, bytes, (tmsize_t)n)) > 0;
                free(bytes);
                chunk++;
            }
    return written && TIFFWriteDirectory(tiff) == 1;
}

static inline int made_silent(TIFF *tiff, void *data, const char *module, const char *format,
                              va_list args) {
    (void)tiff, (void)data, (void)module, (void)format, (void)args;
    return 1;
}

static inline TIFF *made_open(const char *path, const char *mode) {
    TIFFOpenOptions *options = TIFFOpenOptionsAlloc();
    TIFF *tiff;
    assert_non_null(options);
    TIFFOpenOptionsSetErrorHandlerExtR(options, made_silent, NULL);
    TIFFOpenOptionsSetWarningHandlerExtR(options, made_silent, NULL);
    tiff = TIFFOpenExt(path, mode, options);
    TIFFOpenOptionsFree(options);
    assert_non_null(tiff);
    return tiff;
}

static inline bool made_write(const made *file, const char *path) {
    TIFF *tiff = made_open(path, file->mode);
    const bool written = made_write_page(file, tiff);
    TIFFClose(tiff);
    return written;
}

/*
 * Where a stored pixel is shown. Source: TIFF 6.0, Orientation: which side of the shown picture the
 * first row and the first column are.
 */
static inline void made_shown(const made *file, size_t u, size_t v, size_t *x, size_t *y) {
    const size_t last_u = file->width - 1, last_v = file->height - 1;
    switch (file->orientation) {
    case 2:
        *x = last_u - u, *y = v;
        return; /* top, right */
    case 3:
        *x = last_u - u, *y = last_v - v;
        return; /* bottom, right */
    case 4:
        *x = u, *y = last_v - v;
        return; /* bottom, left */
    case 5:
        *x = v, *y = u;
        return; /* left, top */
    case 6:
        *x = last_v - v, *y = u;
        return; /* right, top */
    case 7:
        *x = last_v - v, *y = last_u - u;
        return; /* right, bottom */
    case 8:
        *x = v, *y = last_u - u;
        return; /* left, bottom */
    default:
        *x = u, *y = v;
        return; /* top, left */
    }
}

/* What the sample at a stored place is delivered as: more light is the greater code. */
static inline double made_delivered(const made *file, size_t u, size_t v, size_t c) {
    const double code = made_code(file, u, v, c);
    if (file->photometric != PHOTOMETRIC_MINISWHITE)
        return code;
    if (file->format == SAMPLEFORMAT_INT)
        return -1.0 - code;
    return (file->format == SAMPLEFORMAT_IEEEFP ? 1.0 : ldexp(1.0, (int)file->bits) - 1.0) - code;
}

#endif
