/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_CGATS_DENSITIES_H
#define WEDGEWORK_IO_CGATS_DENSITIES_H

#include "io/cgats_spectra.h"

/*
 * Makes densities of spectra, in the status that the readings have; where they have none, in the
 * one that suits their emulsion or material, else in visual density alone, which all statuses
 * share. Notes say which and why, what range and unit the values were taken to have, and which
 * densities are over or in doubt. Where a doubt counts beside a reading's own error, the column
 * carries both as `sd`.
 *
 * Densities that stand in the file come first: then nothing is made, and a note says so.
 *
 * Status WW_OK; WW_EINPUT a spectrum that is none, or there is nothing that a density could be made
 *        of; WW_EMEMORY
 */
ww_status ww__cgats_densities_make(ww__cgats_spectra *spectra, const char *file, ww_readings *made,
                                   ww_error *err);

#endif
