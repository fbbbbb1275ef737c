/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_LOG_SCHEMA_H
#define WEDGEWORK_IO_LOG_SCHEMA_H

#include "io/log.h"

/* How a log knows itself: "WEDG", and the version of its tables. */
enum { WW__LOG_APPLICATION = 0x57454447, WW__LOG_VERSION = 1 };

/*
 * ww__log_check_schema - whether the file is a log that we can read, and whole; log->empty where
 *                        there is nothing in it yet.
 * ww__log_make_schema  - the tables of an empty one, within the transaction.
 */
ww_status ww__log_check_schema(ww__log *log, ww_error *err);
ww_status ww__log_make_schema(ww__log *log, ww_error *err);

#endif
