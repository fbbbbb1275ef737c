/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CONTROL_LOG_H
#define WEDGEWORK_CONTROL_LOG_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>

/*
 * What a control log holds, as plain data: control_log_file.h reads and writes it, control.h judges
 * it. Texts are owned and never NULL but where that is said. Numbers count from 1.
 */

enum { WW_CONTROL_TEXT_MOST = 255 /* bytes of a name or a sentence */ };

/* One step of a strip, or of the reference strip. */
typedef struct ww_control_patch {
    char *step; /* label, the user's own */
    char *tone; /* what it is for, as the reference says: "D-min", "LD", "HD", "D-max", or "" */
    ww_cell_state state[WW_CHANNEL_COUNT];
    double density[WW_CHANNEL_COUNT];    /* where the state is WW_CELL_VALUE */
    double correction[WW_CHANNEL_COUNT]; /* references: what is added to make the aim; else 0 */
} ww_control_patch;

typedef struct ww_control_patches {
    ww_control_patch *patch;
    size_t n;
} ww_control_patches;

/* A reference strip, which the maker of the strips, or the user, has processed well once. */
typedef struct ww_control_reference {
    long number;
    char *lot;
    char *entered; /* when it was entered, as 2026-11-30T08:15:00Z */
    ww_density_status status;
    ww_density_kind density;
    bool reversal;
    ww_control_patches patches;
} ww_control_reference;

typedef struct ww_control_strip {
    long number;
    char *process; /* whose strip it is: a name of the user's */
    char *machine; /* "" where there is one alone */
    char *lot;     /* of the strip */
    char *date;    /* 2026-11-30, or 2026-11-30T08:15 */
    char *entered;
    size_t reference; /* index of it in the log */
    ww_control_patches patches;
    char *deleted; /* when it was taken out of the charts; NULL: it counts */
    char *why;     /* and why */
} ww_control_strip;

/* What was done, or seen. */
typedef struct ww_control_note {
    long number;
    long strip; /* 0: of the process */
    char *process;
    char *machine;
    char *date;
    char *text;
    char *entered;
} ww_control_note;

/* Which strips the limits are made of from then on: so many against a reference, from one on. */
typedef struct ww_control_baseline {
    long number;
    char *process;
    char *machine;
    size_t reference; /* index */
    long first;       /* number of the first strip; 0: the first that there is */
    size_t strips;
    char *why;
    char *entered;
} ww_control_baseline;

/* One of the user's own limits, as deviations from the aim [D]. */
typedef struct ww_control_limit {
    char *measure;                          /* "LD", "HD-LD", "LD spread", a step's label */
    ww_channel channel;                     /* WW_CHANNEL_COUNT: every one */
    ww_optional below, above;               /* beyond is out of control; below is negative */
    ww_optional action_below, action_above; /* beyond is a warning */
} ww_control_limit;

/* All that hold for a process from then on. */
typedef struct ww_control_limits {
    long number;
    char *process;
    char *entered;
    ww_control_limit *limit;
    size_t n;
} ww_control_limits;

typedef struct ww_control_log {
    char *file; /* as messages call it; NULL where there is none */
    ww_control_reference *reference;
    size_t n_references;
    ww_control_strip *strip; /* by number */
    size_t n_strips;
    ww_control_note *note;
    size_t n_notes;
    ww_control_baseline *baseline; /* the last of a process, machine and reference holds */
    size_t n_baselines;
    ww_control_limits *limits; /* the last of a process holds */
    size_t n_limits;
} ww_control_log;

#define WW_CONTROL_LOG_INIT                                                                        \
    { .file = NULL }
#define WW_CONTROL_REFERENCE_INIT                                                                  \
    { .number = 0 }
#define WW_CONTROL_STRIP_INIT                                                                      \
    { .number = 0 }
#define WW_CONTROL_LIMITS_INIT                                                                     \
    { .number = 0 }

/* Each accepts an empty one and NULL. */
void ww_control_log_release(ww_control_log *log);
void ww_control_patches_release(ww_control_patches *patches);
void ww_control_reference_release(ww_control_reference *reference);
void ww_control_strip_release(ww_control_strip *strip);
void ww_control_limits_release(ww_control_limits *limits);

/*
 * ww_control_date_check - whether a text is a date that strips can be put in order by.
 *
 *   2026-11-30, or with the time 2026-11-30T08:15 or 2026-11-30 08:15 (years 1900 to 2999)
 *
 * Returned  date   in the form with T; a buffer of WW_CONTROL_DATE_SIZE
 * Status    WW_OK; WW_EINPUT another form, or no day of the calendar
 */
enum { WW_CONTROL_DATE_SIZE = 17 };
ww_status ww_control_date_check(const char *text, char date[WW_CONTROL_DATE_SIZE], ww_error *err);

#endif
