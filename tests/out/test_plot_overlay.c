/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/area.h"
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

static double number_between(const char *script, const char *name, size_t i) {
    char wanted[40];
    snprintf(wanted, sizeof wanted, "%s[%zu]", name, i);
    return number_of(script, wanted);
}

/* Half of a line of 3 x 1.5 px, where 4 px show 5 of the scan, in px of the scan. */
#define HALF_LINE (0.5 * 3.0 * 1.5 * 5.0 / 4.0)

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
    for (size_t k = 0; k < 2; k++) /* the frame has the same middle, and is closed */
        test_close("middle", 0.5 * (found.cell[5][k] + found.cell[5 + 2][k]),
                   0.5 * (made.patch[1].corner[0][k] + made.patch[1].corner[2][k]), 1e-6);
    test_close("closed", found.cell[5 + 4][1], found.cell[5][1], 0.0);
    /* The whole scan, in its own pixels. */
    test_close("x", number_of(script.bytes, "x_to"), 1200, 0.0);
    test_close("y", number_of(script.bytes, "y_to"), 900, 0.0);
    test_holds("title", script.bytes, "'wedge.tif: 21 steps found, turned 1.7 degrees clockwise'");
    made.measured.angle_deg = -0.04;
    ww__text_release(&script);
    ww__text_release(&tail);
    make_data(&script, &tail, &size);
    test_holds("level", script.bytes, "'wedge.tif: 21 steps found, lying straight'");
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
        test_close("on the circle", hypot(found.cell[i][0] - 200.5, found.cell[i][1] - 310.5),
                   12.5 + sqrt(0.5) + HALF_LINE, 1e-7);
    test_true("at the right", number_between(script.bytes, "label_x", 1) > 200.5 + 12.5);
    test_close("level with it", number_between(script.bytes, "label_y", 1), 310.5, 1e-9);
    ww__text_release(&script);
    ww__text_release(&tail);
}

static void frame_of(ww_patch *patch, rows *found) {
    const ww_measured measured = {.patch = patch, .n = 1, .has = {false, false, false, true}};
    ww__text script = WW__TEXT_INIT, tail = WW__TEXT_INIT;
    ww__plot_size size;
    make_copy(&measured);
    make_data(&script, &tail, &size);
    rows_of(script.bytes, "outline", -1, found);
    assert_int_equal(found->n, 5);
    ww__text_release(&script);
    ww__text_release(&tail);
}

/* Source: closed form. Pixels with their middle from 100 to 160 reach from 99.5 to 160.5 at most;
 * the line lies outside of that. */
static void frames_lie_just_outside(void **state) {
    static const double want[5][2] = {{99.5 - HALF_LINE, 199.5 - HALF_LINE},
                                      {160.5 + HALF_LINE, 199.5 - HALF_LINE},
                                      {160.5 + HALF_LINE, 300.5 + HALF_LINE},
                                      {99.5 - HALF_LINE, 300.5 + HALF_LINE},
                                      {99.5 - HALF_LINE, 199.5 - HALF_LINE}};
    static char one[] = "1";
    static rows found;
    ww_patch patch = {.step = one,
                      .corner = {{100, 200}, {160, 200}, {160, 300}, {100, 300}},
                      .centre_x = 130,
                      .centre_y = 250,
                      .x = 100,
                      .y = 200,
                      .width = 60,
                      .height = 100};
    (void)state;
    frame_of(&patch, &found);
    for (size_t i = 0; i < 5; i++)
        for (size_t k = 0; k < 2; k++)
            test_close("corner", found.cell[i][k], want[i][k], 1e-8);
}

/* How far beyond the inner side of a frame's line a point lies, px; negative: within. */
static double beyond(const rows *frame, double x, double y) {
    double most = -HUGE_VAL;
    for (size_t k = 0; k < 4; k++) {
        const double *a = frame->cell[k], *b = frame->cell[k + 1], *c = frame->cell[(k + 2) % 4];
        const double dx = b[0] - a[0], dy = b[1] - a[1];
        const double turn = dx * (c[1] - a[1]) - dy * (c[0] - a[0]) > 0.0 ? 1.0 : -1.0;
        const double within = turn * (dx * (y - a[1]) - dy * (x - a[0])) / hypot(dx, dy);
        most = fmax(most, HALF_LINE - within);
    }
    return most;
}

/* Source: ww__area_runs, by which pixels are read. None of them lies under the line of its frame,
 * and some touch it within a fifth of a px, however the step is turned; where it lies straight, all
 * middles of a row may be up to a px within the edge. */
