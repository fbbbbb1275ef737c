/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/grain.h"

#include <assert.h>
#include <math.h>

static const double pi = 3.14159265358979324;
static const double unseen = 16.0;  /* grain, as of one patch more than there are */
static const double noisier = 1.25; /* share of the code: more noise hides grain */

/* Variance of means over that of pixels on their own, by the other patches. */
static double grain_beside(const ww_measured *m, size_t i, int c) {
    const ww_patch_channel *own = &m->patch[i].channel[c];
    double sum = unseen, n = 1.0;
    for (size_t k = 0; k < m->n; k++) {
        const ww_patch_channel *p = &m->patch[k].channel[c];
        if (k != i && p->sd > 0.0 && p->sd * own->code <= noisier * own->sd * p->code)
            sum += p->grain, n += 1.0;
    }
    return fmax(1.0, sum / n);
}

double ww__grain_drift_error(const ww_measured *m, size_t i, int c) {
    assert(m && i < m->n && m->patch[i].n > 0);
    const ww_patch *patch = &m->patch[i];
    const ww_patch_channel *p = &patch->channel[c];
    const double square = fmax(p->sd * p->sd - p->uneven * p->uneven, 0.0);
    const double of_halves = patch->radius > 0.0 ? 1.5 * pi : 4.0;
    return of_halves * sqrt(square * grain_beside(m, i, c) / (double)patch->n);
}
