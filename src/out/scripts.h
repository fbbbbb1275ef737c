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

#endif
