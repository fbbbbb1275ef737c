/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_CGATS_FIELDS_H
#define WEDGEWORK_IO_CGATS_FIELDS_H

#include "io/readings_columns.h"
#include <stdbool.h>
#include <stddef.h>
#include <wedgework/readings.h>

/*
 * The role of a standard CGATS field, and of a spectrum's by the names that writers give them:
 * SPECTRAL_NM, SPECTRAL_DEC, SPECTRAL_PCT; SPECTRAL_NM380, SPEC_380, nm380, R_380. False where it
 * has none here.
 */
bool ww__cgats_field_find(const char *name, ww__field *field);

/* The standard name for one of our columns, or NULL. */
const char *ww__cgats_field_name(ww_column column);

/* How much a table is worth to us by this field: 3 density or spectral value, 2 colour, 1
 * colourant, 0 nothing. */
int ww__cgats_field_rank(const ww__field *field);

/*
 * The density status that a keyword's value names: "Status A", "density;A", "StatusT". *known is
 * false where it names one that there is no word for; the return value is WW_STATUS_UNKNOWN then,
 * and where it names none at all.
 */
ww_density_status ww__cgats_field_status(const char *key, const char *value, bool *known);

#endif
