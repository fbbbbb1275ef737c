/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_differ.h"
#include "image/merge_made.h"

/* Source: as the scans are drawn; what moved lies where it was put. */

static const made_pair drawn = {.width = 641,
                                .height = 400,
                                .channels = 1,
                                .kind = WW_SAMPLE_16,
                                .ratio = 3.0,
                                .dark = 0.0,
                                .read = 0.0006,
                                .shot = 0.002};

typedef struct row {
    const char *name;
    double everywhere;  /* px by which all of the longer scan is displaced */
    size_t moved;       /* px by which 200 x 150 px at the upper edge are, besides */
    size_t dust;        /* px, the side of a square without light at 400,300 */
    double times;       /* by which all noise is more than is told */
    size_t least, most; /* places that differ */
} row;

static const row rows[] = {{"as it should be", 0.0, 0, 0, 1.0, 0, 0},
                           {"0.7 px", 0.7, 0, 0, 1.0, 0, 0},
                           {"noise told too small", 0.0, 0, 0, 2.0, 0, 0},
                           {"a part", 0.0, 3, 0, 1.0, 4, 20},
                           {"a part, 2 px", 0.0, 2, 0, 1.0, 4, 20},
                           {"a part, all displaced", 0.3, 3, 0, 1.0, 4, 20},
                           {"dust", 0.0, 0, 16, 1.0, 1, 1}};

static ww_scan_merge_differ find(const row *r) {
    made_pair m = drawn;
    m.right = r->everywhere;
    ww_picture a = made_scan(&m, false, 1), b = made_scan(&m, true, 2);
    uint16_t *code = (uint16_t *)(void *)((array_pixels *)b.handle)->sample;
    const double read = m.read / r->times, shot = m.shot / r->times;
    const ww__merge_noise noise = {read * read, shot * shot, 0.0};
    const ww__merge_rule rule = {m.ratio, 0.0, 0.0, noise, noise};
    ww__merge_light light = WW__MERGE_LIGHT_INIT;
    ww__merge_rows tables = WW__MERGE_ROWS_INIT;
    ww__merge_map map = {0};
    ww_scan_merge_differ got = {0, 0, 0.0, 0.0};
    ww__merge_differing worst[2] = {{0, 0, 0.0}};
    made_move(&b, (ww_region){120, 0, 200, 150}, r->moved); /* where neither scan is clipped */
    made_speck(&b, 400, 300, r->dust);
    assert_int_equal(ww__merge_light_new(&a, NULL, &light, NULL), WW_OK);
    assert_int_equal(ww__merge_rows_new(&light, &rule, 1, &tables, NULL), WW_OK);
    assert_int_equal(ww__merge_map_new(&a, &map, NULL), WW_OK);
    for (size_t y = 0; y < m.height; y += 16) {
        const uint16_t *of_a = (const uint16_t *)(void *)((array_pixels *)a.handle)->sample;
        ww__merge_map_add(&map, &tables, of_a + y * m.width, code + y * m.width, y, 16, m.width,
                          y / 16 % 3);
    }
    assert_int_equal(ww__merge_map_differ(&map, &tables, &got, worst, 2, NULL), WW_OK);
    if (got.places > 0)
        test_close(r->name, (double)worst[0].x, got.x, 0.0);
    if (got.places > 1)
        test_true(r->name, worst[0].by >= worst[1].by && worst[1].by > 1.0);
    ww__merge_map_release(&map);
    ww__merge_rows_release(&tables);
    ww__merge_light_release(&light);
    ww_picture_release(&a);
    ww_picture_release(&b);
    return got;
}

static void what_moved_is_found_in_its_place(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ww_scan_merge_differ got = find(&rows[i]);
        test_true(rows[i].name, got.of > 40);
        test_true(rows[i].name, got.places >= rows[i].least && got.places <= rows[i].most);
        if (rows[i].moved > 0)
            test_true(rows[i].name, got.x > 64.0 && got.x < 384.0 && got.y < 192.0);
        if (rows[i].dust > 0) { /* 384 to 448 and 256 to 320 */
            test_close(rows[i].name, got.x, 416.0, 0.0);
            test_close(rows[i].name, got.y, 288.0, 0.0);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_moved_is_found_in_its_place)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
