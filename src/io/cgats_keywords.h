/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_CGATS_KEYWORDS_H
#define WEDGEWORK_IO_CGATS_KEYWORDS_H

#include <stddef.h>
#include <wedgework/readings.h>

/*
 * A keyword of the preamble and its value, as metadata: FILE_DESCRIPTOR and DESCRIPTOR name the
 * set, CREATED dates it, MEASUREMENT_GEOMETRY tells transmission from reflection;
 * WEIGHTING_FUNCTION, DENSITY_STATUS, STATUS and FILTER may name the density status, which may not
 * change. What a file has said before stays; other keywords mean nothing here.
 *
 * Status WW_OK; WW_EINPUT two statuses; WW_EMEMORY.
 */
ww_status ww__cgats_keyword(const char *file, size_t line, const char *key, const char *value,
                            ww_readings *made, ww_error *err);

#endif
