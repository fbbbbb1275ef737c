/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "printers.h"
#include "../core/readings_made.h"
#include <math.h>

const char *const printer_name[PRINTER_COUNT] = {"dots", "light", "paper", "steep", "flood"};

double printer_density(printer which, double drive) {
    switch (which) {
    case PRINTER_DOTS: {
        const double cover = drive + 0.72 * drive * (1.0 - drive);
        return -log10((1.0 - cover) * pow(10.0, -0.07) + cover * pow(10.0, -1.62));
    }
    case PRINTER_LIGHT: {
        const double veil = pow(10.0, -2.10);
        return 0.05 - log10(veil + (1.0 - veil) * pow(1.0 - drive, 2.2));
    }
    case PRINTER_PAPER: {
        const double low = 1.0 / (1.0 + exp(3.31)), high = 1.0 / (1.0 + exp(-4.09));
        const double at = 1.0 / (1.0 + exp(-(7.4 * drive - 3.31)));
        return 0.09 + 2.12 * (at - low) / (high - low);
    }
    case PRINTER_STEEP:
        return 0.06 + 1.90 * pow(drive, 0.7);
    default: {
        const double x = drive / 0.78;
        return x < 1.0 ? 0.08 + 1.62 * (1.0 - pow(1.0 - x, 2.0))
                       : 1.70 - 0.12 * pow((drive - 0.78) / 0.22, 2.0);
    }
    }
}

double printer_noise(unsigned *seed) {
    double sum = 0.0;
    for (int i = 0; i < 12; i++) {
        *seed = *seed * 1664525u + 1013904223u;
        sum += (double)(*seed >> 8) / 16777216.0;
    }
    return sum - 6.0;
}

ww_readings printer_read(printer which, ww_ramp ramp, size_t n, double noise, unsigned seed,
                         double (*sent)(void *of, double drive), void *of) {
    ww_readings readings = WW_READINGS_INIT;
    for (size_t i = 0; i < n; i++) {
        const double drive = (double)i / (double)(n - 1);
        ww_row *row = made_row(&readings, "", "");
        made_value(&readings, row, ramp == WW_RAMP_GRAY ? WW_COLUMN_GRAY : WW_COLUMN_VALUE,
                   ww_ramp_control(ramp, drive));
        made_value(&readings, row, WW_COLUMN_VISUAL,
                   printer_density(which, sent ? sent(of, drive) : drive) +
                       noise * printer_noise(&seed));
    }
    return readings;
}
