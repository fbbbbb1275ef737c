/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/scan_case.h"
#include <wedgework/overlay.h>

/* A copy of a made scan: dark above, light below, one pixel left out in each half. */
enum { WIDE = 240, HIGH = 180, FACTOR = 5, DARK_AT = 30 * WIDE + 40, LIGHT_AT = 150 * WIDE + 200 };

struct copy {
    ww_overlay overlay;
    unsigned char rgb[3 * WIDE * HIGH];
    unsigned char rejected[WIDE * HIGH];
};

static struct copy shown;

static void make_copy(const ww_measured *measured) {
    shown.overlay = (ww_overlay){WIDE, HIGH, FACTOR, shown.rgb, shown.rejected, measured};
    memset(shown.rgb, 30, sizeof shown.rgb / 2);
    memset(shown.rgb + sizeof shown.rgb / 2, 220, sizeof shown.rgb - sizeof shown.rgb / 2);
    memset(shown.rejected, 0, sizeof shown.rejected);
    shown.rejected[DARK_AT] = shown.rejected[LIGHT_AT] = 1;
}

static void make_data(ww__text *script, ww__text *tail, ww__plot_size *size) {
    test_status("data", ww__plot_overlay_data(&shown.overlay, script, tail, size, NULL), WW_OK,
                NULL);
}

static void expect_pixel(const ww__text *tail, size_t at, unsigned char r, unsigned char g,
                         unsigned char b) {
    const unsigned char *pixel = (const unsigned char *)tail->bytes + 3 * at;
    test_true("pixel", pixel[0] == r && pixel[1] == g && pixel[2] == b);
}

static void what_was_left_out_stands_out(void **state) {
    struct scan_case made;
    ww__text script = WW__TEXT_INIT, tail = WW__TEXT_INIT;
    ww__plot_size size;
    (void)state;
    scan_case_strip(&made, false);
    make_copy(&made.measured);
    make_data(&script, &tail, &size);
    assert_int_equal(tail.n, 3 * WIDE * HIGH);
    expect_pixel(&tail, 0, 30, 30, 30);
    expect_pixel(&tail, DARK_AT, 255, 240, 0);
    expect_pixel(&tail, DARK_AT + WIDE, 255, 240, 0);
    expect_pixel(&tail, DARK_AT + 2, 30, 30, 30);
    expect_pixel(&tail, LIGHT_AT, 200, 0, 0);
    expect_pixel(&tail, LIGHT_AT - 1, 200, 0, 0);
    expect_pixel(&tail, WIDE * HIGH - 1, 220, 220, 220);
    test_holds("says so", script.bytes, "red or yellow: left out");
    ww__text_release(&script);
    ww__text_release(&tail);

    memset(shown.rejected, 0, sizeof shown.rejected);
    make_data(&script, &tail, &size);
    test_holds("says so", script.bytes, "nothing in it was left out");
    ww__text_release(&script);
    ww__text_release(&tail);
}

static void outlines_follow_the_patches(void **state) {
    static rows found;
    struct scan_case made;
    ww__text script = WW__TEXT_INIT, tail = WW__TEXT_INIT;
    ww__plot_size size;
    (void)state;
    scan_case_strip(&made, false);
    make_copy(&made.measured);
    make_data(&script, &tail, &size);
    rows_of(script.bytes, "outline", -1, &found);
    assert_int_equal(found.n, 5 * SCAN_CASE_STEPS);
    test_close("corner", found.cell[5 + 2][0], made.patch[1].corner[2][0], 1e-8);
    test_close("closed", found.cell[5 + 4][1], made.patch[1].corner[0][1], 1e-8);
    /* The whole scan, in its own pixels. */
    test_close("x", number_of(script.bytes, "x_to"), 1200, 0.0);
    test_close("y", number_of(script.bytes, "y_to"), 900, 0.0);
    test_holds("title", script.bytes, "'wedge.tif: 21 steps, turned 1.7 degrees clockwise'");
    test_close("every label", number_of(script.bytes, "n_labels"), 21, 0.0);
    test_holds("above", script.bytes, "label_side[1] = 0\n");
    /* 240 px are shown as 960: four to one, on 1.5 px to each of the layout. */
    test_close("zoom",
               size.width * 1.5 *
                   (number_of(script.bytes, "main_right") - number_of(script.bytes, "main_left")),
               960, 1e-5);
    ww__text_release(&script);
    ww__text_release(&tail);

    scan_case_spots(&made);
    make_data(&script, &tail, &size);
    rows_of(script.bytes, "outline", -1, &found);
    assert_int_equal(found.n, 3 * 49);
    for (size_t i = 0; i < 49; i++)
        test_close("on the circle", hypot(found.cell[i][0] - 200.5, found.cell[i][1] - 310.5), 12.5,
                   1e-7);
    test_holds("at the right", script.bytes, "label_side[1] = 2\n");
    ww__text_release(&script);
    ww__text_release(&tail);
}

