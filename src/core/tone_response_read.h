/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_TONE_RESPONSE_READ_H
#define WW_CORE_TONE_RESPONSE_READ_H

#include "points.h"
#include <wedgework/notes.h>
#include <wedgework/ramp.h>

/* One channel of a table on its way to a response; as ww_tone_response_fit takes it. */
typedef struct ww__tone_source {
    const ww_readings *readings;
    ww_ramp ramp;
    ww_column density;
    const double *sent;
    const char *of;
    ww_notes *notes;
} ww__tone_source;

/* ww__tone_response_take - the rows of the scale, as points of a curve along drive.
 * Status WW_OK; WW_EDOMAIN a control beyond its scale; WW_EMEMORY */
ww_status ww__tone_response_take(const ww__tone_source *source, ww__points *points, ww_error *err);

/* ww__tone_response_check - nothing is extrapolated: both ends of the scale must have been read.
 * Status WW_OK; WW_ENODATA, WW_EDOMAIN, WW_EMISMATCH as ww_tone_response_fit */
ww_status ww__tone_response_check(const ww__tone_source *source, const ww__points *points,
                                  ww_error *err);

#endif
