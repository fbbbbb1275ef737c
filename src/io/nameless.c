/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* O_TMPFILE */
#include "io/nameless.h"
#include <errno.h>
#include <fcntl.h>
#include <linux/magic.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/statfs.h>
#include <unistd.h>

/* A write beyond the limit would not only fail: it ends a program (SIGXFSZ). */
static bool is_allowed(uint64_t bytes) {
    struct rlimit limit;
    return getrlimit(RLIMIT_FSIZE, &limit) == 0 &&
           (limit.rlim_cur == RLIM_INFINITY || bytes <= limit.rlim_cur);
}

static bool has_room(int fd, uint64_t bytes) {
    struct statfs about;
    if (fstatfs(fd, &about) != 0 || about.f_bsize <= 0)
        return false;
    const unsigned long kind = (unsigned long)about.f_type;
    if (kind == TMPFS_MAGIC || kind == RAMFS_MAGIC)
        return false;
    return bytes / (uint64_t)about.f_bsize < about.f_bavail / 2;
}

/* Takes the descriptor, or none; closes what has no room. */
static int with_room(int fd, uint64_t bytes) {
    if (fd < 0 || has_room(fd, bytes))
        return fd;
    close(fd);
    return -1;
}

/* Never to be named (O_EXCL). */
static int make_in(const char *folder) {
    return folder ? open(folder, O_TMPFILE | O_EXCL | O_RDWR | O_CLOEXEC, 0600) : -1;
}

/* Where no file system has files without a name, the library takes the name away at once. */
static int make_by_library(void) {
    FILE *file = tmpfile();
    const int fd = file ? fcntl(fileno(file), F_DUPFD_CLOEXEC, 0) : -1;
    if (file)
        fclose(file);
    return fd;
}

int ww__nameless_open(uint64_t bytes) {
    int fd;
    if (!is_allowed(bytes))
        return -1;
    fd = with_room(make_in(getenv("TMPDIR")), bytes);
    if (fd < 0)
        fd = with_room(make_in("/var/tmp"), bytes);
    if (fd < 0)
        fd = with_room(make_by_library(), bytes);
    return fd;
}

bool ww__nameless_write(int fd, uint64_t at, const void *bytes, size_t n) {
    for (size_t done = 0; done < n;) {
        const ssize_t wrote = pwrite(fd, (const char *)bytes + done, n - done, (off_t)(at + done));
        if (wrote < 0 && errno == EINTR)
            continue;
        if (wrote <= 0)
            return false;
        done += (size_t)wrote;
    }
    return true;
}
