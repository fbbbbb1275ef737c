/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_made.h"
#include "image/texture_squares.h"
#include "support/support.h"
#include <math.h>

enum { SIDE = 64 };

/* Closed forms: +1 and -1 as on a board of 2 x 2 px have means of 1; of 4 x 4, of 0. */
static void boards(void **state) {
    (void)state;
    static double density[SIDE * SIDE];
    static bool counts[SIDE * SIDE];
    ww__texture_squares found;
    for (size_t i = 0; i < SIDE * SIDE; i++) {
        density[i] = (i % SIDE / 2 + i / SIDE / 2) % 2 ? 1.0 : -1.0;
        counts[i] = true;
    }
    test_status("2", ww__texture_squares_read(density, counts, SIDE, SIDE, 2, &found, NULL), WW_OK,
                NULL);
    test_close("squares", (double)found.n, 1024, 0);
    test_close("sd", found.sd, sqrt(1024.0 / 1023.0), 1e-12);
    test_status("4", ww__texture_squares_read(density, counts, SIDE, SIDE, 4, &found, NULL), WW_OK,
                NULL);
    test_close("averaged out", found.sd, 0.0, 1e-12);
    for (size_t i = 0; i < SIDE * SIDE / 2; i++)
        counts[i] = false;
    test_status("half", ww__texture_squares_read(density, counts, SIDE, SIDE, 2, &found, NULL),
                WW_OK, NULL);
    test_close("half of them", (double)found.n, 512, 0);
}

/* Deviates that know nothing of each other are all independent; each doubled to 2 x 2 px, a
 * pixel's r are 1/2 beside and 1/4 askew on average: sum 1 + 4/4 + 4/16 = 9/4. */
static void neighbours(void **state) {
    (void)state;
    static double density[SIDE * SIDE];
    static bool counts[SIDE * SIDE];
    ww__texture_squares found;
    uint64_t seed = made_seed(77);
    for (size_t i = 0; i < SIDE * SIDE; i++) {
        density[i] = made_normal(&seed);
        counts[i] = true;
    }
    test_status("free", ww__texture_squares_read(density, counts, SIDE, SIDE, 1, &found, NULL),
                WW_OK, NULL);
    test_close("all", found.independent / (double)found.n, 1.0, 0.05);
    for (size_t i = 0; i < SIDE * SIDE; i++)
        density[i] = density[i / SIDE / 2 * 2 * SIDE + i % SIDE / 2 * 2];
    test_status("doubled", ww__texture_squares_read(density, counts, SIDE, SIDE, 1, &found, NULL),
                WW_OK, NULL);
    test_close("fewer", found.independent / (double)found.n, 4.0 / 9.0, 0.06);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(boards), cmocka_unit_test(neighbours)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
