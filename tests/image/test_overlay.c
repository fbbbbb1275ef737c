/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/threads.h"
#include "image/area.h"
#include "support/scan_case.h"
#include "support/support.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/overlay.h>

/* Sources: means and powers by hand; the definition of a pixel that was left out. */

/* A picture in memory, shown in tiles of 7 x 5 px, each channel in a block of its own or all
 * together. */
enum { TILE_X = 7, TILE_Y = 5 };

typedef struct raster {
    const void *sample;
    bool separate;
    ww_status fails;
} raster;

struct tiles {
    const ww_picture *picture;
    ww_block_visit *visit;
    void *context;
};

static size_t tiles_across(const ww_picture *picture) {
    return (picture->width + TILE_X - 1) / TILE_X;
}

static size_t tiles_down(const ww_picture *picture) {
    return (picture->height + TILE_Y - 1) / TILE_Y;
}

static ww_status show_tile(size_t item, size_t worker, void *context, ww_error *err) {
    static const size_t bytes[] = {1, 2, 4};
    const struct tiles *t = context;
    const ww_picture *picture = t->picture;
    const raster *r = picture->handle;
    const size_t tiles = tiles_across(picture) * tiles_down(picture);
    const size_t at = item % tiles, x = at % tiles_across(picture) * TILE_X;
    const size_t y = at / tiles_across(picture) * TILE_Y, channel = item / tiles;
    const ww_block block = {.x = x,
                            .y = y,
                            .width = picture->width - x < TILE_X ? picture->width - x : TILE_X,
                            .height = picture->height - y < TILE_Y ? picture->height - y : TILE_Y,
                            .channel = channel,
                            .channels = r->separate ? 1 : picture->channels,
                            .kind = picture->sample,
                            .sample = (const char *)r->sample +
                                      bytes[picture->sample] *
                                          ((y * picture->width + x) * picture->channels + channel),
                            .next_x = (ptrdiff_t)picture->channels,
                            .next_y = (ptrdiff_t)(picture->width * picture->channels)};
    return t->visit(&block, worker, t->context, err);
}

static ww_status visit(const ww_picture *picture, const ww_region region[], size_t n_regions,
                       size_t threads, ww_block_visit *visit_block, void *context, ww_error *err) {
    const raster *r = picture->handle;
    struct tiles t = {picture, visit_block, context};
    const size_t n = tiles_across(picture) * tiles_down(picture);
    (void)region;
    assert_int_equal(n_regions, 1);
    if (r->fails != WW_OK)
        return ww_error_set(err, r->fails, "the reader failed; that is what this test asks");
    return ww__threads_for(n * (r->separate ? picture->channels : 1), threads, show_tile, &t, err);
}

static const ww_picture_source source = {visit, NULL};

static ww_picture picture_of(raster *r, size_t width, size_t height, size_t channels,
                             ww_sample sample, double white) {
    static char file[] = "made.tif";
    return (ww_picture){.file = file,
                        .width = width,
                        .height = height,
                        .page = 1,
                        .pages = 1,
                        .channels = channels,
                        .sample = sample,
                        .white = white,
                        .source = &source,
                        .handle = r};
}

static ww_overlay preview_of(const ww_picture *picture, const ww_measured *measured,
                             ww_overlay_request request) {
    ww_overlay overlay = WW_OVERLAY_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("preview", ww_overlay_preview(picture, measured, &request, &overlay, &err), WW_OK,
                &err);
    return overlay;
}

/* A scan of the display's own gamma: tones are codes, and a pixel of the copy is their mean. */
static void copies_are_means(void **state) {
    enum { WIDE = 23, HIGH = 17, FACTOR = 4 };
    static uint8_t code[HIGH][WIDE][3];
    static const ww_measured none = WW_MEASURED_INIT;
    (void)state;
    for (int separate = 0; separate < 2; separate++) {
        raster r = {code, separate == 1, WW_OK};
        const ww_picture picture = picture_of(&r, WIDE, HIGH, 3, WW_SAMPLE_8, 255);
        ww_overlay overlay;
        for (size_t i = 0; i < sizeof code; i++)
            ((uint8_t *)code)[i] = (uint8_t)(i * 37 % 251);
        overlay = preview_of(&picture, &none, (ww_overlay_request){6, 2.2, 1});
        assert_int_equal(overlay.factor, FACTOR);
        assert_int_equal(overlay.width, 6);
        assert_int_equal(overlay.height, 5);
        for (size_t y = 0; y < 5; y++)
            for (size_t x = 0; x < 6; x++)
                for (size_t c = 0; c < 3; c++) {
                    double sum = 0.0, n = 0.0;
                    for (size_t j = y * FACTOR; j < (y + 1) * FACTOR && j < HIGH; j++)
                        for (size_t i = x * FACTOR; i < (x + 1) * FACTOR && i < WIDE; i++) {
                            sum += code[j][i][c];
                            n += 1.0;
                        }
                    test_close("mean", overlay.rgb[3 * (y * 6 + x) + c], sum / n, 0.5 + 1e-9);
                }
        ww_overlay_release(&overlay);
        assert_null(overlay.rgb);
    }
}

