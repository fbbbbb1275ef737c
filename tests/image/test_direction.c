/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/direction.h"
#include "support/support.h"
#include <math.h>

/* Source of all: definition (light falls with density), by hand. */
enum { MOST = 12 };

static const struct {
    const char *name;
    size_t n;
    double density[MOST];
    double level[MOST];
    ww__direction want;
} rows[] = {
    {"forward", 4, {0.05, 0.3, 0.6, 1.1}, {0.9, 0.5, 0.25, 0.08}, WW__DIRECTION_FORWARD},
    {"reversed", 4, {0.05, 0.3, 0.6, 1.1}, {0.08, 0.25, 0.5, 0.9}, WW__DIRECTION_REVERSED},
    {"densest first", 4, {1.1, 0.6, 0.3, 0.05}, {0.9, 0.5, 0.25, 0.08}, WW__DIRECTION_REVERSED},
    {"one density unknown",
     4,
     {0.05, (double)NAN, 0.6, 1.1},
     {0.08, 0.25, 0.5, 0.9},
     WW__DIRECTION_REVERSED},
    {"a step out of order in the noise",
     8,
     {0.05, 0.3, 0.6, 0.9, 1.2, 1.5, 2.9, 3.2},
     {0.9, 0.5, 0.25, 0.12, 0.06, 0.03, 0.0011, 0.0012},
     WW__DIRECTION_FORWARD},
    {"all alike", 4, {0.4, 0.4, 0.42, 0.41}, {0.9, 0.5, 0.25, 0.08}, WW__DIRECTION_ALIKE},
    {"nothing known",
     3,
     {(double)NAN, (double)NAN, (double)NAN},
     {0.9, 0.5, 0.25},
     WW__DIRECTION_ALIKE},
    {"both ends alike",
     5,
     {0.1, 0.5, 0.9, 0.5, 0.1},
     {0.8, 0.3, 0.1, 0.3, 0.8},
     WW__DIRECTION_ALIKE},
    {"a valley, not a stair",
     5,
     {0.1, 0.5, 0.9, 0.5, 0.1},
     {0.8, 0.6, 0.4, 0.2, 0.1},
     WW__DIRECTION_NEITHER},
    {"shuffled", 5, {0.9, 0.1, 1.3, 0.5, 0.2}, {0.8, 0.6, 0.4, 0.2, 0.1}, WW__DIRECTION_NEITHER},
    {"most clipped at code 0",
     8,
     {0.05, 0.3, 0.6, 0.9, 1.2, 1.5, 2.9, 3.2},
     {0.9, 0.5, 0.25, 0.0, 0.001, 0.0, 0.0, 0.0},
     WW__DIRECTION_FORWARD},
    {"some clipped at each end",
     7,
     {0.05, 0.3, 0.6, 0.9, 1.2, 1.5, 2.9},
     {0.0, 0.0, 0.0, 0.3, 1.0, 1.0, 0.9985},
     WW__DIRECTION_REVERSED},
    {"clipped where it is thin",
     5,
     {0.05, 0.3, 0.6, 0.9, 1.2},
     {0.0, 0.0, 0.5, 1.0, 0.3},
     WW__DIRECTION_NEITHER},
    {"levels alike", 3, {0.1, 0.5, 0.9}, {0.4, 0.4, 0.4}, WW__DIRECTION_NEITHER},
};

static void finds_the_way_round(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        test_true(rows[i].name, ww__direction_find(rows[i].density, rows[i].level, rows[i].n,
                                                   0.5 / 255.0) == rows[i].want);
}

static void counts_what_is_clipped(void **state) {
    static const double level[] = {0.0, 0.0019, 0.002, 0.5, 0.9979, 0.9981, 1.0, 1.2};
    size_t clipped[2];
    (void)state;
    ww__direction_clipped(level, 8, 0.5 / 255.0, clipped);
    test_true("within half a code of 0 and of 255", clipped[0] == 2 && clipped[1] == 3);
    ww__direction_clipped(level, 8, 0.0, clipped);
    test_true("floating point", clipped[0] == 1 && clipped[1] == 2);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(finds_the_way_round),
                                       cmocka_unit_test(counts_what_is_clipped)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
