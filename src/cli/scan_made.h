/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_SCAN_MADE_H
#define WEDGEWORK_CLI_SCAN_MADE_H

#include "cli/commands.h"
#include <wedgework/picture_write.h>

/*
 * What `scan` makes of scans: a TIFF file that grows, unseen, while they are read, and gets its
 * name last. Until then a signal ends the program as ever.
 */

/* ww__scan_made_merge - `scan --merge A.tif B.tif -o OUT.tif`. Status as ww__cmd_scan */
ww_status ww__scan_made_merge(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);

/* ww__scan_made_densities - `scan --densities IN.tif --scanner S.json -o OUT.tif`. The same */
ww_status ww__scan_made_densities(const ww_arguments *arguments, ww_outcome *outcome,
                                  ww_error *err);

/*
 * For all commands that make a TIFF file of one.
 *
 * ww__scan_made_check - -o names it, a file. Status WW_OK; WW_EUSAGE it does not, and as
 *                       ww__outputs_check
 * ww__scan_made_begin - ww_picture_write_begin, but not once a signal is about to end the
 *                       program (hold.h). Same status.
 */
ww_status ww__scan_made_check(const ww_arguments *arguments, ww_error *err);
ww_status ww__scan_made_begin(const ww_arguments *arguments, const ww_picture_form *form,
                              ww_picture_writer **writer, ww_error *err);

#endif
