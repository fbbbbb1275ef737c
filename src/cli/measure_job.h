/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_MEASURE_JOB_H
#define WEDGEWORK_CLI_MEASURE_JOB_H

#include "cli/options.h"
#include <wedgework/measure.h>

/* What a run of `measure` was asked for, the same for each of its scans. */
typedef struct ww_measure_job {
    const ww_arguments *arguments;
    ww_readings wedge, through;
    double *width; /* of the steps, NULL: alike, or as they are found */
    ww_scanner scanner;
    ww_spot *spot; /* NULL: none */
    char **name;   /* of the spots */
    size_t n_spots;
    bool strip, whole; /* neither: spots alone */
    bool has_through, has_scanner;
    ww_optional page;
    ww_measure_request request; /* points into the rest */
    const char *folder;         /* -o takes a folder; NULL: a file, or nothing */
    const char *overlays;       /* --overlay takes a folder; the same */
} ww_measure_job;

#define WW_MEASURE_JOB_INIT                                                                        \
    { .arguments = NULL }

/*
 * ww__measure_job_take - read the options, and the files that they name; the scans are not looked
 *                        at. *job must stay where it is afterwards.
 *
 *   Of several scans, or where the name is that of a folder, each gets its own files in the folders
 *   of -o and --overlay, which are made if need be: FOLDER/SCAN.csv, .json or .png.
 *
 * Returned  job  to release, whatever the status
 * Status    WW_OK; WW_EUSAGE not exactly one way to measure, options that do not go together, an
 *           output that would overwrite an input or another output; WW_ESYSTEM a folder cannot be
 *           made; what the files' readers return; WW_EMEMORY
 */
ww_status ww__measure_job_take(const ww_arguments *arguments, ww_measure_job *job, ww_error *err);
void ww__measure_job_release(ww_measure_job *job);

/* Whether the file of -o is the JSON document: where it ends so, and where there are no densities
 * to make readings of. */
bool ww__measure_job_writes_json(const ww_measure_job *job);

/*
 * ww__measure_job_path - "FOLDER/SCAN.ending", SCAN being the file's name without its own ending;
 *                        free() it. NULL for no memory.
 */
char *ww__measure_job_path(const char *folder, const char *scan, const char *ending);

#endif
