/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "image/scratch.h"
#include "support/support.h"
#include <math.h>

/*
 * Source: by construction. Ten steps of 40 x 100 px side by side, of which the middle 24 x 60 px is
 * an area; a pixel is left out where its code is not 100. Lines are drawn pixel by pixel.
 */
enum { STEPS = 10, WIDTH = 400, HEIGHT = 100, CLEAN = 100, DIRT = 200 };

typedef struct strip {
    ww_picture picture;
    ww__area area[STEPS];
    ww_patch patch[STEPS];
} strip;

static void begin(strip *s, size_t channels, array_layout layout) {
    s->picture = array_picture_new(WIDTH, HEIGHT, channels, WW_SAMPLE_16, layout);
    for (size_t y = 0; y < HEIGHT; y++)
        for (size_t x = 0; x < WIDTH; x++)
            for (size_t c = 0; c < channels; c++)
                array_set(&s->picture, x, y, c, CLEAN);
    for (size_t i = 0; i < STEPS; i++)
        s->area[i] = (ww__area){.centre = {20.0 + 40.0 * (double)i, 50.0},
                                .along = {1.0, 0.0},
                                .across = {0.0, 1.0},
                                .half_u = 12.0,
                                .half_v = 30.0};
}

static void soil(strip *s, size_t channel, double x, double y) {
    if (x >= 0.0 && y >= 0.0 && x < WIDTH && y < HEIGHT)
        array_set(&s->picture, (size_t)x, (size_t)y, channel, DIRT);
}

/* `thick` px, from one place to another, bent upwards by `bow` px in the middle. */
static void draw(strip *s, size_t channel, const double from[2], const double to[2], double bow,
                 double thick) {
    for (double x = from[0]; x <= to[0]; x += 1.0) {
        const double part = (x - from[0]) / (to[0] - from[0]);
        const double y = from[1] + part * (to[1] - from[1]) - 4.0 * bow * part * (1.0 - part);
        for (double t = 0.0; t < thick; t += 1.0)
            soil(s, channel, x, y + t);
    }
}

static double code_at(const strip *s, size_t x, size_t y, size_t channel) {
    const array_pixels *a = s->picture.handle;
    return ((const uint16_t *)(const void *)a->sample)[array_at(&s->picture, x, y, channel)];
}

/* What the reading of patches would have said. */
static void judge(strip *s) {
    for (size_t i = 0; i < STEPS; i++) {
        size_t dirty = 0;
        for (size_t y = 20; y < 80; y++)
            for (size_t x = 8; x < 32; x++) {
                bool any = false;
                for (size_t c = 0; c < s->picture.channels; c++)
                    any |= code_at(s, 40 * i + x, y, c) != CLEAN;
                dirty += any;
            }
        s->patch[i] = (ww_patch){.n = 24 * 60 - dirty, .rejected = (double)dirty / (24.0 * 60.0)};
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            s->patch[i].channel[c].low = s->patch[i].channel[c].high = CLEAN;
    }
}

static void check(const char *row, strip *s, size_t threads, const unsigned want[STEPS]) {
    ww_error err = WW_ERROR_INIT;
    judge(s);
    test_status(row, ww__scratch_find(&s->picture, s->area, STEPS, threads, s->patch, &err), WW_OK,
                &err);
    for (size_t i = 0; i < STEPS; i++)
        if (s->patch[i].line != want[i])
            fail_msg("%s: step %zu has line %u, want %u", row, i + 1, s->patch[i].line, want[i]);
}

