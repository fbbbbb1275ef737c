/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/input.h"
#include "io/tiff_directory.h"
#include "io/tiff_packed.h"
#include "io/tiff_plain.h"
#include "io/tiff_spill.h"
#include "io/tiff_visit.h"
#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <wedgework/picture_file.h>

static void close_file(void *handle) {
    ww__tiff *tiff = handle;
    ww__tiff_packed_end(tiff);
    ww__tiff_spill_drop(atomic_load(&tiff->spill));
    close(tiff->fd);
    free(tiff->offset);
    free(tiff);
}

static const ww_picture_source source = {ww__tiff_visit, close_file};

static ww_status open_file(const char *path, int *fd, uint64_t *size, ww_error *err) {
    struct stat about;
    if (strcmp(path, "-") == 0)
        return ww_error_set_at(err, WW_EINPUT, ww__input_name(path), 0,
                               "a scan is read here and there, not from one end to the other; "
                               "name a file");
    /* Not waiting for a writer: a pipe is told below for what it is. */
    *fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (*fd < 0 && (errno == ENOENT || errno == ENOTDIR))
        return ww_error_set_at(err, WW_EINPUT, path, 0, "there is no such file; check the name");
    if (*fd < 0 || fstat(*fd, &about) != 0) {
        const int sys = errno;
        if (*fd >= 0)
            close(*fd);
        return ww_error_set_system(err, WW_ESYSTEM, sys, path, "cannot be read");
    }
    if (!S_ISREG(about.st_mode)) {
        close(*fd);
        return ww_error_set_at(err, WW_EINPUT, path, 0, "%s; name a file of a scan",
                               S_ISDIR(about.st_mode) ? "this is a folder" : "this is no file");
    }
    *size = about.st_size > 0 ? (uint64_t)about.st_size : 0;
    return WW_OK;
}

static size_t together(const ww__tiff *tiff) {
    if (tiff->offset || (tiff->by_scanline && ww__tiff_turn_keeps_rows(&tiff->turn)))
        return 1;
    return ww__tiff_turn_swaps(&tiff->turn) ? tiff->chunk_width : tiff->chunk_height;
}

/* What the picture keeps: its name and the page. */
static ww_status keep(const char *path, const ww__tiff *tiff, ww_picture *picture, ww_error *err) {
    picture->file = strdup(path);
    picture->handle = malloc(sizeof *tiff);
    if (!picture->file || !picture->handle) {
        free(picture->handle);
        picture->handle = NULL;
        return ww_error_set_at(err, WW_EMEMORY, path, 0, "no memory to read this file");
    }
    *(ww__tiff *)picture->handle = *tiff;
    picture->reading_bytes =
        (size_t)(tiff->offset ? ww__tiff_plain_memory(tiff) : ww__tiff_packed_memory(tiff));
    picture->rows_together = together(tiff);
    picture->source = &source;
    return WW_OK;
}

ww_status ww_picture_file_open(const char *path, size_t page, ww_picture *picture, ww_error *err) {
    ww_picture read = WW_PICTURE_INIT;
    ww__tiff tiff = {.fd = -1};
    ww_status status;
    assert(path && picture);
    status = open_file(path, &tiff.fd, &tiff.size, err);
    if (status != WW_OK)
        return status;
    status = ww__tiff_directory_read(path, page, &tiff, &read, err);
    if (status == WW_OK)
        status = keep(path, &tiff, &read, err);
    if (status == WW_OK) {
        *picture = read;
        return WW_OK;
    }
    ww_picture_release(&read);
    free(tiff.offset);
    close(tiff.fd);
    return status;
}
