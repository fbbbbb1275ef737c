/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_refuse.h"
#include <tiffio.h>

/* Samples of a pixel beyond which no scan goes; rows of few pixels then stay small. */
enum { SAMPLES_MOST = 64 };

static const char wanted[] = "export it as grey or RGB of 16 bits";

static const struct kind {
    unsigned photometric;
    const char *what;
} kinds[] = {
    {PHOTOMETRIC_PALETTE, "has a palette of colours, which are no codes of light"},
    {PHOTOMETRIC_MASK, "is a mask, not a picture"},
    {PHOTOMETRIC_SEPARATED, "is separated into inks (CMYK)"},
    {PHOTOMETRIC_YCBCR, "holds luminance and colour difference (YCbCr)"},
    {PHOTOMETRIC_CIELAB, "holds Lab colours"},
    {PHOTOMETRIC_ICCLAB, "holds Lab colours"},
    {PHOTOMETRIC_ITULAB, "holds Lab colours"},
    {PHOTOMETRIC_LOGL, "holds logarithms of luminance"},
    {PHOTOMETRIC_LOGLUV, "holds logarithms of luminance"},
    {PHOTOMETRIC_CFA, "is the raw mosaic of a camera"},
    {34892 /* LinearRaw, of the DNG specification */, "holds raw data of a camera or scanner"},
};

static ww_status refuse(const char *file, const char *what, ww_error *err) {
    return ww_error_set_at(err, WW_EINPUT, file, 0, "%s; %s", what, wanted);
}

static ww_status refuse_kind(const ww__tiff_tags *tags, const char *file, ww_error *err) {
    if (!tags->says_photometric)
        return refuse(file, "does not say whether its samples are grey or colours", err);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
        if (kinds[i].photometric == tags->photometric)
            return refuse(file, kinds[i].what, err);
    if (tags->photometric > PHOTOMETRIC_RGB)
        return ww_error_set_at(err, WW_EINPUT, file, 0,
                               "holds samples of an unknown meaning (photometric interpretation "
                               "%u); %s",
                               tags->photometric, wanted);
    if (tags->photometric == PHOTOMETRIC_RGB && tags->samples < 3)
        return ww_error_set_at(err, WW_EINPUT, file, 0,
                               "says RGB, but has %u samples a pixel; export it again",
                               tags->samples);
    return WW_OK;
}

static ww_status refuse_samples(const ww__tiff_tags *tags, const char *file, ww_error *err) {
    const bool real = tags->format == SAMPLEFORMAT_IEEEFP;
    const bool whole = tags->format == SAMPLEFORMAT_UINT || tags->format == SAMPLEFORMAT_INT ||
                       tags->format == SAMPLEFORMAT_VOID;
    if (tags->bits == 1)
        return refuse(file, "has 1 bit a pixel: black and white only", err);
    if (tags->format == SAMPLEFORMAT_COMPLEXINT || tags->format == SAMPLEFORMAT_COMPLEXIEEEFP)
        return refuse(file, "holds complex numbers", err);
    if (whole && tags->bits >= 2 && tags->bits <= 32)
        return WW_OK;
    if (real && (tags->bits == 16 || tags->bits == 32 || tags->bits == 64))
        return WW_OK;
    return ww_error_set_at(err, WW_EINPUT, file, 0,
                           "holds %s of %u bits, where integers of 2 to 32 and floating point of "
                           "16, 32 or 64 are read; %s",
                           real    ? "floating point"
                           : whole ? "integers"
                                   : "numbers of an unknown format",
                           tags->bits, wanted);
}

static ww_status refuse_compression(const ww__tiff_tags *tags, const char *file, ww_error *err) {
    if (TIFFIsCODECConfigured((uint16_t)tags->compression) != 1)
        return ww_error_set_at(err, WW_EINPUT, file, 0,
                               "is compressed by method %u, which libtiff does not know here; "
                               "export it uncompressed, or with LZW or Deflate",
                               tags->compression);
    return WW_OK;
}

static ww_status refuse_shape(const ww__tiff_tags *tags, const char *file, ww_error *err) {
    if (tags->width == 0 || tags->height == 0)
        return ww_error_set_at(err, WW_EINPUT, file, 0,
                               "is a picture of %u x %u px; scan or export it again", tags->width,
                               tags->height);
    if (tags->depth != 1 || tags->tile_depth != 1)
        return ww_error_set_at(err, WW_EINPUT, file, 0,
                               "is a volume of pixels, not a picture; export one layer");
    if (tags->chunk_width == 0 || tags->chunk_height == 0)
        return ww_error_set_at(
            err, WW_EINPUT, file, 0, "has %s of %u x %u px: it is damaged; export it again",
            tags->tiled ? "tiles" : "strips", tags->chunk_width, tags->chunk_height);
    if (tags->samples == 0 || tags->samples > SAMPLES_MOST)
        return ww_error_set_at(err, WW_EINPUT, file, 0,
                               "has %u samples a pixel, where 1 to %d are read; %s", tags->samples,
                               SAMPLES_MOST, wanted);
    if (tags->planar != PLANARCONFIG_CONTIG && tags->planar != PLANARCONFIG_SEPARATE)
        return ww_error_set_at(err, WW_EINPUT, file, 0,
                               "has planes in an unknown order (%u); export it again",
                               tags->planar);
    return WW_OK;
}

/* Meaning first: a palette of 1 bit is best told as a palette, a fax as black and white. */
ww_status ww__tiff_refuse(const ww__tiff_tags *tags, const char *file, ww_error *err) {
    ww_status status = refuse_kind(tags, file, err);
    if (status == WW_OK)
        status = refuse_samples(tags, file, err);
    if (status == WW_OK)
        status = refuse_compression(tags, file, err);
    if (status == WW_OK)
        status = refuse_shape(tags, file, err);
    return status;
}
