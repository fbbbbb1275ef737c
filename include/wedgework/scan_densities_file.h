/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCAN_DENSITIES_FILE_H
#define WEDGEWORK_SCAN_DENSITIES_FILE_H

#include <stddef.h>
#include <wedgework/scan_densities.h>

/*
 * ww_scan_densities_file_text - what a picture of densities holds, as the JSON document that
 *                               `scan --densities` gives for --json, UTF-8, ends with a line feed.
 *                               *text is allocated: free() it.
 *
 *   { "wedgework": 1, "kind": "scan densities", "file": "scan.tif", "sample": "16 bit" | "float",
 *     "scale": 10000, "zero": 5000, "channels": { "red": C, ... }, "notes": ["..."] }
 *
 *   C  { "thin": 0.05, "thin_doubt": 0.01, "dense": 3.15, "dense_doubt": 0.04,
 *        "wedge": 3.05, "thinner": 0.001, "denser": 0 }
 *
 * sample = scale D + zero; floating point has scale 1 and zero 0. "thin" and "dense" are the ends
 * of the calibration, "wedge" is the dense end of its wedge, "thinner" and "denser" the shares of
 * pixels beyond the ends, which have the density of that end.
 *
 * Status    WW_OK; WW_EDOMAIN a number is not finite; WW_EMEMORY. On failure *text and *n are
 *           untouched.
 */
ww_status ww_scan_densities_file_text(const ww_scan_densities *densities, char **text, size_t *n,
                                      ww_error *err);

#endif
