/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_BASE_LOCALE_H
#define WEDGEWORK_BASE_LOCALE_H

#include <locale.h>

/*
 * The calling thread reads and writes numbers with '.' between ww__locale_plain and
 * ww__locale_restore, whatever the program has set. Other threads notice nothing.
 */
typedef struct ww__locale {
    locale_t plain;
    locale_t before;
} ww__locale;

ww__locale ww__locale_plain(void);
void ww__locale_restore(ww__locale locale);

#endif
