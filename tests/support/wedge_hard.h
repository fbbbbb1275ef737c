/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_WEDGE_HARD_H
#define WEDGEWORK_TESTS_WEDGE_HARD_H

#include "support/wedge_picture.h"

/* Strips of 21 steps, some of which no code tells apart. own: room for their densities. */
typedef void wedge_filled(wedge_scene *s, uint64_t seed, double own[21]);

wedge_filled wedge_masked_film, wedge_eight_bits, wedge_on_paper, wedge_on_white_paper;

#endif
