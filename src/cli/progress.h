/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_PROGRESS_H
#define WEDGEWORK_CLI_PROGRESS_H

#include "cli/options.h"
#include <time.h>
#include <wedgework/picture.h>

/*
 * A bar on standard error while pictures are read: only on a terminal, only when it takes more than
 * a second, not with --quiet. It has no colours and leaves nothing behind.
 */
typedef struct ww_progress {
    bool wanted, shown;
    struct timespec begun, drawn;
    size_t scan, scans; /* "scan 2 of 7" */
} ww_progress;

/* ww__progress_begin - the second begins; *progress must stay where it is while it is used. */
void ww__progress_begin(ww_progress *progress, const ww_arguments *arguments);

/* ww__progress_watch - show how far that picture is read, the scan-th of scans. */
void ww__progress_watch(ww_progress *progress, ww_picture *picture, size_t scan, size_t scans);

/* ww__progress_clear - take the bar away, before anything else is written. */
void ww__progress_clear(ww_progress *progress);

#endif
