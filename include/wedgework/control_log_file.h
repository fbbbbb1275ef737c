/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CONTROL_LOG_FILE_H
#define WEDGEWORK_CONTROL_LOG_FILE_H

#include <wedgework/control_log.h>

/*
 * A control log is one SQLite file, which knows itself by its application id and the version of its
 * tables. It is kept by a rollback journal, synchronised at every write: each function here that
 * writes does so in one transaction, which is in the log as a whole or not at all, whatever ends
 * the program. Several processes may use one log; who finds it locked waits for 5 s. It is opened
 * defensively: its tables are checked, its texts and numbers too, and nothing in it is run.
 *
 * Common to all:
 * Given     path     of a file; "-" has no special meaning here
 * Status    WW_OK; WW_EINPUT the file is missing, no control log, damaged, another program's, or
 *           made by a newer version; WW_ESYSTEM the system refused (write-protected, disk full,
 *           locked by another for longer, a folder): nothing has been written; WW_EMEMORY.
 *           On failure results are untouched.
 */

/* ww_control_log_read - all that it holds, to be released. It is not written to, unless what a
 *                       killed program has left there must be rolled back. An empty file is an
 *                       empty log. */
ww_status ww_control_log_read(const char *path, ww_control_log *log, ww_error *err);

/* What is entered with a strip. */
typedef struct ww_control_entry {
    const ww_control_strip *strip;         /* its number, reference and deletion do not count */
    const ww_control_reference *reference; /* by its content; one that is there is not added */
    const ww_control_limits *limits;       /* hold for its process from now on; NULL: as before */
    size_t baseline; /* strips, 10 to 20, that limits are made of at first; 0: as before */
} ww_control_entry;

/* ww_control_log_add - enter a strip; a log that is not there is made. Its number is returned. */
ww_status ww_control_log_add(const char *path, const ww_control_entry *entry, long *number,
                             ww_error *err);

/* ww_control_log_note - enter a note; its number does not count. WW_EINPUT also where its strip is
 *                       not in the log. */
ww_status ww_control_log_note(const char *path, const ww_control_note *note, ww_error *err);

/* ww_control_log_delete - enter that a strip does not count any more. WW_EINPUT also where there is
 *                         no such strip, or it does not count already. */
ww_status ww_control_log_delete(const char *path, long strip, const char *why, const char *entered,
                                ww_error *err);

/* ww_control_log_baseline - enter a baseline against the reference of that number; the baseline's
 *                           own number and index do not count. */
ww_status ww_control_log_baseline(const char *path, const ww_control_baseline *baseline,
                                  long reference, ww_error *err);

/*
 * ww_control_log_import - all of another log, renumbered. What is there already is not entered
 *                         again: a strip that was entered at the same time for the same process,
 *                         machine, date and reference, and is as many among such ones; its
 *                         densities are not compared. A log that is not there is made.
 *
 * Given     from     as ww_control_table_read gives it
 * Returned  *added, *known   strips entered, and strips that were there
 */
ww_status ww_control_log_import(const char *path, const ww_control_log *from, size_t *added,
                                size_t *known, ww_error *err);

#endif
