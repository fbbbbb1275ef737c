/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/area.h"
#include "support/support.h"
#include <math.h>

/* Source of all: definition. A pixel belongs to an area whose inside its middle lies in. */

static ww__area askew(double x, double y, double degrees, double half_u, double half_v) {
    const double angle = degrees * 3.14159265358979323846 / 180.0;
    return (ww__area){.centre = {x, y},
                      .along = {cos(angle), sin(angle)},
                      .across = {-sin(angle), cos(angle)},
                      .half_u = half_u,
                      .half_v = half_v};
}

enum { WIDTH = 60, HEIGHT = 50, ROWS = 10 };

static void rows(const char *name[ROWS], ww__area area[ROWS]) {
    size_t n = 0;
    name[n] = "level", area[n++] = askew(20.31, 17.7, 0.0, 12.3, 7.9);
    name[n] = "a little askew", area[n++] = askew(30.31, 20.7, 3.7, 22.3, 7.9);
    name[n] = "the other way", area[n++] = askew(30.31, 20.7, -7.9, 12.3, 17.9);
    name[n] = "upright", area[n++] = askew(30.11, 25.2, 90.0, 20.3, 6.1);
    name[n] = "upright, askew", area[n++] = askew(30.11, 25.2, 86.0, 20.3, 6.1);
    name[n] = "far askew", area[n++] = askew(30.11, 25.2, 45.0, 11.3, 6.1);
    name[n] = "beyond the corner", area[n++] = askew(3.2, 2.1, 20.0, 9.0, 8.0);
    name[n] = "a sliver", area[n++] = askew(33.27, 21.9, 30.0, 14.0, 0.4);
    name[n] = "a disc", area[n++] = ww__area_disc(31.7, 20.2, 13.37);
    name[n] = "a disc at the edge", area[n++] = ww__area_disc(58.7, 47.2, 6.6);
    assert_int_equal(n, ROWS);
}

static bool holds(const ww__area *a, double x, double y, double *u, double *v) {
    const double dx = x - a->centre[0], dy = y - a->centre[1];
    *u = dx * a->along[0] + dy * a->along[1];
    *v = dx * a->across[0] + dy * a->across[1];
    if (a->disc)
        return *u * *u + *v * *v < a->half_u * a->half_u;
    return fabs(*u) < a->half_u && fabs(*v) < a->half_v;
}

static void finds_the_pixels_inside(void **state) {
    const char *name[ROWS];
    ww__area area[ROWS];
    (void)state;
    rows(name, area);
    for (size_t i = 0; i < ROWS; i++) {
        const ww_region box = ww__area_box(&area[i], WIDTH, HEIGHT);
        unsigned seen[HEIGHT][WIDTH] = {{0}};
        uint64_t pixels = 0;
        for (size_t y = box.y; y < box.y + box.height; y++) {
            ww__area_run run[WW__AREA_RUNS];
            const size_t n = ww__area_runs(&area[i], &box, y, run);
            for (size_t r = 0; r < n; r++)
                for (size_t x = run[r].x; x < run[r].x + run[r].n; x++)
                    seen[y][x] += 1 + 8 * run[r].quarter;
        }
        for (size_t y = 0; y < HEIGHT; y++)
            for (size_t x = 0; x < WIDTH; x++) {
                double u, v;
                const bool inside = holds(&area[i], (double)x + 0.5, (double)y + 0.5, &u, &v);
                const unsigned quarter = (u > 0.0 ? 1u : 0u) + (v > 0.0 ? 2u : 0u);
                pixels += inside;
                test_true(name[i], seen[y][x] == (inside ? 1 + 8 * quarter : 0));
            }
        test_true(name[i], pixels == ww__area_pixels(&area[i], WIDTH, HEIGHT));
    }
}

