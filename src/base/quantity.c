/* SPDX-License-Identifier: GPL-3.0-or-later */
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
