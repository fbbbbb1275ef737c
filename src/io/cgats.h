/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_CGATS_H
#define WEDGEWORK_IO_CGATS_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/readings.h>

/* Whether the first line says so, or, under an unknown first line, a line is BEGIN_DATA_FORMAT. */
bool ww__cgats_is(const char *bytes, size_t n);

/*
 * Readings from CGATS.17 / ISO 28178 text. Of several tables the first with densities or spectra is
 * read, else the first with CIELAB, else the first with colourants; the others are noted.
 */
ww_status ww__cgats_parse(const char *file, const char *bytes, size_t n, ww_readings *readings,
                          ww_error *err);

#endif
