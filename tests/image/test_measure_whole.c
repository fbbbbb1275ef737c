/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "support/scan_case.h"
#include <float.h>
#include <math.h>
#include <wedgework/measure.h>

enum { WIDTH = 210, HEIGHT = 93 };

/* Light that falls off to one side, with noise; some of it clipped, at either end. */
static ww_picture negative(size_t channels, ww_sample kind, array_layout layout) {
    ww_picture p = array_picture_new(WIDTH, HEIGHT, channels, kind, layout);
    dice d = {5};
    for (size_t y = 0; y < HEIGHT; y++)
        for (size_t x = 0; x < WIDTH; x++)
            for (size_t c = 0; c < channels; c++) {
                const double light =
                    pow(10.0, -0.012 * (double)x - 0.1 * (double)c) + dice_normal(&d, 0.03) - 0.02;
                array_set(&p, x, y, c, fmin(fmax(light, 0.0), 1.0) * p.white);
            }
    return p;
}

static double at(const ww_picture *p, size_t x, size_t y, size_t c) {
    const array_pixels *a = p->handle;
    const size_t i = array_at(p, x, y, c);
    return p->sample == WW_SAMPLE_8    ? (double)a->sample[i]
           : p->sample == WW_SAMPLE_16 ? (double)((const uint16_t *)(const void *)a->sample)[i]
                                       : (double)((const float *)(const void *)a->sample)[i];
}

