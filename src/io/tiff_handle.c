/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _DEFAULT_SOURCE /* madvise */
#include "io/tiff_handle.h"
#include "io/tiff.h"
#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <tiffio.h>
#include <unistd.h>

/* Reads until n bytes are there or the file ends; the number read, or -1 with errno. */
static ssize_t read_at(int fd, uint64_t at, void *bytes, size_t n) {
    size_t done = 0;
    while (done < n) {
        const ssize_t got = pread(fd, (char *)bytes + done, n - done, (off_t)(at + done));
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return -1;
        if (got == 0)
            break;
        done += (size_t)got;
    }
    return (ssize_t)done;
}

static ww_status ends_early(const char *file, ww_error *err) {
    return ww_error_set_at(err, WW_EINPUT, file, 0,
                           "ends before the pixels do; scan, export or copy it again");
}

ww_status ww__tiff_handle_pread(const char *file, int fd, uint64_t at, void *bytes, size_t n,
                                ww_error *err) {
    const ssize_t got = read_at(fd, at, bytes, n);
    if (got < 0)
        return ww_error_set_system(err, WW_ESYSTEM, errno, file, "cannot be read");
    return (size_t)got < n ? ends_early(file, err) : WW_OK;
}

/* ------------------------------------------------------------------- what libtiff does by us */

static tmsize_t client_read(thandle_t client, void *bytes, tmsize_t n) {
    ww__tiff_handle *handle = client;
    ssize_t got;
    if (n < 0 || handle->at > handle->size)
        return 0;
    got = read_at(handle->fd, handle->at, bytes, (size_t)n);
    if (got < 0) {
        handle->sys = errno;
        return -1;
    }
    handle->at += (uint64_t)got;
    return got;
}

static tmsize_t client_write(thandle_t client, void *bytes, tmsize_t n) {
    (void)client, (void)bytes, (void)n;
    return -1;
}

static toff_t client_seek(thandle_t client, toff_t to, int whence) {
    ww__tiff_handle *handle = client;
    if (whence == SEEK_CUR)
        to += handle->at;
    else if (whence == SEEK_END)
        to += handle->size;
    handle->at = to;
    return to;
}

static int client_close(thandle_t client) {
    (void)client;
    return 0;
}

static toff_t client_size(thandle_t client) {
    return ((const ww__tiff_handle *)client)->size;
}

static bool is_whole(const ww__tiff_handle *handle) {
    struct stat now;
    return fstat(handle->fd, &now) == 0 && (uint64_t)now.st_size >= handle->size;
}

static int client_map(thandle_t client, void **base, toff_t *size) {
    ww__tiff_handle *handle = client;
    void *map;
    if (handle->size > SIZE_MAX || !is_whole(handle))
        return 0;
    map = mmap(NULL, (size_t)handle->size, PROT_READ, MAP_SHARED, handle->fd, 0);
    if (map == MAP_FAILED) {
        errno = 0; /* no memory is missing: libtiff reads the file instead */
        return 0;
    }
    handle->map = *base = map;
    *size = handle->size;
    return 1;
}

static void client_unmap(thandle_t client, void *base, toff_t size) {
    ((ww__tiff_handle *)client)->map = NULL;
    munmap(base, (size_t)size);
}

static void keep(char *said, size_t size, const char *format, va_list args) WW_PRINTF(3, 0);
static int client_error(TIFF *tiff, void *client, const char *module, const char *format,
                        va_list args) WW_PRINTF(4, 0);
static int client_warning(TIFF *tiff, void *client, const char *module, const char *format,
                          va_list args) WW_PRINTF(4, 0);

/* Keeps the first sentence: those that follow are mostly its consequences. */
static void keep(char *said, size_t size, const char *format, va_list args) {
    if (said[0] != '\0')
        return;
    vsnprintf(said, size, format, args);
    if (strncmp(said, ": ", 2) == 0) /* after the name, which is left empty */
        memmove(said, said + 2, strlen(said + 2) + 1);
    for (char *c = said; *c; c++)
        if (*c < ' ' || *c > '~')
            *c = '?';
}

