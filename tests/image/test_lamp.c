/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "image/lamp.h"
#include "support/scan_case.h"
#include "support/support.h"
#include <stdlib.h>
#include <string.h>

/* Codes are light here; over what was read of each step it changes by `along` and `across` D and,
 * by turns, by `stray` more or less. */
static void draw(struct scan_case *made, double along, double across, double stray) {
    const double half_ln10 = 0.5 * 2.302585092994046;
    scan_case_strip(made, false);
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
        ww_patch_channel *p = &made->patch[i].channel[WW_VISUAL];
        const double by = (double)((int)(i % 3) - 1) * stray;
        p->sd = 0.0;
        p->along = -2.0 * p->code * tanh(half_ln10 * (along + by));
        p->across = -2.0 * p->code * tanh(half_ln10 * (across + by));
    }
}

/*
 * Source: the header, by hand. A picture of 1200 x 900 px, turned by 1.7 degrees, reaches
 * 1200 cos + 900 sin = 1226.17 px along the strip, of whose steps 30 px were read: 40.8724 times
 * the change. Across, the strip's length of 21 x 30 / 0.6 = 1050 px is more than the picture's
 * 935.2, and 100 px were read: 10.5 times. By turns off by s, the absolute deviation has the median
 * s, and the error of the median is 1.2533 x 1.4826 s / root of 21 = 0.4055 s: four of it are
 * 1.622 s, and it is taken off.
 */
static const struct {
    const char *name;
    double along, across, stray;
    ww_lamp fall;
    bool reversed, upright;
    const char *words[3];
} falls[] = {
    {"even", 0.0, 0.0, 0.001, {0.0, 0.0}, false, false, {NULL}},
    {"hardly", 0.0002, 0.0, 0.0, {0.008174, 0.0}, false, false, {NULL}},
    {"falls",
     0.006,
     0.0,
     0.0,
     {0.245234, 0.0},
     false,
     false,
     {"Along", "falls by about 0.21 D towards step '21'", "whole picture that is 0.25 D"}},
    {"from the other end",
     0.006,
     0.0,
     0.0,
     {0.245234, 0.0},
     true,
     false,
     {"Along", "0.21 D", "step '1'"}},
    {"rises", -0.0006, 0.0, 0.0, {-0.024523, 0.0}, false, false, {"0.02 D", "step '1'"}},
    {"above the steps' scatter",
     0.00164,
     0.0,
     0.001,
     {0.064948, 0.0},
     false,
     false,
     {"0.06 D", "step '21'"}},
    {"within it", 0.0016, 0.0, 0.001, {WW__LAMP_UNTOLD, 0.0}, false, false, {NULL}},
    {"across",
     0.0,
     0.006,
     0.0,
     {0.0, 0.063},
     false,
     false,
     {"Across", "falls by about 0.01 D towards its lower side",
      "as much glass as the strip is long that is 0.06 D"}},
    {"up", 0.0, -0.003, 0.0, {0.0, -0.0315}, true, false, {"0.005 D", "upper side"}},
    {"upright", 0.0, 0.006, 0.0, {0.0, 0.063}, false, true, {"right side"}},
    {"upright, to the left", 0.0, -0.006, 0.0, {0.0, -0.063}, true, true, {"left side"}},
};

static void light_that_falls_is_told(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    (void)state;
    for (size_t i = 0; i < sizeof falls / sizeof falls[0]; i++) {
        draw(made, falls[i].along, falls[i].across, falls[i].stray);
        made->measured.reversed = falls[i].reversed, made->measured.upright = falls[i].upright;
        ww_cell *cell = &made->patch[4].channel[WW_VISUAL].density;
        const double before = cell->sd.value;
        const ww_lamp *lamp = &made->measured.lamp[WW_VISUAL], *fall = &falls[i].fall;
        assert_int_equal(ww__lamp_find(&made->measured, 0.6, NULL, NULL, NULL), WW_OK);
        test_close(falls[i].name, lamp->along, fall->along, 1e-5);
        test_close(falls[i].name, lamp->across, fall->across, 1e-5);
        test_close(falls[i].name, cell->sd.value,
                   hypot(before, hypot(fall->along, fall->across) / sqrt(12.0)), 1e-5);
        test_true(falls[i].name, made->measured.notes.n == (falls[i].words[0] ? 1u : 0u));
        for (size_t k = 0; k < 3 && falls[i].words[k]; k++)
            test_true(falls[i].name, test_noted(&made->measured.notes, falls[i].words[k]));
        test_true("none has none", !made->patch[20].channel[WW_VISUAL].density.sd.set);
        ww_notes_release(&made->measured.notes);
    }
    free(made);
}

/*
 * Source: by hand. Few quiet steps are not surer than their noise: of 50 pixels, 1 % of a code and
 * no grain seen (g = 1.19, by (16 + 20 x 0.45) / 21) the change within a step is off by
 * 4 x 0.01 x 1.091 / root of 50 / ln 10 = 0.00268 D, the median of 21 by 0.00073: four of it are
 * 0.00293. Where the first five have 2980 pixels, they alone speak, with 0.00268 / 7.72 = 0.00035 D
 * and a median that is off by 0.000195: four are 0.00078. A fall is 40.8724 times as much.
 */
