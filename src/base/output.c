/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* O_TMPFILE */
#include "base/output_refused.h"
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
#define UNFINISHED ".wedgework-" /* then process and number */

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

/* A name beside `path` that `make` could use: it returns -1, with errno EEXIST where the name is
 * taken. NULL with errno. */
static char *name_beside(const char *path, int (*make)(const char *name, void *context),
                         void *context) {
    for (unsigned i = 0; i < MOST_NAMES; i++) {
        char name[64], *made;
        snprintf(name, sizeof name, UNFINISHED "%ld-%u", (long)getpid(), i);
        made = join(path, folder_length(path), name);
        if (!made || make(made, context) >= 0)
            return made;
        free(made);
        if (errno != EEXIST)
            return NULL;
    }
    return NULL;
}

typedef struct creation {
    mode_t mode;
    int fd;
} creation;

static int create(const char *name, void *context) {
    creation *c = context;
    c->fd = open(name, O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, c->mode);
    return c->fd;
}

/* A file without a name is reached by its descriptor. */
static void own_name(int fd, char name[32]) {
    snprintf(name, 32, "/proc/self/fd/%d", fd);
}

static int link_to(const char *name, void *context) {
    return linkat(AT_FDCWD, context, AT_FDCWD, name, AT_SYMLINK_FOLLOW);
}

/* Without a name; -1 where the file system has no such files, or they could not be named later. */
static int create_nameless(const char *target, mode_t mode) {
    char *folder = join(target, folder_length(target), "."), name[32];
    int fd = folder ? open(folder, O_TMPFILE | O_RDWR | O_CLOEXEC, mode) : -1;
    free(folder);
    if (fd < 0)
        return -1;
    own_name(fd, name);
    if (access(name, F_OK) != 0) {
        close(fd);
        fd = -1;
    }
    return fd;
}

/* Makes the new file look like the old one, where there is one; an errno value, 0 when all is
 * well. */