static const struct {
    const char *name;
    double from[2], to[2], bow, thick;
    unsigned want[STEPS];
} lines[] = {
    {"nothing", {0, 0}, {0, 0}, 0, 0, {0}},
    {"level, all along", {0, 47}, {399, 47}, 0, 1, {1, 1, 1, 1, 1, 1, 1, 1, 1, 1}},
    {"steps 3 to 6", {80, 61}, {235, 61}, 0, 2, {0, 0, 1, 1, 1, 1, 0, 0, 0, 0}},
    {"askew", {0, 25}, {399, 75}, 0, 1, {1, 1, 1, 1, 1, 1, 1, 1, 1, 1}},
    {"steep", {165, 20}, {275, 80}, 0, 1, {0, 0, 0, 0, 1, 1, 1, 0, 0, 0}},
    {"a hair that bends", {40, 70}, {360, 55}, 30, 2, {0, 1, 1, 1, 1, 1, 1, 1, 1, 0}},
    {"two steps only", {80, 47}, {155, 47}, 0, 1, {0}},
    {"along the strip's edge", {0, 21}, {399, 21}, 0, 2, {0}},
    {"between the areas", {0, 12}, {399, 12}, 0, 2, {0}},
    {"wide", {80, 40}, {399, 42}, 0, 5, {0, 0, 1, 1, 1, 1, 1, 1, 1, 1}},
};

static void lines_are_found_where_they_run(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        for (size_t threads = 1; threads <= 3; threads += 2) {
            strip s;
            begin(&s, 1, ARRAY_ROWS);
            draw(&s, 0, lines[i].from, lines[i].to, lines[i].bow, lines[i].thick);
            check(lines[i].name, &s, threads, lines[i].want);
            ww_picture_release(&s.picture);
        }
}

static void lines_of_one_channel_count(void **state) {
    static const unsigned want[STEPS] = {0, 0, 1, 1, 1, 1, 0, 0, 0, 0};
    (void)state;
    for (array_layout layout = ARRAY_ROWS; layout < ARRAY_LAYOUTS; layout++) {
        strip s;
        begin(&s, 3, layout);
        draw(&s, 1, (double[]){80, 61}, (double[]){235, 63}, 0.0, 2.0);
        check("green", &s, 2, want);
        ww_picture_release(&s.picture);
    }
}

/* Two lines one after the other, a step without one between them; dust over all of it. */
static void lines_are_numbered_and_dust_is_none(void **state) {
    static const unsigned want[STEPS] = {1, 1, 1, 1, 0, 0, 2, 2, 2, 2}, none[STEPS] = {0};
    for (int with = 0; with < 2; with++) {
        dice d = {2731};
        strip s;
        begin(&s, 1, ARRAY_ROWS);
        for (int k = 0; k < 250; k++)
            soil(&s, 0, dice_even(&d, 0.0, WIDTH), dice_even(&d, 0.0, HEIGHT));
        if (with) {
            draw(&s, 0, (double[]){0, 30}, (double[]){155, 32}, 0.0, 2.0);
            draw(&s, 0, (double[]){240, 66}, (double[]){399, 60}, 0.0, 2.0);
        }
        check(with ? "two lines in dust" : "dust", &s, 2, with ? want : none);
        ww_picture_release(&s.picture);
    }
    (void)state;
}

/* Each step has a line, but they do not meet. */
static void lines_that_do_not_meet_are_none(void **state) {
    static const unsigned none[STEPS] = {0};
    strip s;
    (void)state;
    begin(&s, 1, ARRAY_ROWS);
    for (size_t i = 0; i < STEPS; i++) {
        const double x = 40.0 * (double)i, y = i % 2 ? 34.0 : 63.0;
        draw(&s, 0, (double[]){x, y}, (double[]){x + 39, y}, 0.0, 2.0);
    }
    check("to and fro", &s, 2, none);
    ww_picture_release(&s.picture);
}

static void readers_that_fail_are_told(void **state) {
    strip s;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    begin(&s, 1, ARRAY_ROWS);
    draw(&s, 0, (double[]){0, 47}, (double[]){399, 47}, 0.0, 2.0);
    judge(&s);
    ((array_pixels *)s.picture.handle)->refuse = WW_ESYSTEM;
    test_status("reader", ww__scratch_find(&s.picture, s.area, STEPS, 1, s.patch, &err), WW_ESYSTEM,
                &err);
    for (size_t i = 0; i < STEPS; i++)
        assert_int_equal(s.patch[i].line, 0);
    ww_picture_release(&s.picture);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_are_found_where_they_run),
        cmocka_unit_test(lines_of_one_channel_count),
        cmocka_unit_test(lines_are_numbered_and_dust_is_none),
        cmocka_unit_test(lines_that_do_not_meet_are_none),
        cmocka_unit_test(readers_that_fail_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
