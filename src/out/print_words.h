/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_PRINT_WORDS_H
#define WEDGEWORK_OUT_PRINT_WORDS_H

#include "out/report.h"

/* The act as a sentence that a hand can follow, with its doubt; what it rests on, and where a flash
 * was measured what it would do in place of the burn. */
void ww__words_print_act(ww__text *text, const ww_print_plan *plan, double timer_step_s);
void ww__words_print_why(ww__text *text, const ww_print_plan *plan, double timer_step_s);

/* Where the dense end of a tone goes that is burned without having been placed: the first tone that
 * shows above paper white. Source: ISO 6846 as quoted in handbooks. */
#define WW__FIRST_TONE 0.04

/* Net density that a tone comes out at after local work, both ends where both are known: "0.08 to
 * 0.12", "-" where it is not known. */
void ww__words_print_density(ww__text *text, const ww_print_tone *tone);

/* Whether the print gets two exposures; "soft 6.2 s, hard 4.1 s" of so many seconds in all, in the
 * share of its split. */
bool ww__words_print_mixed(const ww_print_paper *paper);
void ww__words_print_both(ww__text *text, const ww_print_paper *paper, double seconds,
                          double step_s);

/* What becomes of a tone: "prints", "burn", "dodge", "film base", or how it is given up. */
const char *ww__words_print_fate(const ww_print_tone *tone);

/* "lost", "blocked", "paper white", "merges into black"; NULL where it prints. */
const char *ww__words_print_given_up(const ww_print_tone *tone);

/* Moves of local work in the order in which they are told, burns, dodges, those by hand besides,
 * and the n-th of them, from 0: "burn the cloud +1 1/3 stop (27.8 s more)". */
size_t ww__words_print_moves(const ww_print_paper *paper);
void ww__words_print_move(ww__text *text, const ww_print_paper *paper, size_t n, double step_s);

/* Whether a hand burns or dodges a tone. */
bool ww__words_print_worked(const ww_print_tone *tone);

#endif
