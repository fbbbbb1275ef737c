/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "observer.h"
#include "spectrum.h"
#include <assert.h>
#include <math.h>

enum { AXES = 3 };

static ww_status check_gaps(const ww_spectrum *spectrum, ww_error *err) {
    const ww_spectral_point *const p = spectrum->point;
    for (size_t i = 1; i < spectrum->n; i++)
        if (p[i].nm - p[i - 1].nm > WW_SPECTRUM_LAB_GAP_MOST + 1e-9)
            return ww_error_set(
                err, WW_ENODATA,
                "spectral values at %g and %g nm are more than %g nm apart, too far "
                "for colours; measure at closer wavelengths",
                p[i - 1].nm, p[i].nm, WW_SPECTRUM_LAB_GAP_MOST);
    return WW_OK;
}

ww_status ww_spectrum_lab(const ww_spectrum *spectrum, ww_lab *lab, ww_error *err) {
    assert(spectrum && lab);
    double seen[AXES] = {0.0}, white[AXES] = {0.0}, outside[AXES] = {0.0};
    ww_status status = ww__spectrum_check(spectrum, err);
    if (status == WW_OK)
        status = check_gaps(spectrum, err);
    if (status != WW_OK)
        return status;
    const ww_spectral_point first = spectrum->point[0], last = spectrum->point[spectrum->n - 1];
    for (size_t row = 0; row < WW__OBSERVER_ROWS; row++) {
        const double nm = WW__OBSERVER_FIRST + WW__OBSERVER_STEP * (double)row;
        const double value = nm < first.nm  ? first.value
                             : nm > last.nm ? last.value
                                            : ww__spectrum_at(spectrum, nm).smooth;
        for (size_t axis = 0; axis < AXES; axis++) {
            const double weight = ww__observer_weight(row, axis);
            white[axis] += weight;
            seen[axis] += weight * value;
            outside[axis] += nm < first.nm || nm > last.nm ? weight : 0.0;
        }
    }
    for (size_t axis = 0; axis < AXES; axis++)
        if (outside[axis] > WW_SPECTRUM_OUTSIDE_MOST * white[axis])
            return ww_error_set(err, WW_ENODATA,
                                "%.1f %% of %c of the observer lies outside %g to %g nm, more than "
                                "%g %%; measure a wider range",
                                100.0 * outside[axis] / white[axis], "XYZ"[axis], first.nm, last.nm,
                                100.0 * WW_SPECTRUM_OUTSIDE_MOST);
    *lab = ww_colour_lab(seen, white);
    return WW_OK;
}
