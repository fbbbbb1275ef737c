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

/* Bands taken for spoilt, and what their neighbours give for them. */
typedef struct mend {
    size_t n, at[WW__SPECTRUM_ODD_MOST];
    double value[WW__SPECTRUM_ODD_MOST];
} mend;

static bool is_spoilt(const mend *m, size_t i, size_t *which) {
    for (*which = 0; *which < m->n; (*which)++)
        if (m->at[*which] == i)
            return true;
    return false;
}

/* What the bands around one give for it, the spoilt ones being mended. */
static double expected(const ww_spectrum *spectrum, size_t i, const mend *m) {
    ww_spectral_point around[AROUND];
    size_t n = 0, which;
    for (size_t k = i - BESIDE; k <= i + BESIDE; k++)
        if (k != i) {
            around[n] = spectrum->point[k];
            if (is_spoilt(m, k, &which))
                around[n].value = m->value[which];
            n++;
        }
    return ww__spectrum_cubic(around, spectrum->point[i].nm);
}

/* Takes bands for spoilt: what the nearest others on either side give for each. False where an end
 * of the spectrum is too near. */
static bool spoil(const ww_spectrum *spectrum, const size_t at[], size_t n, mend *m) {
    size_t other;
    m->n = n;
    for (size_t b = 0; b < n; b++) {
        m->at[b] = at[b];
        if (at[b] < BESIDE || at[b] + BESIDE >= spectrum->n)
            return false;
    }
    for (size_t b = 0; b < n; b++) {
        ww_spectral_point around[AROUND];
        size_t found = 0;
        for (size_t k = at[b]; k-- > 0 && found < BESIDE;)
            if (!is_spoilt(m, k, &other))
                around[found++] = spectrum->point[k];
        for (size_t k = at[b] + 1; k < spectrum->n && found < AROUND; k++)
            if (!is_spoilt(m, k, &other))
                around[found++] = spectrum->point[k];
        if (found < AROUND)
            return false;
        m->value[b] = ww__spectrum_cubic(around, spectrum->point[at[b]].nm);
    }
    return true;
}

/* The farthest that a band off the ends, none of the spoilt ones, lies off; *at where. */
static double farthest(const ww_spectrum *spectrum, const mend *m, size_t *at) {
    double far = 0.0;
    size_t which;
    *at = BESIDE;
    for (size_t i = BESIDE; i + BESIDE < spectrum->n; i++) {
        const double off = is_spoilt(m, i, &which)
                               ? 0.0
                               : fabs(spectrum->point[i].value - expected(spectrum, i, m));
        if (off > far) {
            far = off;
            *at = i;
        }
    }
    return far;
}

/* Keeps bands in *best where they stand out from the rest more than those there; *lead by how
 * much. */
static void try_bands(const ww_spectrum *spectrum, const size_t at[], size_t n, mend *best,
                      double *lead) {
    mend m;
    size_t where;
    double rest, least = HUGE_VAL;
    if (!spoil(spectrum, at, n, &m))
        return;
    rest = farthest(spectrum, &m, &where);
    for (size_t b = 0; b < n; b++) {
        const double off = fabs(spectrum->point[at[b]].value - m.value[b]);
        if (off <= apart + apart_share * fmax(m.value[b], 0.0))
            return;
        least = fmin(least, off);
    }
    if (least <= *lead * rest)
        return;
    *lead = rest > 0.0 ? least / rest : HUGE_VAL;
    *best = m;
}

/* Two that lie apart, or two side by side, which bend what is between them, or beside, the most. */
static void try_pairs(const ww_spectrum *spectrum, size_t worst, mend *best, double *lead) {
    const size_t low = worst > AROUND ? worst - BESIDE : BESIDE, end = spectrum->n - BESIDE;
    mend first;
    size_t next;
    if (spoil(spectrum, &worst, 1, &first)) {
        (void)farthest(spectrum, &first, &next);
        try_bands(spectrum, (size_t[]){worst < next ? worst : next, worst < next ? next : worst}, 2,
                  best, lead);
    }
    if (best->n > 0)
        return;
    for (size_t a = low; a < end && a <= worst + BESIDE; a++)
        for (size_t b = a + 1; b < end && b <= worst + BESIDE; b++)
            try_bands(spectrum, (size_t[]){a, b}, 2, best, lead);
}

size_t ww__spectrum_odd(const ww_spectrum *spectrum, size_t *at, double *between) {
    const mend none = {.n = 0};
    mend best = none;
    double lead = beyond_rest;
    size_t worst;
    if (spectrum->n <= AROUND)
        return 0;
    (void)farthest(spectrum, &none, &worst);
    try_bands(spectrum, &worst, 1, &best, &lead);
    if (best.n == 0)
        try_pairs(spectrum, worst, &best, &lead);
    if (best.n > 0) {
        *at = best.at[0];
        *between = best.value[0];
    }
    return best.n;
}
