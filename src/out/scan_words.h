/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_SCAN_WORDS_H
#define WEDGEWORK_OUT_SCAN_WORDS_H

#include "base/text.h"
#include <wedgework/measure.h>
#include <wedgework/scanner.h>

/* Words and small facts that the texts, pages and plots of scans share. */

/* The channel that one speaks of: visual, else green, else the first; WW_CHANNEL_COUNT: none. */
ww_channel ww__scan_main_channel(const bool has[WW_CHANNEL_COUNT]);
ww_channel ww__scan_scanner_channel(const ww_scanner *scanner);

/* What was read of a scan, as the heading of a column: "step", "spot", or "step, spot". */
const char *ww__words_patches(const ww_measured *measured);

/* Noise of one pixel [D] that is as large as the signal: log10 e. */
#define WW__SIGNAL_IS_NOISE 0.43429448190325183

/* A file's name without its folders, escaped for a message; `otherwise` where there is none. */
void ww__words_file(ww__text *text, const char *file, const char *otherwise);
/* The same in quotes, which `otherwise` does not get. */
void ww__words_file_quoted(ww__text *text, const char *file, const char *otherwise);

/* "lying straight", or "turned 1.7 degrees clockwise". */
void ww__words_turn(ww__text *text, double angle_deg);

/* "21 steps found, lying straight, and 1 spot read". */
void ww__words_found(ww__text *text, const ww_measured *measured);

/* A code with as many decimals as tell it: none up from 9 bits, 1 for 8 bits, 5 for floating
 * point. */
void ww__words_code(ww__text *text, double code, double white);

/* "code 3082 to 36102", as ww__words_range. */
void ww__words_codes(ww__text *text, double a, double b, double white);

/* " The file has 16 bits, 300 px an inch, the profile 'Display'."; what it does not say is said. */
void ww__words_scan(ww__text *text, unsigned bits, ww_optional px_per_mm, const char *profile);

/* A share as a percentage without its sign: "1.2"; two decimals below 1 %, where there is any. */
void ww__words_share(ww__text *text, double share);

/* The same in a column: two decimals, so that its numbers lie below each other. */
void ww__words_share_cell(ww__text *text, double share);

/* A half-width in D, as ww_doubt_shown: "0.02". */
void ww__words_trust(ww__text *text, double half_width);

/* "0.02 at the thin end, +-0.05 at the dense end"; one number where both are written alike. */
void ww__words_trust_ends(ww__text *text, double thin, double dense);

/* A density in a table: "0.47", "<0.03" where it is only known to be less, "over" or "-". */
void ww__words_density(ww__text *text, const ww_cell *cell);

/* "0.47 D" or "less than 0.03 D"; "beyond the scanner's wedge", "not read" where there is none. */
void ww__words_cell(ww__text *text, const ww_cell *cell);

/* How a headline begins where all densities are off. */
#define WW__SCAN_OFF "all densities here are off, as a note says: "

/* 95 % half-width of a density, 0 where its error is not known. */
double ww__scan_trust(const ww_cell *cell);

#endif
