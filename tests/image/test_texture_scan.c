/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_made.h"
#include "image/array_picture.h"
#include <wedgework/texture_scan.h>

/*
 * Source: closed forms. Pixels that know nothing of each other spread, averaged over k x k, by
 * 1/k; by Selwyn's law through a disc of 48 um by sqrt(k^2 px^2 / 1809.557). An edge of Gaussian
 * blur has MTF50 = sqrt(ln 2 / 2) / (pi sigma).
 */
enum { POINTS = 40, WIDE = 240, HIGH = 200 };

static void calibrate(ww_scanner *scanner, ww_scanner_point point[]) {
    *scanner =
        (ww_scanner){.white = 65535.0, .bits = 16, .gamma = {1.0, 1.0, 1.0, WW_GIVEN}, .step = 1.0};
    for (size_t i = 0; i < POINTS; i++) {
        const double density = 0.05 + 0.07 * (double)(POINTS - 1 - i);
        point[i] = (ww_scanner_point){65535.0 * 0.9 * pow(10.0, -density), density, 0.01};
    }
    scanner->channel[WW_VISUAL] = (ww_scanner_channel){.present = true,
                                                       .k = 0.9,
                                                       .dark = {0.0, 0.0, 0.0, WW_GIVEN},
                                                       .flare = {0.0, 0.0, 0.0, WW_GIVEN},
                                                       .point = point,
                                                       .n_points = POINTS};
}

/* Left of 120 px an even grey with grain, sloping by 0.05 D; right of it an edge. */
static ww_picture draw(double px_um, double sd, double blur_px) {
    ww_picture p = array_picture_new(WIDE, HIGH, 1, WW_SAMPLE_16, ARRAY_ROWS);
    uint64_t seed = made_seed(31);
    p.px_per_mm_x = p.px_per_mm_y = (ww_optional){px_um > 0.0, px_um > 0.0 ? 1000.0 / px_um : 0.0};
    for (size_t y = 0; y < HIGH; y++)
        for (size_t x = 0; x < WIDE; x++) {
            const double slope = tan(5.0 * 0.017453292519943295);
            const double off = ((double)x - 180.0 - slope * ((double)y - 100.0)) * cos(atan(slope));
            const double light =
                x < 120 ? pow(10.0, -(0.7 + 0.05 * (double)x / 120.0 + sd * made_normal(&seed)))
                        : 0.1 + 0.3 * (1.0 + erf(off / (blur_px * sqrt(2.0))));
            array_set(&p, x, y, 0, round(65535.0 * 0.9 * light));
        }
    return p;
}

static const ww_region none = {0, 0, 0, 0}, edge_there = {130, 20, 100, 160};
static const ww_spot grey = {"grey", 60.0, 100.0, 55.0};

static void grain(void **state) {
    (void)state;
    static const struct {
        double px_um, sd;
        double block;
    } rows[] = {{10.0, 0.040, 4}, {21.3, 0.020, 2}, {84.7, 0.020, 1}, {42.5, 0.012, 1}};
    ww_scanner_point point[POINTS];
    ww_scanner scanner;
    calibrate(&scanner, point);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_picture p = draw(rows[i].px_um, rows[i].sd, 1.3);
        ww_texture_scan scan = WW_TEXTURE_SCAN_INIT;
        ww_error err = WW_ERROR_INIT;
        const double sd = rows[i].sd / rows[i].block;
        const double want = 1000.0 * sd * sqrt(pow(rows[i].block * rows[i].px_um, 2.0) / 1809.557);
        test_status("grain", ww_texture_scan_read(&p, &scanner, &grey, 1, &none, &scan, &err),
                    WW_OK, &err);
        const ww_texture_spot *spot = &scan.spot[0];
        test_close("block", (double)spot->block, rows[i].block, 0);
        test_close("of a pixel", spot->sd / rows[i].sd, 1.0, 0.03);
        test_true("interval", spot->rms.low <= want && want <= spot->rms.high);
        test_close("rms", spot->rms.value / want, 1.0, 0.15);
        test_close("G", spot->selwyn.value / (want / 1000.0 * sqrt(2.0 * 1809.557)), 1.0, 0.15);
        test_close("density", spot->density, 0.725, 0.003);
        test_true("larger pixels are told",
                  test_noted(&scan.notes, "more than the aperture") == (rows[i].px_um > 60.0));
        test_true("no edge", !scan.has_edge);
        ww_texture_scan_release(&scan);
        ww_picture_release(&p);
    }
}

