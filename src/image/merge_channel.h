/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_CHANNEL_H
#define WW_IMAGE_MERGE_CHANNEL_H

#include "image/merge_blocks.h"
#include <wedgework/scan_merge.h>

/* Two scans, and what their codes are taken for. */
typedef struct ww__merge_both {
    const ww_picture *longer, *shorter;
    const ww_scanner *scanner; /* NULL: none was given */
    const ww__merge_light *light;
} ww__merge_both;

/* The dark that both scans have, as far as it was measured. */
double ww__merge_channel_dark(const ww_scanner *scanner, ww_channel channel);

/*
 * Ratio, noise and flaw of the c-th channel, and its notes.
 *
 * Given     blocks  y the longer's; their order is changed
 *           merge   knows how far the scans are apart
 * Status    as ww_scan_merge_measure
 */
ww_status ww__merge_channel_measure(const ww__merge_both *both, size_t c, ww__merge_blocks *blocks,
                                    ww_scan_merge *merge, ww_error *err);

#endif
