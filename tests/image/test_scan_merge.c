/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_made.h"
#include <stdio.h>
#include <wedgework/scan_merge.h>

/*
 * Source of what is expected: the scene and the noise that the scans were drawn with; the noise of
 * a mean with weights of least variance is 1 / (1 / v_s + 1 / v_l).
 */

static const made_pair sixteen = {.name = "16 bit",
                                  .width = 480,
                                  .height = 330,
                                  .channels = 1,
                                  .kind = WW_SAMPLE_16,
                                  .ratio = 3.71,
                                  .dark = 0.004,
                                  .read = 0.0006,
                                  .shot = 0.003};

static made_pair with(const char *name, void (*change)(made_pair *)) {
    made_pair m = sixteen;
    m.name = name;
    change(&m);
    return m;
}

static void colour(made_pair *m) {
    m->channels = 3;
}
static void twelve(made_pair *m) {
    m->white = 4095.0;
}
static void eight(made_pair *m) {
    m->kind = WW_SAMPLE_8;
    m->read = 0.003;
}
static void real(made_pair *m) {
    m->kind = WW_SAMPLE_FLOAT;
}
static void close_by(made_pair *m) {
    m->right = 0.2;
    m->down = -0.22;
}
static void other_black(made_pair *m) {
    m->extra = 0.01;
}
static void far_off(made_pair *m) {
    m->right = 1.5;
}
static void further(made_pair *m) {
    m->right = -11.3;
    m->down = 7.4;
}
static void turned(made_pair *m) {
    m->turned = 3.0;
}
static void same(made_pair *m) {
    m->ratio = 1.0;
}
static void too_long(made_pair *m) {
    m->ratio = 3000.0;
}
static void flat(made_pair *m) {
    m->flat = 1.0;
    m->dark = 0.0;
}

enum { CASES = 8 };
static void ratio_is_measured(void **state) {
    made_pair row[CASES] = {sixteen,
                            with("colour", colour),
                            with("12 bit", twelve),
                            with("8 bit", eight),
                            with("float", real),
                            with("0.3 px off", close_by),
                            with("another black", other_black),
                            with("flat", flat)};
    (void)state;
    for (size_t i = 0; i < CASES; i++) {
        ww_picture a = made_scan(&row[i], false, 1), b = made_scan(&row[i], true, 2);
        ww_scan_merge m = WW_SCAN_MERGE_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(row[i].name, ww_scan_merge_measure(&a, &b, NULL, &m, &err), WW_OK, &err);
        for (size_t c = 0; c < row[i].channels && !(row[i].flat > 0.0); c++) {
            const ww_channel name = row[i].channels == 1 ? WW_VISUAL : (ww_channel)(WW_RED + c);
            const double r = made_ratio(&row[i], c);
            const ww_scan_merge_channel *got = &m.channel[name];
            test_true(row[i].name, got->present);
            test_close(row[i].name, got->ratio.value, r, 0.005 * r);
            test_true(row[i].name, got->ratio.high - got->ratio.low < 0.02 * r);
            test_close(row[i].name, got->stops.value, log2(r), 0.008);
            test_true(row[i].name, got->stops.low < got->stops.value);
            test_close(row[i].name, got->offset, row[i].dark * (1.0 - r) + row[i].extra, 2e-4);
        }
        if (row[i].flat > 0.0) { /* all of it at light 0.2, 0.699 D */
            test_true(row[i].name,
                      m.shift.places == 0 && test_noted(&m.notes, "could not be checked"));
            test_close(row[i].name, m.channel[WW_VISUAL].darkest, 0.6, 1e-9);
        } else {
            test_true(row[i].name, m.shift.places >= 3);
            /* the worst of nine, each to 0.15 px (one sd) where noise is that of 8 bits */
            test_close(row[i].name, hypot(m.shift.x, m.shift.y), hypot(row[i].right, row[i].down),
                       row[i].kind == WW_SAMPLE_8 ? 0.3 : 0.12);
        }
        ww_scan_merge_release(&m);
        ww_picture_release(&a);
        ww_picture_release(&b);
    }
}

static void noise_is_measured_on_the_pair(void **state) {
    ww_picture a = made_scan(&sixteen, false, 3), b = made_scan(&sixteen, true, 4);
    ww_scan_merge m = WW_SCAN_MERGE_INIT;
    (void)state;
    assert_int_equal(ww_scan_merge_measure(&b, &a, NULL, &m, NULL), WW_OK);
    test_true("order", m.longer_first && m.noise_measured);
    test_true("nothing says how codes are encoded", m.taken_as_light);
    test_close("read", m.channel[WW_VISUAL].read, sixteen.read, 0.15 * sixteen.read);
    test_close("shot", m.channel[WW_VISUAL].shot, sixteen.shot, 0.05 * sixteen.shot);
    ww_scan_merge_release(&m);
    ww_picture_release(&a);
    ww_picture_release(&b);
}

