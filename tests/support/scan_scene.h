/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_SCAN_SCENE_H
#define WEDGEWORK_TESTS_SCAN_SCENE_H

#include "support/emulsion.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * Scans that were never made, for the demonstration and the golden runs. A scene is a text of one
 * thing a line, `#` begins a comment; places in pixels from the top left corner, angles in degrees,
 * turned clockwise as seen, densities as the scanner's light meets them. What comes later lies on
 * top: it takes the place of what was there.
 *
 *   size WIDTH HEIGHT          (first of all)
 *   channels 1|3               grey, or red, green and blue
 *   factors R G B              densities of the channels are so many times those given
 *   seed N
 *   bits 8|16
 *   scanner K FLARE DARK GAMMA code / greatest = (dark + k (10^-D + flare))^(1/gamma)
 *   noise READ SHOT FIXED      variance of a pixel as light: read^2 + shot^2 L + (fixed L)^2, where
 *                              L is the light beyond dark
 *   blur PX                    by which light runs from pixel to pixel
 *   resolution PX_PER_MM
 *   glass DENSITY
 *   box X Y LENGTH BREADTH ANGLE DENSITY         X, Y: its middle
 *   fade X Y LENGTH BREADTH ANGLE FROM TO        density changes along LENGTH
 *   disc X Y RADIUS DENSITY
 *   strip X Y LENGTH BREADTH ANGLE DENSITY ...   steps of equal width along LENGTH
 *   uneven X Y LENGTH BREADTH ANGLE WIDTH DENSITY ...   steps of widths that share LENGTH
 *   dust N                     specks of 1 to 3 px, thrown over all that lies there
 *   hairs N
 *   scratches N                hair lines, lighter by 0.3 D
 */
typedef struct scan_scene {
    size_t width, height, channels;
    unsigned bits;
    double factor[3];
    double k, flare, dark, gamma;
    double read, shot, fixed;
    double blur, px_per_mm;
    double *density; /* plane, finer than the pixels: scan_scene_fine() each way */
    dice d;
} scan_scene;

/* A scene from its text; false after a line on standard error. */
bool scan_scene_read(const char *path, scan_scene *scene);
void scan_scene_release(scan_scene *scene);

/* What scan_scene_read draws with, in scan_draw.c. Fine pixels a pixel: */
enum { SCAN_FINE = 3 };
void scan_draw_fill(scan_scene *s, double density);
/* n densities in steps of equal width along the length; n = 2 and fade: from the one to the
 * other. */
void scan_draw_strip(scan_scene *s, const double box[5], const double density[], size_t n,
                     bool fade);
/* n pairs of a relative width and a density. */
void scan_draw_uneven(scan_scene *s, const double box[5], const double pair[], size_t n);
void scan_draw_disc(scan_scene *s, double x, double y, double radius, double density);
void scan_draw_dust(scan_scene *s, size_t n);
void scan_draw_hairs(scan_scene *s, size_t n, bool scratches);

/* The codes of a row, channels side by side. */
void scan_draw_row(scan_scene *s, size_t y, uint16_t code[]);

#endif
