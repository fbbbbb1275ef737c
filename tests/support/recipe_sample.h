/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_RECIPE_SAMPLE_H
#define WEDGEWORK_TESTS_RECIPE_SAMPLE_H

#include "support/print_case.h"
#include <wedgework/print_recipe.h>

/* A request with something of everything, invented. */
typedef struct recipe_sample {
    print_case c;
    ww_print_move move[2];
    ww_print_offset offset[2];
} recipe_sample;

void recipe_sample_start(recipe_sample *sample);

/* The document of a request without a plan; the test fails where there is none. Release it. */
char *recipe_sample_text(const ww_print_request *request);

#endif
