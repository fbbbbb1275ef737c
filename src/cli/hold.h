/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_HOLD_H
#define WEDGEWORK_CLI_HOLD_H

/*
 * Ctrl-C, and the other polite ways to end a program (SIGINT, SIGTERM, SIGHUP), wait while a result
 * is being written, its plot drawn among it: what is begun is finished. At any other time, and when
 * a hand sends them again, they end the program at once, as ever. Neither leaves an unfinished
 * file.
 */

/* ww__hold_start - from here on; called once, before there are threads. Signals that whoever
 * started the program ignores stay ignored. */
void ww__hold_start(void);

/* ww__hold_begin, ww__hold_end - a result is being written between them; they may overlap, from
 * several threads. Where a signal came in between, the last ww__hold_end does not return. */
void ww__hold_begin(void);
void ww__hold_end(void);

#endif
