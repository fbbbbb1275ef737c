/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_LOG_WRITE_H
#define WEDGEWORK_IO_LOG_WRITE_H

#include "io/log.h"

/* What is entered, within a transaction. A reference that is there by its content is not added;
 * *number is its own either way. */
ww_status ww__log_write_reference(ww__log *log, const ww_control_reference *reference, long *number,
                                  ww_error *err);
ww_status ww__log_write_strip(ww__log *log, const ww_control_strip *strip, long reference,
                              long *number, ww_error *err);
ww_status ww__log_write_limits(ww__log *log, const ww_control_limits *limits, const char *process,
                               ww_error *err);
ww_status ww__log_write_baseline(ww__log *log, const ww_control_baseline *baseline, long reference,
                                 long first, ww_error *err);
ww_status ww__log_write_note(ww__log *log, const ww_control_note *note, long strip, ww_error *err);
ww_status ww__log_write_deletion(ww__log *log, long strip, const char *why, const char *entered,
                                 ww_error *err);

#endif
