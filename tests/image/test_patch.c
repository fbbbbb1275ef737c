/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "image/patch.h"
#include "support/scan_case.h"
#include <math.h>
#include <stdio.h>
#include <wedgework/picture_file.h>

enum { WIDTH = 120, HEIGHT = 90 };

static void near_zero(const char *row, double got) {
    test_close(row, got, 0.0, 0.0);
}

/* Source: closed forms. code = 20000 + 30 x + 50 y over whole pixels from x0, y0: the mean is that
 * of the middle, the variance (30^2 (w^2 - 1) + 50^2 (h^2 - 1)) / 12 n / (n - 1), the change along
 * the longer way its length times the slope. No pixel of a plane lies beyond 4 robust
 * deviations. */
static void reads_a_plane(void **state) {
    ww_picture p = array_picture_new(WIDTH, HEIGHT, 1, WW_SAMPLE_16, ARRAY_ROWS);
    (void)state;
    for (size_t y = 0; y < HEIGHT; y++)
        for (size_t x = 0; x < WIDTH; x++)
            array_set(&p, x, y, 0, 20000.0 + 30.0 * (double)x + 50.0 * (double)y);
    const struct {
        const char *name;
        double x, y, w, h, drift;
    } rows[] = {{"wide", 13, 17, 40, 21, 30.0 * 40},    {"high", 41, 8, 17, 70, 50.0 * 70},
                {"odd", 5, 9, 31, 23, 30.0 * 31},       {"one row", 7, 7, 25, 1, 30.0 * 25},
                {"one column", 7, 7, 1, 25, 50.0 * 25}, {"one pixel", 9, 9, 1, 1, 0.0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double w = rows[i].w, h = rows[i].h, n = w * h;
        const ww__area area = array_box(rows[i].x, rows[i].y, w, h);
        const ww_patch got = array_read_one(&p, &area, NULL);
        const ww_patch_channel *c = &got.channel[WW_VISUAL];
        const double spread =
            n > 1.0 ? sqrt((900.0 * (w * w - 1.0) + 2500.0 * (h * h - 1.0)) / 12.0 * n / (n - 1.0))
                    : 0.0;
        test_close(rows[i].name, c->code,
                   20000.0 + 30.0 * (rows[i].x + 0.5 * (w - 1.0)) +
                       50.0 * (rows[i].y + 0.5 * (h - 1.0)),
                   1e-9);
        test_close(rows[i].name, c->sd, spread, 1e-9);
        test_close(rows[i].name, c->drift, rows[i].drift, 1e-8);
        test_close(rows[i].name, c->along, w > 1.0 ? 30.0 * w : 0.0, 1e-8);
        test_close(rows[i].name, c->across, h > 1.0 ? 50.0 * h : 0.0, 1e-8);
        test_close(rows[i].name, c->all, c->code, 1e-9);
        /* that of the plane itself; the noise that is taken off is 4 in n of it */
        if (n > 300.0) {
            const double over = sqrt((900.0 * w * w + 2500.0 * h * h) / 12.0);
            test_close(rows[i].name, c->uneven, over, 0.02 * over);
        }
        test_close(rows[i].name, (double)got.n, n, 0.0);
        near_zero(rows[i].name, got.rejected);
        near_zero(rows[i].name, c->clipped);
        test_true(rows[i].name, got.x == rows[i].x && got.y == rows[i].y && got.width == w &&
                                    got.height == h && got.radius == 0.0);
    }
    ww_picture_release(&p);
}

/* Source: closed form. A gradient of 30 along x and 40 along y is one of 50 along its own way. */
static void a_disc_gives_its_steepest_way(void **state) {
    ww_picture p = array_picture_new(WIDTH, HEIGHT, 3, WW_SAMPLE_16, ARRAY_TURNED);
    const ww__area disc = ww__area_disc(50.3, 41.8, 20.0);
    (void)state;
    for (size_t y = 0; y < HEIGHT; y++)
        for (size_t x = 0; x < WIDTH; x++)
            for (size_t c = 0; c < 3; c++)
                array_set(&p, x, y, c,
                          10000.0 + 30.0 * (double)x + (c == 1 ? -40.0 : 40.0) * (double)y);
    const ww_patch got = array_read_one(&p, &disc, NULL);
    for (int c = WW_RED; c <= WW_BLUE; c++)
        test_close("50 a pixel over 40 px", got.channel[c].drift, 2000.0, 1e-8);
    test_true("place", got.radius == 20.0 && got.centre_x == 50.3 && got.centre_y == 41.8 &&
                           got.corner[2][0] == 0.0);
    ww_picture_release(&p);
}

/* Source: closed form. Quarters of a chessboard, 500 above and below their mean, have no slope, and
 * the light is off by 500 all over; noise alone is no unevenness but what it makes of four means,
 * sd / sqrt n each way. The same as grain: square of what is off, over that of noise; noise alone
 * is the square of one normal number, with a probability of 0.997 below 9. */
static void what_a_plane_does_not_see_is_uneven(void **state) {
    const ww__area area = array_box(10.0, 10.0, 100.0, 60.0);
    (void)state;
    for (int chess = 0; chess < 2; chess++) {
        ww_picture p = array_picture_new(WIDTH, HEIGHT, 1, WW_SAMPLE_16, ARRAY_ROWS);
        dice d = {7};
        for (size_t y = 0; y < HEIGHT; y++)
            for (size_t x = 0; x < WIDTH; x++)
                array_set(&p, x, y, 0,
                          floor(20000.5 + dice_normal(&d, 300.0)) +
                              (chess ? ((x < 60) == (y < 40) ? 500.0 : -500.0) : 0.0));
        const ww_patch got = array_read_one(&p, &area, NULL);
        const ww_patch_channel *c = &got.channel[WW_VISUAL];
        test_close("drift", c->drift, 0.0, 40.0);
        const double grain = 500.0 * 500.0 * 6000.0 / (c->sd * c->sd);
        test_close("grain", c->grain, chess ? grain : 0.0, chess ? 0.05 * grain : 9.0);
        test_close("uneven", c->uneven, chess ? 500.0 : 0.0, 4.0 * 300.0 / sqrt(6000.0));
        ww_picture_release(&p);
    }
}

/* ------------------------------------------------------------------------------------ dust */

/* Source: issue's limit. Dust on 1 to 5 % of the pixels, dark or bright, of one code or of many,
 * does not move a mean by more than 0.002 D; without it the mean is that of the noise drawn. */
static void dust_does_not_move_the_mean(void **state) {
    static const struct {
        const char *name;
        double share, low, high, noise;
        ww_sample kind;
    } rows[] = {
        {"dark, 1 %", 0.01, 0.0, 0.2, 0.004, WW_SAMPLE_16},
        {"dark, 5 %", 0.05, 0.0, 0.2, 0.004, WW_SAMPLE_16},
        {"one code, 5 %", 0.05, 1.0, 1.0, 0.004, WW_SAMPLE_16},
        {"no noise, one code", 0.03, 0.1, 0.1, 0.0, WW_SAMPLE_16},
        {"no noise, many codes", 0.05, 0.0, 0.2, 0.0, WW_SAMPLE_16},
        {"8 bit", 0.03, 0.0, 0.2, 0.004, WW_SAMPLE_8},
        {"8 bit, no noise", 0.03, 0.9, 1.0, 0.0, WW_SAMPLE_8},
        {"floating point", 0.05, 0.0, 0.2, 0.004, WW_SAMPLE_FLOAT},
    };
    const ww__area area = array_box(10.0, 10.0, 100.0, 70.0);
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_picture p = array_picture_new(WIDTH, HEIGHT, 1, rows[i].kind, ARRAY_ROWS);
        dice d = {i + 1};
        double clean = 0.0, sum = 0.0, dusty = 0.0, all = 0.0;
        for (size_t y = 0; y < HEIGHT; y++)
            for (size_t x = 0; x < WIDTH; x++) {
                const bool dirt = dice_even(&d, 0.0, 1.0) < rows[i].share;
                const bool inside = x >= 10 && x < 110 && y >= 10 && y < 80;
                const double share = dirt ? dice_even(&d, rows[i].low, rows[i].high)
                                          : 0.5 + dice_normal(&d, rows[i].noise);
                const double code =
                    p.sample == WW_SAMPLE_FLOAT ? share : floor(share * p.white + 0.5);
                array_set(&p, x, y, 0, code);
                clean += inside && !dirt ? 1.0 : 0.0;
                sum += inside && !dirt ? code : 0.0;
                dusty += inside && dirt ? 1.0 : 0.0;
                all += inside ? code : 0.0;
            }
        const ww_patch got = array_read_one(&p, &area, NULL);
        const ww_patch_channel *c = &got.channel[WW_VISUAL];
        test_close(rows[i].name, log10(sum / clean / c->code), 0.0, 0.002);
        test_close(rows[i].name, got.rejected, dusty / (clean + dusty), 0.001);
        test_close(rows[i].name, c->all, all / (clean + dusty), 1e-4 * p.white);
        test_true(rows[i].name, c->low < sum / clean && sum / clean < c->high);
        ww_picture_release(&p);
    }
}

