/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_FAULT_H
#define WW_IMAGE_FAULT_H

#include <wedgework/measure.h>

/* The patch that has a fault worst, of all that have it: what a note is about. Begin with { 0 }. */
typedef struct ww__fault {
    size_t patches, patch;
    size_t last;             /* patch that was counted last, + 1 */
    unsigned channels, with; /* a bit for each that it has it in; the same of the worst patch */
    ww_channel channel;
    double value;
} ww__fault;

enum { WW__FAULT_WORDS = 160 };

/* ww__fault_keep - a patch has it, by so much. One that has it in several channels counts once;
 *                  channels of a patch come one after the other. WW_CHANNEL_COUNT: in all. */
void ww__fault_keep(ww__fault *fault, size_t patch, ww_channel channel, double value);

/* ww__fault_who - "Step '7' (green) and 3 others", as a note begins; no channel where all have
 *                 it. */
const char *ww__fault_who(const ww_measured *measured, const char *what, const ww__fault *fault,
                          char words[WW__FAULT_WORDS]);

/* ww__fault_percent - a share as a note tells it. */
const char *ww__fault_percent(double share, char text[], size_t size);

#endif