static void frames_hold_every_pixel_that_was_read(void **state) {
    static const double degrees[] = {0.0, 1.7, -6.3, 8.0, 91.0, 84.2};
    static char one[] = "1";
    static rows found;
    (void)state;
    for (size_t i = 0; i < sizeof degrees / sizeof *degrees; i++) {
        const double angle = degrees[i] * 3.14159265358979 / 180.0;
        const double c = cos(angle), s = sin(angle);
        const ww__area area = {{601.3, 452.7}, {c, s}, {-s, c}, 31.4, 77.1, false};
        const ww_region box = ww__area_box(&area, 1200, 900);
        ww_patch patch = {.step = one,
                          .centre_x = area.centre[0],
                          .centre_y = area.centre[1],
                          .x = (double)box.x,
                          .y = (double)box.y,
                          .width = (double)box.width,
                          .height = (double)box.height};
        double most = -HUGE_VAL;
        ww__area_corners(&area, patch.corner);
        frame_of(&patch, &found);
        for (size_t y = box.y; y < box.y + box.height; y++) {
            ww__area_run run[WW__AREA_RUNS];
            const size_t n = ww__area_runs(&area, &box, y, run);
            for (size_t k = 0; k < n; k++)
                for (size_t corner = 0; corner < 4; corner++)
                    most = fmax(most, beyond(&found, (double)(run[k].x + (corner % 2) * run[k].n),
                                             (double)(y + corner / 2)));
        }
        test_true("none is hidden", most <= 1e-6);
        test_true("it touches", most > (i == 0 ? -1.0 : -0.2));
    }
}

/* 41 steps, some narrow, turned by 6 degrees and near the upper edge: labels that are shown stand
 * on one side, a letter's width and a gap apart. */
static void labels_of_uneven_steps_keep_clear(void **state) {
    enum { N = 41 };
    static ww_patch patch[N];
    static char label[N][4];
    const ww_measured measured = {.patch = patch, .n = N, .has = {false, false, false, true}};
    ww__text script = WW__TEXT_INIT, tail = WW__TEXT_INIT;
    ww__plot_size size;
    double u = 20.0;
    (void)state;
    for (size_t i = 0; i < N; i++) {
        const double width = i % 3 == 0 ? 14.0 : 33.0, c = cos(0.1), s = sin(0.1);
        const ww__area area = {
            {u + 0.5 * width, 140.0 - 0.1 * u}, {c, -s}, {s, c}, 0.3 * width, 20, false};
        snprintf(label[i], sizeof label[i], "%zu", i + 1);
        patch[i] = (ww_patch){.step = label[i],
                              .centre_x = area.centre[0],
                              .centre_y = area.centre[1],
                              .x = area.centre[0] - 15,
                              .y = area.centre[1] - 22,
                              .width = 30,
                              .height = 44};
        ww__area_corners(&area, patch[i].corner);
        u += width;
    }
    make_copy(&measured);
    make_data(&script, &tail, &size);
    const size_t n = (size_t)number_of(script.bytes, "n_labels");
    test_true("some are shown", n > 10 && n < N);
    for (size_t i = 2; i <= n; i++) {
        const double dx = number_between(script.bytes, "label_x", i) -
                          number_between(script.bytes, "label_x", i - 1);
        const double dy = number_between(script.bytes, "label_y", i) -
                          number_between(script.bytes, "label_y", i - 1);
        test_true("apart", 0.8 * hypot(dx, dy) >= 10.8);
        test_close("one side", number_between(script.bytes, "label_side", i), 1.0, 0.0);
    }
    test_true("thinner lines", number_of(script.bytes, "frame_lw") < 3.0);
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
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
        made.patch[i].centre_x /= 3;
        made.patch[i].x /= 3;
        made.patch[i].y = 3; /* at the top, a third of the length */
    }
    make_data(&script, &tail, &size);
    /* 16.7 px of the scan are 13.3 of the picture; two digits need 30: every third. */
    test_close("every third", number_of(script.bytes, "n_labels"), 7, 0.0);
    test_holds("every third", script.bytes, "label_name[2] = '4'\n");
    test_holds("below", script.bytes, "label_side[1] = 1\n");
    ww__text_release(&script);
    ww__text_release(&tail);

    scan_case_spots(&made);
    made.patch[0].centre_x = 1180;
    make_data(&script, &tail, &size);
    test_true("at the left", number_between(script.bytes, "label_x", 1) < 1180 - 12.5);
    test_holds("no lines", script.bytes, "n_leader = 0\n");
    ww__text_release(&script);
    ww__text_release(&tail);
}