/* Share of the light beyond dark by which columns [from, to) are off on average, and what they
 * scatter, all as light. */
static void look(const made_pair *m, const uint16_t *merged, size_t from, size_t to, double *mean,
                 double *sd) {
    double sum = 0.0, squares = 0.0, n = 0.0, light = 0.0;
    for (size_t y = 0; y < m->height; y++)
        for (size_t x = from; x < to; x++) {
            const double want = made_scene(m, (double)x, (double)y);
            const double off = merged[y * m->width + x] / 65535.0 - m->dark - want;
            sum += off;
            squares += off * off;
            light += want;
            n += 1.0;
        }
    *mean = sum / light;
    *sd = sqrt(squares / n);
}

static double predicted(const made_pair *m, size_t from, size_t to) {
    double sum = 0.0, n = 0.0;
    for (size_t y = 0; y < m->height; y++)
        for (size_t x = from; x < to; x++) {
            const double s = made_scene(m, (double)x, (double)y), r = m->ratio;
            const double v_s = m->read * m->read + m->shot * m->shot * s;
            const double v_l = (m->read * m->read + m->shot * m->shot * r * s) / (r * r);
            const bool clips = r * s + m->dark > 0.98;
            sum += clips ? v_s : v_s * v_l / (v_s + v_l);
            n += 1.0;
        }
    return sqrt(sum / n);
}

static uint16_t *merge(const made_pair *m, ww_scan_merge *report) {
    ww_picture a = made_scan(m, false, 5), b = made_scan(m, true, 6);
    made_rows rows = {.row_bytes = m->width * m->channels * 2};
    ww_error err = WW_ERROR_INIT;
    rows.bytes = malloc(m->height * rows.row_bytes);
    test_status(m->name, ww_scan_merge_measure(&a, &b, NULL, report, &err), WW_OK, &err);
    test_status(m->name,
                ww_scan_merge_rows(&a, &b, NULL, report, (ww_row_sink){made_take, &rows}, &err),
                WW_OK, &err);
    test_close(m->name, (double)rows.n, (double)m->height, 0);
    ww_picture_release(&a);
    ww_picture_release(&b);
    return (uint16_t *)(void *)rows.bytes;
}

static void noise_is_the_least_and_there_is_no_step(void **state) {
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    uint16_t *merged = merge(&sixteen, &report);
    (void)state;
    for (size_t x = 0; x + 40 <= sixteen.width; x += 40) {
        double mean, sd;
        const double least = predicted(&sixteen, x, x + 40);
        char row[32];
        snprintf(row, sizeof row, "columns from %zu", x);
        look(&sixteen, merged, x, x + 40, &mean, &sd);
        test_close(row, mean, 0.0, 0.003); /* 0.0013 D: no step where the scans meet */
        /* In the fade, between the two, more than the least. */
        test_true(row, sd > 0.95 * least && sd < (x >= 80 && x < 200 ? 1.6 : 1.06) * least);
    }
    const ww_scan_merge_channel *c = &report.channel[WW_VISUAL];
    test_close("shares", c->longer + c->blended + c->shorter, 1.0, 1e-12);
    test_true("shares", c->blended > 0.01 && c->shorter > 0.1 && c->longer > 0.5);
    ww_scan_merge_release(&report);
    free(merged);
}

static void what_cannot_be_merged_is_refused(void **state) {
    static const struct {
        const char *name;
        void (*change)(made_pair *m);
        ww_status want;
        const char *words;
    } rows[] = {{"1.5 px", far_off, WW_EMISMATCH, "lies 1.5 px to the right"},
                {"13.5 px", further, WW_EMISMATCH,
                 "lies 11.3 px to the left of and 7.4 px below the other"},
                {"3 degrees", turned, WW_EMISMATCH, "as if turned, scaled or moved in part"},
                {"nothing in both", too_long, WW_ENODATA, "too few for the ratio"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const made_pair m = with(rows[i].name, rows[i].change);
        ww_picture a = made_scan(&m, false, 7), b = made_scan(&m, true, 8);
        ww_scan_merge report = WW_SCAN_MERGE_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].name, ww_scan_merge_measure(&a, &b, NULL, &report, &err), rows[i].want,
                    &err);
        test_holds(rows[i].name, err.msg, rows[i].words);
        ww_picture_release(&a);
        ww_picture_release(&b);
    }
}