/* Source: closed form. Every code is 257 times one of 8 bits, in the shares given: nothing of it is
 * dust, however few of them differ from the median. */
static void coarse_codes_are_no_dust(void **state) {
    static const struct {
        const char *name;
        double dark, light; /* shares of the codes below and above */
    } rows[] = {{"three codes", 0.2, 0.1}, {"two codes", 0.0, 0.3}, {"few", 0.04, 0.03}};
    const ww__area area = array_box(10.0, 10.0, 100.0, 50.0);
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_picture p = array_picture_new(WIDTH, HEIGHT, 1, WW_SAMPLE_16, ARRAY_ROWS);
        for (size_t k = 0; k < 5000; k++) {
            const double share = (double)(k * 2731 % 5000) / 5000.0;
            const double code = share < rows[i].dark           ? 2.0
                                : share >= 1.0 - rows[i].light ? 4.0
                                                               : 3.0;
            array_set(&p, 10 + k % 100, 10 + k / 100, 0, 257.0 * code);
        }
        const ww_patch got = array_read_one(&p, &area, NULL);
        near_zero(rows[i].name, got.rejected);
        test_close(rows[i].name, got.channel[WW_VISUAL].code,
                   257.0 * (3.0 - rows[i].dark + rows[i].light), 1e-9);
        ww_picture_release(&p);
    }
}

