/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_made.h"
#include <wedgework/scan_densities.h>

/* Source: ww_scanner_density, whose own tests hold outside values; the scale by its definition. */

enum { POINTS = 40, WIDTH = 256, HEIGHT = 257 };

/* A calibration from 0.05 to 2.78 D, as light; point 0 is the densest. */
static void calibrate(ww_scanner *scanner, ww_scanner_point point[], double white, bool colour) {
    *scanner = (ww_scanner){.white = white,
                            .bits = white > 300.0 ? 16
                                    : white > 1.0 ? 8
                                                  : 32,
                            .gamma = {1.0, 1.0, 1.0, WW_GIVEN}};
    for (size_t i = 0; i < POINTS; i++) {
        const double density = 0.05 + 0.07 * (double)(POINTS - 1 - i);
        point[i] = (ww_scanner_point){white * 0.9 * pow(10.0, -density), density, 0.01};
    }
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (colour ? c == WW_RED || c == WW_GREEN || c == WW_BLUE : c == WW_VISUAL) {
            scanner->channel[c] = (ww_scanner_channel){.present = true,
                                                       .k = 0.9,
                                                       .dark = {0.0, 0.0, 0.0, WW_GIVEN},
                                                       .flare = {0.0, 0.0, 0.0, WW_GIVEN},
                                                       .point = point,
                                                       .n_points = POINTS};
        }
}

static double code_at(const ww_picture *p, size_t x, size_t y, size_t c) {
    const size_t i = (y * WIDTH + x + c * 1000) % 65536;
    return p->sample == WW_SAMPLE_8    ? (double)(i % 256)
           : p->sample == WW_SAMPLE_16 ? (double)i
                                       : (double)((float)i / 65535.0f);
}

static ww_picture every_code(ww_sample kind, size_t channels) {
    ww_picture p = array_picture_new(WIDTH, HEIGHT, channels, kind, ARRAY_ROWS);
    for (size_t y = 0; y < HEIGHT; y++)
        for (size_t x = 0; x < WIDTH; x++)
            for (size_t c = 0; c < channels; c++)
                array_set(&p, x, y, c, code_at(&p, x, y, c));
    return p;
}

static void check(const char *row, const ww_picture *p, const ww_scanner *scanner,
                  const made_rows *rows, const ww_scan_densities *d) {
    const ww_picture_form form = ww_scan_densities_form(p);
    size_t thinner = 0, denser = 0;
    for (size_t i = 0; i < WIDTH * HEIGHT * p->channels; i++) {
        const size_t c = i % p->channels, at = i / p->channels;
        const ww_channel name = p->channels == 1 ? WW_VISUAL : (ww_channel)(WW_RED + (int)c);
        const double code = code_at(p, at % WIDTH, at / WIDTH, c);
        const bool dark = code < 0.1 * p->white;
        ww_quantity want = WW_QUANTITY_INIT;
        if (ww_scanner_density(scanner, name, code, &want, NULL) != WW_OK) {
            want.value = dark ? d->channel[name].dense : d->channel[name].thin;
            thinner += c == 0 && !dark;
            denser += c == 0 && dark;
        }
        if (form.sample == WW_SAMPLE_16)
            test_close(row, ((const uint16_t *)(const void *)rows->bytes)[i],
                       10000.0 * want.value + 5000.0, 0.501);
        else
            test_close(row, (double)((const float *)(const void *)rows->bytes)[i], want.value,
                       1e-6);
    }
    const ww_scan_densities_channel *first = &d->channel[p->channels == 1 ? WW_VISUAL : WW_RED];
    test_close(row, first->thinner, (double)thinner / (WIDTH * HEIGHT), 1e-12);
    test_close(row, first->denser, (double)denser / (WIDTH * HEIGHT), 1e-12);
}

