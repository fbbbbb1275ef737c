/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_SCRIPTS_H
#define WEDGEWORK_OUT_SCRIPTS_H

#include <stddef.h>

/*
 * The gnuplot scripts of plots, compiled in so that the program runs from anywhere. `name` is the
 * file's name without ".gp". The Makefile writes the table.
 */
struct ww__plot_script {
    const char *name;
    const char *text;
};

extern const struct ww__plot_script ww__plot_scripts[];
extern const size_t ww__plot_scripts_count;

/*
 * The scripts that pages carry, NAME.js beside the sources. `hash` is the source expression by
 * which a page's Content-Security-Policy lets this script run, and no other: sha256-..., of the
 * text as it stands between the tags, in base64 (Content Security Policy Level 3, hash-source). The
 * Makefile works it out, so that the program need not.
 */
struct ww__page_script {
    const char *name;
    const char *text;
    const char *hash;
};

extern const struct ww__page_script ww__page_scripts[];
extern const size_t ww__page_scripts_count;

#endif