/* Grain that is coarser than the squares: each pixel is the mean of 3 x 3 deviates of 0.06 D, so
 * that its own sd is 0.02 (closed form). Nine in ten intervals and more hold it. */
static void coarse_grain(void **state) {
    (void)state;
    enum { SEEDS = 24 };
    static double white[HIGH + 2][WIDE + 2];
    ww_scanner_point point[POINTS];
    ww_scanner scanner;
    const double want = 1000.0 * 0.02 * sqrt(pow(42.5, 2.0) / 1809.557);
    size_t held = 0;
    const unsigned runs = test_quick() ? 1 : SEEDS;
    calibrate(&scanner, point);
    for (unsigned run = 0; run < runs; run++) {
        ww_picture p = draw(42.5, 0.0, 1.3);
        uint64_t seed = made_seed(500 + run);
        for (size_t i = 0; i < (HIGH + 2) * (WIDE + 2); i++)
            white[i / (WIDE + 2)][i % (WIDE + 2)] = 0.06 * made_normal(&seed);
        for (size_t i = 0; i < WIDE * HIGH; i++) {
            double mean = 0.0;
            for (size_t k = 0; k < 9; k++)
                mean += white[i / WIDE + k / 3][i % WIDE + k % 3] / 9.0;
            array_set(&p, i % WIDE, i / WIDE, 0, round(65535.0 * 0.9 * pow(10.0, -0.7 - mean)));
        }
        ww_texture_scan scan = WW_TEXTURE_SCAN_INIT;
        test_status("coarse", ww_texture_scan_read(&p, &scanner, &grey, 1, &none, &scan, NULL),
                    WW_OK, NULL);
        held += scan.spot[0].rms.low <= want && want <= scan.spot[0].rms.high;
        ww_texture_scan_release(&scan);
        ww_picture_release(&p);
    }
    print_message("coarse grain: %zu of %u intervals hold\n", held, runs);
    test_true("intervals", test_quick() || 10 * held >= 9 * runs);
}

static void edge(void **state) {
    (void)state;
    ww_scanner_point point[POINTS];
    ww_scanner scanner;
    calibrate(&scanner, point);
    ww_picture p = draw(10.0, 0.01, 1.7);
    ww_texture_scan scan = WW_TEXTURE_SCAN_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("edge", ww_texture_scan_read(&p, &scanner, NULL, 0, &edge_there, &scan, &err),
                WW_OK, &err);
    /* sigma 17 um: 11.02 cycles/mm; 43.57 um */
    test_close("MTF50", scan.mtf50_per_mm.value, 11.02, 0.03 * 11.02);
    test_close("width", scan.width_um.value, 43.57, 0.03 * 43.57);
    ww_texture_scan_release(&scan);
    ww_picture_release(&p);
}

static double code_of(const ww_picture *p, size_t x, size_t y) {
    const array_pixels *pixels = p->handle;
    return ((const uint16_t *)pixels->sample)[array_at(p, x, y, 0)];
}

/* What a scan lacks that was exposed too much, or has more that was sharpened: light that is above
 * 0.6 of white is cut off there, or all is moved away from the mean of 7 x 7 px by 1.5 times. */
static ww_picture spoil(bool clip) {
    ww_picture plain = draw(10.0, 0.01, 1.7), p = draw(10.0, 0.01, 1.7);
    for (size_t y = 3; y + 3 < HIGH; y++)
        for (size_t x = 3; x + 3 < WIDE; x++) {
            const double own = code_of(&plain, x, y);
            double mean = 0.0;
            for (size_t k = 0; k < 49; k++)
                mean += code_of(&plain, x + k % 7 - 3, y + k / 7 - 3) / 49.0;
            const double made = clip ? own / 0.6 : own + 1.5 * (own - mean);
            array_set(&p, x, y, 0, round(fmin(fmax(made, 0.0), 65535.0)));
        }
    ww_picture_release(&plain);
    return p;
}

