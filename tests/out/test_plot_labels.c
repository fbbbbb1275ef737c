/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_labels.h"
#include "support/support.h"
#include <math.h>

enum { WIDTH = 900, HEIGHT = 500, MOST = 36 };

static ww__plot_label disc(double x, double y, double radius, double width) {
    return (ww__plot_label){.x = x, .y = y, .radius = radius, .width = width, .height = 24};
}

/* Source: geometry. A label is a rectangle, and touches nothing but its own disc. */
static void check_clear(const char *name, const ww__plot_label label[], size_t n) {
    for (size_t i = 0; i < n; i++) {
        const ww__plot_label *a = &label[i];
        if (!a->shown)
            continue;
        const double left = a->at_x - 0.5 * a->width, right = a->at_x + 0.5 * a->width;
        const double top = a->at_y - 0.5 * a->height, bottom = a->at_y + 0.5 * a->height;
        test_true(name, left >= 0 && right <= WIDTH && top >= 0 && bottom <= HEIGHT);
        for (size_t k = 0; k < n; k++) {
            const ww__plot_label *b = &label[k];
            const double x = fmin(fmax(b->x, left), right), y = fmin(fmax(b->y, top), bottom);
            test_true(name, hypot(b->x - x, b->y - y) > b->radius - 1e-3);
            test_true(name, k == i || !b->shown || b->at_x - 0.5 * b->width >= right ||
                                b->at_x + 0.5 * b->width <= left ||
                                b->at_y - 0.5 * b->height >= bottom ||
                                b->at_y + 0.5 * b->height <= top);
        }
    }
}

static void one_stands_beside_its_disc(void **state) {
    ww__plot_label at_right = disc(300, 200, 17, 80), at_left = disc(850, 200, 17, 80);
    ww__plot_label corner = disc(880, 480, 17, 80);
    (void)state;
    ww__plot_labels_place(&at_right, 1, 0, WIDTH, HEIGHT);
    test_close("right of it", at_right.at_x, 300 + 17 + 40, 1e-9);
    test_close("level with it", at_right.at_y, 200, 0.0);
    test_true("no line", !at_right.led);
    ww__plot_labels_place(&at_left, 1, 0, WIDTH, HEIGHT);
    test_close("left of it", at_left.at_x, 850 - 17 - 40, 1e-9);
    ww__plot_labels_place(&corner, 1, 0, WIDTH, HEIGHT);
    check_clear("in the corner", &corner, 1);
    ww__plot_labels_place(NULL, 0, 0, WIDTH, HEIGHT);
}

static void neighbours_keep_clear(void **state) {
    ww__plot_label row[] = {disc(300, 200, 17, 80), disc(350, 203, 17, 80), disc(325, 190, 5, 80)};
    ww__plot_label ring[7];
    (void)state;
    ww__plot_labels_place(row, 3, 0, WIDTH, HEIGHT);
    check_clear("three", row, 3);
    test_true("all three", row[0].shown && row[1].shown && row[2].shown);
    test_true("outer ones are not led away", !row[0].led && !row[1].led);

    ring[0] = disc(450, 250, 15, 70); /* shut in by the others */
    for (size_t i = 1; i < 7; i++)
        ring[i] =
            disc(450 + 33 * cos((double)i * 1.0472), 250 + 33 * sin((double)i * 1.0472), 15, 70);
    ww__plot_labels_place(ring, 7, 0, WIDTH, HEIGHT);
    check_clear("ring", ring, 7);
    test_true("the inner one is led out", ring[0].shown && ring[0].led);
    for (size_t i = 1; i < 7; i++)
        test_true("the others are not", ring[i].shown && !ring[i].led);
}

static void a_crowd_keeps_clear(void **state) {
    ww__plot_label label[MOST];
    size_t n = 0;
    (void)state;
    for (size_t row = 0; row < 5; row++)
        for (size_t column = 0; column < 5; column++)
            label[n++] = disc(400.0 + 24.0 * (double)column, 180.0 + 24.0 * (double)row, 13, 62);
    ww__plot_labels_place(label, n, 0, WIDTH, HEIGHT);
    check_clear("crowd", label, n);
    for (size_t i = 0; i < n; i++)
        test_true("the outer ones are named", label[i].shown || (i / 5 % 4 != 0 && i % 5 % 4 != 0));
}

/* More than there is room for: some are named, clear of each other. */
static void too_many_are_left_away(void **state) {
    ww__plot_label label[MOST];
    size_t shown = 0;
    (void)state;
    for (size_t i = 0; i < MOST; i++)
        label[i] = disc(450.0 + (double)(i % 6), 250.0 + (double)(i / 6), 30, 95);
    ww__plot_labels_place(label, MOST, 0, WIDTH, HEIGHT);
    for (size_t i = 0; i < MOST; i++)
        shown += label[i].shown;
    test_true("not all", shown < MOST);
}

/* Source: geometry. What stands already, like the steps of a strip, is not written over. */
static void what_stands_already_is_kept_clear_of(void **state) {
    ww__plot_label label[] = {disc(300, 200, 17, 80),
                              {.at_x = 360, .at_y = 200, .width = 60, .height = 90, .shown = true}};
    (void)state;
    ww__plot_labels_place(label, 1, 1, WIDTH, HEIGHT);
    test_true("shown beside its disc", label[0].shown && !label[0].led);
    test_close("left of it", label[0].at_x, 300 - 17 - 40, 1e-9);
    test_close("the other stays", label[1].at_x, 360, 0.0);
    label[1].width = 2.0 * WIDTH, label[1].height = 2.0 * HEIGHT;
    ww__plot_labels_place(label, 1, 1, WIDTH, HEIGHT);
    test_true("nothing is free", !label[0].shown);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_stands_beside_its_disc),
        cmocka_unit_test(neighbours_keep_clear),
        cmocka_unit_test(a_crowd_keeps_clear),
        cmocka_unit_test(what_stands_already_is_kept_clear_of),
        cmocka_unit_test(too_many_are_left_away),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
