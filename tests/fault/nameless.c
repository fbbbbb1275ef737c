/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* O_TMPFILE */
#include "fault/nameless.h"
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <sys/types.h>

bool nameless_refused;

int open(const char *path, int flags, ...) {
    mode_t mode = 0;
    if (flags & (O_CREAT | O_TMPFILE)) {
        va_list rest;
        va_start(rest, flags);
        mode = va_arg(rest, mode_t);
        va_end(rest);
    }
    if (nameless_refused && (flags & O_TMPFILE) == O_TMPFILE) {
        errno = EOPNOTSUPP;
        return -1;
    }
    return openat(AT_FDCWD, path, flags, mode);
}
