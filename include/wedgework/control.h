/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CONTROL_H
#define WEDGEWORK_CONTROL_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/control_chart.h>
#include <wedgework/control_log.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>

/* Is the process still where it was? Control strips against a reference strip, and in their own
 * course. */

enum { WW_CONTROL_BASELINE_LEAST = 10, WW_CONTROL_BASELINE_MOST = 20 };
#define WW_CONTROL_SIGMA_LEAST 0.003 /* [D] no strip is read to repeat better: 0.01 / sqrt 12 */

typedef enum ww_control_state {
    WW_CONTROL_IN,
    WW_CONTROL_WARNING,
    WW_CONTROL_OUT
} ww_control_state;

/* "in control", "warning", "out of control". */
const char *ww_control_state_name(ww_control_state state);

/* What a strip's reading breaks, as bits. The first alone is out of control. */
typedef enum ww_control_rule {
    WW_CONTROL_RULE_LIMIT = 1,   /* beyond the user's limit, or history's where he has set none */
    WW_CONTROL_RULE_ACTION = 2,  /* beyond the user's action limit */
    WW_CONTROL_RULE_HISTORY = 4, /* beyond history's limit, within the user's */
    WW_CONTROL_RULE_TWO = 8,     /* ww_control_run, from here on */
    WW_CONTROL_RULE_FOUR = 16,
    WW_CONTROL_RULE_EIGHT = 32,
    WW_CONTROL_RULE_TREND = 64,
    WW_CONTROL_RULE_SLOW = 128, /* EWMA or CUSUM beyond its limit */
    WW_CONTROL_RULES = 8        /* so many */
} ww_control_rule;

/* "beyond the limit", "2 of 3 beyond 2 sigma", ... of the i-th bit. */
const char *ww_control_rule_name(size_t i);
/* The same for a narrow column: "beyond", "action", "3 sigma", "2 of 3", "4 of 5", "8", "trend",
 * "drift". */
const char *ww_control_rule_short(size_t i);

/* What is charted: a step's density, the difference of two, or how far colours are apart. */
typedef enum ww_control_kind {
    WW_CONTROL_DENSITY,
    WW_CONTROL_CONTRAST, /* HD - LD */
    WW_CONTROL_SPREAD    /* greatest less least deviation from the aim of red, green and blue */
} ww_control_kind;

/* One strip on one chart. */
typedef struct ww_control_point {
    bool read;
    double value;     /* [D] */
    double deviation; /* from the aim [D] */
    bool has_slow;
    double slow; /* in its own limit: 1 is at the upper one, -1 at the lower */
    unsigned rules;
} ww_control_point;

/* One measure in one channel, over the strips of one reference. */
typedef struct ww_control_chart {
    const char *measure; /* "D-min", "LD", "HD-LD", "LD spread", a step's label */
    ww_control_kind kind;
    ww_channel channel; /* WW_CHANNEL_COUNT: of a spread, which has none */
    double aim;         /* reference and correction [D]; 0 of a spread */
    bool has_history;
    ww_control_individuals history;                       /* [D], of values, not deviations */
    ww_optional below, above, action_below, action_above; /* the user's, as deviations */
    ww_control_point *point;                              /* owned, one a strip */
} ww_control_chart;

/* The steps that tell what a process does. */
typedef enum ww_control_role {
    WW_CONTROL_D_MIN,
    WW_CONTROL_LD, /* the lower density: speed */
    WW_CONTROL_HD, /* the higher one: with LD, contrast */
    WW_CONTROL_D_MAX,
    WW_CONTROL_ROLES
} ww_control_role;

/* "D-min", "LD", "HD", "D-max". */
const char *ww_control_role_name(ww_control_role role);

/* All strips of a process and machine that go with one reference. */
typedef struct ww_control_lot {
    const ww_control_reference *reference;
    const ww_control_patch *role[WW_CONTROL_ROLES]; /* NULL: the reference has none */
    const ww_control_strip **strip;                 /* owned list, by date; those that count */
    bool *in_baseline;                              /* owned, one a strip */
    size_t n;
    const ww_control_baseline *baseline; /* NULL: the first strips */
    size_t wanted, found;                /* strips of the baseline */
    ww_control_chart *chart;             /* owned */
    size_t n_charts;
} ww_control_lot;

typedef struct ww_control_row {
    const ww_control_strip *strip;
    size_t lot, at; /* its lot, and its place in it; of one that does not count they are 0 */
    ww_control_state state;
    bool judged; /* there is a limit on at least one of its charts */
} ww_control_row;

typedef struct ww_control_series {
    const char *process;
    const char *machine;
    ww_control_lot *lot; /* owned */
    size_t n_lots;
    ww_control_row *row; /* owned, by date */
    size_t n_rows;
    bool any;      /* a strip counts */
    size_t row_at; /* the strip that is judged: the one asked for, else the last that counts, or the
                      last with limits if it was out of control */
    bool again;    /* out of control on a chart where the strip before it was, to the same side */
} ww_control_series;

/* What is to be shown of it: one strip on all its charts, the strips, or both. */
typedef enum ww_control_view {
    WW_CONTROL_VIEW_STRIP,
    WW_CONTROL_VIEW_LIST,
    WW_CONTROL_VIEW_CHART
} ww_control_view;

typedef struct ww_control {
    const ww_control_log *log;
    ww_control_view view;
    bool deleted; /* strips that do not count are shown too */
    ww_control_slow_kind slow;
    ww_control_series *series; /* owned; a process and machine each */
    size_t n;
    bool any;               /* a strip counts */
    ww_control_state state; /* the worst of the series' strips that are judged */
    bool judged;            /* all have a limit */
    ww_notes causes;        /* possible ones, of what is beyond */
    ww_notes notes;
} ww_control;

