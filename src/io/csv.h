/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_CSV_H
#define WEDGEWORK_IO_CSV_H

#include <wedgework/readings.h>

/* Readings from our own table: metadata in comments, a header line, rows. No NUL in the bytes. */
ww_status ww__csv_parse(const char *file, const char *bytes, size_t n, ww_readings *readings,
                        ww_error *err);

#endif
