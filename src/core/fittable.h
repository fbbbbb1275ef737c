/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_FITTABLE_H
#define WW_CORE_FITTABLE_H

#include "series.h"
#include <wedgework/figure.h>
#include <wedgework/notes.h>

/*
 * ww__fittable - whether a curve can be had from a series at all.
 *
 * Source    common practice
 * Given     of  " (red)" where there are several channels, else ""
 * Returned  *can   false: a note says why, and what to read
 *           notes  also where the readings are few
 * Status    WW_OK; WW_EDOMAIN over 1000 readings; WW_EMISMATCH density runs against the material;
 *           WW_EMEMORY
 */
ww_status ww__fittable(const ww__series *series, const ww_figure_rules *rules, const char *of,
                       ww_notes *notes, bool *can, ww_error *err);

#endif
