/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_PAGE_H
#define WEDGEWORK_OUT_PAGE_H

#include "out/report.h"

/* What page.c and page_scan.c share. */

/* A row of a table of keys and values; none where nothing is said. */
void ww__page_fact(ww__report *report, const char *key, const char *value);
void ww__page_number(ww__report *report, const char *key, ww_optional number, const char *unit);

/* Takes over the result and the inputs. svg is NULL where there is no plot; then `why` says why. */
ww_status ww__page_write(const char *title, ww__report *result, ww__report *inputs, const char *svg,
                         const ww_error *why, const char *path, ww_error *err);

#endif