static void few_steps_are_no_surer_than_their_noise(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    (void)state;
    for (int k = 0; k < 4; k++) {
        const bool quiet = k >= 2, told = k % 2;
        const double change = quiet ? (told ? 0.00081 : 0.00075) : (told ? 0.00299 : 0.00285);
        const double error = quiet ? 0.000195 : 0.00073;
        const double fall = 40.8724 * sqrt(change * change - error * error);
        draw(made, change, 0.0, 0.0);
        for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
            made->patch[i].n = quiet && i < 5 ? 2980 : 50;
            made->patch[i].channel[WW_VISUAL].sd = 0.01 * made->patch[i].channel[WW_VISUAL].code;
            made->patch[i].channel[WW_VISUAL].grain = 0.45;
        }
        assert_int_equal(ww__lamp_find(&made->measured, 0.6, NULL, NULL, NULL), WW_OK);
        test_close(quiet ? "five steps" : "all", made->measured.lamp[WW_VISUAL].along,
                   told ? fall : fmin(fall, WW__LAMP_UNTOLD), 2e-4);
        test_true("told", made->measured.notes.n == (told ? 1u : 0u));
        ww_notes_release(&made->measured.notes);
    }
    free(made);
}

/* ------------------------------------------------------------- light that runs into neighbours */

typedef struct soft_strip {
    const char *name;
    double blur, halo, halo_blur; /* sd of either, of a step; and the share that the halo has */
    double fall;                  /* D over the picture */
    double beside;                /* density */
    bool told;
} soft_strip;

enum { STEP_PX = 44, HIGH_PX = 120, ROOM_PX = 100 };

static double below(double x) {
    return 0.5 * erfc(-x / sqrt(2.0));
}

/* Light of a Gaussian spread of the strip at x from its left end and y from its upper side: closed
 * form. */
static double spread(double beside, double x, double y, double sd) {
    double along = 0.0;
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
        const double from = (double)(STEP_PX * i);
        along += (pow(10.0, -scan_case_density(i)) - beside) *
                 (below((x - from) / sd) - below((x - from - STEP_PX) / sd));
    }
    return beside + along * (below(y / sd) - below((y - HIGH_PX) / sd));
}

static ww_picture draw_soft(const soft_strip *s) {
    const size_t width = SCAN_CASE_STEPS * STEP_PX + 2 * ROOM_PX, height = HIGH_PX + 2 * ROOM_PX;
    const double beside = pow(10.0, -s->beside), sd = s->blur * STEP_PX;
    ww_picture p = array_picture_new(width, height, 1, WW_SAMPLE_16, ARRAY_ROWS);
    dice d = {3};
    for (size_t y = 0; y < height; y++)
        for (size_t x = 0; x < width; x++) {
            const double u = (double)x + 0.5 - ROOM_PX, v = (double)y + 0.5 - ROOM_PX;
            double light = spread(beside, u, v, sd);
            if (s->halo > 0.0)
                light += s->halo * (spread(beside, u, v, s->halo_blur * STEP_PX) - light);
            light *= pow(10.0, -s->fall * (double)x / (double)width);
            array_set(&p, x, y, 0,
                      300.0 + 55000.0 * light * (1.0 + dice_normal(&d, 0.002)) +
                          dice_normal(&d, 20.0));
        }
    return p;
}

/*
 * Source: as drawn. Neighbours run into a step from both sides, most from the lighter one: it
 * changes within itself without a lamp that is uneven, and the note says that it may be that.
 */
static void light_of_neighbours_may_be_no_lamp(void **state) {
    static const soft_strip strips[] = {
        {"soft", 0.12, 0.0, 0.0, 0.0, 3.5, false},
        {"softer", 0.15, 0.0, 0.0, 0.0, 3.5, false},
        {"halo", 0.03, 0.02, 0.5, 0.0, 3.5, false},
        {"towards the dense end", 0.08, 0.0, 0.0, 0.1, 3.5, true},
        {"towards the thin end", 0.08, 0.0, 0.0, -0.1, 3.5, true},
        {"beside glass", 0.08, 0.0, 0.0, 0.1, 0.0, true},
    };
    (void)state;
    for (size_t i = 0; i < sizeof strips / sizeof strips[0]; i++) {
        const soft_strip *s = &strips[i];
        const ww_measure_request request = {.steps = SCAN_CASE_STEPS, .threads = 1};
        ww_measured m = WW_MEASURED_INIT;
        ww_error err = WW_ERROR_INIT;
        ww_picture p = draw_soft(s);
        test_status(s->name, ww_measure_strip(&p, &request, &m, &err), WW_OK, &err);
        test_true(s->name, test_noted(&m.notes, "Along the strip the light falls"));
        test_true(s->name, test_noted(&m.notes, "by blur or a halo") == !s->told);
        if (s->told)
            test_close(s->name, m.lamp[WW_VISUAL].along, s->fall, 0.03);
        ww_measured_release(&m);
        ww_picture_release(&p);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(light_that_falls_is_told),
        cmocka_unit_test(few_steps_are_no_surer_than_their_noise),
        cmocka_unit_test(light_of_neighbours_may_be_no_lamp),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
