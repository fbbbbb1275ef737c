/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * make_scans SCENE OUT.tif [SCENE OUT.tif ...] - invented scans as TIFF files, each from its scene
 * (scan_scene.h). The same scene gives the same bytes. A name that stands twice in a row is one
 * file of several pages.
 */
#include "support/scan_scene.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <tiffio.h>

enum { STRIP_ROWS = 32 };

static bool write_rows(TIFF *file, scan_scene *s) {
    const size_t n = s->width * s->channels;
    uint16_t *code = calloc(n, sizeof *code);
    uint8_t *byte = calloc(n, sizeof *byte);
    bool good = code && byte;
    for (size_t y = 0; y < s->height && good; y++) {
        scan_draw_row(s, y, code);
        for (size_t i = 0; i < n && s->bits == 8; i++)
            byte[i] = (uint8_t)code[i];
        good = TIFFWriteScanline(file, s->bits == 8 ? (void *)byte : code, (uint32_t)y, 0) == 1;
    }
    free(code);
    free(byte);
    return good;
}

static bool write_scan(const char *path, bool further, scan_scene *s) {
    TIFF *file = TIFFOpen(path, further ? "a" : "w");
    if (!file)
        return false;
    TIFFSetField(file, TIFFTAG_IMAGEWIDTH, (uint32_t)s->width);
    TIFFSetField(file, TIFFTAG_IMAGELENGTH, (uint32_t)s->height);
    TIFFSetField(file, TIFFTAG_BITSPERSAMPLE, (int)s->bits);
    TIFFSetField(file, TIFFTAG_SAMPLESPERPIXEL, (int)s->channels);
    TIFFSetField(file, TIFFTAG_PHOTOMETRIC,
                 s->channels == 3 ? PHOTOMETRIC_RGB : PHOTOMETRIC_MINISBLACK);
    TIFFSetField(file, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
    TIFFSetField(file, TIFFTAG_COMPRESSION, COMPRESSION_NONE);
    TIFFSetField(file, TIFFTAG_ROWSPERSTRIP, STRIP_ROWS);
    TIFFSetField(file, TIFFTAG_IMAGEDESCRIPTION, "an invented scan; there is no such thing");
    if (s->px_per_mm > 0.0) {
        TIFFSetField(file, TIFFTAG_RESOLUTIONUNIT, RESUNIT_CENTIMETER);
        TIFFSetField(file, TIFFTAG_XRESOLUTION, 10.0 * s->px_per_mm);
        TIFFSetField(file, TIFFTAG_YRESOLUTION, 10.0 * s->px_per_mm);
    }
    const bool good = write_rows(file, s);
    TIFFClose(file);
    return good;
}

int main(int argc, char *argv[]) {
    if (argc < 3 || argc % 2 == 0) {
        fputs("usage: make_scans SCENE OUT.tif [SCENE OUT.tif ...]\n", stderr);
        return 2;
    }
    for (int i = 1; i < argc; i += 2) {
        scan_scene scene;
        if (!scan_scene_read(argv[i], &scene))
            return 3;
        const bool further = i > 1 && strcmp(argv[i - 1], argv[i + 1]) == 0;
        const bool good = write_scan(argv[i + 1], further, &scene);
        scan_scene_release(&scene);
        if (!good) {
            fprintf(stderr, "make_scans: %s cannot be written\n", argv[i + 1]);
            return 4;
        }
    }
    return 0;
}
