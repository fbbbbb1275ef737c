/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_REPEATS_H
#define WW_CORE_REPEATS_H

#include <wedgework/notes.h>
#include <wedgework/readings.h>

/*
 * ww__repeats_note - a note on each step whose repeats differ by far more than those of the others:
 *                    their mean hides which of them is off.
 *
 *   sd^2 / common variance of the others > F(1 - 0.01 / steps), and sd > 0.02 D
 *
 * The others' sd is not taken under 0.005 D, the rounding of readings. Under three steps with
 * repeats nothing is said: one of two is not the odd one.
 *
 * Source    F test of one variance against the rest, Bonferroni's 1 % over all steps; 0.02 D and
 *           0.005 D: common practice
 * Given     pooled
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__repeats_note(const ww_readings *pooled, ww_notes *notes, ww_error *err);

#endif
