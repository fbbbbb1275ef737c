/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/grain.h"
#include "support/scan_case.h"
#include "support/support.h"
#include "support/wedge_picture.h"
#include <stdlib.h>

/*
 * Source: the header, by hand. Of 100 pixels with an sd of 130 codes, 120 of which are of uneven
 * light, halves give 4 x 50 / 10 = 20 by noise alone; a disc has 1.5 pi in place of 4. Nine others
 * of grain g make (16 + 9 g) / 10 of it; one that lies on an edge (900) does not count for itself.
 */
static void error_grows_with_grain(void **state) {
    static const struct {
        const char *name;
        size_t n;
        double radius, grain, own, noise, error;
    } rows[] = {
        {"one patch", 1, 0.0, 1.0, 1.0, 1.0, 20.0 * 4.0},
        {"one spot", 1, 6.0, 1.0, 1.0, 1.0, 15.0 * 3.14159265358979324 / 2.0 * 4.0},
        {"no grain", 10, 0.0, 1.0, 1.0, 1.0, 20.0 * 1.5811388300841898},
        {"less than none", 10, 0.0, -0.7, 1.0, 1.0, 20.0},
        {"grain", 10, 0.0, 38.0, 1.0, 1.0, 20.0 * 5.9833101206606365},
        {"on an edge", 10, 0.0, 1.0, 900.0, 1.0, 20.0 * 1.5811388300841898},
        {"the others are noisier", 10, 0.0, 38.0, 1.0, 1.26, 20.0 * 4.0},
        {"hardly noisier", 10, 0.0, 38.0, 1.0, 1.24, 20.0 * 5.9833101206606365},
    };
    ww_patch patch[10];
    (void)state;
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        const ww_measured m = {.patch = patch, .n = rows[r].n};
        const size_t measured = m.n - 1;
        for (size_t i = 0; i < m.n; i++) {
            const bool own = i == measured;
            const double times = own ? 4.0 : (double)(i + 1);
            patch[i] = (ww_patch){.n = 100, .radius = rows[r].radius};
            patch[i].channel[WW_VISUAL] =
                (ww_patch_channel){.code = 1000.0 * times,
                                   .sd = 32.5 * times * (own ? 1.0 : rows[r].noise),
                                   .uneven = 30.0 * times,
                                   .grain = own ? rows[r].own : rows[r].grain};
        }
        test_close(rows[r].name, ww__grain_drift_error(&m, measured, WW_VISUAL), rows[r].error,
                   1e-9);
    }
}

/* Patches without any noise tell of no grain, and have no error. */
static void what_does_not_differ_has_no_error(void **state) {
    ww_patch patch[3] = {{.n = 9}, {.n = 9}, {.n = 9}};
    const ww_measured m = {.patch = patch, .n = 3};
    (void)state;
    test_close("none", ww__grain_drift_error(&m, 1, WW_RED), 0.0, 0.0);
}

/* Strips of even light whose film has grain that makes some pixels alike (0.03 D), and one whose
 * light falls. By hand, over 1200 such strips of 11 to 21 steps, grey and colour, grain of 0 to
 * 0.03 D over 1 to 4 px: 2 had a false note, none of them that the light falls along the strip; nor
 * had one of 420 others, of 9 to 18 steps, turned by up to 4 degrees, with dust and hairs, that it
 * falls along or across. */
static void grain_is_no_uneven_light(void **state) {
    static const size_t alike[] = {1, 2, 3, 4};
    const size_t strips = test_quick() ? 2 : 12;
    (void)state;
    for (size_t i = 0; i < strips; i++) {
        wedge_scene scene = wedge_scene_plain();
        scene.seed = 31 + i;
        scene.channels = i % 3 == 2 ? 3 : 1;
        scene.read_noise = 0.001;
        scene.grain = 0.03;
        scene.grain_px = alike[i % 4];
        ww_picture picture = wedge_picture_new(&scene);
        const ww_measure_request request = {.steps = scene.steps, .threads = 1};
        ww_measured m = WW_MEASURED_INIT;
        assert_int_equal(ww_measure_strip(&picture, &request, &m, NULL), WW_OK);
        test_true("no step", !test_noted(&m.notes, "from one side to the other"));
        test_true("nor the strip", !test_noted(&m.notes, "the strip the light falls"));
        ww_measured_release(&m);
        ww_picture_release(&picture);
    }
}

/* Without grain, or with little, a fall of 0.03 to 0.1 D along the whole strip stands out, and one
 * of 0.005 to 0.02 D across it. Over the picture, 640 px wide, falls are greater; it is less high
 * than the strip is long. */
static void light_that_falls_is_told(void **state) {
    static const struct {
        double along, across, breadth;
    } rows[] = {{0.03, 0.0, 180.0},   {0.06, 0.0, 180.0},  {0.1, 0.0, 180.0},
                {0.0, -0.005, 180.0}, {0.0, 0.009, 110.0}, {0.04, 0.02, 180.0}};
    (void)state;
    for (size_t i = 0; i < (test_quick() ? 1 : sizeof rows / sizeof rows[0]); i++) {
        wedge_scene scene = wedge_scene_plain();
        scene.seed = 51 + i;
        scene.breadth = rows[i].breadth;
        scene.read_noise = 0.0005;
        scene.first = 0.15; /* thinner, the first would be as light as the glass beside it */
        scene.fall = rows[i].along, scene.shade = rows[i].across;
        ww_picture picture = wedge_picture_new(&scene);
        const ww_measure_request request = {.steps = scene.steps, .threads = 1};
        ww_measured m = WW_MEASURED_INIT;
        assert_int_equal(ww_measure_strip(&picture, &request, &m, NULL), WW_OK);
        test_true("along", test_noted(&m.notes, "Along the strip the light falls") ==
                               (rows[i].along != 0.0));
        test_true("across", test_noted(&m.notes, "Across the strip the light falls") ==
                                (rows[i].across != 0.0));
        test_close("by so much", m.lamp[WW_VISUAL].along, rows[i].along * 640.0 / scene.length,
                   0.014);
        test_close("by so much across", m.lamp[WW_VISUAL].across,
                   rows[i].across * scene.length / scene.breadth, 0.014);
        ww_measured_release(&m);
        ww_picture_release(&picture);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(error_grows_with_grain),
        cmocka_unit_test(what_does_not_differ_has_no_error),
        cmocka_unit_test(grain_is_no_uneven_light),
        cmocka_unit_test(light_that_falls_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