/* tone = 255 (code / white)^(gamma / 2.2): for a linear scan half of the tones lie at 0.5^2.2. */
static void tones_are_for_the_eye(void **state) {
    static const struct {
        const char *name;
        double share, gamma, want;
    } rows[] = {{"white", 1.0, 1.0, 255},       {"black", 0.0, 1.0, 0},
                {"half", 0.217638, 1.0, 127.5}, {"quarter", 0.047366, 1.0, 63.75},
                {"encoded", 0.5, 2.2, 127.5},   {"over white", 1.7, 1.0, 255},
                {"under black", -0.2, 1.0, 0},  {"not a number", (double)NAN, 1.0, 0}};
    static const ww_measured none = WW_MEASURED_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        float real = (float)rows[i].share;
        uint16_t whole = 0;
        raster r = {&real, false, WW_OK};
        ww_picture picture = picture_of(&r, 1, 1, 1, WW_SAMPLE_FLOAT, 1.0);
        ww_overlay overlay = preview_of(&picture, &none, (ww_overlay_request){1, rows[i].gamma, 1});
        test_close(rows[i].name, overlay.rgb[1], rows[i].want, 0.6);
        assert_int_equal(overlay.rgb[0], overlay.rgb[2]); /* grey */
        ww_overlay_release(&overlay);
        if (!(rows[i].share >= 0.0 && rows[i].share < 16.0))
            continue;
        whole = (uint16_t)(4095.0 * rows[i].share); /* 12 bits in 16; beyond is white */
        r.sample = &whole;
        picture = picture_of(&r, 1, 1, 1, WW_SAMPLE_16, 4095);
        overlay = preview_of(&picture, &none, (ww_overlay_request){1, rows[i].gamma, 1});
        test_close(rows[i].name, overlay.rgb[0], rows[i].want, 0.8);
        ww_overlay_release(&overlay);
    }
}

/* A square turned by 45 degrees, -8 <= u, v < 8 with u = dx + dy, v = dy - dx; a pixel counts by
 * its centre. */
static void set_diamond(ww_patch *patch) {
    static const double corner[4][2] = {{20, 7}, {28, 15}, {20, 23}, {12, 15}};
    memcpy(patch->corner, corner, sizeof corner);
    patch->x = 12;
    patch->y = 7;
    patch->width = patch->height = 16;
}

static void set_disc(ww_patch *patch) {
    patch->centre_x = 33.2;
    patch->centre_y = 21.6;
    patch->radius = 5.3;
    patch->x = 27.9;
    patch->y = 16.3;
    patch->width = patch->height = 10.6;
}

static bool in_patch(size_t i, size_t j) {
    const double x = (double)i + 0.5, y = (double)j + 0.5;
    const double u = x - 20 + y - 15, v = y - 15 - (x - 20);
    return (u >= -8 && u < 8 && v >= -8 && v < 8) || hypot(x - 33.2, y - 21.6) <= 5.3;
}

/* Every third pixel is off, in one channel or in another, inside patches and outside them. */
static void what_was_left_out_is_marked(void **state) {
    enum { WIDE = 41, HIGH = 31 };
    static uint16_t code[HIGH][WIDE][3];
    ww_patch patch[2] = {{.n = 1}, {.n = 1}};
    const ww_measured measured = {.patch = patch, .n = 2, .has = {true, true, true, false}};
    (void)state;
    set_diamond(&patch[0]);
    set_disc(&patch[1]);
    for (int p = 0; p < 2; p++)
        for (int c = 0; c < 3; c++) {
            patch[p].channel[c].low = 1000;
            patch[p].channel[c].high = 2000;
        }
    for (size_t j = 0; j < HIGH; j++)
        for (size_t i = 0; i < WIDE; i++)
            for (size_t c = 0; c < 3; c++)
                code[j][i][c] = (uint16_t)((i + j) % 3 == 0 && i % 3 == c ? 999 + 1002 * (j % 2)
                                                                          : 1000 + 1000 * (j % 2));
    for (int separate = 0; separate < 2; separate++) {
        raster r = {code, separate == 1, WW_OK};
        const ww_picture picture = picture_of(&r, WIDE, HIGH, 3, WW_SAMPLE_16, 65535);
        ww_overlay overlay = preview_of(&picture, &measured, (ww_overlay_request){1600, 1.0, 0});
        ww_overlay half = preview_of(&picture, &measured, (ww_overlay_request){21, 1.0, 0});
        assert_int_equal(overlay.factor, 1);
        assert_int_equal(half.factor, 2);
        for (size_t j = 0; j < HIGH; j++)
            for (size_t i = 0; i < WIDE; i++) {
                const bool want = (i + j) % 3 == 0 && in_patch(i, j);
                test_true("marked", overlay.rejected[j * WIDE + i] == want);
                test_true("in the copy", !want || half.rejected[j / 2 * 21 + i / 2]);
            }
        assert_ptr_equal(overlay.measured, &measured);
        ww_overlay_release(&overlay);
        ww_overlay_release(&half);
    }
}

