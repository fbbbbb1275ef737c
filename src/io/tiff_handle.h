/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_HANDLE_H
#define WEDGEWORK_IO_TIFF_HANDLE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <wedgework/error.h>

/*
 * libtiff on a file that is already open. Several handles may share one descriptor, each in a
 * thread of its own. What libtiff says is kept here and goes into a ww_error; nothing is printed.
 */
typedef struct ww__tiff_handle {
    struct tiff *tiff; /* NULL: not open */
    int fd;
    uint64_t size, at; /* bytes; place of the next read */
    void *map;         /* where libtiff sees the file; NULL: it reads it */
    char said[200];    /* libtiff's first error since ww__tiff_handle_listen, "" where none */
    char warned[200];  /* the same for warnings */
    int sys;           /* errno of a read that failed, 0 where none */
    bool no_memory;    /* libtiff told of an allocation that failed */
    bool abandoned;    /* cannot be closed */
} ww__tiff_handle;

/*
 * Opens the file's header, no page yet. The handle must stay where it is until it is closed.
 *
 * `mapped` is for strips that are decompressed row by row: libtiff then takes the compressed bytes
 * from where they lie, where it would else read those of a whole strip into memory. Where the
 * system refuses to map the file, libtiff reads it.
 *
 * Status WW_OK; WW_EINPUT not a TIFF file; WW_ESYSTEM; WW_EMEMORY
 */
ww_status ww__tiff_handle_open(const char *file, int fd, uint64_t size, bool mapped,
                               ww__tiff_handle *handle, ww_error *err);

/*
 * Between two readings of a mapped file, no more than WW__TIFF_BATCH apart: what was seen of it no
 * longer counts as memory, and a file that has become shorter is told, since to look behind its end
 * ends a program (SIGBUS). One that is cut in that moment, or that the disk refuses, still does so:
 * see cli/cut_short.h.
 *
 * Status WW_OK; WW_EINPUT the file ends before it did
 */
ww_status ww__tiff_handle_move_on(const ww__tiff_handle *handle, const char *file, ww_error *err);

/*
 * After a call that went to a page, with what it returned: whether the page is there. Where memory
 * failed the handle is given up: closing it, libtiff 4.5 would free tags that it has counted but
 * never got room for.
 */
bool ww__tiff_handle_arrived(ww__tiff_handle *handle, int returned);

/* Accepts one that is not open. */
void ww__tiff_handle_close(ww__tiff_handle *handle);

/* Forgets what was said. Before each call of libtiff whose failure is to be told. */
void ww__tiff_handle_listen(ww__tiff_handle *handle);

/*
 * Whether an allocation has failed since: libtiff may go on without what it was for, silently.
 * To be asked before other calls that may change errno.
 */
bool ww__tiff_handle_starved(const ww__tiff_handle *handle);

/*
 * Tells a failure: WW_EMEMORY or WW_ESYSTEM where that was behind it, else WW_EINPUT with `what`
 * (what is wrong), libtiff's words in brackets, and `remedy`.
 */
ww_status ww__tiff_handle_failed(const ww__tiff_handle *handle, const char *file, const char *what,
                                 const char *remedy, ww_error *err);

/* Reads n bytes at a place in the file. Status WW_OK; WW_EINPUT the file ends before; WW_ESYSTEM */
ww_status ww__tiff_handle_pread(const char *file, int fd, uint64_t at, void *bytes, size_t n,
                                ww_error *err);

#endif