static int client_error(TIFF *tiff, void *client, const char *module, const char *format,
                        va_list args) {
    ww__tiff_handle *handle = client;
    (void)tiff, (void)module;
    handle->no_memory = handle->no_memory || errno == ENOMEM;
    keep(handle->said, sizeof handle->said, format, args);
    return 1; /* heard: no other handler is asked */
}

static int client_warning(TIFF *tiff, void *client, const char *module, const char *format,
                          va_list args) {
    ww__tiff_handle *handle = client;
    (void)tiff;
    handle->no_memory = handle->no_memory || errno == ENOMEM;
    if (module && strcmp(module, "OJPEGSetupDecode") == 0)
        return 1; /* of each such file, good or bad: that nobody should write it any more */
    keep(handle->warned, sizeof handle->warned, format, args);
    return 1;
}

/* ------------------------------------------------------------------------------------ a handle */

void ww__tiff_handle_listen(ww__tiff_handle *handle) {
    handle->said[0] = handle->warned[0] = '\0';
    handle->sys = 0;
    handle->no_memory = false;
    errno = 0;
}

bool ww__tiff_handle_starved(const ww__tiff_handle *handle) {
    return handle->no_memory || errno == ENOMEM;
}

ww_status ww__tiff_handle_failed(const ww__tiff_handle *handle, const char *file, const char *what,
                                 const char *remedy, ww_error *err) {
    const char *said = handle->said[0] ? handle->said : handle->warned;
    if (ww__tiff_handle_starved(handle))
        return ww_error_set_at(err, WW_EMEMORY, file, 0, "no memory to read this file");
    if (handle->sys)
        return ww_error_set_system(err, WW_ESYSTEM, handle->sys, file, "cannot be read");
    if (said[0] == '\0')
        return ww_error_set_at(err, WW_EINPUT, file, 0, "%s; %s", what, remedy);
    return ww_error_set_at(err, WW_EINPUT, file, 0, "%s (%s); %s", what, said, remedy);
}

ww_status ww__tiff_handle_open(const char *file, int fd, uint64_t size, bool mapped,
                               ww__tiff_handle *handle, ww_error *err) {
    TIFFOpenOptions *options = TIFFOpenOptionsAlloc();
    if (!options)
        return ww_error_set_at(err, WW_EMEMORY, file, 0, "no memory to read this file");
    *handle = (ww__tiff_handle){.fd = fd, .size = size};
    TIFFOpenOptionsSetErrorHandlerExtR(options, client_error, handle);
    TIFFOpenOptionsSetWarningHandlerExtR(options, client_warning, handle);
    TIFFOpenOptionsSetMaxSingleMemAlloc(options, WW__TIFF_CHUNK_MOST);
    ww__tiff_handle_listen(handle);
    /* m: no mapping; c: a single strip stays one; h: no page yet */
    handle->tiff = TIFFClientOpenExt("", mapped ? "rch" : "rmch", handle, client_read, client_write,
                                     client_seek, client_close, client_size, client_map,
                                     client_unmap, options);
    TIFFOpenOptionsFree(options);
    if (!handle->tiff)
        return ww__tiff_handle_failed(handle, file, "is not a TIFF file", "export the scan as TIFF",
                                      err);
    return WW_OK;
}

ww_status ww__tiff_handle_move_on(const ww__tiff_handle *handle, const char *file, ww_error *err) {
    if (!handle->map)
        return WW_OK;
    if (!is_whole(handle))
        return ends_early(file, err);
    madvise(handle->map, (size_t)handle->size, MADV_DONTNEED);
    return WW_OK;
}

bool ww__tiff_handle_arrived(ww__tiff_handle *handle, int returned) {
    handle->abandoned = ww__tiff_handle_starved(handle);
    return returned == 1 && !handle->abandoned && handle->sys == 0;
}

void ww__tiff_handle_close(ww__tiff_handle *handle) {
    if (handle->tiff && !handle->abandoned)
        TIFFClose(handle->tiff);
    else if (handle->map)
        client_unmap(handle, handle->map, handle->size);
    handle->tiff = NULL;
}
