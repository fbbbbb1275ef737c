/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find_other.h"
#include "support/support.h"

#include <math.h>

static ww__area lying(double x, double y, double length, double width, double angle_deg) {
    const double turn = angle_deg * 3.14159265358979323846 / 180.0;
    return (ww__area){.centre = {x, y},
                      .along = {cos(turn), sin(turn)},
                      .across = {-sin(turn), cos(turn)},
                      .half_u = 0.5 * length,
                      .half_v = 0.5 * width};
}

/* Beside a strip of 400 x 60 px with its middle at 300,200. Source: arithmetic by hand. */
static const struct {
    const char *name;
    double x, y, length, width, angle_deg;
    bool apart;
} rows[] = {
    {"itself", 300, 200, 400, 60, 0, false},
    {"a part of it", 350, 210, 200, 20, 2, false},
    {"across its end", 520, 200, 60, 60, 0, false},
    {"beyond its end", 560, 200, 100, 60, 0, true},
    {"below", 300, 280, 300, 60, 0, true},
    {"below, as long, by its side", 300, 250, 400, 20, 0, false},
    {"below, as long, away", 300, 310, 400, 60, 0, true},
    {"below, as long, shifted", 330, 250, 400, 20, 0, true},
    {"upright, across", 300, 300, 60, 300, 0, false},
    {"upright, beside", 560, 300, 300, 60, 90, true},
    {"upright, over its end", 510, 300, 300, 60, 90, false},
};

static void tells_strips_apart(void **state) {
    const ww__area strip = lying(300, 200, 400, 60, 0);
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ww__area other =
            lying(rows[i].x, rows[i].y, rows[i].length, rows[i].width, rows[i].angle_deg);
        test_true(rows[i].name, ww__other_apart(&strip, &other) == rows[i].apart);
    }
}

/* Source: definition; a quarter of the width on every side. */
static void names_the_part_around(void **state) {
    const ww_picture picture = {.width = 600, .height = 240};
    const ww__area strip = lying(300, 200, 400, 60, 0);
    const ww_region part = ww__other_strip(&strip, &picture);
    (void)state;
    test_true("inside the picture",
              part.x == 85 && part.width == 430 && part.y == 155 && part.height == 85);
}

static void takes_places_from_what_was_found(void **state) {
    double edge[] = {-40.0, 0.0, 60.0};
    const ww__strip_found found = {.n = 2,
                                   .origin = {100.0, 50.0},
                                   .along = {1.0, 0.0},
                                   .across = {0.0, 1.0},
                                   .half = 7.0,
                                   .edge = edge};
    const ww__band band = {.x = 100.0, .y = 50.0, .half = 7.0, .upright = true};
    const ww__steps there = {.n = 9, .from = -30.0, .to = 10.0};
    const ww__area a = ww__other_area(&found), b = ww__other_area_seen(&band, &there);
    (void)state;
    test_close("x", a.centre[0], 110.0, 1e-12);
    test_close("half of the length", a.half_u, 50.0, 1e-12);
    test_close("half of the width", a.half_v, 7.0, 1e-12);
    test_close("y of the upright one", b.centre[1], 40.0, 1e-12);
    test_close("half of its length", b.half_u, 20.0, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tells_strips_apart),
        cmocka_unit_test(names_the_part_around),
        cmocka_unit_test(takes_places_from_what_was_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
