/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_START_H
#define WEDGEWORK_START_H

#include <wedgework/error.h>

#define WW_VERSION "0.1.0"

/*
 * ww_start - call once, before any other thread is started.
 *
 * GSL ends the process when it meets an error, unless its process-wide handler is turned off; that
 * is what this does, and the library does it nowhere else. A program that sets a GSL handler of its
 * own, one that returns, need not call it.
 *
 * Status    WW_OK
 */
ww_status ww_start(void);

/* ww_version - version of the library in use, as "0.1.0"; WW_VERSION is that of the headers. */
const char *ww_version(void);

#endif
