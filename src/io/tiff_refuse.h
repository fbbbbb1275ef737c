/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_REFUSE_H
#define WEDGEWORK_IO_TIFF_REFUSE_H

#include "io/tiff_tags.h"

/*
 * Refuses a page that has no codes of light, or that is written in a way that is not read, with
 * what to export instead. Status WW_OK; WW_EINPUT
 */
ww_status ww__tiff_refuse(const ww__tiff_tags *tags, const char *file, ww_error *err);

#endif