static int dress(int fd, const char *target) {
    struct stat old;
    if (stat(target, &old) != 0)
        return 0;
    /* Owner first: changing it may clear mode bits. Only root can, so refusal is no failure. */
    if (fchown(fd, old.st_uid, old.st_gid) != 0)
        errno = 0;
    return fchmod(fd, old.st_mode & 0777) != 0 ? errno : 0;
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

static ww_status write_directly(const char *path, const void *bytes, size_t n, ww_error *err) {
    const int fd = open(path, O_WRONLY | O_NOCTTY | O_CLOEXEC);
    int sys;
    if (fd < 0)
        return refused(path, errno, "cannot be opened for writing", err);
    sys = write_all(fd, bytes, n);
    if (close(fd) != 0 && sys == 0)
        sys = errno;
    return sys == 0 ? WW_OK : ww__output_refused(path, sys, n, err);
}

/* --------------------------------------------------------------------------- a file of its own */

static void empty(ww_output *output) {
    free(output->path);
    free(output->target);
    free(output->made);
    *output = (ww_output)WW_OUTPUT_INIT;
}

void ww_output_drop(ww_output *output) {
    if (!output)
        return;
    if (output->fd >= 0)
        close(output->fd);
    if (output->made)
        unlink(output->made);
    empty(output);
}

/* Whether the target may be written. *old: it is there. */
static ww_status check_target(const char *path, const char *target, bool *old, ww_error *err) {
    struct stat there;
    *old = stat(target, &there) == 0;
    if (!*old)
        return errno == ENOENT ? WW_OK : refused(path, errno, "cannot be written", err);
    if (S_ISDIR(there.st_mode))
        return refused(path, EISDIR, "cannot be written; name a file in this folder", err);
    if (faccessat(AT_FDCWD, target, W_OK, AT_EACCESS) != 0)
        return refused(path, errno, "may not be overwritten", err);
    return WW_OK;
}

/* Until it looks like an old file, nobody else may read what replaces it. */
static ww_status make_new(ww_output *output, bool old, ww_error *err) {
    creation named = {old ? 0600 : 0666, -1};
    output->fd = create_nameless(output->target, named.mode);
    if (output->fd >= 0)
        return WW_OK;
    output->made = name_beside(output->target, create, &named);
    output->fd = named.fd;
    if (output->made)
        return WW_OK;
    return refused(output->path, errno, "cannot make a file in this folder", err);
}

/* Devices and pipes hold no file that could be replaced. A device is known by the name given:
 * links below /proc lead nowhere by name. */
static bool is_device(const char *path) {
    struct stat there;
    return stat(path, &there) == 0 && !S_ISREG(there.st_mode) && !S_ISDIR(there.st_mode);
}

ww_status ww_output_begin(const char *path, ww_output *output, ww_error *err) {
    ww_output begun = WW_OUTPUT_INIT;
    bool old = false;
    ww_status status;
    assert(path && output);
    if (is_device(path))
        return ww_error_set_at(err, WW_EINPUT, path, 0,
                               "this is no file: what is written here and there needs one; name a "
                               "file");
    begun.target = follow(path);
    if (!begun.target)
        return refused(path, errno, "cannot be written", err);
    begun.path = join(path, strlen(path), "");
    status = begun.path ? check_target(path, begun.target, &old, err)
                        : refused(path, ENOMEM, "cannot be written", err);
    if (status == WW_OK)
        status = make_new(&begun, old, err);
    if (status != WW_OK) {
        ww_output_drop(&begun);
        return status;
    }
    *output = begun;
    return WW_OK;
}

/* Contents to the disk, then the name; an errno value, 0 when all went well. */
static int settle(ww_output *output) {
    int sys = dress(output->fd, output->target);
    if (sys == 0 && fsync(output->fd) != 0 && errno != EINVAL && errno != ENOTSUP)
        sys = errno;
    if (sys == 0 && !output->made) {
        char own[32];
        own_name(output->fd, own);
        output->made = name_beside(output->target, link_to, own);
        if (!output->made)
            sys = errno;
    }
    if (close(output->fd) != 0 && sys == 0)
        sys = errno;
    output->fd = -1;
    if (sys == 0 && rename(output->made, output->target) != 0)
        sys = errno;
    return sys;
}

ww_status ww_output_finish(ww_output *output, ww_error *err) {
    struct stat made = {.st_size = 0};
    int sys;
    ww_status status = WW_OK;
    assert(output && output->fd >= 0);
    if (fstat(output->fd, &made) != 0)
        made.st_size = 0;
    sys = settle(output);
    if (sys != 0) {
        status = ww__output_refused(output->path, sys, (uint64_t)made.st_size, err);
        ww_output_drop(output);
        return status;
    }
    sync_folder(output->target);
    empty(output);
    return WW_OK;
}

ww_status ww_output_write(const char *path, const void *bytes, size_t n, ww_error *err) {
    ww_output output = WW_OUTPUT_INIT;
    ww_status status;
    int sys;
    assert(path && (bytes || n == 0));
    if (is_device(path))
        return write_directly(path, bytes, n, err);
    status = ww_output_begin(path, &output, err);
    if (status != WW_OK)
        return status;
    sys = write_all(output.fd, bytes, n);
    if (sys == 0)
        return ww_output_finish(&output, err);
    ww_output_drop(&output);
    return ww__output_refused(path, sys, n, err);
}

/* -------------------------------------------------------- in a signal's handler, with no printf */

/* Passes the digits at *text. */
static unsigned long number_at(const char **text) {
    unsigned long number = 0;
    for (; **text >= '0' && **text <= '9'; (*text)++)
        number = 10 * number + (unsigned long)(**text - '0');
    return number;
}

static bool is_unfinished(const char *path) {
    const char *at = path + folder_length(path);
    if (strncmp(at, UNFINISHED, strlen(UNFINISHED)) != 0)
        return false;
    at += strlen(UNFINISHED);
    if (number_at(&at) != (unsigned long)getpid() || *at++ != '-' || *at == '\0')
        return false;
    (void)number_at(&at);
    return *at == '\0';
}

void ww_output_remove_unfinished(void) {
    enum { DESCRIPTORS = 1024 };
    char own[] = "/proc/self/fd/0000", path[PATH_MAX];
    for (int fd = 0; fd < DESCRIPTORS; fd++) {
        char *end = strrchr(own, '/') + 1;
        for (int tens = 1000; tens > 0; tens /= 10)
            if (fd >= tens || tens == 1)
                *end++ = (char)('0' + fd / tens % 10);
        *end = '\0';
        const ssize_t n = readlink(own, path, sizeof path - 1);
        path[n > 0 ? n : 0] = '\0';
        if (is_unfinished(path))
            unlink(path);
    }
}
