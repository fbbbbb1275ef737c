/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_BASE_ESCAPE_H
#define WEDGEWORK_BASE_ESCAPE_H

#include "base/text.h"

/*
 * Text from outside on its way into a document. In each, bytes that are not UTF-8 become U+FFFD,
 * and so do control characters unless the text says otherwise.
 */

/* A complete gnuplot string 'in single quotes'. A quote inside becomes a typographic one (U+2019);
 * control characters, line ends too, become spaces. */
void ww__escape_gnuplot(ww__text *text, const char *string);

/* For HTML text and quoted attribute values. Tab and line ends stay. */
void ww__escape_html(ww__text *text, const char *string);

/* One cell of comma-, semicolon- or tab-separated text, quoted where it must be. Control
 * characters, line ends too, become spaces. */
void ww__escape_csv(ww__text *text, const char *string);

/* For a terminal or a plain text: control characters, line ends too, become spaces. */
void ww__escape_terminal(ww__text *text, const char *string);

/*
 * For quoting in a message: at most 40 characters, then "..."; control characters and bytes that
 * are not UTF-8 become '?'. Needs no memory. Size is at least 8. The return value is shown.
 */
char *ww__escape_message(const char *string, char shown[], size_t size);

#endif
