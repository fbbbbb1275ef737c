/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_BASE_OUTPUT_REFUSED_H
#define WW_BASE_OUTPUT_REFUSED_H

#include <stdint.h>
#include <wedgework/error.h>

/*
 * ww__output_refused - the system refused to write a file, or what it needs to be written: its
 *                      words, and where there is no room, how much is needed and what to do.
 *
 * Given     sys    an errno value
 *           bytes  of the whole file
 * Status    WW_EMEMORY for ENOMEM, else WW_ESYSTEM
 */
ww_status ww__output_refused(const char *path, int sys, uint64_t bytes, ww_error *err);

#endif