/* ----------------------------------------------------------------------------------- light */

/* Source: definition. Two codes in equal numbers through code = white light^(1/gamma). */
static void averages_light(void **state) {
    ww_picture p = array_picture_new(WIDTH, HEIGHT, 1, WW_SAMPLE_16, ARRAY_ROWS);
    const ww__area area = array_box(10.0, 10.0, 40.0, 40.0);
    const double a = 30000.0, b = 34000.0, gamma = 2.2;
    const ww_scanner encoded = {.white = 65535.0, .gamma = {gamma, gamma, gamma, WW_FITTED}};
    const ww_scanner linear = {.white = 65535.0, .gamma = {1.0, 1.0, 1.0, WW_FITTED}};
    (void)state;
    for (size_t y = 0; y < HEIGHT; y++)
        for (size_t x = 0; x < WIDTH; x++)
            array_set(&p, x, y, 0, (x + y) % 2 == 0 ? a : b);
    const double light = 0.5 * (pow(a / 65535.0, gamma) + pow(b / 65535.0, gamma));
    test_close("gamma 2.2", array_read_one(&p, &area, &encoded).channel[WW_VISUAL].code,
               65535.0 * pow(light, 1.0 / gamma), 1e-8);
    test_close("gamma 1", array_read_one(&p, &area, &linear).channel[WW_VISUAL].code, 32000.0,
               1e-9);
    /* Source: IEC 61966-2-1: light = ((code + 0.055) / 1.055)^2.4 above the straight foot. */
    const ww_scanner screen = {
        .white = 65535.0, .encoding = WW_ENCODING_SRGB, .gamma = {1.0, 1.0, 1.0, WW_FITTED}};
    const double mean =
        0.5 * (pow((a / 65535.0 + 0.055) / 1.055, 2.4) + pow((b / 65535.0 + 0.055) / 1.055, 2.4));
    test_close("sRGB", array_read_one(&p, &area, &screen).channel[WW_VISUAL].code,
               65535.0 * (1.055 * pow(mean, 1.0 / 2.4) - 0.055), 1e-6);
    test_close("sd", array_read_one(&p, &area, &encoded).channel[WW_VISUAL].sd,
               2000.0 * sqrt(1600.0 / 1599.0), 1e-9);
    ww_picture_release(&p);
}