static int by_size(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The least sample that at least `share` thousandths do not exceed, of the sorted samples. */
static double percentile(const double sorted[], size_t n, size_t share) {
    size_t i = 0;
    while (1000 * (i + 1) < share * n)
        i++;
    return sorted[i];
}

/* Source: the samples themselves, sorted, and the definition of the header. */
static void check(const char *name, const ww_picture *p, ww_region r, const ww_whole *w) {
    static const size_t share[WW_WHOLE_COUNT] = {0, 1, 10, 500, 990, 999, 1000};
    const size_t n = r.width * r.height;
    double *value = malloc(n * sizeof *value);
    test_true(name, w->pixels == n && w->bits == p->bits && w->white == p->white);
    for (size_t c = 0; c < p->channels; c++) {
        const size_t channel = p->channels == 1 ? (size_t)WW_VISUAL : c;
        const double loose = p->sample == WW_SAMPLE_FLOAT ? 1.0 / 8192.0 : 0.0;
        double sum = 0.0, low = 0.0, high = 0.0;
        for (size_t i = 0; i < n; i++) {
            value[i] = at(p, r.x + i % r.width, r.y + i / r.width, c);
            sum += value[i];
            low += value[i] <= 0.0 ? 1.0 : 0.0;
            high += value[i] >= p->white ? 1.0 : 0.0;
        }
        qsort(value, n, sizeof *value, by_size);
        test_true(name, w->has[channel]);
        for (size_t i = 0; i < WW_WHOLE_COUNT; i++) {
            const double want = percentile(value, n, share[i]);
            const bool exact = i == WW_WHOLE_MIN || i == WW_WHOLE_MAX;
            test_close(name, w->code[channel][i], want,
                       exact ? 0.0 : loose * fabs(want) + (loose > 0.0 ? (double)FLT_MIN : 0.0));
        }
        test_close(name, w->mean[channel], sum / (double)n, (1e-12 + loose) * sum / (double)n);
        test_close(name, w->clipped_low[channel], low / (double)n, 1e-15);
        test_close(name, w->clipped_high[channel], high / (double)n, 1e-15);
    }
    free(value);
}

static void counts_every_pixel(void **state) {
    static const ww_sample kinds[] = {WW_SAMPLE_8, WW_SAMPLE_16, WW_SAMPLE_FLOAT};
    static const ww_region parts[] = {{0, 0, WIDTH, HEIGHT}, {17, 5, 101, 77}, {209, 92, 1, 1}};
    static const size_t threads[] = {1, 2, 7};
    (void)state;
    for (size_t k = 0; k < 3; k++)
        for (size_t channels = 1; channels <= 3; channels += 2)
            for (int layout = 0; layout < ARRAY_LAYOUTS; layout++) {
                ww_picture p = negative(channels, kinds[k], (array_layout)layout);
                for (size_t t = 0; t < 3; t++) {
                    /* Width 0 is all of it. */
                    const ww_region part = parts[t];
                    const ww_measure_request request = {
                        .threads = threads[t], .strip = t == 0 ? (ww_region){0, 0, 0, 0} : part};
                    ww_whole w = WW_WHOLE_INIT;
                    ww_error err = WW_ERROR_INIT;
                    test_status("whole", ww_measure_whole(&p, &request, &w, &err), WW_OK, &err);
                    test_text("file", w.file, "quay.tif");
                    check("whole", &p, part, &w);
                    ww_whole_release(&w);
                }
                ww_picture_release(&p);
            }
}

/* The same bit for bit for any number of threads. */
static void keeps_what_the_file_says_of_itself(void **state) {
    const ww_measure_request request = {.threads = 1};
    ww_picture p = array_picture_new(50, 40, 1, WW_SAMPLE_16, ARRAY_ROWS);
    ww_whole w = WW_WHOLE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    array_fill(&p, 2731.0);
    p.px_per_mm_x = p.px_per_mm_y = (ww_optional){true, 47.25};
    p.profile = malloc(16);
    strcpy(p.profile, "Heron grey");
    test_status("whole", ww_measure_whole(&p, &request, &w, &err), WW_OK, &err);
    test_text("profile", w.profile, "Heron grey");
    test_true("resolution", w.px_per_mm.set && w.px_per_mm.value == 47.25);
    ww_whole_release(&w);
    ww_picture_release(&p);
}

static void threads_change_nothing(void **state) {
    ww_picture p = negative(3, WW_SAMPLE_FLOAT, ARRAY_ROWS);
    ww_whole w[3] = {WW_WHOLE_INIT, WW_WHOLE_INIT, WW_WHOLE_INIT};
    static const size_t threads[] = {1, 2, 7};
    (void)state;
    for (size_t t = 0; t < 3; t++) {
        const ww_measure_request request = {.threads = threads[t]};
        assert_int_equal(ww_measure_whole(&p, &request, &w[t], NULL), WW_OK);
        assert_memory_equal(w[t].code, w[0].code, sizeof w[0].code);
        assert_memory_equal(w[t].mean, w[0].mean, sizeof w[0].mean);
        assert_memory_equal(w[t].clipped_low, w[0].clipped_low, sizeof w[0].clipped_low);
    }
    for (size_t t = 0; t < 3; t++)
        ww_whole_release(&w[t]);
    ww_picture_release(&p);
}

/* Source: the model that made the calibration (closed form); the correction there is 0.004 D. */
static void gives_densities_where_it_can(void **state) {
    struct scanner_case scanner;
    ww_picture p = array_picture_new(100, 100, 1, WW_SAMPLE_16, ARRAY_ROWS);
    const ww_measure_request request = {.scanner = &scanner.scanner, .threads = 1};
    ww_whole w = WW_WHOLE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    scan_case_scanner(&scanner, false);
    const double beyond = scanner.scanner.channel[WW_VISUAL].point[0].code;
    for (size_t i = 0; i < 10000; i++) {
        const double density = 0.3 + 0.00015 * (double)i;
        array_set(&p, i % 100, i / 100, 0,
                  i < 50      ? 65535.0
                  : i >= 9970 ? beyond - 20.0
                              : scan_case_code(density));
    }
    test_status("whole", ww_measure_whole(&p, &request, &w, &err), WW_OK, &err);
    test_true("calibrated", w.calibrated);
    test_true("denser than the wedge",
              w.density[WW_VISUAL][WW_WHOLE_MIN].state == WW_CELL_OVER &&
                  w.density[WW_VISUAL][WW_WHOLE_P0_1].state == WW_CELL_OVER);
    test_true("clipped", w.density[WW_VISUAL][WW_WHOLE_MAX].state == WW_CELL_LESS);
    /* The 100th darkest pixel is number 9900, the 5000th number 5000, the 9900th number 100. */
    test_close("p1", w.density[WW_VISUAL][WW_WHOLE_P1].value, 0.3 + 0.00015 * 9900, 0.006);
    test_close("median", w.density[WW_VISUAL][WW_WHOLE_MEDIAN].value, 0.3 + 0.00015 * 5000, 0.006);
    test_close("p99", w.density[WW_VISUAL][WW_WHOLE_P99].value, 0.3 + 0.00015 * 100, 0.006);
    /* By hand: the file's 0.0078 (95 %) at 0.315 D is 0.0040, and 1 % of the light 0.0022. */
    test_true("doubt", w.density[WW_VISUAL][WW_WHOLE_P99].sd.set);
    test_close("doubt", w.density[WW_VISUAL][WW_WHOLE_P99].sd.value, 0.00454, 1e-4);
    assert_int_equal(w.notes.n, 3);
    test_true("unchecked", strstr(w.notes.text[2], "trust holds only if they are") != NULL);
    test_true("clipped", strstr(w.notes.text[0], "0.5 % of the pixels (visual) are clipped"));
    test_true("beyond", strstr(w.notes.text[1], "0.3 % of the pixels (visual) are denser"));
    ww_whole_release(&w);
    ww_picture_release(&p);
}

/* Source: closed form. Light of 10^0.02 times that of open light reads 0.02 D below 0. Two pixels
 * of 100 are enough to show open light. */
static void open_light_is_looked_for(void **state) {
    static const struct {
        double lightest; /* D */
        bool misfit;
        const char *says; /* NULL: nothing */
    } rows[] = {{0.3, false, "a --spot named glass, on bare glass"},
                {0.0, false, "if it is film base, this scan got more light"},
                {-0.02, false, "lighter than open light"},
                {-0.15, false, "lighter than open light"}, /* lighter than the wedge: no density */
                {0.3, true, "fit its own wedge"}};
    const double exposed = 0.7; /* so that what is lighter does not clip */
    struct scanner_case scanner;
    const ww_measure_request request = {.scanner = &scanner.scanner, .threads = 1};
    (void)state;
    scan_case_scanner(&scanner, false);
    scanner.point[0][SCAN_CASE_STEPS - 1] =
        (ww_scanner_point){scan_case_code(0.05), scan_case_density(0), 0.006};
    scanner.scanner.channel[WW_VISUAL].n_points = SCAN_CASE_STEPS;
    scanner.scanner.channel[WW_VISUAL].k *= exposed;
    scanner.scanner.channel[WW_VISUAL].dark.value *= exposed;
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++)
        scanner.point[0][i].code *= exposed;
    for (size_t row = 0; row < sizeof rows / sizeof rows[0]; row++) {
        ww_picture p = array_picture_new(10, 10, 1, WW_SAMPLE_16, ARRAY_ROWS);
        ww_whole w = WW_WHOLE_INIT;
        ww_error err = WW_ERROR_INIT;
        const bool off = rows[row].misfit || rows[row].lightest < 0.0;
        scanner.scanner.misfit = rows[row].misfit;
        for (size_t i = 0; i < 100; i++)
            array_set(&p, i % 10, i / 10, 0,
                      exposed * scan_case_code(i < 2 ? rows[row].lightest : 0.3));
        test_status("whole", ww_measure_whole(&p, &request, &w, &err), WW_OK, &err);
        test_close("notes", (double)w.notes.n, rows[row].says != NULL, 0.0);
        test_true("all are off", w.off == off);
        test_true("none to trust", w.density[WW_VISUAL][WW_WHOLE_MEDIAN].sd.set == !off);
        test_true("told", !rows[row].says || test_noted(&w.notes, rows[row].says));
        ww_whole_release(&w);
        ww_picture_release(&p);
    }
}

