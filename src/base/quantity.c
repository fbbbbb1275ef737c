/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <wedgework/quantity.h>

bool ww_quantity_present(ww_quantity quantity) {
    return quantity.how != WW_ABSENT;
}

const char *ww_quantity_how_name(ww_how how) {
    switch (how) {
    case WW_MEASURED:
        return "measured";
    case WW_FITTED:
        return "fitted";
    case WW_EXTRAPOLATED:
        return "extrapolated";
    case WW_GIVEN:
        return "given";
    case WW_ABSENT:
        break;
    }
    return "absent";
}

double ww_doubt_shown(double doubt, double step) {
    const double steps = fabs(doubt) / step;
    return step * fmax(ceil(steps - fmin(0.25, 0.05 * steps)), 1.0);
}
