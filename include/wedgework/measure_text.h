/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_MEASURE_TEXT_H
#define WEDGEWORK_MEASURE_TEXT_H

#include <wedgework/error.h>
#include <wedgework/measure.h>
#include <wedgework/text_style.h>

/*
 * ww_measure_text - what was read from a scan, for people: what was found and how far its densities
 *                   are to be trusted, where step 1 lies, a row a step or spot, notes.
 * ww_measure_whole_text - the same of a whole scan: the range that all but its outermost pixels
 *                   lie in, a row a channel.
 *
 * Densities have two decimals; trust is 95 %. Without a scanner file the codes stand alone, and
 * the text says how densities are to be had.
 *
 * Returned  *text    to be freed by the caller; ends with a line end
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_measure_text(const ww_measured *measured, const ww_text_style *style, char **text,
                          ww_error *err);
ww_status ww_measure_whole_text(const ww_whole *whole, const ww_text_style *style, char **text,
                                ww_error *err);

#endif
