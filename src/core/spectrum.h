/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SPECTRUM_H
#define WW_CORE_SPECTRUM_H

#include <wedgework/spectrum.h>

/* Two opinions on a value between those measured; they agree where it was measured. */
typedef struct ww__spectrum_value {
    double smooth, straight;
} ww__spectrum_value;

/* ww__spectrum_check - whether it is one, as of ww_spectrum_density. Status WW_OK; WW_EDOMAIN */
ww_status ww__spectrum_check(const ww_spectrum *spectrum, ww_error *err);

/* ww__spectrum_at - value at a wavelength within those measured. */
ww__spectrum_value ww__spectrum_at(const ww_spectrum *spectrum, double nm);

#endif
