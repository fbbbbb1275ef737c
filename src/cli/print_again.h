/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_PRINT_AGAIN_H
#define WEDGEWORK_CLI_PRINT_AGAIN_H

#include "cli/options.h"
#include <wedgework/print_recipe.h>
#include <wedgework/print_result.h>

/*
 * What --recipe and --result add to `print`: a stored request that the command line overrides, and
 * a print whose miss corrects the next plan.
 */
typedef struct ww__print_again {
    bool given; /* --recipe */
    ww_print_recipe recipe;
    ww_print_miss miss;
    ww_print_offset *offset; /* with what the print taught */
    size_t n_offsets;
    ww_notes notes; /* for the plan */
} ww__print_again;

#define WW__PRINT_AGAIN_INIT                                                                       \
    { .recipe = WW_PRINT_RECIPE_INIT }

void ww__print_again_release(ww__print_again *again);

/* Reads --recipe, and puts its request where the command line's goes. */
ww_status ww__print_again_read(const ww_arguments *arguments, ww__print_again *again,
                               ww_print_request *request, ww_error *err);

/*
 * Two sizes, or two apertures. With a recipe the second alone says what shall be; what its papers
 * or test print were exposed at stands, and is contradicted only together with them. Status WW_OK;
 * WW_EUSAGE
 */
ww_status ww__print_again_pair(const ww_arguments *arguments, const ww__print_again *again,
                               const char *const option[2], ww_optional *from, ww_optional *to,
                               ww_error *err);

/* A note names the recipe's placings that those of --place drop. */
ww_status ww__print_again_places(const ww_arguments *arguments, ww__print_again *again,
                                 const ww_print_request *request, ww_error *err);

/* The recipe's test prints, where they still hold and --test gives no others. */
ww_status ww__print_again_tests(const ww_arguments *arguments, ww__print_again *again,
                                ww_print_request *request, ww_error *err);

/* Reads --result, explains it by the plan that it was made to, and learns from it. */
ww_status ww__print_again_learn(const ww_arguments *arguments, ww__print_again *again,
                                ww_print_request *request, ww_error *err);

/* Gives the plan what is known of the last print, and the notes. */
ww_status ww__print_again_tell(ww__print_again *again, ww_print_plan *plan, ww_error *err);

#endif