static void tells_clipped_pixels(void **state) {
    ww_picture p = array_picture_new(WIDTH, HEIGHT, 3, WW_SAMPLE_16, ARRAY_PLANES);
    const ww__area area = array_box(0.0, 0.0, 100.0, 50.0);
    (void)state;
    for (size_t y = 0; y < HEIGHT; y++)
        for (size_t x = 0; x < WIDTH; x++) {
            array_set(&p, x, y, 0, x < 30 ? 65535.0 : 65000.0 + (double)(x % 40));
            array_set(&p, x, y, 1, x < 7 ? 0.0 : (double)(1 + x % 3));
            array_set(&p, x, y, 2, 300.0 + (double)(x % 5));
        }
    const ww_patch got = array_read_one(&p, &area, NULL);
    test_close("greatest", got.channel[WW_RED].clipped, 0.3, 1e-12);
    test_close("least", got.channel[WW_GREEN].clipped, 0.07, 1e-12);
    near_zero("neither", got.channel[WW_BLUE].clipped);
    ww_picture_release(&p);
}

static void leaves_out_what_is_no_number(void **state) {
    ww_picture p = array_picture_new(WIDTH, HEIGHT, 1, WW_SAMPLE_FLOAT, ARRAY_ROWS);
    const ww__area area = array_box(0.0, 0.0, 100.0, 50.0),
                   none = array_box(100.0, 60.0, 10.0, 10.0);
    (void)state;
    for (size_t y = 0; y < HEIGHT; y++)
        for (size_t x = 0; x < WIDTH; x++)
            array_set(&p, x, y, 0, x >= 100 ? (double)NAN : x < 10 ? (double)INFINITY : -0.01);
    const ww_patch got = array_read_one(&p, &area, NULL);
    test_close("mean, below 0", got.channel[WW_VISUAL].code, (double)-0.01f, 0.0);
    test_close("rejected", got.rejected, 0.1, 1e-12);
    test_true("kept", got.n == 4500);
    test_true("none kept", array_read_one(&p, &none, NULL).n == 0);
    ww_picture_release(&p);
}

/* ----------------------------------------------------------------------- threads and blocks */

enum { AREAS = 9 };

static void areas(ww__area area[AREAS]) {
    for (size_t i = 0; i < AREAS; i++) {
        const double angle = 0.1 * (double)i;
        area[i] = i % 4 == 3 ? ww__area_disc(20.0 + 10.0 * (double)i, 40.0, 9.7)
                             : (ww__area){.centre = {20.3 + 9.7 * (double)i, 44.4},
                                          .along = {cos(angle), sin(angle)},
                                          .across = {-sin(angle), cos(angle)},
                                          .half_u = 5.7,
                                          .half_v = 21.1};
    }
}

/* The same bit for bit for any number of threads, any shape of blocks, and any way they lie. */
static void threads_and_blocks_change_nothing(void **state) {
    static const size_t threads[] = {1, 2, 7};
    static const size_t shape[][2] = {{WIDTH, 1}, {37, 11}, {16, 16}, {WIDTH, HEIGHT}};
    static const ww_sample kinds[] = {WW_SAMPLE_8, WW_SAMPLE_16, WW_SAMPLE_FLOAT};
    ww__area area[AREAS];
    const ww_scanner encoded = {.white = 0.0, .gamma = {2.2, 2.2, 2.2, WW_FITTED}};
    (void)state;
    areas(area);
    for (size_t k = 0; k < 3; k++) {
        ww_patch first[AREAS];
        bool have = false;
        for (int layout = 0; layout < ARRAY_LAYOUTS; layout++) {
            ww_picture p = array_picture_new(WIDTH, HEIGHT, 3, kinds[k], (array_layout)layout);
            ww_scanner scanner = encoded;
            dice d = {77};
            scanner.white = p.white;
            for (size_t y = 0; y < HEIGHT; y++)
                for (size_t x = 0; x < WIDTH; x++)
                    for (size_t c = 0; c < 3; c++)
                        array_set(&p, x, y, c,
                                  p.white * (0.5 + 0.002 * (double)x + dice_even(&d, 0.0, 0.1)));
            for (size_t t = 0; t < 3; t++)
                for (size_t s = 0; s < sizeof shape / sizeof shape[0]; s++) {
                    ww_patch got[AREAS];
                    array_pixels *a = p.handle;
                    a->block_width = shape[s][0], a->block_height = shape[s][1];
                    memset(got, 0, sizeof got);
                    assert_int_equal(
                        ww__patch_read(&p, area, AREAS, &scanner, threads[t], got, NULL), WW_OK);
                    if (!have)
                        memcpy(first, got, sizeof got);
                    have = true;
                    for (size_t i = 0; i < AREAS; i++) {
                        assert_true(first[i].n == got[i].n && got[i].n > 0);
                        assert_true(first[i].rejected == got[i].rejected);
                        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
                            const ww_patch_channel *u = &first[i].channel[c],
                                                   *v = &got[i].channel[c];
                            assert_true(u->code == v->code && u->sd == v->sd && u->low == v->low &&
                                        u->high == v->high && u->drift == v->drift &&
                                        u->clipped == v->clipped);
                        }
                    }
                }
            ww_picture_release(&p);
        }
    }
}

