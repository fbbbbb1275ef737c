/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_WEDGE_DRAW_H
#define WEDGEWORK_TESTS_WEDGE_DRAW_H

#include "support/wedge_picture.h"

/* What wedge_picture.c and wedge_none.c draw with. */
#define WEDGE_OPEN_LIGHT 0.9 /* code of open light, as a share of full scale */
/* Densities of a wedge are not quite alike in the three channels. */
#define WEDGE_CHANNEL_FACTORS                                                                      \
    { 1.0, 1.04, 0.97 }

/* Density over the glass, the plane that everything is drawn on. */
typedef struct wedge_glass {
    size_t width, height;
    double *density;
    bool *film; /* where the base of a film lies; NULL: nowhere */
} wedge_glass;

void wedge_draw_fill(wedge_glass *g, double density);
void wedge_draw_put(wedge_glass *g, double x, double y, double density);
void wedge_draw_box(wedge_glass *g, double x, double y, double half_x, double half_y, double angle,
                    double density);
void wedge_draw_slope(wedge_glass *g, double to, double angle);
void wedge_draw_writing(wedge_glass *g, dice *d, double x, double y, double wide, double high);
void wedge_draw_film_strip(wedge_glass *g, dice *d, double x, double y, double length,
                           double breadth);
void wedge_draw_clutter(wedge_glass *g, dice *d);

void wedge_draw_dirt(wedge_glass *g, const wedge_scene *s, dice *d);

/* The scan of a glass: flare, noise, bits, channels and gamma of the scene. */
ww_picture wedge_draw_picture(const wedge_glass *g, const wedge_scene *s, dice *d);

#endif
