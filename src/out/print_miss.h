/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_PRINT_MISS_H
#define WEDGEWORK_OUT_PRINT_MISS_H

#include "out/report.h"
#include <wedgework/print_result.h>

/* How the last print came out, in sentences; nothing where none is known. */
void ww__print_miss_say(const ww_print_miss *miss, ww__report *report);

/* Its tones, and the causes that were tried. */
void ww__print_miss_tables(const ww_print_miss *miss, ww__report *report);

#endif
