/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find_rows.h"
#include "made_tone.h"

#include <math.h>
#include <string.h>

static const double pi = 3.14159265358979323846;

/* Source: definition: clockwise as seen, y downwards; right or down. */
static void axes_turn_clockwise(void **state) {
    double along[2], across[2];
    (void)state;
    ww__place_axes(0.1, false, along, across);
    test_true("level", along[0] > 0.9 && along[1] > 0.0 && across[1] > 0.9);
    ww__place_axes(0.1, true, along, across);
    test_true("upright", along[1] > 0.9 && along[0] < 0.0 && across[0] > 0.9);
    test_close("square", along[0] * across[0] + along[1] * across[1], 0.0, 1e-15);
}

/* Source: the drawing: the best place lies on the strip, whichever way it is turned. */
static void the_strip_is_the_best_place(void **state) {
    (void)state;
    for (size_t i = 0; i < (test_quick() ? 2 : 10); i++) {
        const wedge_scene s = made_scene(i);
        ww_picture p = wedge_picture_new(&s);
        ww__tone t = made_tone(&p, 2);
        ww__place place[WW__PLACES_MOST], again[WW__PLACES_MOST];
        double along[2], across[2];
        size_t n = 0, n_again = 0;
        test_status("find", ww__rows_find(&t, false, 1, place, &n, NULL), WW_OK, NULL);
        test_status("again", ww__rows_find(&t, false, 2, again, &n_again, NULL), WW_OK, NULL);
        test_true("threads", n == n_again);
        for (size_t k = 0; k < n; k++)
            test_true("threads", fabs(place[k].score - again[k].score) <= 0.0);
        test_true("some", n > 0);
        ww__place_axes(s.angle_deg * pi / 180.0, s.upright, along, across);
        const double dx = 2.0 * place[0].x - s.x, dy = 2.0 * place[0].y - s.y;
        test_true("direction", place[0].upright == s.upright);
        test_true("which end", place[0].falling == !s.reversed);
        test_true("on it", fabs(dx * across[0] + dy * across[1]) < 0.5 * s.breadth);
        test_close("pitch", 2.0 * place[0].pitch, s.length / 21.0, 4.0);
        ww__tone_release(&t);
        ww_picture_release(&p);
    }
}

static void nothing_has_no_places(void **state) {
    ww_picture p = wedge_none_new(0, 4);
    ww__tone t = made_tone(&p, 1);
    ww__place place[WW__PLACES_MOST];
    size_t n = 9;
    (void)state;
    test_status("find", ww__rows_find(&t, false, 1, place, &n, NULL), WW_OK, NULL);
    test_true("none", n == 0);
    ww__tone_release(&t);
    ww_picture_release(&p);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(axes_turn_clockwise),
        cmocka_unit_test(the_strip_is_the_best_place),
        cmocka_unit_test(nothing_has_no_places),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
