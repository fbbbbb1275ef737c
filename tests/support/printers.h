/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_PRINTERS_H
#define WEDGEWORK_TESTS_PRINTERS_H

#include <stddef.h>
#include <wedgework/ramp.h>

/* Invented printers whose response is known in closed form. */
typedef enum printer {
    PRINTER_DOTS,  /* dots that gain, by Murray and Davies, on warm rag: white 0.07, black 1.62 */
    PRINTER_LIGHT, /* light of value^2.2 over a veil: white 0.05, black 2.15 */
    PRINTER_PAPER, /* a paper's S: 0.09 to 2.21 */
    PRINTER_STEEP, /* as ink^0.7, for little of it spreads far: 0.06 to 1.96 */
    PRINTER_FLOOD, /* to its most, 1.70, at 78 % of ink, then down by 0.12: white 0.08 */
    PRINTER_COUNT
} printer;

extern const char *const printer_name[PRINTER_COUNT];

/* Density at a drive, 0 bare paper to 1. */
double printer_density(printer which, double drive);

/* A table of n greys, evenly from white to black, each read once with an error of `noise` (1 sd);
 * drives that are sent are those of the table, or `sent` of them (NULL). Release it. */
ww_readings printer_read(printer which, ww_ramp ramp, size_t n, double noise, unsigned seed,
                         double (*sent)(void *of, double drive), void *of);

/* A normal deviate, mean 0 and sd 1. */
double printer_noise(unsigned *seed);

#endif
