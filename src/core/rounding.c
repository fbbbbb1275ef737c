/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rounding.h"

#include <assert.h>
#include <math.h>

static const double pi = 3.14159265358979324;
static const double rounded = 1.0 / 12.0; /* variance of rounding alone */

double ww__rounding_bias_2(double noise) {
    enum { TERMS = 10 };
    assert(noise >= 0.0);
    /* The same sum, turned by Poisson's formula; what is left out is below exp(-25). */
    if (noise < 0.1)
        return rounded + noise * noise - noise / sqrt(pi);
    double sum = 0.0;
    for (int k = 1; k <= TERMS; k++)
        sum += exp(-4.0 * pi * pi * k * k * noise * noise) / (2.0 * pi * pi * k * k);
    return sum;
}

double ww__rounding_noise(double scatter) {
    enum { HALVINGS = 32 };
    assert(scatter >= 0.0);
    double low = sqrt(fmax(scatter - rounded, 0.0)), high = sqrt(scatter);
    if (low > 1.0) /* no bias */
        return low;
    for (int i = 0; i < HALVINGS; i++) {
        const double middle = 0.5 * (low + high);
        if (middle * middle + rounded - ww__rounding_bias_2(middle) < scatter)
            low = middle;
        else
            high = middle;
    }
    return low;
}
