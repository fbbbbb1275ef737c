/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_CUT_SHORT_H
#define WEDGEWORK_CLI_CUT_SHORT_H

/*
 * ww__cut_short_start - from here on, a mapped file that is cut while it is read, or that its disk
 *                       refuses (SIGBUS), ends the program as any bad input does: with a message
 *                       that names the file, exit status 3, and nothing half-written left behind.
 */
void ww__cut_short_start(void);

#endif
