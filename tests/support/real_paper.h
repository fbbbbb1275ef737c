/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_REAL_PAPER_H
#define WEDGEWORK_TESTS_REAL_PAPER_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/curve.h>

/* A paper's curve as digitised from its maker's data sheet, in the outside data. */
enum { REAL_PAPER_MOST = 64 };
typedef struct real_paper {
    double log_h[REAL_PAPER_MOST], density[REAL_PAPER_MOST];
    size_t n;
} real_paper;

/* A channel of its: "vis", "r", "g", "b". False where it is not here. */
bool real_paper_read(const char *name, const char *channel, real_paper *p);

/* The program's curve of its points, in seconds; the lightest stands for white. Release it. */
void real_paper_fit(const real_paper *p, ww_curve *curve);

/* The paper itself: straight from point to point. */
double real_paper_density(const real_paper *p, double log_h);

#endif