static void quarters_have_their_mean_places(void **state) {
    const char *name[ROWS];
    ww__area area[ROWS];
    (void)state;
    rows(name, area);
    for (size_t i = 0; i < ROWS; i++) {
        const ww_region box = ww__area_box(&area[i], WIDTH, HEIGHT);
        ww__area_quarter got[WW__AREA_QUARTERS];
        double n[4] = {0}, su[4] = {0}, sv[4] = {0};
        ww__area_quarters(&area[i], &box, got);
        for (size_t y = 0; y < HEIGHT; y++)
            for (size_t x = 0; x < WIDTH; x++) {
                double u, v;
                if (!holds(&area[i], (double)x + 0.5, (double)y + 0.5, &u, &v))
                    continue;
                const size_t q = (u > 0.0 ? 1u : 0u) + (v > 0.0 ? 2u : 0u);
                n[q] += 1.0, su[q] += u, sv[q] += v;
            }
        for (size_t q = 0; q < 4; q++) {
            test_close(name[i], (double)got[q].n, n[q], 0.0);
            test_close(name[i], got[q].u, n[q] > 0.0 ? su[q] / n[q] : got[q].u, 1e-12);
            test_close(name[i], got[q].v, n[q] > 0.0 ? sv[q] / n[q] : got[q].v, 1e-12);
        }
    }
}

/* Edges on the border of pixels: the ones inside and no others, so that neighbours share none. */
static void whole_pixels_are_whole(void **state) {
    const ww__area left = askew(15.0, 13.0, 0.0, 5.0, 3.0),
                   right = askew(25.0, 13.0, 0.0, 5.0, 3.0);
    ww__area_run run[WW__AREA_RUNS];
    const ww_region a = ww__area_box(&left, WIDTH, HEIGHT), b = ww__area_box(&right, WIDTH, HEIGHT);
    (void)state;
    test_true("pixels", ww__area_pixels(&left, WIDTH, HEIGHT) == 60);
    test_true("box", a.x == 10 && a.y == 10 && a.width == 10 && a.height == 6);
    assert_int_equal(ww__area_runs(&left, &a, 12, run), 2);
    test_true("halves", run[0].x == 10 && run[0].n == 5 && run[1].x == 15 && run[1].n == 5);
    assert_int_equal(ww__area_runs(&right, &b, 12, run), 2);
    test_true("next", run[0].x == 20);
}

static void outside_there_is_nothing(void **state) {
    const ww__area outside[] = {askew(-20.0, 10.0, 5.0, 8.0, 4.0), askew(75.0, 10.0, 5.0, 8.0, 4.0),
                                askew(30.0, -9.0, 0.0, 8.0, 4.0), ww__area_disc(30.0, 70.0, 5.0)};
    (void)state;
    for (size_t i = 0; i < sizeof outside / sizeof outside[0]; i++) {
        const ww_region box = ww__area_box(&outside[i], WIDTH, HEIGHT);
        test_true("no box", box.width == 0 && box.height == 0);
        test_true("no pixel", ww__area_pixels(&outside[i], WIDTH, HEIGHT) == 0);
    }
}

static void corners_lie_round_it(void **state) {
    double corner[4][2];
    const ww__area area = askew(20.0, 10.0, 90.0, 6.0, 2.0), disc = ww__area_disc(9.0, 9.0, 2.0);
    static const double want[4][2] = {{22, 4}, {22, 16}, {18, 16}, {18, 4}};
    (void)state;
    ww__area_corners(&area, corner);
    for (size_t i = 0; i < 4; i++) {
        test_close("x", corner[i][0], want[i][0], 1e-12);
        test_close("y", corner[i][1], want[i][1], 1e-12);
    }
    ww__area_corners(&disc, corner);
    for (size_t i = 0; i < 4; i++)
        test_close("disc", fabs(corner[i][0]) + fabs(corner[i][1]), 0.0, 0.0);
}

static void common_part(void **state) {
    static const struct {
        const char *name;
        ww_region a, b, want;
    } cases[] = {
        {"overlap", {2, 3, 10, 10}, {5, 1, 20, 6}, {5, 3, 7, 4}},
        {"inside", {2, 3, 10, 10}, {4, 5, 2, 3}, {4, 5, 2, 3}},
        {"beside", {2, 3, 10, 10}, {12, 3, 4, 4}, {0, 0, 0, 0}},
        {"below", {2, 3, 10, 10}, {2, 13, 4, 4}, {0, 0, 0, 0}},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const ww_region got = ww__area_common(cases[i].a, cases[i].b), want = cases[i].want;
        test_true(cases[i].name, got.x == want.x && got.y == want.y && got.width == want.width &&
                                     got.height == want.height);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_the_pixels_inside),
        cmocka_unit_test(quarters_have_their_mean_places),
        cmocka_unit_test(whole_pixels_are_whole),
        cmocka_unit_test(outside_there_is_nothing),
        cmocka_unit_test(corners_lie_round_it),
        cmocka_unit_test(common_part),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
