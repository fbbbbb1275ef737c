/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"

#include "refs/ciede2000.h"
#include <lcms2.h>
#include <math.h>
#include <stdio.h>
#include <wedgework/colour.h>

static void published_pairs(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof ref_ciede2000 / sizeof ref_ciede2000[0]; i++) {
        const double *r = ref_ciede2000[i];
        const ww_lab one = {r[0], r[1], r[2]}, other = {r[3], r[4], r[5]};
        char row[32];
        snprintf(row, sizeof row, "pair %zu", i + 1);
        test_close(row, ww_colour_de2000(one, other), r[6], 5.1e-5);
        test_close(row, ww_colour_de2000(other, one), r[6], 5.1e-5);
        test_close(row, ww_colour_de2000(one, one), 0.0, 1e-12);
    }
}

static void of_screen(void **state) {
    (void)state;
    /*
     * D50 itself is the origin (definition). D65 unadapted under D50: XYZ 95.047, 100, 108.883 over
     * 96.422, 100, 82.521 (CIE 15 tables), by hand: a* = 500 (0.98574^(1/3) - 1) = -2.388,
     * b* = 200 (1 - 1.31946^(1/3)) = -19.362. A fifth of white by hand: L* = 116 0.2^(1/3) - 16.
     */
    static const struct {
        const char *name;
        double luminance, white, x, y;
        ww_status status;
        double l, a, b, tolerance;
    } rows[] = {
        {"D50", 120, 120, 0.34567, 0.35850, WW_OK, 100, 0, 0, 0.05},
        {"D65", 120, 120, 0.31272, 0.32903, WW_OK, 100, -2.388, -19.362, 0.05},
        {"fifth", 24, 120, 0.34567, 0.35850, WW_OK, 51.837, 0, 0, 0.03},
        {"black", 0, 120, 0.3, 0.3, WW_OK, 0, 0, 0, 1e-9},
        {"no y", 24, 120, 0.3, 0, WW_EDOMAIN, -7, -7, -7, 0},
        {"x + y over 1", 24, 120, 0.7, 0.4, WW_EDOMAIN, -7, -7, -7, 0},
        {"x below 0", 24, 120, -0.1, 0.4, WW_EDOMAIN, -7, -7, -7, 0},
        {"NaN", 24, 120, (double)NAN, 0.4, WW_EDOMAIN, -7, -7, -7, 0},
        {"below 0", -1, 120, 0.3, 0.3, WW_EDOMAIN, -7, -7, -7, 0},
        {"no white", 1, 0, 0.3, 0.3, WW_EDOMAIN, -7, -7, -7, 0},
        {"endless", HUGE_VAL, 120, 0.3, 0.3, WW_EDOMAIN, -7, -7, -7, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_lab lab = {-7, -7, -7};
        ww_error err = WW_ERROR_INIT;
        test_status(
            rows[i].name,
            ww_colour_of_screen(rows[i].luminance, rows[i].white, rows[i].x, rows[i].y, &lab, &err),
            rows[i].status, &err);
        test_close(rows[i].name, lab.l, rows[i].l, rows[i].tolerance);
        test_close(rows[i].name, lab.a, rows[i].a, rows[i].tolerance);
        test_close(rows[i].name, lab.b, rows[i].b, rows[i].tolerance);
    }
}

static void temperature(void **state) {
    (void)state;
    /* CIE 15: chromaticities of standard illuminants with their correlated temperatures. */
    static const struct {
        const char *name;
        double x, y;
        ww_status status;
        double kelvin, tolerance;
    } rows[] = {
        {"D50", 0.34567, 0.35850, WW_OK, 5003, 50}, {"D65", 0.31272, 0.32903, WW_OK, 6504, 65},
        {"D75", 0.29902, 0.31485, WW_OK, 7504, 75}, {"green", 0.2, 0.7, WW_ENODATA, -7, 0},
        {"none", 0.3, 0.0, WW_ENODATA, -7, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double kelvin = -7;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].name, ww_colour_temperature(rows[i].x, rows[i].y, &kelvin, &err),
                    rows[i].status, &err);
        test_close(rows[i].name, kelvin, rows[i].kelvin, rows[i].tolerance);
    }
}

/* Another's way to the same codes: little CMS's own sRGB profile (curve: IEC 61966-2-1). */
static void light(void **state) {
    (void)state;
    static const ww_lab rows[] = {{100, 0, 0}, {96.2, 0.4, 5.1}, {93.0, -0.8, 3.2},
                                  {50, 2, -6}, {12.3, 0.5, 1.1}, {71, -20, 31}};
    cmsHPROFILE lab = cmsCreateLab4Profile(NULL), srgb = cmsCreate_sRGBProfile();
    cmsHTRANSFORM other = cmsCreateTransform(lab, TYPE_Lab_DBL, srgb, TYPE_RGB_DBL,
                                             INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const cmsCIELab in = {rows[i].l, rows[i].a, rows[i].b};
        double coded[3], made[3];
        cmsDoTransform(other, &in, coded, 1);
        ww_colour_light(rows[i], made);
        for (int c = 0; c < 3; c++) {
            const double v = fmin(made[c], 1.0);
            const double code = v > 0.0031308 ? 1.055 * pow(v, 1.0 / 2.4) - 0.055 : 12.92 * v;
            test_close("code", 255.0 * code, 255.0 * coded[c], 1.0);
        }
    }
    cmsDeleteTransform(other);
    cmsCloseProfile(lab);
    cmsCloseProfile(srgb);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(light),
        cmocka_unit_test(published_pairs),
        cmocka_unit_test(of_screen),
        cmocka_unit_test(temperature),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
