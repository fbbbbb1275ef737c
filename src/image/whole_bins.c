/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/whole_bins.h"

#include <math.h>

static const double bin_width = 0.02;      /* [D] what a printer's reading repeats to */
static const double float_rounding = 2e-4; /* log10, of a bin of floating point */

void ww__whole_bins_lay(ww_whole *whole) {
    double least = 0.0;
    for (int c = 0; whole->calibrated && c < WW_CHANNEL_COUNT; c++)
        for (int i = 0; whole->has[c] && i < WW_WHOLE_COUNT; i++)
            if (whole->density[c][i].state == WW_CELL_VALUE)
                least = fmin(least, whole->density[c][i].value);
    whole->bins = (ww_whole_bins){.from = bin_width * floor(least / bin_width), .width = bin_width};
}

static void count_one(ww_whole_bins *bins, ww_channel channel, double value, size_t count) {
    const double away = value - bins->from;
    const double place = away > -float_rounding ? floor(fmax(away, 0.0) / bins->width) : -1.0;
    if (!(place >= 0.0)) {
        bins->lighter[channel] += count;
    } else if (place >= WW_WHOLE_BINS) {
        bins->darker[channel] += count;
    } else {
        bins->count[channel][(size_t)place] += count;
        bins->n = (size_t)place + 1 > bins->n ? (size_t)place + 1 : bins->n;
    }
}

void ww__whole_bins_count(const ww__histogram *histogram, const ww_scanner *scanner,
                          ww_channel channel, ww_whole *whole) {
    const double darkest = scanner ? scanner->channel[channel].point[0].code : 0.0;
    for (ww__histogram_bin bin = {0}; ww__histogram_next(histogram, &bin);) {
        ww_quantity density = WW_QUANTITY_INIT;
        double value = bin.code > darkest ? -HUGE_VAL : HUGE_VAL; /* without density */
        if (!scanner && bin.code > 0.0)
            value = log10(whole->white / bin.code);
        else if (scanner && ww_scanner_density(scanner, channel, bin.code, &density, NULL) == WW_OK)
            value = density.value;
        count_one(&whole->bins, channel, value, (size_t)bin.count);
    }
}