/*
 * What is marked is what was read. Source: ww__area_runs, by which patches are counted. Edges fall
 * on the centres of pixels, lying and standing, or askew.
 */
static void what_is_marked_was_read(void **state) {
    enum { WIDE = 60, HIGH = 50 };
    static const uint8_t code[HIGH][WIDE];
    const double s3 = sin(0.05), c3 = cos(0.05);
    const ww__area areas[] = {{{30, 25}, {1, 0}, {0, 1}, 7.5, 4.5, false},
                              {{30.5, 25.5}, {1, 0}, {0, 1}, 7, 4, false},
                              {{30.5, 24.5}, {0, 1}, {1, 0}, 9, 3, false},
                              {{31.3, 22.7}, {c3, s3}, {-s3, c3}, 12, 8, false},
                              {{28.4, 26.1}, {-s3, c3}, {c3, s3}, 13.2, 5.7, false},
                              {{30.5, 25.5}, {1, 0}, {0, 1}, 6, 6, true},
                              {{29.7, 24.2}, {1, 0}, {0, 1}, 8.31, 8.31, true}};
    (void)state;
    for (size_t k = 0; k < sizeof areas / sizeof *areas; k++) {
        raster r = {code, false, WW_OK};
        const ww_picture picture = picture_of(&r, WIDE, HIGH, 1, WW_SAMPLE_8, 255);
        const ww_region box = ww__area_box(&areas[k], WIDE, HIGH);
        bool read[HIGH][WIDE] = {{false}};
        ww_patch patch = {.centre_x = areas[k].centre[0],
                          .centre_y = areas[k].centre[1],
                          .radius = areas[k].disc ? areas[k].half_u : 0.0,
                          .x = (double)box.x,
                          .y = (double)box.y,
                          .width = (double)box.width,
                          .height = (double)box.height};
        const ww_measured measured = {.patch = &patch, .n = 1, .has = {false, false, false, true}};
        ww__area_corners(&areas[k], patch.corner);
        patch.channel[WW_VISUAL].low = patch.channel[WW_VISUAL].high = 1.0; /* all are left out */
        for (size_t y = box.y; y < box.y + box.height; y++) {
            ww__area_run run[WW__AREA_RUNS];
            const size_t runs = ww__area_runs(&areas[k], &box, y, run);
            for (size_t i = 0; i < runs; i++)
                for (size_t x = run[i].x; x < run[i].x + run[i].n; x++)
                    read[y][x] = true;
        }
        ww_overlay overlay = preview_of(&picture, &measured, (ww_overlay_request){1600, 1.0, 1});
        for (size_t y = 0; y < HIGH; y++)
            for (size_t x = 0; x < WIDE; x++)
                if (overlay.rejected[y * WIDE + x] != read[y][x])
                    fail_msg("area %zu: pixel %zu,%zu is %s, but was %s", k, x, y,
                             read[y][x] ? "not marked" : "marked", read[y][x] ? "read" : "not");
        ww_overlay_release(&overlay);
    }
}

