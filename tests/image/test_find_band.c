/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find_band.h"
#include "made_tone.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

/* A line on the strip, a quarter of its width off the middle and not turned as it is. */
static ww__place rough(const wedge_scene *s, double turn) {
    double along[2], across[2];
    ww__place_axes(s->angle_deg * pi / 180.0, s->upright, along, across);
    return (ww__place){.x = s->x + 0.2 * s->breadth * across[0],
                       .y = s->y + 0.2 * s->breadth * across[1],
                       .length = s->length * 0.97,
                       .pitch = s->length / 21.0,
                       .angle = (s->angle_deg + turn) * pi / 180.0,
                       .upright = s->upright,
                       .falling = !s->reversed,
                       .parts = 20};
}

/* Source: the drawing. */
static void finds_width_middle_and_turn(void **state) {
    (void)state;
    for (size_t i = 0; i < (test_quick() ? 3 : 20); i++) {
        const wedge_scene s = made_scene(i);
        ww_picture p = wedge_picture_new(&s);
        ww__tone t = made_tone(&p, 1);
        const ww__place place = rough(&s, i < 10 ? 1.2 : -0.7);
        double along[2], across[2];
        ww__band band;
        test_status("band", ww__band_find(&t, &place, &band, NULL), WW_OK, NULL);
        ww__place_axes(band.angle, s.upright, along, across);
        test_close("turn", band.angle * 180.0 / pi, s.angle_deg, 0.3);
        test_close("half", band.half, 0.5 * s.breadth, 1.5);
        test_close("middle", (band.x - s.x) * across[0] + (band.y - s.y) * across[1], 0.0, 1.5);
        test_true("kept", band.upright == s.upright && band.falling == !s.reversed);
        ww__tone_release(&t);
        ww_picture_release(&p);
    }
}

/* Source: the drawing. */
static void too_far_turned_is_told(void **state) {
    wedge_scene s = wedge_scene_plain();
    (void)state;
    s.angle_deg = 13.0;
    ww_picture p = wedge_picture_new(&s);
    ww__tone t = made_tone(&p, 1);
    const ww__place place = rough(&s, -4.0);
    ww__band band;
    test_status("turned", ww__band_find(&t, &place, &band, NULL), WW_EMISMATCH, NULL);
    test_close("by", band.angle * 180.0 / pi, 13.0, 0.3);
    ww__tone_release(&t);
    ww_picture_release(&p);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_width_middle_and_turn),
        cmocka_unit_test(too_far_turned_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
