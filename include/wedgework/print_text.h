/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PRINT_TEXT_H
#define WEDGEWORK_PRINT_TEXT_H

#include <wedgework/error.h>
#include <wedgework/print.h>
#include <wedgework/text_style.h>

/*
 * ww_print_text - a print plan, for people: the act as a sentence in units that a hand can
 * set, with
 *                 its doubt; one line of why; a table of papers, best first; the tones on the best
 *                 one; what the doubt is made of, the largest named; notes and cautions.
 *
 * Exposure differences are rounded to 1/12 stop, seconds to the timer's step, densities to 0.01.
 * Where no time can be given, the sentence says so and names the test print to make.
 *
 * Given     plan, style
 * Returned  *text    to be freed by the caller; ends with a line end
 * Status    WW_OK; WW_EDOMAIN the timer step is not > 0; WW_EMEMORY
 */
ww_status ww_print_text(const ww_print_plan *plan, const ww_text_style *style, char **text,
                        ww_error *err);

#endif
