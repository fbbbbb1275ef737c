/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "merged.h"

#include <math.h>

double ww__merged_read(const ww_scanner_noise *noise, double white) {
    const double rounding = white > 1.0 ? 1.0 / (12.0 * white * white) : 0.0;
    return fmax(noise->read * noise->read, rounding);
}

double ww__merged_weight(double shorter, double longer) {
    return shorter + longer > 0.0 ? shorter / (shorter + longer) : 0.5;
}

double ww__merged_fade(double light, double clipped) {
    if (!(light < clipped))
        return 0.0;
    const double below = light > 0.0 ? log10(clipped / light) : HUGE_VAL;
    return fmin(below / WW__MERGED_BLEND, 1.0);
}
