/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/output_refused.h"
#include <errno.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/resource.h>
#include <wedgework/number.h>

/* "1.3 GB"; rounded up where it is needed, down where it may be had. */
static const char *size_of(uint64_t bytes, double (*round_to)(double), char words[48]) {
    static const struct {
        const char *unit;
        double step, steps; /* bytes; in a unit */
    } units[] = {{"kB", 1e3, 1.0}, {"MB", 1e5, 10.0}, {"GB", 1e8, 10.0}};
    size_t i = 0;
    char number[32];
    while (i < 2 && (double)bytes > 999.0 * units[i].step * units[i].steps)
        i++;
    const double shown = round_to((double)bytes / units[i].step) / units[i].steps;
    snprintf(words, 48, "%s %s", ww_number_format(shown, i > 0, number, sizeof number),
             units[i].unit);
    return words;
}

/* A limit that a login or a script set, and not the file system. */
static bool is_limited(uint64_t bytes, uint64_t *most) {
    struct rlimit limit;
    if (getrlimit(RLIMIT_FSIZE, &limit) != 0 || limit.rlim_cur == RLIM_INFINITY)
        return false;
    *most = limit.rlim_cur;
    return *most < bytes;
}

static void add_remedy(int sys, uint64_t bytes, char text[], size_t size) {
    char needs[48], limit[48];
    uint64_t most;
    size_of(bytes, ceil, needs);
    if (sys == ENOSPC)
        snprintf(text, size,
                 "; it takes %s, and the disk is full: make room there, or name a file on another",
                 needs);
    else if (sys == EDQUOT)
        snprintf(text, size,
                 "; it takes %s, more than is left of your share of the disk: make room there, or "
                 "name a file on another",
                 needs);
    else if (sys == EFBIG && is_limited(bytes, &most))
        snprintf(text, size,
                 "; it takes %s, and no file may be larger than %s (ulimit -f): raise that limit",
                 needs, size_of(most, floor, limit));
    else if (sys == EFBIG)
        snprintf(text, size,
                 "; it takes %s, more than one file may on this disk: name a file on another",
                 needs);
}

ww_status ww__output_refused(const char *path, int sys, uint64_t bytes, ww_error *err) {
    const ww_status status = ww_error_set_system(err, sys == ENOMEM ? WW_EMEMORY : WW_ESYSTEM, sys,
                                                 path, "cannot be written");
    if (err) {
        const size_t used = strlen(err->msg);
        add_remedy(sys, bytes, err->msg + used, sizeof err->msg - used);
    }
    return status;
}
