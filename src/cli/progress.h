/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_PROGRESS_H
#define WEDGEWORK_CLI_PROGRESS_H

#include "cli/options.h"
#include <time.h>
#include <wedgework/picture.h>

/*
 * A bar on standard error while scans are read: only on a terminal, only when it takes more than a
 * second, not with --quiet. It shows how much of all scans is done, has no colours and leaves
 * nothing behind. Any thread may draw it.
 */
typedef struct ww_progress {
    bool wanted, shown;
    struct timespec begun, drawn;
    size_t scan, scans; /* "scan 2 of 7", of the picture that is watched */
} ww_progress;

/* ww__progress_begin - the second begins; *progress must stay where it is while it is used. */
void ww__progress_begin(ww_progress *progress, const ww_arguments *arguments);

/* ww__progress_watch - show how far that picture is read, the scan-th of scans; no other is. */
void ww__progress_watch(ww_progress *progress, ww_picture *picture, size_t scan, size_t scans);

/* ww__progress_tell - so many scans are done. */
void ww__progress_tell(ww_progress *progress, size_t done, size_t scans);

/* ww__progress_clear - take the bar away, before anything else is written. */
void ww__progress_clear(ww_progress *progress);

/* ww__progress_pause, ww__progress_resume - the same, and keep it away in between, whoever
 * draws. */
void ww__progress_pause(ww_progress *progress);
void ww__progress_resume(ww_progress *progress);

#endif
