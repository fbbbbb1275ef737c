/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find.h"
#include "image/find_steps.h"
#include "made_tone.h"
#include <string.h>

#include <math.h>

static const double pi = 3.14159265358979323846;

static ww__band band_of(const wedge_scene *s) {
    return (ww__band){.x = s->x,
                      .y = s->y,
                      .angle = s->angle_deg * pi / 180.0,
                      .upright = s->upright,
                      .falling = !s->reversed,
                      .half = 0.5 * s->breadth,
                      .from = -0.4 * s->length,
                      .to = 0.45 * s->length,
                      .pitch = 1.1 * s->length / 21.0};
}

/* Source: the drawing. Light: the density drawn, with flare. */
static void steps_are_where_they_were_drawn(void **state) {
    (void)state;
    for (size_t i = 0; i < (test_quick() ? 3 : 20); i++) {
        const wedge_scene s = made_scene(i);
        const ww_region all = {0, 0, s.width, s.height};
        const ww__band band = band_of(&s);
        ww_picture p = wedge_picture_new(&s);
        ww__strip_found f = WW__STRIP_FOUND_INIT;
        ww__steps there;
        double edge[22];
        test_status("find", ww__steps_find(&p, &all, &band, 21, NULL, 1, &there, &f, NULL), WW_OK,
                    NULL);
        wedge_scene_edges(&s, edge);
        for (size_t k = 0; k <= 21; k++)
            test_close("edge", f.edge[k], edge[k], 0.1 * s.length / 21.0);
        for (size_t k = 0; k < 21; k++) {
            const double want = wedge_scene_light(&s, wedge_scene_step_at(&s, k));
            test_close("level", log10(f.level[k] + 1e-3), log10(want + 1e-3), 0.02);
        }
        test_true("seen", there.n == 21 && there.seen >= 15);
        ww__strip_found_release(&f), ww__strip_found_release(&f);
        ww_picture_release(&p);
    }
}

static void other_counts_and_no_steps(void **state) {
    const wedge_scene s = made_scene(0);
    const ww_region all = {0, 0, s.width, s.height};
    ww__band band = band_of(&s);
    ww_picture p = wedge_picture_new(&s);
    ww__strip_found f = WW__STRIP_FOUND_INIT;
    ww__steps there = {0};
    (void)state;
    test_status("19", ww__steps_find(&p, &all, &band, 19, NULL, 1, &there, &f, NULL), WW_EMISMATCH,
                NULL);
    test_true("21 are there", there.n == 21 && !f.edge);
    band.y += 120.0;
    test_status("beside", ww__steps_find(&p, &all, &band, 21, NULL, 1, &there, &f, NULL),
                WW_ENODATA, NULL);
    band.y += 1e5;
    test_status("outside", ww__steps_find(&p, &all, &band, 21, NULL, 1, &there, &f, NULL),
                WW_ENODATA, NULL);
    ww_picture_release(&p);
}

/* Source: definition. Of 8 bits, what has less than half a code of light is at code 0: D over
 * log10(2 * 255) = 2.708, which are the last 12 of 21 steps of 0.30 from 0.05. */
static void steps_at_code_0_are_told(void **state) {
    wedge_scene s = wedge_scene_plain();
    ww__strip_found f = WW__STRIP_FOUND_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    s.surround = WEDGE_ON_DARK, s.bits = 8, s.gap = 0.3, s.flare = 0.0;
    ww_picture p = wedge_picture_new(&s);
    test_status("black", ww__find_strip(&p, NULL, 21, NULL, 1, &f, &err), WW_EMISMATCH, &err);
    test_true(err.msg, strstr(err.msg, "found 9 steps where 21 were asked for: beyond the darkest "
                                       "of them all is at code 0, where 12 may be hidden") != NULL);
    ww_picture_release(&p);
}

/* Source: definition. With 1 % of open light all steps of 8 bits over about 2.5 D have the code 3,
 * 255 x 0.01 and less than half a code; beside them lies open light, or a mask. */
static void steps_that_flare_hides_are_told(void **state) {
    (void)state;
    for (int masked = 0; masked < 2; masked++) {
        wedge_scene s = wedge_scene_plain();
        ww__strip_found f = WW__STRIP_FOUND_INIT;
        ww_error err = WW_ERROR_INIT;
        s.surround = masked ? WEDGE_ON_DARK : WEDGE_ON_BRIGHT;
        s.bits = 8, s.gap = 0.3, s.flare = 0.01;
        ww_picture p = wedge_picture_new(&s);
        test_status("veiled", ww__find_strip(&p, NULL, 21, NULL, 1, &f, &err), WW_EMISMATCH, &err);
        test_true(err.msg, (strstr(err.msg, "its flare may hide them") != NULL) == (masked == 0));
        ww_picture_release(&p);
    }
}

/* Source: the drawing; steps of 4 px. */
static void too_narrow_steps_are_told(void **state) {
    wedge_scene s = wedge_scene_plain();
    ww__strip_found f = WW__STRIP_FOUND_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    s.width = 110, s.height = 60, s.x = 54.0, s.y = 30.0, s.length = 84.0, s.breadth = 16.0;
    ww_picture p = wedge_picture_new(&s);
    test_status("narrow", ww__find_strip(&p, NULL, 21, NULL, 1, &f, &err), WW_ENODATA, &err);
    test_true(err.msg,
              strstr(err.msg, "px wide, and a step needs 6; scan with more pixels") != NULL);
    ww_picture_release(&p);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(steps_at_code_0_are_told),
        cmocka_unit_test(steps_that_flare_hides_are_told),
        cmocka_unit_test(too_narrow_steps_are_told),
        cmocka_unit_test(steps_are_where_they_were_drawn),
        cmocka_unit_test(other_counts_and_no_steps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