static void another_picture_is_refused(void **state) {
    ww_picture a = made_scan(&sixteen, false, 7), b = made_scan(&sixteen, true, 8);
    ww_picture turned = array_picture_new(b.width, b.height, 1, b.sample, ARRAY_ROWS);
    const size_t row = b.width * sizeof(uint16_t);
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    for (size_t y = 0; y < b.height; y++)
        memcpy(((array_pixels *)turned.handle)->sample + y * row,
               ((array_pixels *)b.handle)->sample + (b.height - 1 - y) * row, row);
    test_status("upside down", ww_scan_merge_measure(&a, &turned, NULL, &report, &err),
                WW_EMISMATCH, &err);
    test_holds("upside down", err.msg, "matches nowhere within 24 px");
    ww_picture_release(&a);
    ww_picture_release(&b);
    ww_picture_release(&turned);
}

/* Both end below white, at a code of their own or at the last of 14 bits. */
static void codes_that_end_below_white_are_clipped(void **state) {
    static const double ends[] = {0.9, 0.25};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        made_pair m = sixteen;
        ww_scan_merge report = WW_SCAN_MERGE_INIT;
        double mean, sd;
        m.ends = ends[i];
        uint16_t *merged = merge(&m, &report);
        test_close("ratio", report.channel[WW_VISUAL].ratio.value, m.ratio, 0.005 * m.ratio);
        test_close("clips", report.clips, 0.98 * m.ends, 1e-4);
        test_true("said", test_noted(&report.notes, "with many pixels there"));
        for (size_t x = 160; x < 480; x += 40) {
            look(&m, merged, x, x + 40, &mean, &sd);
            test_close("no step", mean, 0.0, 0.003);
        }
        ww_scan_merge_release(&report);
        free(merged);
    }
}

static void equal_exposures_are_averaged(void **state) {
    const made_pair m = with("same", same);
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    uint16_t *merged = merge(&m, &report);
    double mean, sd;
    (void)state;
    look(&m, merged, 300, 400, &mean, &sd);
    test_close("half the variance", sd, predicted(&m, 300, 400), 0.05 * sd);
    test_true("said", test_noted(&report.notes, "same exposure"));
    ww_scan_merge_release(&report);
    free(merged);
}

/* Noise foretold in the middle of the fade: codes clip from 98 % on, light from 0.98^gamma. Source:
 * the header's formulas. */
static void expect_fade(const made_pair *m, const ww_scan_merge_channel *channel) {
    const ww_scan_merge_gain *gain = &channel->gain[6];
    const double light = pow(10.0, -0.6), r = m->ratio, longer = r * light + m->dark * (1.0 - r);
    const double v_s = m->read * m->read + m->shot * m->shot * light;
    const double v_l = (m->read * m->read + m->shot * m->shot * r * light) / (r * r);
    const double w = log10(pow(0.98, m->gamma) / longer) / 0.1 * v_s / (v_s + v_l);
    const double sd = sqrt((1.0 - w) * (1.0 - w) * v_s + w * w * v_l) / (light * log(10.0));
    test_close("below", gain->below, 0.6, 1e-12);
    test_close("fade", gain->merged, sd, 0.03 * sd);
}

static void encoded_codes_need_a_scanner_file(void **state) {
    made_pair m = sixteen;
    m.gamma = 2.2;
    m.dark = 0.002;
    ww_picture a = made_scan(&m, false, 9), b = made_scan(&m, true, 10);
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    ww_error err = WW_ERROR_INIT;
    ww_scanner scanner = WW_SCANNER_INIT;
    made_rows rows = {.row_bytes = m.width * 2};
    double mean = 0.0, light = 0.0;
    (void)state;
    a.gamma = b.gamma = (ww_optional){true, 2.2};
    test_status("no scanner", ww_scan_merge_measure(&a, &b, NULL, &report, &err), WW_EINPUT, &err);
    test_holds("no scanner", err.msg, "a power of 2.2");
    scanner.bits = 16;
    scanner.white = 65535.0;
    scanner.gamma = (ww_quantity){2.2, 2.2, 2.2, WW_FITTED};
    scanner.channel[WW_VISUAL].present = true;
    scanner.channel[WW_VISUAL].noise = (ww_scanner_noise){m.read, m.shot, 0.0};
    rows.bytes = malloc(m.height * rows.row_bytes);
    test_status("scanner", ww_scan_merge_measure(&a, &b, &scanner, &report, &err), WW_OK, &err);
    test_close("ratio", report.channel[WW_VISUAL].ratio.value, m.ratio, 0.005 * m.ratio);
    test_true("noise", !report.noise_measured && !report.taken_as_light);
    expect_fade(&m, &report.channel[WW_VISUAL]);
    test_status(
        "rows",
        ww_scan_merge_rows(&a, &b, &scanner, &report, (ww_row_sink){made_take, &rows}, &err), WW_OK,
        &err);
    for (size_t y = 0; y < m.height; y++) /* the dark end, decoded by the formula itself */
        for (size_t x = 300; x < 480; x++) {
            const uint16_t code = ((const uint16_t *)(void *)rows.bytes)[y * m.width + x];
            mean += pow(code / 65535.0, 2.2) - m.dark - made_scene(&m, (double)x, (double)y);
            light += made_scene(&m, (double)x, (double)y);
        }
    test_close("light", mean / light, 0.0, 0.003);
    free(rows.bytes);
    ww_scan_merge_release(&report);
    ww_picture_release(&a);
    ww_picture_release(&b);
}

