/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_write.h"
#include "base/output_refused.h"
#include "core/picture.h"
#include "io/tiff.h"
#include <errno.h>
#include <string.h>
#include <sys/types.h>
#include <tiffio.h>
#include <unistd.h>
#include <wedgework/start.h>

/* ------------------------------------------------------------------- what libtiff does by us */

static tmsize_t client_read(thandle_t client, void *bytes, tmsize_t n) {
    ww__tiff_write *write = client;
    const ssize_t got = pread(write->fd, bytes, (size_t)n, (off_t)write->at);
    if (got > 0)
        write->at += (uint64_t)got;
    return got;
}

static tmsize_t client_write(thandle_t client, void *bytes, tmsize_t n) {
    ww__tiff_write *write = client;
    tmsize_t done = 0;
    while (done < n) {
        const ssize_t now = pwrite(write->fd, (const char *)bytes + done, (size_t)(n - done),
                                   (off_t)(write->at + (uint64_t)done));
        if (now < 0 && errno == EINTR)
            continue;
        if (now < 0) {
            write->sys = errno;
            return -1;
        }
        done += now;
    }
    write->at += (uint64_t)n;
    if (write->at > write->size)
        write->size = write->at;
    return n;
}

static toff_t client_seek(thandle_t client, toff_t to, int whence) {
    ww__tiff_write *write = client;
    if (whence == SEEK_CUR)
        to += write->at;
    else if (whence == SEEK_END)
        to += write->size;
    write->at = to;
    return to;
}

static int client_close(thandle_t client) {
    (void)client;
    return 0;
}

static toff_t client_size(thandle_t client) {
    return ((const ww__tiff_write *)client)->size;
}

/* What fails here is memory or the system, which errno tells better than libtiff does. */
static int client_said(TIFF *tiff, void *client, const char *module, const char *format,
                       va_list args) WW_PRINTF(4, 0);
static int client_said(TIFF *tiff, void *client, const char *module, const char *format,
                       va_list args) {
    (void)tiff, (void)client, (void)module, (void)format, (void)args;
    return 1;
}

/* Without memory libtiff keeps tags that it does not survive writing, which closing it would do:
 * what it holds is left where it is, as in tiff_handle.h. */
static ww_status failed(ww__tiff_write *write, ww_error *err) {
    if (write->sys)
        return ww__output_refused(write->file, write->sys, write->whole, err);
    write->tiff = NULL;
    return ww_error_set_at(err, WW_EMEMORY, write->file, 0, "no memory to write this file");
}

/* ------------------------------------------------------------------------------------ the file */

static uint64_t bytes_of(const ww_picture_form *form) {
    return (uint64_t)form->width * form->height * form->channels *
           ww__picture_sample_bytes(form->sample);
}

bool ww__tiff_write_is_big(const ww_picture_form *form) {
    return bytes_of(form) + form->n_icc + 65536 > UINT32_MAX - bytes_of(form) / 4096;
}

static bool set_resolution(TIFF *tiff, uint32_t tag, ww_optional px_per_mm) {
    return !px_per_mm.set || TIFFSetField(tiff, tag, px_per_mm.value * 25.4);
}

static bool set_tags(TIFF *tiff, const ww_picture_form *form, size_t rows_per_strip) {
    const bool whole = form->sample == WW_SAMPLE_16;
    return TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, (uint32_t)form->width) &&
           TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, (uint32_t)form->height) &&
           TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, whole ? 16 : 32) &&
           TIFFSetField(tiff, TIFFTAG_SAMPLEFORMAT,
                        whole ? SAMPLEFORMAT_UINT : SAMPLEFORMAT_IEEEFP) &&
           TIFFSetField(tiff, TIFFTAG_SAMPLESPERPIXEL, (int)form->channels) &&
           TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC,
                        form->channels == 3 ? PHOTOMETRIC_RGB : PHOTOMETRIC_MINISBLACK) &&
           TIFFSetField(tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG) &&
           TIFFSetField(tiff, TIFFTAG_COMPRESSION, COMPRESSION_NONE) &&
           TIFFSetField(tiff, TIFFTAG_ORIENTATION, ORIENTATION_TOPLEFT) &&
           TIFFSetField(tiff, TIFFTAG_ROWSPERSTRIP, (uint32_t)rows_per_strip) &&
           TIFFSetField(tiff, TIFFTAG_RESOLUTIONUNIT, RESUNIT_INCH) &&
           set_resolution(tiff, TIFFTAG_XRESOLUTION, form->px_per_mm_x) &&
           set_resolution(tiff, TIFFTAG_YRESOLUTION, form->px_per_mm_y) &&
           TIFFSetField(tiff, TIFFTAG_SOFTWARE, "wedgework " WW_VERSION) &&
           (!form->icc ||
            TIFFSetField(tiff, TIFFTAG_ICCPROFILE, (uint32_t)form->n_icc, form->icc)) &&
           (!form->description || TIFFSetField(tiff, TIFFTAG_IMAGEDESCRIPTION, form->description));
}

ww_status ww__tiff_write_open(const char *file, int fd, const ww_picture_form *form,
                              size_t rows_per_strip, ww__tiff_write *write, ww_error *err) {
    TIFFOpenOptions *options = TIFFOpenOptionsAlloc();
    *write = (ww__tiff_write){.file = file, .fd = fd, .whole = bytes_of(form) + form->n_icc};
    errno = 0;
    if (!options)
        return failed(write, err);
    TIFFOpenOptionsSetErrorHandlerExtR(options, client_said, write);
    TIFFOpenOptionsSetWarningHandlerExtR(options, client_said, write);
    write->tiff = TIFFClientOpenExt("", ww__tiff_write_is_big(form) ? "w8" : "w", write,
                                    client_read, client_write, client_seek, client_close,
                                    client_size, NULL, NULL, options);
    TIFFOpenOptionsFree(options);
    if (!write->tiff)
        return failed(write, err);
    /* A text or a profile for which there was no memory is missing, and libtiff says nothing. */
    return set_tags(write->tiff, form, rows_per_strip) && errno != ENOMEM ? WW_OK
                                                                          : failed(write, err);
}

ww_status ww__tiff_write_strip(ww__tiff_write *write, const void *rows, size_t n, ww_error *err) {
    /* Not compressed: libtiff only hands the bytes on. */
    const bool taken = TIFFWriteRawStrip(write->tiff, write->strip++, (void *)(uintptr_t)rows,
                                         (tmsize_t)n) == (tmsize_t)n;
    return taken && write->sys == 0 ? WW_OK : failed(write, err);
}

ww_status ww__tiff_write_close(ww__tiff_write *write, ww_error *err) {
    if (!write->tiff)
        return WW_OK;
    if (TIFFFlush(write->tiff) != 1 && write->sys == 0)
        return failed(write, err);
    TIFFClose(write->tiff);
    write->tiff = NULL;
    return write->sys == 0 ? WW_OK : failed(write, err);
}
