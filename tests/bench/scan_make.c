/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scan_make FILE WIDTH HEIGHT strips|tiles|lzw [SHARE] - an invented 16-bit RGB scan for the
 * benchmarks: a wedge of 21 steps of half a stop across the middle, dark glass round it, noise on
 * everything.
 *
 * The wedge spans WIDTH / 50 to WIDTH * 49 / 50 and the middle fifth of HEIGHT. `strips` are bare,
 * 16 rows each; `tiles` are 256 px, deflated; `lzw` is strips of 16 rows. SHARE of the exposure, 1
 * where it is not given.
 */
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <tiffio.h>

enum { STEPS = 21, STRIP_ROWS = 16, TILE = 256, CHANNELS = 3 };

static uint64_t seed = 2731;
static double share = 1.0;

/* Codes at (x, y): light of the step, and some 0.5 % of noise. */
static void pixel(size_t x, size_t y, size_t width, size_t height, uint16_t code[CHANNELS]) {
    const size_t from = width / 50, to = width * 49 / 50;
    const bool in = x >= from && x < to && y >= height * 2 / 5 && y < height * 3 / 5;
    const size_t step = in ? (x - from) * STEPS / (to - from) : STEPS;
    const double light = share * (in ? 60000.0 * pow(10.0, -0.05 - 0.15 * (double)step) : 40.0);
    for (size_t c = 0; c < CHANNELS; c++) {
        seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
        const double noise = (double)(seed >> 40) * 0x1p-24 - 0.5;
        code[c] = (uint16_t)(light * (1.0 - 0.03 * (double)c) + noise * (20.0 + 0.02 * light));
    }
}

static void fill(uint16_t *at, size_t x, size_t y, size_t w, size_t h, size_t width,
                 size_t height) {
    for (size_t j = 0; j < h; j++)
        for (size_t i = 0; i < w; i++)
            pixel(x + i, y + j, width, height, at + (j * w + i) * CHANNELS);
}

int main(int argc, char **argv) {
    if (argc != 5 && argc != 6)
        return 2;
    if (argc == 6) {
        share = strtod(argv[5], NULL);
        seed += 1; /* noise of its own */
    }
    const size_t width = strtoul(argv[2], NULL, 10), height = strtoul(argv[3], NULL, 10);
    const bool tiled = strcmp(argv[4], "tiles") == 0, lzw = strcmp(argv[4], "lzw") == 0;
    TIFF *file = TIFFOpen(argv[1], "w8");
    if (!file || !width || !height)
        return 1;
    TIFFSetField(file, TIFFTAG_IMAGEWIDTH, (uint32_t)width);
    TIFFSetField(file, TIFFTAG_IMAGELENGTH, (uint32_t)height);
    TIFFSetField(file, TIFFTAG_BITSPERSAMPLE, 16);
    TIFFSetField(file, TIFFTAG_SAMPLESPERPIXEL, CHANNELS);
    TIFFSetField(file, TIFFTAG_PHOTOMETRIC, PHOTOMETRIC_RGB);
    TIFFSetField(file, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
    TIFFSetField(file, TIFFTAG_COMPRESSION,
                 tiled ? COMPRESSION_ADOBE_DEFLATE
                 : lzw ? COMPRESSION_LZW
                       : COMPRESSION_NONE);
    if (tiled) {
        TIFFSetField(file, TIFFTAG_TILEWIDTH, TILE);
        TIFFSetField(file, TIFFTAG_TILELENGTH, TILE);
    } else {
        TIFFSetField(file, TIFFTAG_ROWSPERSTRIP, STRIP_ROWS);
    }
    const size_t w = tiled ? TILE : width, h = tiled ? TILE : STRIP_ROWS;
    uint16_t *block = malloc(w * h * CHANNELS * sizeof *block);
    bool good = block != NULL;
    uint32_t n = 0;
    for (size_t y = 0; y < height && good; y += h)
        for (size_t x = 0; x < width && good; x += w, n++) {
            const size_t rows = tiled || height - y > h ? h : height - y;
            fill(block, x, y, w, rows, width, height);
            const tmsize_t bytes = (tmsize_t)(w * rows * CHANNELS * sizeof *block);
            good = tiled ? TIFFWriteEncodedTile(file, n, block, bytes) == bytes
                         : TIFFWriteEncodedStrip(file, n, block, bytes) == bytes;
        }
    free(block);
    TIFFClose(file);
    return good ? 0 : 1;
}
