/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLAN_MATCH_PARTS_H
#define WEDGEWORK_PLAN_MATCH_PARTS_H

#include <wedgework/match.h>

/* What the files of this decision share. */

/*
 * ww__match_pair - which columns stand for a channel: the first that both have of visual density,
 *                  with luminance Y or lightness L* in its place, then green, red, blue; of a
 *                  colour, its own.
 *
 * Given     i  the channel, of so many
 * Returned  *aim, *print  columns; without readings for an aim, *aim is the print's
 * Status    WW_OK; WW_ENODATA none that both have
 */
ww_status ww__match_pair(const ww_match_request *request, size_t i, size_t n, ww_column *aim,
                         ww_column *print, ww_error *err);

/* ww__match_check - whether both can be compared at all. Status WW_OK; WW_EMISMATCH; WW_ENODATA */
ww_status ww__match_check(const ww_match_request *request, ww_ramp ramp, ww_error *err);

/* ww__match_display - whether readings are those of a display. */
bool ww__match_display(const ww_readings *readings);

/* ww__match_above_white - whether a side's densities begin at its own white, as a display's do. */
bool ww__match_above_white(const ww_match_request *request, bool aim);

/* ww__match_curve - a curve as a response: its measured range, from its least density.
 * Status WW_OK; WW_ENODATA no such channel was fitted */
ww_status ww__match_curve(const ww_curve *curve, ww_column read, ww_tone_response *aim,
                          ww_error *err);

/* ww__match_steps - equal steps of L*, from a print's white to its black, as a response.
 * Status WW_OK; WW_EDOMAIN its white is no density of a white */
ww_status ww__match_steps(const ww_tone_response *print, ww_tone_response *aim, ww_error *err);

/* ww__match_target - wanted, target, where it is led, and the curve itself, of the responses that
 * are there. Status WW_OK; WW_EMISMATCH they have less than 0.10 D in common */
ww_status ww__match_target(const ww_match *match, ww_match_channel *channel, ww_error *err);

/* ww__match_judge - misses and codes of a channel that has its curve. */
void ww__match_judge(const ww_match *match, ww_match_channel *channel);

/* ww__match_tell - what was found in readings, each note with the name of their file: there are two
 * files and more. Status WW_OK; WW_EMEMORY */
ww_status ww__match_tell(const ww_readings *readings, const ww_notes *found, ww_notes *notes,
                         ww_error *err);

/* ww__match_remarks - what there is to say of the whole. Status WW_OK; WW_EMEMORY */
ww_status ww__match_remarks(const ww_match_request *request, ww_match *match, ww_error *err);

#endif