/* A patch beyond the picture's edges, and one without any extent, touch nothing they should not. */
static void odd_patches_do_no_harm(void **state) {
    enum { WIDE = 9, HIGH = 6 };
    static float code[HIGH][WIDE];
    ww_patch patch[3] = {{.x = -5,
                          .y = -4,
                          .width = 30,
                          .height = 30,
                          .corner = {{-5, -4}, {25, -4}, {25, 26}, {-5, 26}}},
                         {.x = 400, .y = 2, .width = 3, .height = 3},
                         {.x = (double)NAN, .y = 2, .width = 3, .height = 3}};
    const ww_measured measured = {.patch = patch, .n = 3, .has = {false, false, false, true}};
    raster r = {code, false, WW_OK};
    const ww_picture picture = picture_of(&r, WIDE, HIGH, 1, WW_SAMPLE_FLOAT, 1.0);
    ww_overlay overlay;
    (void)state;
    patch[0].channel[WW_VISUAL].high = 0.5;
    code[5][8] = (float)NAN; /* was never averaged */
    code[0][0] = 0.75F;
    overlay = preview_of(&picture, &measured, (ww_overlay_request){1600, 1.0, 0});
    for (size_t i = 0; i < WIDE * HIGH; i++)
        test_true("marked", overlay.rejected[i] == (i == 0 || i == WIDE * HIGH - 1));
    ww_overlay_release(&overlay);
}

static void threads_make_no_difference(void **state) {
    enum { WIDE = 311, HIGH = 203 };
    static uint16_t code[HIGH * WIDE];
    struct scan_case made;
    raster r = {code, false, WW_OK};
    const ww_picture picture = picture_of(&r, WIDE, HIGH, 1, WW_SAMPLE_16, 65535);
    ww_overlay one, many;
    (void)state;
    scan_case_spots(&made);
    for (size_t i = 0; i < 3; i++) {
        made.patch[i].centre_x = made.patch[i].x = 60.0 + 70.0 * (double)i;
        made.patch[i].centre_y = made.patch[i].y = 80.0;
    }
    for (size_t i = 0; i < HIGH * WIDE; i++)
        code[i] = (uint16_t)(i * 40503 % 65521);
    one = preview_of(&picture, &made.measured, (ww_overlay_request){100, 1.0, 1});
    many = preview_of(&picture, &made.measured, (ww_overlay_request){100, 1.0, 7});
    assert_int_equal(one.width, 78);
    assert_memory_equal(one.rgb, many.rgb, 3 * one.width * one.height);
    assert_memory_equal(one.rejected, many.rejected, one.width * one.height);
    ww_overlay_release(&one);
    ww_overlay_release(&many);
}

static void refusals(void **state) {
    static uint8_t code[2];
    static const struct {
        const char *name;
        ww_overlay_request request;
        size_t width;
        ww_status reader, want;
    } rows[] = {{"no size", {0, 1.0, 1}, 2, WW_OK, WW_EDOMAIN},
                {"too small", {1, 1.0, 1}, 4096, WW_OK, WW_EDOMAIN},
                {"gamma 0", {4, 0.0, 1}, 2, WW_OK, WW_EDOMAIN},
                {"gamma NaN", {4, (double)NAN, 1}, 2, WW_OK, WW_EDOMAIN},
                {"gamma infinite", {4, (double)INFINITY, 1}, 2, WW_OK, WW_EDOMAIN},
                {"reader", {4, 1.0, 1}, 2, WW_EINPUT, WW_EINPUT}};
    static const ww_measured none = WW_MEASURED_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        raster r = {code, false, rows[i].reader};
        const ww_picture picture = picture_of(&r, rows[i].width, 1, 1, WW_SAMPLE_8, 255);
        ww_overlay overlay = WW_OVERLAY_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].name,
                    ww_overlay_preview(&picture, &none, &rows[i].request, &overlay, &err),
                    rows[i].want, &err);
        assert_null(overlay.rgb);
    }
    ww_overlay_release(NULL);
}

/*
 * Source: by hand. 3000 x 1100 px and a copy of at most 1600: 2 px a pixel, 1500 x 550 of them.
 * Each has 3 bytes of colour and a mark; beside them, at first, sums of 4 bytes and another mark,
 * and then the colours once more as text with room to grow.
 */
static void memory_is_that_of_the_copy(void **state) {
    const ww_overlay_request request = {.longest_px = 1600, .gamma = 1.0};
    raster r = {NULL, false, WW_OK};
    (void)state;
    for (size_t channels = 1; channels <= 3; channels += 2) {
        const ww_picture picture = picture_of(&r, 3000, 1100, channels, WW_SAMPLE_16, 65535);
        test_close("bytes", (double)ww_overlay_memory(&picture, &request),
                   1500.0 * 550.0 * (4.0 + fmax(4.0 * (double)channels + 1.0, 6.0)), 0.0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(copies_are_means),
        cmocka_unit_test(tones_are_for_the_eye),
        cmocka_unit_test(what_was_left_out_is_marked),
        cmocka_unit_test(what_is_marked_was_read),
        cmocka_unit_test(odd_patches_do_no_harm),
        cmocka_unit_test(threads_make_no_difference),
        cmocka_unit_test(memory_is_that_of_the_copy),
        cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
