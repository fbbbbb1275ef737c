/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_BASE_TEXT_H
#define WEDGEWORK_BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>

/*
 * A text that grows: every document is made in one, then written whole. Running out of memory is
 * remembered, so that only the end need be checked:
 *
 *   ww__text page = WW__TEXT_INIT;
 *   ww__text_add(&page, "log H ");
 *   ww__text_add_number(&page, log_h, 2);
 *   status = ww__text_status(&page, err);
 *   if (status == WW_OK)
 *       status = ww_output_write(path, ww__text_string(&page), page.n, err);
 *   ww__text_release(&page);
 */
typedef struct ww__text {
    char *bytes; /* NUL-terminated once there are any */
    size_t n;    /* without the NUL */
    size_t room;
    bool failed; /* no memory: what came since is missing */
} ww__text;

#define WW__TEXT_INIT                                                                              \
    { NULL, 0, 0, false }

void ww__text_add(ww__text *text, const char *string);
void ww__text_add_bytes(ww__text *text, const char *bytes, size_t n);

/* As printf, but always with '.' in numbers. */
void ww__text_add_format(ww__text *text, const char *format, ...) WW_PRINTF(2, 3);

/* As ww_number_format: fixed decimals (0 to 17), no "-0.00". */
void ww__text_add_number(ww__text *text, double value, int decimals);

/* Decimals for a density that was asked for: 2, or 3 where 2 would tell another density. */
int ww__text_decimals(double density);

/* The shortest decimal text that reads back as the same double. value is finite. */
void ww__text_add_exact(ww__text *text, double value);

/* WW_OK, or WW_EMEMORY where anything since the start found no memory. */
ww_status ww__text_status(const ww__text *text, ww_error *err);

/* What is there so far, "" when nothing is. */
const char *ww__text_string(const ww__text *text);

void ww__text_release(ww__text *text);

/* Whether two strings are the same; NULL is "". */
bool ww__text_same(const char *a, const char *b);

#endif
