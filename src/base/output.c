/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <wedgework/output.h>

enum { MOST_LINKS = 40, MOST_NAMES = 10000 };

static ww_status refused(const char *path, int sys, const char *what, ww_error *err) {
    return ww_error_set_system(err, sys == ENOMEM ? WW_EMEMORY : WW_ESYSTEM, sys, path, "%s", what);
}

/* Bytes of `path` up to and with the last '/', 0 where there is none. */
static size_t folder_length(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? (size_t)(slash - path) + 1 : 0;
}

/* First n bytes of `folder`, then `name`; NULL when there is no memory. */
static char *join(const char *folder, size_t n, const char *name) {
    const size_t size = n + strlen(name) + 1;
    char *path = malloc(size);
    if (path) {
        memcpy(path, folder, n);
        memcpy(path + n, name, size - n);
    }
    return path;
}

/*
 * The file at the end of the links, whether it exists or not; realpath needs one that exists.
 * NULL with errno.
 */
static char *follow(const char *path) {
    char *at = join(path, strlen(path), "");
    for (int i = 0; at && i < MOST_LINKS; i++) {
        char link[PATH_MAX], *next;
        const ssize_t n = readlink(at, link, sizeof link - 1);
        if (n < 0) /* no link (EINVAL), or not there: this is the name to write */
            return at;
        link[n] = '\0';
        next = join(at, link[0] == '/' ? 0 : folder_length(at), link);
        free(at);
        at = next;
    }
    if (at) {
        free(at);
        errno = ELOOP;
    }
    return NULL;
}

static int write_all(int fd, const unsigned char *bytes, size_t n) {
    while (n > 0) {
        const ssize_t written = write(fd, bytes, n < SSIZE_MAX ? n : SSIZE_MAX);
        if (written < 0 && errno == EINTR)
            continue;
        if (written < 0)
            return errno;
        bytes += written;
        n -= (size_t)written;
    }
    return 0;
}

/* Makes a file that was not there, beside `path`; *fd is -1, with errno, where that fails. */
static char *make_beside(const char *path, mode_t mode, int *fd) {
    *fd = -1;
    for (unsigned i = 0; i < MOST_NAMES; i++) {
        char name[64], *made;
        snprintf(name, sizeof name, ".wedgework-%ld-%u", (long)getpid(), i);
        made = join(path, folder_length(path), name);
        if (!made)
            return NULL;
        *fd = open(made, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, mode);
        if (*fd >= 0)
            return made;
        free(made);
        if (errno != EEXIST)
            return NULL;
    }
    return NULL;
}

/* Fills the new file and makes it look like the old one; an errno value, 0 when all went well. */
static int fill(int fd, const struct stat *old, const void *bytes, size_t n) {
    int sys = write_all(fd, bytes, n);
    if (sys == 0 && old) {
        /* Owner first: changing it may clear mode bits. Only root can, so refusal is no failure. */
        if (fchown(fd, old->st_uid, old->st_gid) != 0)
            errno = 0;
        if (fchmod(fd, old->st_mode & 0777) != 0)
            sys = errno;
    }
    if (sys == 0 && fsync(fd) != 0 && errno != EINVAL && errno != ENOTSUP)
        sys = errno;
    if (close(fd) != 0 && sys == 0)
        sys = errno;
    return sys;
}

/* The new name is safe only once the folder is; a file system that cannot do that is no failure. */
static void sync_folder(const char *path) {
    char *folder = join(path, folder_length(path), ".");
    const int fd = folder ? open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC) : -1;
    if (fd >= 0) {
        fsync(fd);
        close(fd);
    }
    free(folder);
}

static ww_status replace(const char *path, const char *target, const struct stat *old,
                         const void *bytes, size_t n, ww_error *err) {
    int fd, sys;
    char *made = make_beside(target, old ? 0600 : 0666, &fd);
    if (!made)
        return refused(path, errno, "cannot make a file in this folder", err);
    sys = fill(fd, old, bytes, n);
    if (sys == 0 && rename(made, target) != 0)
        sys = errno;
    if (sys != 0)
        unlink(made);
    free(made);
    if (sys != 0)
        return refused(path, sys, "cannot be written", err);
    sync_folder(target);
    return WW_OK;
}

static ww_status write_directly(const char *path, const void *bytes, size_t n, ww_error *err) {
    const int fd = open(path, O_WRONLY | O_NOCTTY | O_CLOEXEC);
    int sys;
    if (fd < 0)
        return refused(path, errno, "cannot be opened for writing", err);
    sys = write_all(fd, bytes, n);
    if (close(fd) != 0 && sys == 0)
        sys = errno;
    return sys == 0 ? WW_OK : refused(path, sys, "cannot be written", err);
}

static ww_status write_target(const char *path, const char *target, const void *bytes, size_t n,
                              ww_error *err) {
    struct stat old;
    if (stat(target, &old) != 0) {
        if (errno != ENOENT)
            return refused(path, errno, "cannot be written", err);
        return replace(path, target, NULL, bytes, n, err);
    }
    if (S_ISDIR(old.st_mode))
        return refused(path, EISDIR, "cannot be written; name a file in this folder", err);
    if (!S_ISREG(old.st_mode))
        return write_directly(path, bytes, n, err);
    if (faccessat(AT_FDCWD, target, W_OK, AT_EACCESS) != 0)
        return refused(path, errno, "may not be overwritten", err);
    return replace(path, target, &old, bytes, n, err);
}

ww_status ww_output_write(const char *path, const void *bytes, size_t n, ww_error *err) {
    struct stat there;
    char *target;
    ww_status status;
    assert(path && (bytes || n == 0));
    /* A device is written under the name given: links below /proc lead nowhere by name. */
    if (stat(path, &there) == 0 && !S_ISREG(there.st_mode) && !S_ISDIR(there.st_mode))
        return write_directly(path, bytes, n, err);
    target = follow(path);
    if (!target)
        return refused(path, errno, "cannot be written", err);
    status = write_target(path, target, bytes, n, err);
    free(target);
    return status;
}
