/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_made.h"
#include "image/merge_slip.h"

/* Source: as the scans are drawn; what moved lies where it was put. */

static const made_pair drawn = {.width = 645,
                                .height = 410,
                                .channels = 1,
                                .kind = WW_SAMPLE_16,
                                .ratio = 3.0,
                                .read = 0.0006,
                                .shot = 0.002};

/* Bands of `band` rows, each in parts of 16. */
static size_t find(const made_pair *m, const ww_picture *a, const ww_picture *b, size_t band,
                   ww__merge_slip found[], size_t most) {
    const ww__merge_noise noise = {m->read * m->read, m->shot * m->shot, 0.0};
    const ww__merge_rule rule = {m->ratio, 0.0, 0.0, noise, noise};
    const uint16_t *of_a = (const uint16_t *)(void *)((array_pixels *)a->handle)->sample;
    const uint16_t *of_b = (const uint16_t *)(void *)((array_pixels *)b->handle)->sample;
    ww__merge_light light = WW__MERGE_LIGHT_INIT;
    ww__merge_rows tables = WW__MERGE_ROWS_INIT;
    ww__merge_slips slips;
    assert_int_equal(ww__merge_light_new(a, NULL, &light, NULL), WW_OK);
    assert_int_equal(ww__merge_rows_new(&light, &rule, 1, &tables, NULL), WW_OK);
    assert_int_equal(ww__merge_slips_new(a, &slips, NULL), WW_OK);
    for (size_t top = 0; top < m->height; top += band) {
        const size_t end = top + band < m->height ? top + band : m->height;
        for (size_t y = top; y < end; y += 16)
            ww__merge_slips_add(&slips, &tables, of_a + y * m->width, of_b + y * m->width, y,
                                end - y < 16 ? end - y : 16, m->width);
        ww__merge_slips_next(&slips, end - top);
    }
    const size_t n = ww__merge_slips_find(&slips, &tables, found, most);
    ww__merge_slips_release(&slips);
    ww__merge_rows_release(&tables);
    ww__merge_light_release(&light);
    return n;
}

static void what_moved_departs_from_the_whole(void **state) {
    static const struct {
        const char *name;
        double everywhere; /* px by which all of the longer scan is displaced */
        size_t moved;      /* px, of 96 x 96 px around 352,176 besides */
        size_t band;
    } rows[] = {{"nothing moved", 0.0, 0, 64},
                {"all, 0.7 px", 0.7, 0, 64},
                {"a part, 2 px", 0.0, 2, 64},
                {"in bands of another height", 0.0, 2, 13},
                {"all and a part", 0.3, 3, 410}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        made_pair m = drawn;
        m.right = rows[i].everywhere;
        ww_picture a = made_scan(&m, false, 1), b = made_scan(&m, true, 2);
        ww__merge_slip found[5];
        made_move(&b, (ww_region){304, 128, 96, 96}, rows[i].moved);
        const size_t n = find(&m, &a, &b, rows[i].band, found, 5);
        if (rows[i].moved > 0) {
            test_true(rows[i].name, n > 0);
            test_close(rows[i].name, (double)found[0].x, 352.0, 32.0);
            test_close(rows[i].name, (double)found[0].y, 176.0, 32.0);
            test_true(rows[i].name, found[0].right > 0.8 && found[0].right < 3.5);
            test_close(rows[i].name, found[0].down, 0.0, 0.4);
        }
        for (size_t k = 1; k < n; k++)
            test_true(rows[i].name, found[k].beyond <= found[k - 1].beyond);
        if (rows[i].moved == 0)
            test_true(rows[i].name, n == 0 || found[0].beyond < 0.5);
        ww_picture_release(&a);
        ww_picture_release(&b);
    }
}

/* Source: definition: at most 65536 cells, 16 px wide or twice, four times that and so on. */
static void memory_has_a_bound(void **state) {
    const ww_picture large = {.width = 7100, .height = 7100}, small = {.width = 600, .height = 10};
    ww__merge_slips slips;
    (void)state;
    assert_int_equal(ww__merge_slips_new(&large, &slips, NULL), WW_OK);
    assert_int_equal(slips.side, 32);
    ww__merge_slips_release(&slips);
    assert_int_equal(ww__merge_slips_new(&small, &slips, NULL), WW_OK);
    assert_int_equal(slips.side, 16);
    assert_int_equal(slips.down, 1);
    ww__merge_slips_release(&slips);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_moved_departs_from_the_whole),
                                       cmocka_unit_test(memory_has_a_bound)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