static void every_code_gets_its_density(void **state) {
    static const struct {
        const char *name;
        ww_sample kind;
        size_t channels;
        const char *description;
    } rows[] = {{"grey", WW_SAMPLE_16, 1, "densities: code = 10000 D + 5000"},
                {"colour", WW_SAMPLE_16, 3, "densities: code = 10000 D + 5000"},
                {"8 bit", WW_SAMPLE_8, 1, "densities: code = 10000 D + 5000"},
                {"float", WW_SAMPLE_FLOAT, 1, "densities: sample = D"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_picture p = every_code(rows[i].kind, rows[i].channels);
        ww_scanner scanner;
        ww_scanner_point point[POINTS];
        ww_scan_densities d = WW_SCAN_DENSITIES_INIT;
        ww_error err = WW_ERROR_INIT;
        const ww_picture_form form = ww_scan_densities_form(&p);
        made_rows to = {.row_bytes = WIDTH * p.channels * (form.sample == WW_SAMPLE_16 ? 2 : 4)};
        calibrate(&scanner, point, p.white, rows[i].channels == 3);
        to.bytes = malloc(HEIGHT * to.row_bytes);
        assert_int_equal(ww_notes_add(&p.notes, NULL, "Alpha is left out."), WW_OK);
        test_status(rows[i].name,
                    ww_scan_densities_rows(&p, &scanner, (ww_row_sink){made_take, &to}, &d, &err),
                    WW_OK, &err);
        test_close(rows[i].name, (double)to.n, HEIGHT, 0);
        check(rows[i].name, &p, &scanner, &to, &d);
        test_text(rows[i].name, form.description, rows[i].description);
        test_true(rows[i].name, !form.icc && d.scaled == (form.sample == WW_SAMPLE_16));
        test_true(rows[i].name, test_noted(&d.notes, "Alpha is left out."));
        test_true(rows[i].name, (d.file != NULL) == (p.file != NULL));
        /* The doubt of the end, up to twice that beyond it, 2.7 times at the dense one. */
        const ww_scan_densities_channel *first = &d.channel[p.channels == 1 ? WW_VISUAL : WW_RED];
        test_true(rows[i].name, first->thin_doubt > 0.0099 && first->thin_doubt < 0.0201);
        test_true(rows[i].name, first->dense_doubt > 0.0099 && first->dense_doubt < 0.0273);
        ww_scan_densities_release(&d);
        free(to.bytes);
        ww_picture_release(&p);
    }
    ww_scan_densities_release(NULL);
}

/* A picture of density 0.5 with so many pixels of a thousand at another light. */
static ww_scan_densities with_light(const char *row, double light, size_t per_mille, double read) {
    ww_picture p = array_picture_new(100, 100, 1, WW_SAMPLE_16, ARRAY_ROWS);
    ww_scanner scanner;
    ww_scanner_point point[POINTS];
    ww_scan_densities d = WW_SCAN_DENSITIES_INIT;
    ww_error err = WW_ERROR_INIT;
    made_rows to = {.row_bytes = 200, .bytes = malloc((size_t)100 * 200)};
    calibrate(&scanner, point, 65535.0, false);
    scanner.channel[WW_VISUAL].noise.read = read;
    for (size_t i = 0; i < 10000; i++)
        array_set(&p, i % 100, i / 100, 0,
                  floor(65535.0 * (i % 1000 < per_mille ? light : 0.9 * pow(10.0, -0.5))));
    test_status(row, ww_scan_densities_rows(&p, &scanner, (ww_row_sink){made_take, &to}, &d, &err),
                WW_OK, &err);
    free(to.bytes);
    ww_picture_release(&p);
    return d;
}

/* Source: definition. Open light is 0.9 of full scale; 0.02 D more may be the same, 0.04 may not:
 * half a doubt of 0.01 D more at a wedge that begins at 0.05. */
static void what_is_lighter_than_open_light_puts_all_off(void **state) {
    static const struct {
        const char *name;
        double above; /* D */
        size_t per_mille;
        bool off;
        const char *note;
    } rows[] = {
        {"lighter", 0.04, 2, true, "0.2 % of pixels (visual) are lighter than open light"},
        {"of all", 0.04, 1000, true, "100 % of pixels (visual) are lighter than open"},
        {"too few", 0.04, 0, false, "Nothing in this scan shows whether exposure, levels"},
        {"open", 0.01, 2, false, "if it is film base, this scan got more light"},
        {"darker", -0.3, 500, false, "Nothing in this scan shows whether exposure, levels"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_scan_densities d =
            with_light(rows[i].name, 0.9 * pow(10.0, rows[i].above), rows[i].per_mille, 0.0);
        test_true(rows[i].name, d.off == rows[i].off);
        test_true(rows[i].name, test_noted(&d.notes, rows[i].note));
        ww_scan_densities_release(&d);
    }
}

/* Source: hand calculation. ln 10 / 2 sd^2 is 0.005 D, by the second term of the series, at an sd
 * of 0.0659 D, which 0.0004 x 10^D / (0.9 ln 10) is at 2.533 D; the next point lies at 2.57 D. A
 * quarter of that noise is 0.029 D at the wedge's last step, 2.78 D. */
static void noise_skews_the_dense_end(void **state) {
    (void)state;
    ww_scan_densities d = with_light("noisy", 0.3, 0, 0.0004);
    test_close("the wedge's end", d.channel[WW_VISUAL].wedge, 2.78, 1e-12);
    test_true("beyond it", d.channel[WW_VISUAL].dense > 2.78);
    test_true("noisy", test_noted(&d.notes, "From 2.57 D (visual) on noise of a pixel is"));
    ww_scan_densities_release(&d);
    d = with_light("calm", 0.3, 0, 0.0001);
    test_true("calm", !test_noted(&d.notes, "noise of a pixel"));
    ww_scan_densities_release(&d);
}

static void other_scans_are_refused(void **state) {
    ww_picture p = every_code(WW_SAMPLE_16, 1);
    ww_scanner scanner;
    ww_scanner_point point[POINTS];
    ww_scan_densities d = WW_SCAN_DENSITIES_INIT;
    ww_error err = WW_ERROR_INIT;
    made_rows to = {.refuse = WW_ESYSTEM};
    const ww_row_sink sink = {made_take, &to};
    (void)state;
    calibrate(&scanner, point, 255.0, false);
    test_status("bits", ww_scan_densities_rows(&p, &scanner, sink, &d, &err), WW_EMISMATCH, &err);
    calibrate(&scanner, point, 65535.0, true);
    test_status("channels", ww_scan_densities_rows(&p, &scanner, sink, &d, &err), WW_EMISMATCH,
                &err);
    calibrate(&scanner, point, 65535.0, false);
    scanner.channel[WW_VISUAL].n_points = 0;
    test_status("points", ww_scan_densities_rows(&p, &scanner, sink, &d, &err), WW_ENODATA, &err);
    scanner.channel[WW_VISUAL].n_points = POINTS;
    test_status("sink", ww_scan_densities_rows(&p, &scanner, sink, &d, &err), WW_ESYSTEM, &err);
    ww_picture_release(&p);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_code_gets_its_density),
        cmocka_unit_test(what_is_lighter_than_open_light_puts_all_off),
        cmocka_unit_test(noise_skews_the_dense_end), cmocka_unit_test(other_scans_are_refused)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
