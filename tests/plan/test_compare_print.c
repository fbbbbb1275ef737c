/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/compare_case.h"
#include <math.h>

/* Source: closed forms of the case, viewing flare computed by another program. */

/* D = 0.10 + 2 s: its gradient is 2 D over the scale, between any two of its densities. */
static void of_a_straight_scale(void **state) {
    (void)state;
    double density[11];
    for (size_t i = 0; i < 11; i++)
        density[i] = 0.10 + 0.2 * (double)i;
    ww_readings print = compare_case_scale("Straight", WW_COLUMN_VISUAL, density, 11);
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_two(&print, &print, NULL, &made);
    const ww_compare_print *p = &made.print[0];
    test_close("white", p->white.value, 0.10, 1e-12);
    test_close("black", p->black.value, 2.10, 1e-12);
    test_close("range", p->range.value, 2.00, 1e-12);
    /* two readings of 0.01: 1.96 * 0.01 * sqrt 2 */
    test_close("its doubt", p->range.high - p->range.value, 0.02772, 1e-5);
    test_close("gradient", p->gradient.value, 2.0, 1e-9);
    /* ends lie halfway between two readings: each 0.01 / sqrt 2 over a slope of 2, run 0.5 */
    test_close("its doubt", p->gradient.high - p->gradient.value, 1.96 * 2.0 * 0.005 / 0.5, 1e-4);
    ww_comparison_release(&made);
    ww_readings_release(&print);
}

static void in_a_room(void **state) {
    (void)state;
    static const double density[] = {0.0, 1.0, 2.0};
    ww_readings print = compare_case_scale("Veiled", WW_COLUMN_VISUAL, density, 3);
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_two(&print, &print, NULL, &made);
    test_close("0.5 %", made.print[0].seen[0].black, 1.8261, 6e-5);
    test_close("1 %", made.print[0].seen[1].black, 1.7033, 6e-5);
    test_close("range", made.print[0].seen[1].range, 1.7033, 6e-5);
    ww_comparison_release(&made);
    ww_readings_release(&print);
}

/* Red leaves green by 0.05 more than at white in the fourth step, blue by 0.02 in the second. */
static void hue_through_the_scale(void **state) {
    (void)state;
    static const double green[] = {0.08, 0.5, 1.0, 1.6}, red[] = {0.10, 0.52, 1.03, 1.67},
                        blue[] = {0.07, 0.47, 0.99, 1.58};
    ww_readings print = compare_case_scale("Colour", WW_COLUMN_GREEN, green, 4);
    for (size_t i = 0; i < print.n; i++) {
        made_value(&print, &print.row[i], WW_COLUMN_RED, red[i > 0 ? i - 1 : 0]);
        made_value(&print, &print.row[i], WW_COLUMN_BLUE, blue[i > 0 ? i - 1 : 0]);
    }
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_two(&print, &print, NULL, &made);
    const ww_compare_drift *drift = made.print[0].drift;
    test_close("red", drift[WW_COMPARE_RED_GREEN].value, 0.05, 1e-12);
    test_text("at", made.print[0].tone[drift[WW_COMPARE_RED_GREEN].at].label, "4");
    test_close("blue", drift[WW_COMPARE_BLUE_GREEN].value, -0.02, 1e-12);
    test_text("at", made.print[0].tone[drift[WW_COMPARE_BLUE_GREEN].at].label, "2");
    test_close("four readings", drift[0].half, 1.96 * 0.02, 1e-4);
    ww_comparison_release(&made);
    ww_readings_release(&print);
}

/* Source: the definition of CIELAB. White has L* 84 and so (L* + 16) of 100, the grey 50: of a* 4
 * and b* -2 it has 2 and -1, and what it has besides is drift. */