#define WW_CONTROL_INIT                                                                            \
    { .log = NULL }

void ww_control_release(ww_control *control);

typedef struct ww_control_request {
    const char *process; /* NULL: all */
    const char *machine; /* NULL: all */
    long strip;          /* the one to be judged; 0: the last of each series */
    ww_control_slow_kind slow;
    size_t baseline; /* strips of first baselines; 0: as the log says, else 10 */
    ww_control_view view;
    bool deleted;
} ww_control_request;

/*
 * ww_control_judge - where a process stands.
 *
 *   aim = reference + correction, deviation = strip - aim. HD-LD is the difference of two steps
 *   in a channel, a spread the greatest less the least deviation of red, green and blue.
 *
 * Limits    the user's, last entered for the process, are deviations from the aim: beyond a
 *           limit is out of control, beyond an action limit a warning. History's are those of a
 *           chart of individuals (control_chart.h) over the baseline: of each reference the first
 *           10 strips, or as many as were asked for up to 20, or those that `baseline` entered;
 *           then they stay. Sigma is not taken under 0.003. Where the user has a limit for a
 *           chart, that decides, and history's warns. A spread has an upper limit alone.
 * Runs      are of strips of one reference, in the order of their dates, and warn.
 *
 * Source    deviation from the reference with its correction, LD for speed, HD-LD for contrast,
 *           spread of the colours: the trade's practice of control strips; the rest as there
 * Given     log      to outlive the result
 *           request
 * Returned  *control  (release it). With no strip that counts, any is false.
 * Status    WW_OK; WW_EDOMAIN a baseline of other than 0 or 10 to 20 strips; WW_ENODATA the strip
 *           asked for is not there or does not count; WW_EMEMORY
 */
ww_status ww_control_judge(const ww_control_log *log, const ww_control_request *request,
                           ww_control *control, ww_error *err);

/* ww_control_limits_of - limits of a chart as densities: the user's, else history's. `user` says
 *                        which; what is not set is no limit. */
void ww_control_limits_of(const ww_control_chart *chart, ww_optional *lower, ww_optional *upper,
                          bool *user);

/* ww_control_channel_name - of a chart: its channel's, "colours" of a spread. */
const char *ww_control_channel_name(const ww_control_chart *chart);

/* ww_control_worst - the series that is worst off, the first of several; NULL where no strip
 *                    counts. */
const ww_control_series *ww_control_worst(const ww_control *control);

/* ww_control_focus - the lot and place of the strip that is judged; NULL where none counts. */
const ww_control_lot *ww_control_focus(const ww_control_series *series, size_t *at);

/*
 * ww_control_reference_make - a reference strip from its readings: densities, corrections, and what
 *                             its steps are for.
 *
 *   A step's role is its `tone`, else its label, as D-min, LD, HD, D-max; base is D-min.
 *
 * Given     readings  columns correction_red ... or none; replicates are averaged
 *           lot       NULL: as the readings say
 *           entered   when, as text
 * Returned  *reference  (release it)
 * Status    WW_OK; WW_ENODATA no density; WW_EMISMATCH readings relative to base or white, two
 *           steps of one label or role; WW_EMEMORY
 */
ww_status ww_control_reference_make(const ww_readings *readings, const char *lot,
                                    const char *entered, ww_control_reference *reference,
                                    ww_error *err);

/*
 * ww_control_strip_make - a strip's densities in the order of the reference's steps.
 *
 * Given     readings   those of a strip; replicates are averaged
 *           reference  what it is compared with
 *           lot        of the strip; NULL: as the readings say
 * Returned  *patches   (release it); notes of what was left out
 * Status    WW_OK; WW_EMISMATCH steps or channels that the reference has not, or that it has and
 *           the strip has not; another status or kind of density; another lot; relative readings;
 *           WW_EMEMORY
 */
ww_status ww_control_strip_make(const ww_readings *readings, const ww_control_reference *reference,
                                const char *lot, ww_control_patches *patches, ww_notes *notes,
                                ww_error *err);

/*
 * ww_control_choose - which process and machine are meant.
 *
 * Given     process, machine   what was asked for, NULL where nothing was
 * Returned  *process, *machine  as given, else the only one in the log, else "main" and ""
 * Status    WW_OK; WW_EUSAGE the log has several: the message lists them
 */
ww_status ww_control_choose(const ww_control_log *log, const char **process, const char **machine,
                            ww_error *err);

/*
 * ww_control_repeatability - how far one process comes out different from strip to strip, for the
 *                            doubt of what is made by it.
 *
 *   sigma of the baseline at the step LD, of the channel that prints are judged by (visual, else
 *   green, else the only one), or for colour the greatest of red, green and blue; without LD at
 *   the step whose aim is nearest to 0.7 D
 *
 * Source    sigma by the mean moving range (control_chart.h); which step: common practice
 * Given     control  of one process; the lot in use counts
 *           colour   whether red, green and blue are asked for
 * Returned  *sd      standard deviation [D]; *measure what it is of
 *           status   WW_OK; WW_ENODATA no limits from history yet, or strips of film, whose scatter
 *                    is not that of prints
 */
ww_status ww_control_repeatability(const ww_control *control, bool colour, double *sd,
                                   const ww_control_chart **measure, ww_error *err);

/* ww_control_reference_last - index of the reference that a process and machine used last, by
 *                             number; false where there is none. */
bool ww_control_reference_last(const ww_control_log *log, const char *process, const char *machine,
                               size_t *reference);

#endif