/* A strip of 20 and the base; its label, 64 px of the scan, would lie on step 1 at the right. */
static void a_spot_beside_a_strip(void **state) {
    static char base[] = "base";
    static rows found;
    struct scan_case made;
    ww__text script = WW__TEXT_INIT, tail = WW__TEXT_INIT;
    ww__plot_size size;
    (void)state;
    scan_case_strip(&made, false);
    made.measured.n_spots = 1;
    made.patch[20] = (ww_patch){.step = base, .centre_x = 45.0, .centre_y = 435.0, .radius = 25.0};
    make_copy(&made.measured);
    make_data(&script, &tail, &size);
    rows_of(script.bytes, "outline", -1, &found);
    assert_int_equal(found.n, 5 * 20 + 49);
    test_holds("named", script.bytes, "label_name[21] = 'base'");
    test_true("clear", number_between(script.bytes, "label_x", 21) + 32.0 < made.patch[0].x);
    ww__text_release(&script);
    ww__text_release(&tail);
}

/* Eight spots around the ninth, whose label has no room beside it: a line leads from its circle. */
static void labels_are_led_out(void **state) {
    static rows found;
    struct scan_case made;
    ww__text script = WW__TEXT_INIT, tail = WW__TEXT_INIT;
    ww__plot_size size;
    (void)state;
    scan_case_spots(&made);
    made.measured.n = made.measured.n_spots = 9;
    for (size_t i = 0; i < 9; i++) {
        made.patch[i] = made.patch[0];
        made.patch[i].centre_x = 500.0 + 40.0 * (double)(i % 3);
        made.patch[i].centre_y = 400.0 + 40.0 * (double)(i / 3);
    }
    make_copy(&made.measured);
    make_data(&script, &tail, &size);
    rows_of(script.bytes, "leader", -1, &found);
    test_true("a line", found.n >= 2 && number_of(script.bytes, "n_leader") == 1);
    test_true("from one of the circles",
              fabs(hypot(found.cell[0][0] - 540.0, found.cell[0][1] - 440.0) -
                   (12.5 + sqrt(0.5) + 2.0 * HALF_LINE)) < 1e-6);
    test_close("to its label", found.cell[1][0], number_between(script.bytes, "label_x", 5), 1e-3);
    ww__text_release(&script);
    ww__text_release(&tail);
}

/* Source: PNG specification (signature, IHDR, IEND). */
static void draws_it(void **state) {
    static char hostile[] = HOSTILE;
    struct scan_case made;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    if (!have_gnuplot())
        skip();
    for (int hostile_names = 0; hostile_names < 2; hostile_names++) {
        scan_case_strip(&made, false);
        if (hostile_names)
            made.measured.file = made.patch[0].step = made.patch[20].step = hostile;
        make_copy(&made.measured);
        char *bytes = NULL;
        size_t n = 0;
        test_status("draw", ww_overlay_draw(&shown.overlay, &bytes, &n, &err), WW_OK, &err);
        test_true("signature", memcmp(bytes, "\x89PNG\r\n\x1a\n", 8) == 0);
        test_true("whole", memcmp(bytes + n - 8, "IEND", 4) == 0);
        free(bytes);
    }
}

static void endings(void **state) {
    static const struct {
        const char *path;
        ww_status want;
    } cases[] = {{"a.png", WW_OK},        {"b/c.PNG", WW_OK}, {"a.svg", WW_EUSAGE},
                 {".png", WW_EUSAGE},     {"", WW_EUSAGE},    {"a.png.txt", WW_EUSAGE},
                 {"a.pn\x1bg", WW_EUSAGE}};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        test_status(cases[i].path, ww_overlay_check(cases[i].path, &err), cases[i].want, &err);
        if (cases[i].want != WW_OK)
            test_holds("says what will do", err.msg, "ends in .png");
    }
}

static int draw_without_gnuplot(void *context) {
    ww_error err = WW_ERROR_INIT;
    char *png = context;
    size_t n;
    setenv("PATH", "/nowhere", 1);
    return ww_overlay_draw(&shown.overlay, &png, &n, &err) == WW_ETOOL && png == context &&
                   strstr(err.msg, "'gnuplot' is not installed")
               ? 0
               : 1;
}

static void without_gnuplot(void **state) {
    struct scan_case made;
    char untouched[] = "";
    (void)state;
    scan_case_strip(&made, false);
    make_copy(&made.measured);
    assert_int_equal(test_in_child(draw_without_gnuplot, untouched), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_left_out_stands_out),
        cmocka_unit_test(outlines_follow_the_patches),
        cmocka_unit_test(frames_lie_just_outside),
        cmocka_unit_test(frames_hold_every_pixel_that_was_read),
        cmocka_unit_test(labels_of_uneven_steps_keep_clear),
        cmocka_unit_test(labels_keep_clear),
        cmocka_unit_test(a_spot_beside_a_strip),
        cmocka_unit_test(labels_are_led_out),
        cmocka_unit_test(draws_it),
        cmocka_unit_test(endings),
        cmocka_unit_test(without_gnuplot),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
