/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_PAGE_H
#define WEDGEWORK_OUT_PAGE_H

#include "base/text.h"
#include "out/report.h"
#include "out/scripts.h"

/*
 * What the pages of all commands share. A page is made of a result and its inputs; page.c sets them
 * as one HTML document that takes nothing from anywhere else, needs no script, prints on A4 or A5,
 * and can be read on a dim red screen. A page may carry sliders besides, which a script moves: they
 * are for a screen alone, and hidden until that script shows them.
 */
typedef struct ww__sliders {
    const struct ww__page_script *script;
    ww__text section; /* HTML of what is shown */
    ww__text curves;  /* JSON that the script reads: numbers, and no word from outside */
} ww__sliders;

#define WW__SLIDERS_INIT                                                                           \
    { NULL, WW__TEXT_INIT, WW__TEXT_INIT }

typedef struct ww__page {
    const char *title;
    ww__report *result, *inputs;
    ww__report *working; /* see working.h; NULL: none */
    char *svg;           /* the plot; NULL where there is none, and then why: */
    ww_error no_plot;
    ww__text
        *card; /* HTML of a card for the darkroom's wall, printed on a sheet of its own; NULL or
                       empty where the result is no recipe */
    ww__sliders *sliders; /* NULL: none */
} ww__page;

/* Reports, plot, card and sliders are released. *no_plot (NULL: nobody asks) is the page's where it
 * is written. */
ww_status ww__page_write(const ww__page *page, const char *path, ww_error *no_plot, ww_error *err);

/* A row of a table of keys and values; none where nothing is said. */
void ww__page_fact(ww__report *report, const char *key, const char *value);
void ww__page_number(ww__report *report, const char *key, ww_optional number, const char *unit);

/* What was read: all that a file says of itself, and the tones of a picture. */
void ww__page_meta(const ww_meta *meta, const char *title, ww__report *report);
void ww__page_readings(const ww_readings *readings, const char *title, ww__report *report);

#endif
