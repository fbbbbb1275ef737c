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
            {"as far again", 480, 330, 55.0, 40.0, 0},
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
        assert_int_equal(ww__merge_shift_find(&a, &b, 0, 0.98 * 65535.0, place, NULL), WW_OK);
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

/* Source: geometry. What a shows at (x, y) from the middle is turned and scaled in b; where it
 * stands, it is so within the place, too, by up to 3 px: it matches only nearly. */
static void what_is_turned_or_scaled_lies_apart(void **state) {
    static const struct {
        const char *name;
        double turned, larger;
    } cases[] = {{"1 degree", 1.0, 0.0},
                 {"2 degrees", 2.0, 0.0},
                 {"3 degrees", 3.0, 0.0},
                 {"2 %", 0.0, 0.02},
                 {"5 %", 0.0, 0.05}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const made_pair m = {.width = 600,
                             .height = 420,
                             .channels = 1,
                             .kind = WW_SAMPLE_16,
                             .ratio = 2.0,
                             .read = 0.0005,
                             .shot = 0.002,
                             .turned = cases[i].turned,
                             .larger = cases[i].larger};
        ww_picture a = made_scan(&m, false, i), b = made_scan(&m, true, i + 50);
        ww__merge_place place[WW__MERGE_PLACES];
        const double c = (1.0 + m.larger) * cos(m.turned * 3.14159265 / 180.0);
        const double s = (1.0 + m.larger) * sin(m.turned * 3.14159265 / 180.0);
        size_t apart = 0;
        assert_int_equal(ww__merge_shift_find(&a, &b, 0, 0.98 * 65535.0, place, NULL), WW_OK);
        for (size_t k = 0; k < WW__MERGE_PLACES; k++) {
            const double x = (double)place[k].x - 300.0, y = (double)place[k].y - 210.0;
            if (!place[k].apart)
                continue;
            apart++;
            test_close(cases[i].name, place[k].right, c * x - s * y - x, 2.0);
            test_close(cases[i].name, place[k].down, s * x + c * y - y, 2.0);
        }
        test_true(cases[i].name, apart >= 4);
        test_true(cases[i].name, !place[WW__MERGE_PLACES / 2].apart);
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
    assert_int_equal(ww__merge_shift_find(&a, &b, 0, 0.98 * 65535.0, place, NULL), WW_OK);
    for (size_t k = 0; k < WW__MERGE_PLACES; k++)
        test_true("not known", !place[k].known);
    ww_picture_release(&a);
    ww_picture_release(&b);
}

/* A smooth surface through random heights 9 px apart. */
static double height_at(double u, double v) {
    double sum = 0.0;
    for (size_t i = 0; i < 4; i++) {
        const double x = floor(u / 9.0) + (double)(i % 2), y = floor(v / 9.0) + (double)(i / 2);
        uint64_t seed = ((uint64_t)x * 1009u + (uint64_t)y + 1u) * 0x9e3779b97f4a7c15u;
        const double near_x = 1.0 - fabs(u / 9.0 - x), near_y = 1.0 - fabs(v / 9.0 - y);
        sum += near_x * near_y * (2.0 * made_random(&seed) - 1.0);
    }
    return sum;
}

/* Source: definition. Detail mirrored is other detail; noise alone, white or in streaks, is no
 * detail. */
typedef struct texture {
    const char *name;
    double detail, white, streaks; /* shares of the light */
    bool mirrored;
} texture;

static ww_picture drawn(const texture *t, double light, bool second, uint64_t seed) {
    ww_picture p = array_picture_new(300, 300, 1, WW_SAMPLE_16, ARRAY_ROWS);
    seed = (seed + 1u) * 0x9e3779b97f4a7c15u;
    for (size_t y = 0; y < 300; y++) {
        const double streak = t->streaks * made_normal_of(&seed);
        for (size_t x = 0; x < 300; x++) {
            const double u = (double)(second && t->mirrored ? 299 - x : x), v = (double)y;
            array_set(&p, x, y, 0,
                      floor(light * (1.0 + t->detail * height_at(u, v) + streak +
                                     t->white * made_normal_of(&seed))));
        }
    }
    return p;
}

static void detail_that_does_not_match_is_told(void **state) {
    static const texture rows_of[] = {{"as drawn", 0.3, 0.01, 0.0, false},
                                      {"mirrored", 0.3, 0.01, 0.0, true},
                                      {"noise alone", 0.0, 0.3, 0.0, false},
                                      {"streaks", 0.0, 0.01, 0.1, false},
                                      {"detail below noise", 0.02, 0.3, 0.0, true}};
    (void)state;
    for (size_t i = 0; i < sizeof rows_of / sizeof rows_of[0]; i++) {
        ww_picture a = drawn(&rows_of[i], 6000.0, false, 2 * i);
        ww_picture b = drawn(&rows_of[i], 15000.0, true, 2 * i + 1);
        ww__merge_place place[WW__MERGE_PLACES];
        size_t unlike = 0, known = 0;
        assert_int_equal(ww__merge_shift_find(&a, &b, 0, 0.98 * 65535.0, place, NULL), WW_OK);
        for (size_t k = 0; k < WW__MERGE_PLACES; k++) {
            unlike += place[k].unlike;
            known += place[k].known;
        }
        test_close(rows_of[i].name, (double)known, i == 0 ? WW__MERGE_PLACES : 0.0, 0.0);
        test_true(rows_of[i].name, i == 1 ? unlike >= 6 : unlike == 0);
        ww_picture_release(&a);
        ww_picture_release(&b);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(displacements_are_found),
                                       cmocka_unit_test(what_is_turned_or_scaled_lies_apart),
                                       cmocka_unit_test(edges_one_way_are_not_enough),
                                       cmocka_unit_test(detail_that_does_not_match_is_told)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
