/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "origin.h"

#include <math.h>

static const double origins_apart = 0.005; /* log H */

static bool is_given(const ww_curve *curve, bool lux) {
    if (!lux)
        return ww_curve_origin_given(curve);
    /* No time in seconds tells how many lux there were. */
    return curve->meta.log_h0.set || curve->exposure == WW_EXPOSURE_LOG_H ||
           curve->exposure == WW_EXPOSURE_NONE;
}

ww_status ww__origin_note(ww_curve *curve, ww_error *err) {
    const ww_meta *meta = &curve->meta;
    const bool wedge = curve->exposure == WW_EXPOSURE_WEDGE;
    const bool lux = meta->exposure_unit == WW_UNIT_LUX_SECOND;
    const bool timed = wedge && meta->exposure_time_s.set;
    if (!lux && meta->exposure_unit != WW_UNIT_SECOND)
        return WW_OK;
    const double by_time = timed ? log10(meta->exposure_time_s.value) : 0.0;
    if (timed && !lux && meta->log_h0.set && fabs(by_time - meta->log_h0.value) > origins_apart)
        return ww_notes_add(&curve->notes, err,
                            "log h0 %.3f is used, not the exposure time of %g s, which would be "
                            "%.3f; take away the one that is wrong",
                            meta->log_h0.value, meta->exposure_time_s.value, by_time);
    if (is_given(curve, lux))
        return WW_OK;
    const char *at = curve->exposure == WW_EXPOSURE_TIME ? "one second"
                     : wedge                             ? "wedge density 0"
                                                         : "stop 0";
    if (lux)
        return ww_notes_add(&curve->notes, err,
                            "no log h0 is given: log H is taken as %.3f at %s, that is %s, and any "
                            "speed stands on that",
                            by_time, at,
                            timed ? "one lux for the exposure time" : "one lux second");
    return ww_notes_add(&curve->notes, err,
                        "no log h0%s is given: log H counts from 1 second at %s, and no seconds "
                        "can be told from it",
                        wedge ? " and no exposure time" : "", at);
}
