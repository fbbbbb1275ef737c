/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_READINGS_FILE_H
#define WEDGEWORK_READINGS_FILE_H

#include <wedgework/readings.h>

/*
 * ww_readings_file_read - readings from CSV (own table) or CGATS.17 / ISO 28178 text, told apart by
 *                         the first line.
 *
 * Given     path      "-" reads standard input
 * Returned  readings  rows as they stand in the file
 * Status    WW_OK; WW_EINPUT malformed or ambiguous: file, line, value and remedy are in err;
 *           WW_ESYSTEM cannot be opened or read... a missing file is WW_EINPUT; WW_EMEMORY
 */
ww_status ww_readings_file_read(const char *path, ww_readings *readings, ww_error *err);

/* ww_readings_file_parse - the same from memory; `name` is what messages call it. */
ww_status ww_readings_file_parse(const char *name, const char bytes[], size_t n,
                                 ww_readings *readings, ww_error *err);

/*
 * ww_readings_file_write - the table as our own CSV: reading it back gives the same table.
 *
 * Status    WW_OK; WW_ESYSTEM; WW_EMEMORY. The file is either the old one or the whole new one.
 */
ww_status ww_readings_file_write(const ww_readings *readings, const char *path, ww_error *err);

/* ww_readings_file_write_cgats - the same as CGATS.17 text; what CGATS cannot carry goes into
 *                                comments. Same status. */
ww_status ww_readings_file_write_cgats(const ww_readings *readings, const char *path, ww_error *err);

#endif
