/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/input.h"
#include <assert.h>
#include <errno.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_ROOM = 16384 };

const char *ww__input_name(const char *path) {
    return strcmp(path, "-") == 0 ? "standard input" : path;
}

static ww_status refused(int sys, const char *name, ww_error *err) {
    if (sys == ENOENT || sys == ENOTDIR)
        return ww_error_set_at(err, WW_EINPUT, name, 0, "there is no such file; check the name");
    if (sys == EISDIR)
        return ww_error_set_at(err, WW_EINPUT, name, 0, "this is a folder; name a file in it");
    return ww_error_set_system(err, sys == ENOMEM ? WW_EMEMORY : WW_ESYSTEM, sys, name,
                               "cannot be read");
}

/* Reads to the end; *bytes stays valid for the caller to free, whatever happens. */
static ww_status read_all(FILE *file, const char *name, size_t most, char **bytes, size_t *n,
                          ww_error *err) {
    size_t room = 0;
    *n = 0;
    for (;;) {
        if (room - *n < 2) {
            char *grown;
            if (room > SIZE_MAX / 2)
                return ww_error_set_at(err, WW_EMEMORY, name, 0, "no memory to read this file");
            room = room ? 2 * room : FIRST_ROOM;
            grown = realloc(*bytes, room);
            if (!grown)
                return ww_error_set_at(err, WW_EMEMORY, name, 0, "no memory to read this file");
            *bytes = grown;
        }
        errno = 0;
        *n += fread(*bytes + *n, 1, room - *n - 1, file);
        if (ferror(file))
            return refused(errno ? errno : EIO, name, err);
        if (*n > most)
            return ww_error_set_at(err, WW_EINPUT, name, 0,
                                   "longer than %zu bytes; is it the right file?", most);
        if (feof(file)) {
            (*bytes)[*n] = '\0';
            return WW_OK;
        }
    }
}

ww_status ww__input_read(const char *path, size_t most, char **bytes, size_t *n, ww_error *err) {
    const char *name = ww__input_name(path);
    const int standard = strcmp(path, "-") == 0;
    FILE *file = standard ? stdin : fopen(path, "rb");
    char *all = NULL;
    size_t length = 0;
    ww_status status;
    assert(bytes && n);
    if (!file)
        return refused(errno, name, err);
    status = read_all(file, name, most, &all, &length, err);
    if (!standard)
        fclose(file);
    if (status != WW_OK) {
        free(all);
        return status;
    }
    *bytes = all;
    *n = length;
    return WW_OK;
}
