/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/spectrum_odd.h"
#include <math.h>

enum { AROUND = WW__SPECTRUM_AROUND, BESIDE = AROUND / 2 };
static const double apart = 0.02, apart_share = 0.05; /* of a value, to be worth a word */
static const double beyond_rest = 7.0;

double ww__spectrum_cubic(const ww_spectral_point p[AROUND], double nm) {
    double value = 0.0;
    for (int i = 0; i < AROUND; i++) {
        double term = p[i].value;
        for (int k = 0; k < AROUND; k++)
            if (k != i)
                term *= (nm - p[k].nm) / (p[i].nm - p[k].nm);
        value += term;
    }
    return value;
}

/* What the bands around one give for it, band `spoilt` being `mended`. */
static double expected(const ww_spectrum *spectrum, size_t i, size_t spoilt, double mended) {
    ww_spectral_point around[AROUND];
    size_t n = 0;
    for (size_t k = i - BESIDE; k <= i + BESIDE; k++)
        if (k != i) {
            around[n] = spectrum->point[k];
            if (k == spoilt)
                around[n].value = mended;
            n++;
        }
    return ww__spectrum_cubic(around, spectrum->point[i].nm);
}

bool ww__spectrum_odd(const ww_spectrum *spectrum, size_t *at, double *between) {
    const ww_spectral_point *const p = spectrum->point;
    const size_t end = spectrum->n < BESIDE ? 0 : spectrum->n - BESIDE;
    double worst = 0.0, mended = 0.0, rest = 0.0;
    size_t odd = spectrum->n;
    for (size_t i = BESIDE; i < end; i++) {
        const double line = expected(spectrum, i, spectrum->n, 0.0);
        if (fabs(p[i].value - line) <= worst)
            continue;
        worst = fabs(p[i].value - line);
        mended = line;
        odd = i;
    }
    for (size_t i = BESIDE; i < end; i++)
        if (i != odd)
            rest = fmax(rest, fabs(p[i].value - expected(spectrum, i, odd, mended)));
    if (worst <= apart + apart_share * fmax(mended, 0.0) || worst <= beyond_rest * rest)
        return false;
    *at = odd;
    *between = mended;
    return true;
}
