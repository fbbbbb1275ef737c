/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TEXTURE_FILE_H
#define WEDGEWORK_TEXTURE_FILE_H

#include <stddef.h>
#include <wedgework/texture_scan.h>

/*
 * ww_texture_file_text - grain, texture and sharpness of scans as a JSON document.
 *
 *   { "wedgework": 1, "kind": "comparison", "scans": [{ "name": "...", "channel": "visual",
 *     "pixel_um": 10.6, "spots": [{ "name": "...", "n": .., "left_out": .., "density": ..,
 *       "sd": .., "scanner_sd": .., "rms": Q, "scanner_rms": .., "selwyn": Q }],
 *     "edge": { "angle": .., "width_um": Q, "mtf50": Q }, "notes": [] }] }
 *
 * Returned  *text  to be freed by the caller, n_text bytes
 * Status    WW_OK; WW_EDOMAIN a number is not finite; WW_EMEMORY
 */
ww_status ww_texture_file_text(const ww_texture_scan scan[], size_t n, char **text, size_t *n_text,
                               ww_error *err);

#endif
