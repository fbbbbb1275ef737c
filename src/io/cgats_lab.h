/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_CGATS_LAB_H
#define WEDGEWORK_IO_CGATS_LAB_H

#include "io/cgats_spectra.h"

/*
 * Makes CIELAB of spectra that are parts of 1, where the file has none and is not known to have
 * been read in transmission; a note says so, or why there is none.
 *
 * Status WW_OK; WW_EINPUT a spectrum that is none; WW_EMEMORY
 */
ww_status ww__cgats_lab_make(const ww__cgats_spectra *spectra, const char *file, ww_readings *made,
                             ww_error *err);

#endif
