/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_HOLD_H
#define WEDGEWORK_CLI_HOLD_H

/*
 * Ctrl-C, and the other polite ways to end a program (SIGINT, SIGTERM, SIGHUP), wait while a result
 * is being written, its plot drawn among it: what is begun is finished, and no temporary file is
 * left behind. At any other time, and when a hand sends them again, they end the program at once,
 * as ever.
 */

/* ww__hold_start - from here on; called once, before there are threads. Signals that whoever
 * started the program ignores stay ignored. */
void ww__hold_start(void);

/* ww__hold_begin, ww__hold_end - a result is being written between them; they may overlap, from
 * several threads. Where a signal came in between, the last ww__hold_end does not return. */
void ww__hold_begin(void);
void ww__hold_end(void);

/*
 * ww__hold_file   - the name of an unfinished file written outside of them, which is removed
 *                   before a signal ends the program; one at a time, NULL: none. Named between
 *                   ww__hold_begin and ww__hold_end, with what makes it, so that no signal falls
 *                   between the two.
 * ww__hold_remove - removes it; may be called in a signal's handler.
 */
void ww__hold_file(const char *name);
void ww__hold_remove(void);

#endif
