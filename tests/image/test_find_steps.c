/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find_steps.h"
#include "made_tone.h"

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

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(steps_are_where_they_were_drawn),
        cmocka_unit_test(other_counts_and_no_steps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
