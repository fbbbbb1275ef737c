/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "image/bands.h"

/* Source: definition; the codes are those that were put there. */

static double code_at(size_t x, size_t y, size_t c) {
    return (double)((x * 7 + y * 13 + c * 101) % 251);
}

static void regions_come_as_they_are(void **state) {
    static const ww_region region[] = {{0, 0, 90, 53}, {17, 9, 40, 31}, {89, 52, 1, 1}};
    (void)state;
    for (int layout = 0; layout < ARRAY_LAYOUTS; layout++)
        for (int kind = WW_SAMPLE_8; kind <= WW_SAMPLE_FLOAT; kind++)
            for (size_t k = 0; k < sizeof region / sizeof region[0]; k++) {
                ww_picture p = array_picture_new(90, 53, 3, (ww_sample)kind, (array_layout)layout);
                const ww_region r = region[k];
                unsigned char *got = malloc(r.width * r.height * ww__bands_pixel(&p));
                for (size_t y = 0; y < 53; y++)
                    for (size_t x = 0; x < 90; x++)
                        for (size_t c = 0; c < 3; c++)
                            array_set(&p, x, y, c, code_at(x, y, c));
                assert_int_equal(ww__bands_read(&p, r, got, NULL), WW_OK);
                const ww_block all = {.kind = p.sample, .sample = got};
                for (size_t i = 0; i < r.width * r.height * 3; i++)
                    test_close("code", ww_block_code(&all, (ptrdiff_t)i),
                               code_at(r.x + i / 3 % r.width, r.y + i / 3 / r.width, i % 3), 0);
                free(got);
                ww_picture_release(&p);
            }
}

/* They may lie in each other. */
static void several_regions_come_at_once(void **state) {
    static const ww_region region[] = {{0, 0, 30, 53}, {17, 9, 40, 31}, {60, 9, 30, 1}};
    enum { N = 3 };
    ww_picture p = array_picture_new(90, 53, 3, WW_SAMPLE_16, ARRAY_PLANES);
    void *pixel[N];
    (void)state;
    for (size_t y = 0; y < 53; y++)
        for (size_t x = 0; x < 90; x++)
            for (size_t c = 0; c < 3; c++)
                array_set(&p, x, y, c, code_at(x, y, c));
    for (size_t k = 0; k < N; k++)
        pixel[k] = malloc(region[k].width * region[k].height * ww__bands_pixel(&p));
    assert_int_equal(ww__bands_read_several(&p, region, N, pixel, NULL), WW_OK);
    for (size_t k = 0; k < N; k++) {
        for (size_t i = 0; i < region[k].width * region[k].height * 3; i++)
            test_close("code", ((const uint16_t *)pixel[k])[i],
                       code_at(region[k].x + i / 3 % region[k].width,
                               region[k].y + i / 3 / region[k].width, i % 3),
                       0);
        free(pixel[k]);
    }
    ww_picture_release(&p);
}

static void bands_are_whole_strips(void **state) {
    static const struct {
        const char *name;
        size_t width, height, together, most, want;
    } rows[] = {{"alone", 10000, 5000, 1, 28000000, 69}, /* 4 MiB / 60000 */
                {"small picture", 100, 50, 1, 28000000, 50},
                {"little room", 10000, 5000, 1, 1200000, 10},
                {"strips of 16", 10000, 5000, 16, 28000000, 224}, /* 233 fit */
                {"tiles too tall", 10000, 5000, 512, 28000000, 233},
                {"one strip", 10000, 5000, 5000, 28000000, 233},
                {"rows too long", 10000, 5000, 1, 10, 1}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ww_picture p = {.width = rows[i].width,
                              .height = rows[i].height,
                              .channels = 3,
                              .sample = WW_SAMPLE_16,
                              .rows_together = rows[i].together};
        const ww_picture *both[] = {&p, &p};
        test_close(rows[i].name, (double)ww__bands_rows(both, 2, rows[i].most),
                   (double)rows[i].want, 0);
    }
}

static void a_refusal_is_handed_on(void **state) {
    ww_picture p = array_picture_new(9, 5, 1, WW_SAMPLE_16, ARRAY_ROWS);
    uint16_t got[45];
    ww_error err = WW_ERROR_INIT;
    (void)state;
    ((array_pixels *)p.handle)->refuse = WW_ESYSTEM;
    test_status("refused", ww__bands_read(&p, (ww_region){0, 0, 9, 5}, got, &err), WW_ESYSTEM,
                &err);
    ww_picture_release(&p);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(regions_come_as_they_are), cmocka_unit_test(several_regions_come_at_once),
        cmocka_unit_test(bands_are_whole_strips), cmocka_unit_test(a_refusal_is_handed_on)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