/*
 * Source: the formula of the header. Codes of 8 bits, 20 to 150, stretched to 16, and the same with
 * all codes between: the one has steps of 257, by which the variance grows by (slope 257)^2 (1/12 +
 * 1/16), where slope = log10(e) / (code - constant) and the constant is 65535 (dark + k flare).
 */
static void coarse_codes_are_in_the_doubt(void **state) {
    struct scanner_case scanner;
    const ww_measure_request request = {.scanner = &scanner.scanner, .threads = 1};
    double sd[2], code = 0.0;
    (void)state;
    scan_case_scanner(&scanner, false);
    for (int coarse = 0; coarse < 2; coarse++) {
        ww_picture p = array_picture_new(131, 100, 1, WW_SAMPLE_16, ARRAY_ROWS);
        ww_whole w = WW_WHOLE_INIT;
        for (size_t x = 0; x < 131; x++)
            for (size_t y = 0; y < 100; y++)
                array_set(&p, x, y, 0,
                          257.0 * (double)(20 + x) + (coarse ? 0.0 : 2.57 * (double)y - 127.0));
        assert_int_equal(ww_measure_whole(&p, &request, &w, NULL), WW_OK);
        sd[coarse] = w.density[WW_VISUAL][WW_WHOLE_MEDIAN].sd.value;
        code = w.code[WW_VISUAL][WW_WHOLE_MEDIAN];
        test_true("told", test_noted(&w.notes, "codes come in steps of 257") == (coarse == 1));
        ww_whole_release(&w);
        ww_picture_release(&p);
    }
    const double slope = 0.4342945 / (code - 65535.0 * (0.0007 + 0.93 * 0.0041));
    test_close("grown", sqrt(sd[1] * sd[1] - sd[0] * sd[0]),
               slope * 257.0 * sqrt(1.0 / 12.0 + 1.0 / 16.0), 2e-5);
}

