/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "array_picture.h"
#include "image/grid.h"
#include "support/support.h"
#include "support/wedge_picture.h"

#include <math.h>
#include <string.h>

static const ww_region everywhere = {0, 0, 640, 420};

static ww__grid turned_by(double angle) {
    return (ww__grid){.x = 100.37,
                      .y = 90.73,
                      .along = {cos(angle), sin(angle)},
                      .across = {-sin(angle), cos(angle)},
                      .step_u = 7.3,
                      .step_v = 5.1,
                      .nu = 31,
                      .nv = 17};
}

static ww__grid askew(void) {
    return turned_by(0.1);
}

/* Source: definition, each pixel asked for by itself. */
static double mean_of_cell(const ww_picture *p, const ww__grid *g, size_t u, size_t v) {
    double sum = 0.0, n = 0.0;
    for (size_t y = 0; y < p->height; y++)
        for (size_t x = 0; x < p->width; x++) {
            const double dx = (double)x + 0.5 - g->x, dy = (double)y + 0.5 - g->y;
            const double at = (dx * g->along[0] + dy * g->along[1]) / g->step_u;
            const double row = (dx * g->across[0] + dy * g->across[1]) / g->step_v;
            if (at < 0.0 || row < 0.0 || (size_t)at != u || (size_t)row != v)
                continue;
            for (size_t c = 0; c < p->channels; c++)
                sum += wedge_picture_code(p, x, y, c), n += 1.0;
        }
    return n > 0.0 ? sum / n : -1.0;
}

static void means_are_those_of_the_pixels(void **state) {
    (void)state;
    for (int i = 0; i < 6; i++) {
        const unsigned bits = 8u << i % 3;
        const double angle = i < 3 ? 0.1 : 0.0;
        wedge_scene s = wedge_scene_plain();
        s.bits = bits, s.channels = 3, s.surround = WEDGE_ON_CLUTTER, s.read_noise = 0.01;
        ww_picture p = wedge_picture_new(&s);
        ww__grid g = turned_by(angle), again = turned_by(angle);
        ww_error err = WW_ERROR_INIT;
        test_status("one", ww__grid_read(&p, &everywhere, 1, 1, &g, &err), WW_OK, &err);
        test_status("three", ww__grid_read(&p, &everywhere, 1, 3, &again, &err), WW_OK, &err);
        for (size_t k = 0; k < 8; k++) {
            const size_t u = (k * 11) % g.nu, v = (k * 5) % g.nv;
            test_close("cell", g.light[u + v * g.nu], mean_of_cell(&p, &g, u, v),
                       bits == 32 ? 1e-7 : 1e-12);
        }
        test_true("threads", memcmp(g.light, again.light, g.nu * g.nv * sizeof(double)) == 0);
        ww__grid_release(&g), ww__grid_release(&again);
        ww_picture_release(&p);
    }
}

static void cells_outside_hold_nothing(void **state) {
    const wedge_scene s = wedge_scene_plain();
    ww_picture p = wedge_picture_new(&s);
    ww__grid g = askew();
    const ww_region corner = {0, 0, 150, 150}, far_off = {600, 400, 10, 10};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("corner", ww__grid_read(&p, &corner, 1, 1, &g, &err), WW_OK, &err);
    test_true("inside", g.light[0] >= 0.0);
    test_true("outside", g.light[g.nu - 1] < 0.0);
    test_status("far", ww__grid_read(&p, &far_off, 1, 1, &g, &err), WW_EDOMAIN, &err);
    test_text("file", err.file, "made.tif");
    ww__grid_release(&g), ww__grid_release(&g), ww__grid_release(NULL);
    ww_picture_release(&p);
}

/* Source: definition. Every second pixel of every second row, whatever the blocks. */
static void some_pixels_stand_for_all(void **state) {
    wedge_scene s = wedge_scene_plain();
    s.read_noise = 0.01;
    ww_picture p = wedge_picture_new(&s);
    ww__grid g = {.along = {1.0, 0.0},
                  .across = {0.0, 1.0},
                  .step_u = 4.0,
                  .step_v = 4.0,
                  .nu = 160,
                  .nv = 105};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("read", ww__grid_read(&p, &everywhere, 2, 2, &g, &err), WW_OK, &err);
    for (size_t v = 0; v < g.nv; v += 13)
        for (size_t u = 0; u < g.nu; u += 7) {
            double sum = 0.0;
            for (size_t i = 0; i < 4; i++)
                sum += wedge_picture_code(&p, 4 * u + i % 2 * 2, 4 * v + i / 2 * 2, 0);
            test_close("cell", g.light[u + v * g.nu], sum / 4.0, 1e-12);
        }
    ww__grid_release(&g);
    ww_picture_release(&p);
}

/* Wide integers come as floating point, with their own white. Source: definition of light. */
static void light_is_a_share_of_white(void **state) {
    static const double white[] = {1.0, 32767.0, 4294967295.0};
    (void)state;
    for (size_t i = 0; i < sizeof white / sizeof white[0]; i++) {
        ww_picture p = array_picture_new(8, 8, 1, WW_SAMPLE_FLOAT, ARRAY_ROWS);
        ww__grid g = {
            .along = {1.0, 0.0}, .across = {0.0, 1.0}, .step_u = 8, .step_v = 8, .nu = 1, .nv = 1};
        const ww_region all = {0, 0, 8, 8};
        ww_error err = WW_ERROR_INIT;
        p.white = white[i];
        array_fill(&p, 0.37 * white[i]);
        test_status("read", ww__grid_read(&p, &all, 1, 1, &g, &err), WW_OK, &err);
        test_close("light", g.light[0], 0.37, 1e-6);
        ww__grid_release(&g);
        ww_picture_release(&p);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(means_are_those_of_the_pixels),
        cmocka_unit_test(cells_outside_hold_nothing),
        cmocka_unit_test(some_pixels_stand_for_all),
        cmocka_unit_test(light_is_a_share_of_white),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
