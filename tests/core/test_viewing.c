/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"

#include <math.h>
#include <wedgework/viewing.h>

/* Computed from the formula of CIE 15 by another program; three decimals. The formula changes at D
 * 2.05274, where L* is 8. */
static void lightness(void **state) {
    (void)state;
    static const double rows[][2] = {
        {0.00, 100.000}, {0.04, 96.493},   {0.05, 95.633},   {0.10, 91.430}, {0.15, 87.385},
        {0.20, 83.493},  {0.25, 79.747},   {0.30, 76.142},   {0.40, 69.335}, {0.50, 63.030},
        {0.60, 57.191},  {0.70, 51.784},   {0.7447, 49.497}, {0.80, 46.776}, {0.90, 42.138},
        {1.00, 37.842},  {1.10, 33.864},   {1.20, 30.180},   {1.30, 26.769}, {1.40, 23.609},
        {1.50, 20.682},  {1.60, 17.972},   {1.70, 15.462},   {1.80, 13.138}, {1.90, 10.985},
        {2.00, 8.991},   {2.05274, 8.000}, {2.10, 7.175},    {2.30, 4.527},  {2.50, 2.856},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double back = -7;
        ww_error err = WW_ERROR_INIT;
        test_close("lightness", ww_viewing_lightness(rows[i][0]), rows[i][1], 6e-4);
        test_status("back", ww_viewing_density(ww_viewing_lightness(rows[i][0]), &back, &err),
                    WW_OK, &err);
        test_close("back", back, rows[i][0], 1e-12);
    }
}

static void density(void **state) {
    (void)state;
    static const struct {
        double lightness;
        ww_status status;
        double density;
    } rows[] = {
        {50, WW_OK, 0.734742},      {95, WW_OK, 0.057405}, {16, WW_OK, 1.677924},
        {0, WW_EDOMAIN, -7},        {-3, WW_EDOMAIN, -7},  {(double)NAN, WW_EDOMAIN, -7},
        {HUGE_VAL, WW_EDOMAIN, -7},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double found = -7;
        ww_error err = WW_ERROR_INIT;
        test_status("density", ww_viewing_density(rows[i].lightness, &found, &err), rows[i].status,
                    &err);
        test_close("density", found, rows[i].density, 6e-7);
    }
}

/* Closed form, computed by another program. */
static void veil(void **state) {
    (void)state;
    static const double rows[][3] = {
        {1.0, 0.010, 0.9629}, {1.5, 0.010, 1.3850}, {2.0, 0.010, 1.7033}, {2.3, 0.010, 1.8279},
        {2.0, 0.005, 1.8261}, {2.0, 0.020, 1.5315}, {0.0, 0.010, 0.0},    {1.731, 0.0, 1.731},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        test_close("veil", ww_viewing_veil(rows[i][0], rows[i][1]), rows[i][2], 6e-5);
    test_close("half a percent", ww_viewing_veils[0], 0.005, 0.0);
    test_close("one percent", ww_viewing_veils[1], 0.010, 0.0);
}

static void regions(void **state) {
    (void)state;
    static const struct {
        double above;
        const char *word;
    } rows[] = {{-0.02, "light"},  {0.299, "light"}, {0.30, "middle"},
                {0.731, "middle"}, {1.00, "middle"}, {1.001, "dark"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        test_text("region", ww_viewing_region_word(ww_viewing_region(rows[i].above)), rows[i].word);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lightness),
        cmocka_unit_test(density),
        cmocka_unit_test(veil),
        cmocka_unit_test(regions),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
