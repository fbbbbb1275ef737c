/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCAN_NEGATIVE_H
#define WEDGEWORK_SCAN_NEGATIVE_H

#include <stddef.h>
#include <wedgework/readings.h>
#include <wedgework/scanner.h>

/*
 * ww_scan_negative_read - a negative for a scan plan: readings as ww_readings_file_read reads them,
 *                         or the document of a whole scan that `measure --whole --json` gives.
 *
 *   Of a whole scan the tones are "p0.1", "p1", "median", "p99" and "p99.9", the density that so
 *   many per cent of the pixels do not exceed; the single pixels at the ends are left out. Codes
 *   become densities by the scanner. A tone of the dense half without a density is `over`.
 *
 * Given     path      "-" reads standard input; at most 64 MiB
 *           scanner   for codes
 * Returned  negative  (release it)
 * Status    WW_OK; WW_EINPUT another document, a key that is missing, of another type or out of
 *           range, what ww_readings_file_read refuses; WW_EMISMATCH codes of other bits than the
 *           scanner's; WW_ENODATA the thinnest pixels have no density, a channel that the scanner
 *           does not have; WW_ESYSTEM; WW_EMEMORY
 */
ww_status ww_scan_negative_read(const char *path, const ww_scanner *scanner, ww_readings *negative,
                                ww_error *err);

/* ww_scan_negative_parse - the same from memory; `name` is what messages call it. */
ww_status ww_scan_negative_parse(const char *name, const char bytes[], size_t n,
                                 const ww_scanner *scanner, ww_readings *negative, ww_error *err);

#endif
