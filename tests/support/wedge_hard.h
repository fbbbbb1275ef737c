/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_WEDGE_HARD_H
#define WEDGEWORK_TESTS_WEDGE_HARD_H

#include "support/wedge_picture.h"

/* Strips of 21 steps, some of which no code tells apart. own: room for their densities. */
typedef void wedge_filled(wedge_scene *s, uint64_t seed, double own[21]);

wedge_filled wedge_masked_film, wedge_eight_bits, wedge_on_paper, wedge_on_white_paper;

/* Whole scenes, turned up to 8 degrees, with dust, hairs and flare. */
typedef wedge_scene wedge_made(uint64_t seed, double own[21]);
wedge_made wedge_few_steps;     /* 5 to 9, of 0.25 to 0.5 each */
wedge_made wedge_test_strip;    /* 5 to 9, along a paper's curve */
wedge_made wedge_on_hard_paper; /* 11, many white and many black */
wedge_made wedge_on_clear_base; /* 21, the first merge with the film around them */

#endif
