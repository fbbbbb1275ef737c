/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_made.h"
#include "image/merge_shift.h"

/* Source: the displacement that the second scan was drawn with. */

static const struct {
    const char *name;
    size_t width, height;
    double right, down;
    size_t places; /* at least */
} rows[] = {{"none", 480, 330, 0.0, 0.0, 5},
            {"a fraction", 480, 330, 0.3, -0.45, 5},
            {"1.5 px", 480, 330, 1.5, 0.0, 5},
            {"some", 480, 330, -6.2, 9.7, 5},
            {"up to the reach", 480, 330, 22.0, -21.0, 3},
            {"small picture", 110, 100, 0.0, 1.2, 1},
            {"too small", 90, 95, 0.0, 0.0, 0}};

static void displacements_are_found(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const made_pair m = {.width = rows[i].width,
                             .height = rows[i].height,
                             .channels = 1,
                             .kind = WW_SAMPLE_16,
                             .ratio = 2.0,
                             .read = 0.0005,
                             .shot = 0.002,
                             .right = rows[i].right,
                             .down = rows[i].down};
        ww_picture a = made_scan(&m, false, i), b = made_scan(&m, true, i + 50);
        ww__merge_place place[WW__MERGE_PLACES];
        size_t known = 0;
        assert_int_equal(ww__merge_shift_find(&a, &b, 0, place, NULL), WW_OK);
        for (size_t k = 0; k < WW__MERGE_PLACES; k++) {
            if (!place[k].known)
                continue;
            known++;
            test_close(rows[i].name, place[k].right, rows[i].right, 0.15);
            test_close(rows[i].name, place[k].down, rows[i].down, 0.15);
        }
        test_true(rows[i].name, known >= rows[i].places);
        test_true(rows[i].name, rows[i].places > 0 || known == 0);
        ww_picture_release(&a);
        ww_picture_release(&b);
    }
}

/* Steps of a wedge: seen along, not across. */
static void edges_one_way_are_not_enough(void **state) {
    ww_picture a = array_picture_new(300, 300, 1, WW_SAMPLE_16, ARRAY_ROWS);
    ww__merge_place place[WW__MERGE_PLACES];
    uint64_t seed = 12345;
    (void)state;
    for (size_t y = 0; y < 300; y++)
        for (size_t x = 0; x < 300; x++)
            array_set(&a, x, y, 0,
                      3000.0 + 2000.0 * (double)(x / 20 % 2) + 20.0 * made_random(&seed));
    ww_picture b = array_picture_new(300, 300, 1, WW_SAMPLE_16, ARRAY_ROWS);
    for (size_t y = 0; y < 300; y++)
        for (size_t x = 0; x < 300; x++)
            array_set(&b, x, y, 0,
                      6000.0 + 4000.0 * (double)(x / 20 % 2) + 20.0 * made_random(&seed));
    assert_int_equal(ww__merge_shift_find(&a, &b, 0, place, NULL), WW_OK);
    for (size_t k = 0; k < WW__MERGE_PLACES; k++)
        test_true("not known", !place[k].known);
    ww_picture_release(&a);
    ww_picture_release(&b);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(displacements_are_found),
                                       cmocka_unit_test(edges_one_way_are_not_enough)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