/* Noise of 10 % of the contrast; half is left of Gaussian blur s at sqrt(ln 4) / (2 pi s). */
static void noisy_edge(void **state) {
    (void)state;
    const double truth = 100.0 * sqrt(log(4.0)) / (2.0 * acos(-1.0) * 1.3);
    ww_scanner_point point[POINTS];
    ww_scanner scanner;
    calibrate(&scanner, point);
    for (int noisy = 0; noisy < 2; noisy++) {
        uint64_t seed = made_seed(77);
        ww_picture p = array_picture_new(WIDE, HIGH, 1, WW_SAMPLE_16, ARRAY_ROWS);
        ww_texture_scan scan = WW_TEXTURE_SCAN_INIT;
        ww_error err = WW_ERROR_INIT;
        p.px_per_mm_x = p.px_per_mm_y = (ww_optional){true, 100.0};
        for (size_t y = 0; y < HIGH; y++)
            for (size_t x = 0; x < WIDE; x++) {
                const double angle = 5.0 * acos(-1.0) / 180.0;
                const double off = ((double)x - 180.0 - tan(angle) * ((double)y - 100.0));
                const double light = 0.15 +
                                     0.3 * (1.0 + erf(off * cos(angle) / (1.3 * sqrt(2.0)))) +
                                     (noisy ? 0.060 * made_normal(&seed) : 0.0);
                array_set(&p, x, y, 0, round(65535.0 * 0.9 * fmax(light, 0.0)));
            }
        test_status("edge", ww_texture_scan_read(&p, &scanner, NULL, 0, &edge_there, &scan, &err),
                    WW_OK, &err);
        const ww_quantity *half = &scan.mtf50_per_mm;
        test_true("there", scan.has_edge && ww_quantity_present(*half));
        test_close("MTF50", half->value / truth, 1.0, noisy ? 0.1 : 0.03);
        if (noisy)
            test_true("interval", half->low <= truth && truth <= half->high);
        test_true("told", test_noted(&scan.notes, "would tell it to 3 %") == (noisy == 1));
        ww_texture_scan_release(&scan);
        ww_picture_release(&p);
    }
}

static void spoilt_edges(void **state) {
    (void)state;
    ww_scanner_point point[POINTS];
    ww_scanner scanner;
    calibrate(&scanner, point);
    ww_picture clipped = spoil(true), sharpened = spoil(false), plain = draw(10.0, 0.01, 1.7);
    ww_texture_scan scan = WW_TEXTURE_SCAN_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("clipped",
                ww_texture_scan_read(&clipped, &scanner, NULL, 0, &edge_there, &scan, &err),
                WW_ENODATA, &err);
    test_holds("clipped", err.msg, "would pass for sharpness");
    test_text("whose", err.file, "quay.tif");
    for (int which = 0; which < 2; which++) {
        test_status("edge",
                    ww_texture_scan_read(which ? &sharpened : &plain, &scanner, NULL, 0,
                                         &edge_there, &scan, &err),
                    WW_OK, &err);
        test_true("told", test_noted(&scan.notes, "the scan was sharpened") == (which == 1));
        ww_texture_scan_release(&scan);
    }
    test_status(
        "no edge",
        ww_texture_scan_read(&plain, &scanner, NULL, 0, &(ww_region){10, 20, 90, 160}, &scan, &err),
        WW_ENODATA, &err);
    test_text("whose", err.file, "quay.tif");
    ww_picture_release(&clipped);
    ww_picture_release(&sharpened);
    ww_picture_release(&plain);
}

static void refused(void **state) {
    (void)state;
    static const ww_spot outside = {"out", 20.0, 100.0, 55.0}, small = {"dot", 60.0, 100.0, 6.0};
    ww_scanner_point point[POINTS];
    ww_scanner scanner;
    calibrate(&scanner, point);
    ww_picture p = draw(10.0, 0.01, 1.7), unsized = draw(0.0, 0.01, 1.7);
    ww_picture black = array_picture_new(WIDE, HIGH, 1, WW_SAMPLE_16, ARRAY_ROWS);
    black.px_per_mm_x = black.px_per_mm_y = p.px_per_mm_x;
    const struct {
        const char *words;
        const ww_picture *picture;
        const ww_spot *spot;
        ww_status status;
    } rows[] = {{"does not say its resolution", &unsized, &grey, WW_ENODATA},
                {"reaches outside", &p, &outside, WW_EDOMAIN},
                {"give a larger radius", &p, &small, WW_EDOMAIN},
                {"have no density", &black, &grey, WW_ENODATA}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_texture_scan scan = WW_TEXTURE_SCAN_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(
            rows[i].words,
            ww_texture_scan_read(rows[i].picture, &scanner, rows[i].spot, 1, &none, &scan, &err),
            rows[i].status, &err);
        test_holds(rows[i].words, err.msg, rows[i].words);
        test_true("nothing", scan.file == NULL && scan.spot == NULL);
    }
    ww_picture_release(&p);
    ww_picture_release(&unsized);
    ww_picture_release(&black);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grain),      cmocka_unit_test(coarse_grain), cmocka_unit_test(edge),
        cmocka_unit_test(noisy_edge), cmocka_unit_test(spoilt_edges), cmocka_unit_test(refused)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