static void hue_in_cielab(void **state) {
    (void)state;
    static const double density[] = {0.2, 0.9};
    ww_readings print = compare_case_scale("Colour", WW_COLUMN_VISUAL, density, 2);
    for (size_t i = 0; i < 2; i++)
        compare_case_lab(&print, i, 84.0, 4.0, -2.0);
    compare_case_lab(&print, 2, 34.0, 5.1, -1.0);
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_two(&print, &print, NULL, &made);
    const ww_compare_drift *drift = made.print[0].drift;
    test_close("a*", drift[WW_COMPARE_A].value, 3.1, 1e-12);
    test_text("at", made.print[0].tone[drift[WW_COMPARE_A].at].label, "2");
    test_close("3 sd of two readings of 0.2", drift[WW_COMPARE_A].half, 0.8485, 1e-4);
    test_close("b*", drift[WW_COMPARE_B].value, 0.0, 1e-12);
    test_true("none of densities", !drift[WW_COMPARE_RED_GREEN].there);
    ww_comparison_release(&made);
    ww_readings_release(&print);
}

static void flat(void **state) {
    (void)state;
    static const double density[] = {0.5, 0.5, 0.5}, slight[] = {0.5, 0.5, 0.51};
    ww_readings print = compare_case_scale("Level", WW_COLUMN_VISUAL, density, 3);
    ww_readings other = compare_case_scale("Slope", WW_COLUMN_VISUAL, slight, 3);
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_two(&print, &other, NULL, &made);
    test_true("told", test_noted(&made.notes, "'Level' is flat: 0.50 D (visual) in every grey."));
    test_true("0.01 D is something", !test_noted(&made.notes, "'Slope' is flat"));
    ww_comparison_release(&made);
    ww_readings_release(&print);
    ww_readings_release(&other);
}

static void without_a_base_row(void **state) {
    (void)state;
    static const double density[] = {0.3, 0.06, 1.4};
    ww_readings print = WW_READINGS_INIT, none = WW_READINGS_INIT;
    ww_comparison made = WW_COMPARISON_INIT;
    for (size_t i = 0; i < 3; i++) {
        made_step(&print, (const char *[]){"grey", "paper", "black"}[i], WW_COLUMN_VISUAL,
                  density[i]);
        made_step(&none, "1", WW_COLUMN_GRAY, 10.0);
    }
    compare_case_two(&print, &print, NULL, &made);
    test_close("white", made.print[0].white.value, 0.06, 1e-12);
    test_close("black", made.print[0].black.value, 1.4, 1e-12);
    test_true("no gradient", !ww_quantity_present(made.print[0].gradient));
    test_true("told", test_noted(&made.notes, "its lightest tone, 'paper'"));
    compare_case_refuses("nothing read", &print, &none, WW_ENODATA, "neither a density");
    made_value(&none, &none.row[0], WW_COLUMN_CYAN, 20.0);
    made_value(&none, &none.row[0], WW_COLUMN_VISUAL, 0.4);
    compare_case_refuses("no grey", &print, &none, WW_ENODATA, "no grey");
    ww_comparison_release(&made);
    ww_readings_release(&print);
    ww_readings_release(&none);
}

/* L* of a display's white need not be 100: half of its light is 0.30 above it all the same. */
static void display_by_lightness(void **state) {
    (void)state;
    ww_readings screen = WW_READINGS_INIT;
    ww_comparison made = WW_COMPARISON_INIT;
    screen.meta.material = WW_MATERIAL_SCREEN;
    compare_case_lab(&screen, (made_row(&screen, "1", ""), 0), ww_viewing_lightness(0.02), 0, -9);
    compare_case_lab(&screen, (made_row(&screen, "2", ""), 1), ww_viewing_lightness(0.32103), 0,
                     -9);
    compare_case_two(&screen, &screen, NULL, &made);
    test_close("range", made.print[0].range.value, 0.30103, 1e-9);
    test_close("white", made.print[0].white.value, 0.02, 1e-9);
    test_true("above white", made.pair[0].above_white);
    ww_comparison_release(&made);
    ww_readings_release(&screen);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(of_a_straight_scale),
        cmocka_unit_test(in_a_room),
        cmocka_unit_test(hue_through_the_scale),
        cmocka_unit_test(without_a_base_row),
        cmocka_unit_test(display_by_lightness),
        cmocka_unit_test(hue_in_cielab),
        cmocka_unit_test(flat),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