static void passes_on_what_goes_wrong(void **state) {
    ww_picture p = array_picture_new(WIDTH, HEIGHT, 1, WW_SAMPLE_16, ARRAY_ROWS);
    const ww__area inside = array_box(3.0, 3.0, 9.0, 9.0),
                   outside = array_box(500.0, 3.0, 9.0, 9.0);
    ww_patch patch;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("outside", ww__patch_read(&p, &outside, 1, NULL, 1, &patch, &err), WW_EDOMAIN,
                &err);
    ((array_pixels *)p.handle)->refuse = WW_EINPUT;
    test_status("reader", ww__patch_read(&p, &inside, 1, NULL, 1, &patch, &err), WW_EINPUT, &err);
    ww_picture_release(&p);
}

/* ------------------------------------------------------------------------------ a real scan */

/*
 * Source: expected_patches.csv of the outside data: rectangles of whole pixels, means and sample
 * deviations of six strips of film, published with the scan. Ours leave out dust (under 2 %).
 */
static void reads_a_real_scan(void **state) {
    char *scan = test_data("scans/film20240620_002.tif");
    char *table = test_data("scans/expected_patches.csv");
    ww_picture p = WW_PICTURE_INIT;
    (void)state;
    if (!scan || !table) {
        free(scan);
        free(table);
        skip();
    }
    size_t n = 0, rows = 0;
    char *text = test_file_read(table, &n);
    ww_error err = WW_ERROR_INIT;
    test_status("open", ww_picture_file_open(scan, 1, &p, &err), WW_OK, &err);
    for (const char *line = strchr(text, '\n'); line && line[1]; line = strchr(line + 1, '\n')) {
        double at[4], mean[3], sd[3];
        if (sscanf(line, "\nfilm20240620_002,%*[^,],%lf,%lf,%lf,%lf,%lf,%lf,%lf,%lf,%lf,%lf",
                   &at[0], &at[1], &at[2], &at[3], &mean[0], &mean[1], &mean[2], &sd[0], &sd[1],
                   &sd[2]) != 10)
            continue;
        const ww__area area = array_box(at[1], at[0], at[3], at[2]);
        const ww_patch got = array_read_one(&p, &area, NULL);
        rows++;
        test_close("rejected", got.rejected, 0.0, 0.02);
        for (int c = 0; c < 3; c++) {
            test_close("mean", got.channel[c].code, mean[c], 0.0005 * mean[c]);
            test_close("sd", got.channel[c].sd, sd[c], 0.1 * sd[c]);
        }
    }
    assert_true(rows >= 6);
    ww_picture_release(&p);
    free(text);
    free(scan);
    free(table);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_a_plane),
        cmocka_unit_test(a_disc_gives_its_steepest_way),
        cmocka_unit_test(what_a_plane_does_not_see_is_uneven),
        cmocka_unit_test(dust_does_not_move_the_mean),
        cmocka_unit_test(coarse_codes_are_no_dust),
        cmocka_unit_test(averages_light),
        cmocka_unit_test(tells_clipped_pixels),
        cmocka_unit_test(leaves_out_what_is_no_number),
        cmocka_unit_test(threads_and_blocks_change_nothing),
        cmocka_unit_test(passes_on_what_goes_wrong),
        cmocka_unit_test(reads_a_real_scan),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
