/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CURVE_FILE_H
#define WEDGEWORK_CURVE_FILE_H

#include <stddef.h>
#include <wedgework/curve.h>

/*
 * ww_curve_file_text - a curve as the JSON document that -o and --json write (interface §3), UTF-8,
 *                      ends with a line feed. *text is allocated: free() it.
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_curve_file_text(const ww_curve *curve, char **text, size_t *n, ww_error *err);

/* ww_curve_file_write - the same into a file, whole or not at all. Status WW_OK; WW_ESYSTEM; WW_EMEMORY */
ww_status ww_curve_file_write(const ww_curve *curve, const char *path, ww_error *err);

/*
 * ww_curve_file_read - read it back without loss: writing again gives the same bytes.
 *
 * Given     path   "-" reads standard input
 * Status    WW_OK; WW_EINPUT missing, not JSON, of another kind, a missing or impossible key (err
 *           names file, line where known, key and remedy); WW_ESYSTEM; WW_EMEMORY
 */
ww_status ww_curve_file_read(const char *path, ww_curve *curve, ww_error *err);
ww_status ww_curve_file_parse(const char *name, const char bytes[], size_t n, ww_curve *curve,
                              ww_error *err);

#endif
