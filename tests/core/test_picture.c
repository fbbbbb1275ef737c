/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/picture.h"
#include "support/support.h"
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/picture.h>

enum { CLOSED = 3 };

static ww_status see(const ww_block *block, size_t worker, void *context, ww_error *err) {
    (void)block, (void)worker, (void)err;
    ++*(int *)context;
    return WW_OK;
}

static ww_status visit_all(const ww_picture *picture, const ww_region region[], size_t n_regions,
                           size_t threads, ww_block_visit *visit, void *context, ww_error *err) {
    const ww_block block = {.width = picture->width, .height = picture->height};
    (void)region, (void)n_regions, (void)threads;
    return visit(&block, 0, context, err);
}

static void close_it(void *handle) {
    *(int *)handle = CLOSED;
}

static const ww_picture_source source = {visit_all, close_it};

/* Source: definition of a region inside a picture of 30 by 20 px. */
static const struct {
    const char *name;
    ww_region region;
    ww_status status;
} rows[] = {
    {"all of it", {0, 0, 30, 20}, WW_OK},         {"last pixel", {29, 19, 1, 1}, WW_OK},
    {"too wide", {1, 0, 30, 20}, WW_EDOMAIN},     {"too high", {0, 1, 30, 20}, WW_EDOMAIN},
    {"empty", {3, 3, 0, 2}, WW_EDOMAIN},          {"flat", {3, 3, 2, 0}, WW_EDOMAIN},
    {"far off", {SIZE_MAX, 0, 2, 2}, WW_EDOMAIN}, {"sum wraps", {2, 0, SIZE_MAX, 2}, WW_EDOMAIN},
};

static void shows_only_what_lies_inside(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ww_picture picture = {
            .file = (char *)"a.tif", .width = 30, .height = 20, .source = &source};
        const ww_region regions[] = {{0, 0, 1, 1}, rows[i].region};
        int seen = 0;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].name, ww_picture_visit(&picture, regions, 2, 1, see, &seen, &err),
                    rows[i].status, &err);
        test_true(rows[i].name, seen == (rows[i].status == WW_OK));
        if (rows[i].status != WW_OK)
            test_text(rows[i].name, err.file, "a.tif");
    }
}

static void releases_everything_twice(void **state) {
    int handle = 0;
    ww_picture picture = {.source = &source, .handle = &handle, .file = calloc(2, 1)};
    picture.profile = calloc(2, 1);
    (void)state;
    assert_int_equal(ww_notes_add(&picture.notes, NULL, "a note"), WW_OK);
    ww_picture_release(&picture);
    test_true("closed", handle == CLOSED && !picture.file && !picture.source);
    ww_picture_release(&picture);
    ww_picture_release(NULL);
}

/* Source: definition; codes beyond a signed type, and offsets before the first sample. */
static void codes_of_every_kind(void **state) {
    static const uint8_t eight[] = {1, 255};
    static const uint16_t sixteen[] = {2, 65535, 7};
    static const float light[] = {0.25f, -1.5f};
    const ww_block of_8 = {.kind = WW_SAMPLE_8, .sample = eight};
    const ww_block of_16 = {.kind = WW_SAMPLE_16, .sample = &sixteen[1]};
    const ww_block of_float = {.kind = WW_SAMPLE_FLOAT, .sample = light};
    (void)state;
    test_close("8", ww_block_code(&of_8, 1), 255.0, 0.0);
    test_close("16", ww_block_code(&of_16, 0), 65535.0, 0.0);
    test_close("before", ww_block_code(&of_16, -1), 2.0, 0.0);
    test_close("float", ww_block_code(&of_float, 1), -1.5, 0.0);
}

/* Source: definition. */
static void a_code_is_a_share_of_white(void **state) {
    const ww_picture eight = {.sample = WW_SAMPLE_8, .white = 255.0};
    const ww_picture real = {.sample = WW_SAMPLE_FLOAT, .white = 1.0};
    (void)state;
    test_close("of 8 bits", ww__picture_quantum(&eight), 0.0039215686, 1e-10);
    test_close("of none", ww__picture_quantum(&real), 0.0, 0.0);
}

/* Floating point has 1 for white; a scene with light sources is over it here and there, but
 * 0..65535 is none. Source: interface of the picture (white), common practice. */
static void floating_point_on_another_scale_is_refused(void **state) {
    static const struct {
        ww_sample sample;
        double white, code;
        ww_status status;
    } row[] = {{WW_SAMPLE_FLOAT, 1.0, 0.98, WW_OK},
               {WW_SAMPLE_FLOAT, 1.0, 7.0, WW_OK},
               {WW_SAMPLE_FLOAT, 1.0, 6846.3, WW_EDOMAIN},
               {WW_SAMPLE_FLOAT, 4294967295.0, 3.1e9, WW_OK},
               {WW_SAMPLE_16, 65535.0, 65535.0, WW_OK}};
    static char file[] = "quay.tif";
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        const ww_picture p = {.file = file, .sample = row[i].sample, .white = row[i].white};
        ww_error err = WW_ERROR_INIT;
        test_status("scale", ww__picture_scale_check(&p, row[i].code, &err), row[i].status, &err);
        if (row[i].status != WW_OK)
            test_true("remedy", strstr(err.msg, "export floating point with 1 for white") &&
                                    strcmp(err.file, file) == 0);
    }
}

static void its_range_is_told(void **state) {
    static char file[] = "quay.tif";
    static const double code[] = {(double)NAN, 12.5, 40011.0, 0.25, HUGE_VAL, 65534.0};
    const ww_picture p = {.file = file, .sample = WW_SAMPLE_FLOAT, .white = 1.0};
    ww__picture_range all = WW__PICTURE_RANGE_INIT, one = all, other = all;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof code / sizeof code[0]; i++)
        ww__picture_range_add(i % 2 == 0 ? &one : &other, &p, code[i]);
    ww__picture_range_join(&all, &one);
    ww__picture_range_join(&all, &other);
    test_status("scale", ww__picture_range_check(&all, &p, &err), WW_EDOMAIN, &err);
    test_text("words", err.msg,
              "most codes are over 8 times white, which is 1 in a file like this: they run from "
              "0.25 to 65534; export floating point with 1 for white, or 16-bit integers");
    for (int i = 0; i < 2; i++) /* half and half: lights in the picture */
        ww__picture_range_add(&all, &p, 0.5);
    test_status("half", ww__picture_range_check(&all, &p, &err), WW_OK, &err);
    test_status("none",
                ww__picture_range_check(&(ww__picture_range)WW__PICTURE_RANGE_INIT, &p, &err),
                WW_ENODATA, &err);
    test_holds("no number", err.msg, "no sample is a number (all are NaN or infinite)");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(codes_of_every_kind),
        cmocka_unit_test(shows_only_what_lies_inside),
        cmocka_unit_test(floating_point_on_another_scale_is_refused),
        cmocka_unit_test(its_range_is_told),
        cmocka_unit_test(a_code_is_a_share_of_white),
        cmocka_unit_test(releases_everything_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