static void says_what_goes_wrong(void **state) {
    struct scanner_case scanner;
    ww_picture p = negative(1, WW_SAMPLE_FLOAT, ARRAY_ROWS);
    const ww_measure_request plain = {.threads = 1},
                             other = {.scanner = &scanner.scanner, .threads = 1},
                             outside = {.strip = {200, 0, 11, 5}, .threads = 1};
    ww_whole w = WW_WHOLE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    scan_case_scanner(&scanner, false);
    test_status("settings", ww_measure_whole(&p, &other, &w, &err), WW_EMISMATCH, &err);
    test_status("outside", ww_measure_whole(&p, &outside, &w, &err), WW_EDOMAIN, &err);
    for (size_t x = 0; x < 21; x++)
        for (size_t y = 0; y < HEIGHT; y++)
            array_set(&p, x, y, 0, y % 2 ? (double)NAN : (double)-INFINITY);
    test_status("some numbers", ww_measure_whole(&p, &plain, &w, &err), WW_OK, &err);
    assert_int_equal(w.left_out[WW_VISUAL], 21 * HEIGHT);
    ww_whole_release(&w);
    array_fill(&p, (double)NAN);
    test_status("no number", ww_measure_whole(&p, &plain, &w, &err), WW_ENODATA, &err);
    ((array_pixels *)p.handle)->refuse = WW_EINPUT;
    test_status("reader", ww_measure_whole(&p, &plain, &w, &err), WW_EINPUT, &err);
    test_true("untouched", !w.file && w.pixels == 0);
    ww_picture_release(&p);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(counts_every_pixel),
        cmocka_unit_test(keeps_what_the_file_says_of_itself),
        cmocka_unit_test(threads_change_nothing),
        cmocka_unit_test(gives_densities_where_it_can),
        cmocka_unit_test(open_light_is_looked_for),
        cmocka_unit_test(coarse_codes_are_in_the_doubt),
        cmocka_unit_test(says_what_goes_wrong),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
