/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "image/tally.h"

/* Source of all: the array that was put in. */

enum { WIDTH = 83, HEIGHT = 29 };

static double code_at(const ww_picture *p, size_t x, size_t y, size_t c) {
    const double code = (double)((x * 7919 + y * 104729 + c * 31) % 251);
    return p->sample == WW_SAMPLE_FLOAT ? code / 256.0
           : p->sample == WW_SAMPLE_16  ? 257.0 * code
                                        : code;
}

static ww_picture made(ww_sample kind, size_t channels, array_layout layout) {
    ww_picture p = array_picture_new(WIDTH, HEIGHT, channels, kind, layout);
    for (size_t y = 0; y < HEIGHT; y++)
        for (size_t x = 0; x < WIDTH; x++)
            for (size_t c = 0; c < channels; c++)
                array_set(&p, x, y, c, code_at(&p, x, y, c));
    return p;
}

typedef struct job {
    ww__tally tally;
    ww_region region;
} job;

static ww_status see(const ww_block *block, size_t worker, void *context, ww_error *err) {
    job *j = context;
    (void)worker;
    return ww__tally_block(&j->tally, block, &j->region, err);
}

/* Every pixel of the region once, the others not. */
static void check(const char *name, const ww_picture *p, const job *j) {
    for (size_t c = 0; c < p->channels; c++) {
        const ww__histogram *h = &j->tally.histogram[c];
        size_t left[256] = {0};
        const double unit = p->sample == WW_SAMPLE_FLOAT ? 1.0 / 256.0
                            : p->sample == WW_SAMPLE_16  ? 257.0
                                                         : 1.0;
        for (size_t y = j->region.y; y < j->region.y + j->region.height; y++)
            for (size_t x = j->region.x; x < j->region.x + j->region.width; x++)
                left[(size_t)(code_at(p, x, y, c) / unit + 0.5)]++;
        test_true(name, h->n == j->region.width * j->region.height);
        for (ww__histogram_bin bin = {0}; ww__histogram_next(h, &bin);)
            left[(size_t)(bin.code / unit + 0.5)] -= bin.count;
        for (size_t i = 0; i < 256; i++)
            test_true(name, left[i] == 0);
    }
}

static void counts_each_pixel_of_the_region_once(void **state) {
    static const ww_region regions[] = {{0, 0, WIDTH, HEIGHT}, {5, 3, 41, 20}, {82, 28, 1, 1}};
    static const ww_sample kinds[] = {WW_SAMPLE_8, WW_SAMPLE_16, WW_SAMPLE_FLOAT};
    (void)state;
    for (size_t k = 0; k < 3; k++)
        for (size_t channels = 1; channels <= 3; channels += 2)
            for (int layout = 0; layout < ARRAY_LAYOUTS; layout++)
                for (size_t r = 0; r < sizeof regions / sizeof regions[0]; r++) {
                    ww_picture p = made(kinds[k], channels, (array_layout)layout);
                    job j = {WW__TALLY_INIT, regions[r]};
                    assert_int_equal(ww__tally_new(kinds[k], channels, &j.tally, NULL), WW_OK);
                    assert_int_equal(ww_picture_visit(&p, &j.region, 1, 1, see, &j, NULL), WW_OK);
                    assert_int_equal(ww__tally_finish(&j.tally, NULL), WW_OK);
                    check("once", &p, &j);
                    ww__tally_release(&j.tally);
                    ww_picture_release(&p);
                }
}

/* With tables that hold hardly more than a row, which is what many gigapixels do to real ones. */
static void empties_tables_before_they_overflow(void **state) {
    ww_picture p = made(WW_SAMPLE_16, 3, ARRAY_ROWS);
    job j = {WW__TALLY_INIT, {0, 0, WIDTH, HEIGHT}};
    (void)state;
    assert_int_equal(ww__tally_new(WW_SAMPLE_16, 3, &j.tally, NULL), WW_OK);
    j.tally.most = 40;
    assert_int_equal(ww_picture_visit(&p, &j.region, 1, 1, see, &j, NULL), WW_OK);
    test_true("emptied", j.tally.held <= 40 && j.tally.histogram[0].n > 0);
    assert_int_equal(ww__tally_finish(&j.tally, NULL), WW_OK);
    check("emptied", &p, &j);
    ww__tally_release(&j.tally);
    ww__tally_release(NULL);
    ww_picture_release(&p);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(counts_each_pixel_of_the_region_once),
        cmocka_unit_test(empties_tables_before_they_overflow),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
