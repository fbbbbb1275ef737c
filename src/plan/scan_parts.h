/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLAN_SCAN_PARTS_H
#define WEDGEWORK_PLAN_SCAN_PARTS_H

#include <wedgework/scan.h>

/*
 * A scan plan is made a channel at a time: the negative's tones as it sees them (scan_tones.c),
 * stops, codes and noise (scan_channel.c), what more scans would do (scan_more.c); scan.c puts the
 * channels together, scan_ways.c says what else would do, and scan_remarks.c what was assumed and
 * what to look out for.
 */
#define WW__SCAN_LEAST_STOP 0.05 /* [stops] shown to 0.1, so this is none */
#define WW__SCAN_DETAIL 0.03     /* [D] less is no detail on the film; interface */

/* The column that a channel of the scanner takes. Status WW_OK; WW_ENODATA */
ww_status ww__scan_tones_column(const ww_scan_request *request, ww_channel channel,
                                ww_channel *column, ww_error *err);

/* Tones of a channel, absolute, with `base` and `highlight` found; *error is that of the base's
 * density. What was noted in pooling goes to notes, where they are not NULL. */
ww_status ww__scan_tones_read(const ww_scan_request *request, ww_scan_channel *made, double *error,
                              ww_notes *notes, ww_error *err);

/* Everything of a channel that follows from its tones but what depends on other channels. */
void ww__scan_channel_fill(const ww_scan_request *request, ww_channel channel, double error,
                           ww_scan_channel *made);

/* What depends on the exposure of the others. */
void ww__scan_channel_together(const ww_scan_request *request, ww_channel channel, double stops,
                               ww_scan_channel *made);

/* The plan's `first` and `second` scans, its way, and what that makes of each channel. Status
 * WW_OK; WW_EMEMORY */
ww_status ww__scan_more(const ww_scan_request *request, ww_scan_plan *plan, ww_error *err);

/* The channel that tells least, and a channel's densest tone to be kept. */
const ww_scan_channel *ww__scan_weakest(const ww_scan_plan *plan);
const ww_scan_tone *ww__scan_highlight(const ww_scan_channel *channel);

/* Notes: all of a plan; of them, the scans that it takes. Status WW_OK; WW_EMEMORY */
ww_status ww__scan_ways(ww_scan_plan *plan, ww_error *err);
ww_status ww__scan_remarks(const ww_scan_request *request, ww_scan_plan *plan, ww_error *err);

#endif