static void labels_keep_clear(void **state) {
    struct scan_case made;
    ww__text script = WW__TEXT_INIT, tail = WW__TEXT_INIT;
    ww__plot_size size;
    (void)state;
    scan_case_strip(&made, false);
    make_copy(&made.measured);
    for (size_t i = 0; i < SCAN_CASE_STEPS;
         i++) { /* a strip of a third of the length, at the top */
        made.patch[i].centre_x /= 3;
        made.patch[i].x /= 3;
        made.patch[i].y = 3;
    }
    make_data(&script, &tail, &size);
    /* 16.7 px of the scan are 13.3 of the picture; two digits need 30: every third. */
    test_close("every third", number_of(script.bytes, "n_labels"), 7, 0.0);
    test_holds("every third", script.bytes, "label_name[2] = '4'\n");
    test_holds("below", script.bytes, "label_side[1] = 1\n");
    ww__text_release(&script);
    ww__text_release(&tail);

    scan_case_spots(&made);
    made.patch[0].x = 1170;
    make_data(&script, &tail, &size);
    test_holds("at the left", script.bytes, "label_side[1] = 3\n");
    ww__text_release(&script);
    ww__text_release(&tail);
}

/* Source: PNG specification (signature, IHDR, IEND). */
static void draws_it(void **state) {
    static char hostile[] = HOSTILE;
    struct scan_case made;
    char *folder, *path, *bytes;
    size_t n = 0;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    if (!have_gnuplot())
        skip();
    folder = test_folder_new();
    path = test_path(folder, "over.PNG");
    for (int hostile_names = 0; hostile_names < 2; hostile_names++) {
        scan_case_strip(&made, false);
        if (hostile_names)
            made.measured.file = made.patch[0].step = made.patch[20].step = hostile;
        make_copy(&made.measured);
        test_status("draw", ww_overlay_draw(&shown.overlay, path, &err), WW_OK, &err);
        bytes = test_file_read(path, &n);
        assert_non_null(bytes);
        test_true("signature", memcmp(bytes, "\x89PNG\r\n\x1a\n", 8) == 0);
        test_true("whole", memcmp(bytes + n - 8, "IEND", 4) == 0);
        free(bytes);
    }
    assert_int_equal(test_folder_count(folder), 1);
    free(path);
    path = test_path(folder, "no/such.png");
    test_status("no folder", ww_overlay_draw(&shown.overlay, path, &err), WW_ESYSTEM, &err);
    free(path);
    test_folder_remove(folder);
}

static void endings(void **state) {
    static const struct {
        const char *path;
        ww_status want;
    } cases[] = {{"a.png", WW_OK},        {"b/c.PNG", WW_OK}, {"a.svg", WW_EUSAGE},
                 {".png", WW_EUSAGE},     {"", WW_EUSAGE},    {"a.png.txt", WW_EUSAGE},
                 {"a.pn\x1bg", WW_EUSAGE}};
    struct scan_case made;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        test_status(cases[i].path, ww_overlay_check(cases[i].path, &err), cases[i].want, &err);
        if (cases[i].want != WW_OK)
            test_holds("says what will do", err.msg, "ends in .png");
    }
    scan_case_strip(&made, false);
    make_copy(&made.measured);
    test_status("ending", ww_overlay_draw(&shown.overlay, "a.pdf", &err), WW_EUSAGE, &err);
}

static int draw_without_gnuplot(void *context) {
    ww_error err = WW_ERROR_INIT;
    setenv("PATH", "/nowhere", 1);
    return ww_overlay_draw(&shown.overlay, context, &err) == WW_ETOOL &&
                   strstr(err.msg, "'gnuplot' is not installed")
               ? 0
               : 1;
}

static void without_gnuplot(void **state) {
    struct scan_case made;
    char *folder = test_folder_new(), *path = test_path(folder, "over.png");
    (void)state;
    scan_case_strip(&made, false);
    make_copy(&made.measured);
    assert_int_equal(test_in_child(draw_without_gnuplot, path), 0);
    assert_int_equal(test_folder_count(folder), 0);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_left_out_stands_out),
        cmocka_unit_test(outlines_follow_the_patches),
        cmocka_unit_test(labels_keep_clear),
        cmocka_unit_test(draws_it),
        cmocka_unit_test(endings),
        cmocka_unit_test(without_gnuplot),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
