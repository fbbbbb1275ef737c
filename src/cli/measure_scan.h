/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_MEASURE_SCAN_H
#define WEDGEWORK_CLI_MEASURE_SCAN_H

#include "cli/measure_job.h"
#include <stdint.h>

/*
 * One scan of a run of `measure`: opened, read, delivered, in that order. Several may be opened and
 * read at the same time by several threads; they are delivered one at a time.
 */
typedef struct ww_measure_scan {
    const ww_measure_job *job;
    const char *file;
    ww_picture picture; /* open in between */
    ww_measured measured;
    ww_whole whole;   /* in place of it where the job says so */
    ww_error no_plot; /* an overlay that could not be drawn keeps nothing else back */
    bool below;       /* the text of another scan stands above */
} ww_measure_scan;

#define WW_MEASURE_SCAN_INIT                                                                       \
    { .job = NULL }

/* Status WW_OK; what the picture's reader returns */
ww_status ww__measure_scan_open(const ww_measure_job *job, const char *file, ww_measure_scan *scan,
                                ww_error *err);

/* Bytes of its samples, once they are decoded. */
uint64_t ww__measure_scan_size(const ww_measure_scan *scan);

/* Bytes of memory that reading it takes with that many threads, about. The file itself is never in
 * memory as a whole, and gnuplot is a program of its own. */
uint64_t ww__measure_scan_memory(const ww_measure_scan *scan, size_t threads);

/*
 * ww__measure_scan_read - measure it, and draw the overlay where one is wanted. The picture is
 *                         closed by then.
 *
 * Returned  the same for any number of threads
 * Status    WW_OK; what the measuring returns; WW_ESYSTEM an overlay that cannot be written
 */
ww_status ww__measure_scan_read(ww_measure_scan *scan, size_t threads, ww_error *err);

/*
 * ww__measure_scan_deliver - write the files, print the text or the document.
 *
 * Given     below  the text of another scan stands above on standard output
 * Status    as ww__outputs_deliver; also WW_ETOOL where the overlay could not be drawn
 */
ww_status ww__measure_scan_deliver(ww_measure_scan *scan, bool below, ww_error *err);

void ww__measure_scan_release(ww_measure_scan *scan);

#endif
