/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_ERROR_H
#define WEDGEWORK_ERROR_H

#include <stddef.h>

/*
 * Status codes. What can fail returns one; the details go into a caller-owned ww_error.
 * On any status but WW_OK the results of the call are untouched.
 */
typedef enum ww_status {
    WW_OK = 0,
    WW_EDOMAIN,   /* an argument lies outside the documented domain */
    WW_ENODATA,   /* the data do not carry the answer */
    WW_EINPUT,    /* a file or text is missing, malformed or ambiguous */
    WW_EMISMATCH, /* two inputs may not be combined (status, kind, unit) */
    WW_ECONVERGE, /* an iteration did not reach its tolerance */
    WW_EMEMORY,   /* no memory */
    WW_ESYSTEM,   /* the system refused: disk, permission, process */
    WW_ETOOL,     /* an optional outside program is missing or failed */
    WW_EUSAGE,    /* wrong use of the command line */
    WW_EINTERNAL  /* our own bug */
} ww_status;

enum { WW_ERROR_FILE_SIZE = 512, WW_ERROR_MESSAGE_SIZE = 1024 };

typedef struct ww_error {
    ww_status code;
    int sys;                         /* errno of the failing call, 0 where none */
    char file[WW_ERROR_FILE_SIZE];   /* "" where no file is concerned */
    size_t line;                     /* 0 where no line is concerned */
    char msg[WW_ERROR_MESSAGE_SIZE]; /* what is wrong; what to do */
} ww_error;

#define WW_ERROR_INIT                                                                              \
    {                                                                                              \
        WW_OK, 0, "", 0, ""                                                                        \
    }

#if defined(__GNUC__)
#define WW_PRINTF(format_at, first_at) __attribute__((format(printf, format_at, first_at)))
#else
#define WW_PRINTF(format_at, first_at)
#endif

/*
 * ww_error_set - record what went wrong, and return the code, so that a caller can write
 *                `return ww_error_set(err, WW_EDOMAIN, "...")`.
 *
 * Given     err    record to fill; NULL is allowed and only the code is returned
 *           code   not WW_OK
 *           format printf format: what is wrong first, then what to do
 * Returned  code. file and line are cleared. A message too long is cut at the buffer's end.
 */
ww_status ww_error_set(ww_error *err, ww_status code, const char *format, ...) WW_PRINTF(3, 4);

/*
 * ww_error_set_at - the same, with the file and line that the message is about.
 *
 * Given     file   name as the user gave it, or NULL
 *           line   1-based, or 0
 */
ww_status ww_error_set_at(ww_error *err, ww_status code, const char *file, size_t line,
                          const char *format, ...) WW_PRINTF(5, 6);

/*
 * ww_error_set_system - the same for a refused system call: keeps `sys` and ends the message with
 *                       the system's own words for it.
 *
 * Given     sys    an errno value
 */
ww_status ww_error_set_system(ww_error *err, ww_status code, int sys, const char *file,
                              const char *format, ...) WW_PRINTF(5, 6);

#endif
