/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_PRINT_RECIPE_PARTS_H
#define WEDGEWORK_IO_PRINT_RECIPE_PARTS_H

#include "io/json.h"
#include <stdbool.h>
#include <stddef.h>
#include <wedgework/print.h>
#include <wedgework/print_result.h>

enum { WW__PRINT_PLAN_VERSION = 1 };

/* The keys of a plan, into an object that is open. */
void ww__print_plan_file_put(ww__json_writer *writer, const ww_print_plan *plan);

/* How the last print came out, as an object; null where it is NULL. */
void ww__print_miss_file_put(ww__json_writer *writer, const char *key, const ww_print_miss *miss);

/* One entry of what prints taught. */
void ww__print_recipe_put_offset(ww__json_writer *writer, const char *key,
                                 const ww_print_offset *offset);

/* The numbers of a request: their key, where they lie in it and what they may be. */
typedef struct ww__print_recipe_number {
    const char *key;
    size_t offset;
    bool optional; /* a ww_optional, else a double */
    double low, high;
} ww__print_recipe_number;

const ww__print_recipe_number *ww__print_recipe_numbers(size_t *n);

#endif
