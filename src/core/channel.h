/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_CHANNEL_H
#define WW_CORE_CHANNEL_H

#include "resample.h"
#include <wedgework/curve.h>
#include <wedgework/fit.h>
#include <wedgework/readings.h>

/* One channel on its way from readings to curve. */
typedef struct ww__channel_job {
    const ww_readings *readings; /* pooled */
    ww_channel channel;
    const ww_figure_rules *rules;
    const ww_fit_options *options;
    ww_channel_curve *curve; /* filled */
    ww__resampled *sample;   /* options->resamples of them, filled where a curve is fitted */
    ww_notes *notes;
} ww__channel_job;

/*
 * ww__channel_fit - points, curve, suspects, figures and their intervals of one channel.
 *
 * Status    WW_OK, also where the readings are too few or too flat for a curve: curve->fitted is
 *           false then and a note says which readings would do; WW_EMISMATCH density runs against
 *           the process; WW_EDOMAIN; WW_ECONVERGE; WW_EMEMORY
 */
ww_status ww__channel_fit(const ww__channel_job *job, ww_error *err);

#endif
