/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_CONTROL_ADD_H
#define WEDGEWORK_CLI_CONTROL_ADD_H

#include "cli/options.h"
#include <wedgework/control.h>

/* What `control` enters into a log: strips, notes, baselines. */

/* When it is: as logs enter it, in UTC, and the day here. */
typedef struct ww__control_times {
    char entered[24]; /* 2026-11-30T08:15:00Z */
    char today[WW_CONTROL_DATE_SIZE];
} ww__control_times;
ww__control_times ww__control_now(void);

/* A strip that has been entered. */
typedef struct ww__control_added {
    long number;
    char *process, *machine; /* owned */
    ww_notes notes;
} ww__control_added;

#define WW__CONTROL_ADDED_INIT                                                                     \
    { .number = 0 }
void ww__control_added_release(ww__control_added *added);

/*
 * ww__control_add - reads the strip and all that goes with it, and enters it.
 * ww__control_note, ww__control_baseline - the same of a note, and of a baseline.
 *
 * Status    WW_OK; that of what could not be read or entered: then nothing has been
 */
ww_status ww__control_add(const ww_arguments *arguments, ww__control_added *added, ww_error *err);
ww_status ww__control_note(const ww_arguments *arguments, ww_error *err);
ww_status ww__control_baseline(const ww_arguments *arguments, ww_error *err);

#endif