static void pictures_must_match(void **state) {
    ww_picture a = array_picture_new(100, 100, 1, WW_SAMPLE_16, ARRAY_ROWS);
    ww_picture other[] = {array_picture_new(100, 101, 1, WW_SAMPLE_16, ARRAY_ROWS),
                          array_picture_new(100, 100, 3, WW_SAMPLE_16, ARRAY_ROWS),
                          array_picture_new(100, 100, 1, WW_SAMPLE_8, ARRAY_ROWS)};
    static const char *const words[] = {"100 x 101 px", "in colour", "8 bits"};
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        ww_error err = WW_ERROR_INIT;
        test_status(words[i], ww_scan_merge_measure(&a, &other[i], NULL, &report, &err),
                    WW_EMISMATCH, &err);
        test_holds(words[i], err.msg, words[i]);
        ww_picture_release(&other[i]);
    }
    ww_picture_release(&a);
}

/* The second one is the longer. */
static void what_the_files_said_is_kept(void **state) {
    ww_picture a = made_scan(&sixteen, false, 13), b = made_scan(&sixteen, true, 14);
    static char name_a[] = "a.tif", name_b[] = "b.tif";
    char *const had[] = {a.file, b.file};
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    (void)state;
    a.file = name_a;
    b.file = name_b;
    assert_int_equal(ww_notes_add(&a.notes, NULL, "Alpha is left out."), WW_OK);
    assert_int_equal(ww_notes_add(&b.notes, NULL, "Alpha is left out."), WW_OK);
    assert_int_equal(ww_scan_merge_measure(&a, &b, NULL, &report, NULL), WW_OK);
    test_text("longer", report.longer_file, "b.tif");
    test_text("shorter", report.shorter_file, "a.tif");
    test_true("16 bits", !report.real);
    test_text("once, first of all", report.notes.text[0], "Alpha is left out.");
    test_true("once", strcmp(report.notes.text[1], "Alpha is left out.") != 0);
    a.file = had[0];
    b.file = had[1];
    ww_scan_merge_release(&report);
    ww_picture_release(&a);
    ww_picture_release(&b);
}

static void a_sink_that_refuses_ends_it(void **state) {
    ww_picture a = made_scan(&sixteen, false, 11), b = made_scan(&sixteen, true, 12);
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    made_rows rows = {.refuse = WW_ESYSTEM};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    assert_int_equal(ww_scan_merge_measure(&a, &b, NULL, &report, NULL), WW_OK);
    test_status("refused",
                ww_scan_merge_rows(&a, &b, NULL, &report, (ww_row_sink){made_take, &rows}, &err),
                WW_ESYSTEM, &err);
    ww_scan_merge_release(&report);
    ww_scan_merge_release(NULL);
    ww_picture_release(&a);
    ww_picture_release(&b);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ratio_is_measured),
        cmocka_unit_test(noise_is_measured_on_the_pair),
        cmocka_unit_test(noise_is_the_least_and_there_is_no_step),
        cmocka_unit_test(what_cannot_be_merged_is_refused),
        cmocka_unit_test(another_picture_is_refused),
        cmocka_unit_test(codes_that_end_below_white_are_clipped),
        cmocka_unit_test(equal_exposures_are_averaged),
        cmocka_unit_test(encoded_codes_need_a_scanner_file),
        cmocka_unit_test(pictures_must_match),
        cmocka_unit_test(what_the_files_said_is_kept),
        cmocka_unit_test(a_sink_that_refuses_ends_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
