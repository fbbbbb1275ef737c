/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_WHOLE_BINS_H
#define WW_IMAGE_WHOLE_BINS_H

#include "image/histogram.h"
#include <wedgework/measure.h>

/* Where the bins lie: from 0, or from the least density of the channels that `whole` has. */
void ww__whole_bins_lay(ww_whole *whole);

/* Counts the codes of one channel into them. scanner NULL: by the codes themselves */
void ww__whole_bins_count(const ww__histogram *histogram, const ww_scanner *scanner,
                          ww_channel channel, ww_whole *whole);

#endif
