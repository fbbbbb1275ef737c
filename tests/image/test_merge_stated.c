/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/blocks_made.h"
#include "image/merge_stated.h"

/* Source: the noise that the places were drawn with, against the noise that is stated. Reading
 * stated as photons is a power of -1; half the variance is that of two passes. */
static const struct {
    const char *name;
    ww__merge_noise drawn, stated;
    double times; /* 0: not asked */
    ww__merge_verdict want;
} rows[] = {
    {"as stated", {1e-6, 1e-5, 0.0}, {1e-6, 1e-5, 0.0}, 1.0, WW__MERGE_STATED_RIGHT},
    {"a little more", {1.2e-6, 1.2e-5, 0.0}, {1e-6, 1e-5, 0.0}, 1.095, WW__MERGE_STATED_RIGHT},
    {"twice", {4e-6, 4e-5, 0.0}, {1e-6, 1e-5, 0.0}, 2.0, WW__MERGE_STATED_MORE},
    {"two passes", {1e-6, 1e-5, 0.0}, {2e-6, 2e-5, 0.0}, 0.7071, WW__MERGE_STATED_LESS},
    {"a quarter", {1e-6, 1e-5, 0.0}, {16e-6, 16e-5, 0.0}, 0.25, WW__MERGE_STATED_LESS},
    {"grows less with light", {2e-6, 0.0, 0.0}, {1e-12, 2e-5, 0.0}, 0.0, WW__MERGE_STATED_OTHER}};

static const ww__merge_light real = {.kind = WW_SAMPLE_FLOAT, .white = 1.0, .clips = 1.0};

static void noise_is_held_against_what_is_stated(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__merge_blocks blocks = made_blocks(4.0, 0.0, &rows[i].drawn, i);
        const ww__merge_stated got =
            ww__merge_stated_find(&blocks, &real, &rows[i].stated, 4.0, 0.0, 0.0, 0.0);
        test_close(rows[i].name, ww__merge_stated_says(&got), rows[i].want, 0);
        test_true(rows[i].name, ww__merge_stated_allows(&got) == (i < 2));
        if (rows[i].times > 0.0)
            test_close(rows[i].name, got.times.value, rows[i].times, 0.03 * rows[i].times);
        free(blocks.block);
    }
}

/* Detail of eight times the variance that the scans differ by, displaced by no one knows what, may
 * be all of that: more noise is not known, less is. */
static void displaced_detail_may_be_more_noise(void **state) {
    const ww__merge_noise drawn = {4e-6, 4e-5, 0.0}, less = {1e-6, 1e-5, 0.0},
                          more = {16e-6, 16e-5, 0.0};
    (void)state;
    ww__merge_blocks blocks = made_blocks(4.0, 0.0, &drawn, 8);
    for (size_t i = 0; i < blocks.n; i++) {
        ww__merge_block *b = &blocks.block[i];
        const double detail = 8.0 * ww__merge_noise_of(&drawn, b->x);
        b->var_x += detail;
        b->var_y += 16.0 * detail;
        b->cov += 4.0 * detail;
    }
    const ww__merge_stated over = ww__merge_stated_find(&blocks, &real, &less, 4.0, 0.0, 0.0, -1.0);
    test_close("more", ww__merge_stated_says(&over), WW__MERGE_STATED_OPEN, 0);
    const ww__merge_stated under =
        ww__merge_stated_find(&blocks, &real, &more, 4.0, 0.0, 0.0, -1.0);
    test_close("less", ww__merge_stated_says(&under), WW__MERGE_STATED_LESS, 0);
    free(blocks.block);
}

/* Places of one tone but for a twentieth, whose noise is as stated but for a scatter of 5 %; lone:
 * by how many times the variance of that twentieth differs. */
static void nearly_one_tone(ww__merge_blocks *blocks, const ww__merge_noise *noise, double lone) {
    for (size_t i = 0; i < blocks->n; i++) {
        ww__merge_block *b = &blocks->block[i];
        const bool other = i >= blocks->n - blocks->n / 20;
        const double share = (other ? lone : 1.0) * (i / 40 % 2 == 0 ? 1.05 : 0.95);
        b->x = (other ? 0.05 : 0.02) + 1e-7 * (double)i;
        b->y = 4.0 * b->x;
        b->var_x = share * ww__merge_noise_of(noise, b->x);
        b->var_y = share * ww__merge_noise_of(noise, b->y);
        b->cov = 0.0;
    }
}

/* One level of another tone has all the say in how noise grows: it is not heard. */
static void one_level_decides_nothing(void **state) {
    const ww__merge_noise noise = {1e-6, 1e-5, 0.0};
    ww__merge_blocks blocks = made_blocks(4.0, 0.0, &noise, 8);
    (void)state;
    nearly_one_tone(&blocks, &noise, 0.6);
    const ww__merge_stated got = ww__merge_stated_find(&blocks, &real, &noise, 4.0, 0.0, 0.0, 0.0);
    test_close("open", ww__merge_stated_says(&got), WW__MERGE_STATED_OPEN, 0);
    assert_int_equal(got.power.how, WW_ABSENT);
    free(blocks.block);
}

/* Calm places of a level that are darker than most of it have the noise of their own light. */
static void calm_places_are_held_against_their_own_light(void **state) {
    const ww__merge_noise noise = {1e-6, 1e-5, 0.0};
    ww__merge_blocks blocks = made_blocks(4.0, 0.0, &noise, 8);
    (void)state;
    for (size_t i = 0; i < blocks.n; i++) {
        ww__merge_block *b = &blocks.block[i];
        const bool calm = i % 5 < 2;
        const double level = 0.02 * (1.0 + (double)(i * 20 / blocks.n)); /* a step each level */
        b->x = level * (calm ? 0.6 : 1.0);
        b->y = 4.0 * b->x;
        const double detail = calm ? 0.0 : 1e3 * ww__merge_noise_of(&noise, b->x);
        b->var_x = ww__merge_noise_of(&noise, b->x) + detail;
        b->var_y = ww__merge_noise_of(&noise, b->y) + 16.0 * detail;
        b->cov = 4.0 * detail;
    }
    const ww__merge_stated got = ww__merge_stated_find(&blocks, &real, &noise, 4.0, 0.0, 0.0, 1.0);
    test_close("times", got.times.value, 1.0, 0.01);
    free(blocks.block);
}

/* Source: closed form. Light of photons decoded by a power g has 1 - 1/g for power: 0.55 of 2.2,
 * 0.2 of 1.25. */
static void a_decoding_is_borne_out_where_light_would_tell(void **state) {
    static const struct {
        const char *name;
        ww_quantity times, power;
        double gamma;
        bool want;
    } cases[] = {
        {"right", {1.0, 0.97, 1.03, WW_MEASURED}, {0.02, -0.1, 0.14, WW_MEASURED}, 2.2, true},
        {"may be light", {1.0, 0.9, 1.1, WW_MEASURED}, {0.3, 0.0, 0.6, WW_MEASURED}, 2.2, false},
        {"nearly light", {1.0, 0.9, 1.1, WW_MEASURED}, {0.1, -0.1, 0.3, WW_MEASURED}, 1.25, false},
        {"falls", {1.0, 0.9, 1.1, WW_MEASURED}, {-0.2, -0.4, 0.0, WW_MEASURED}, 2.2, false},
        {"others", {2.0, 1.9, 2.1, WW_MEASURED}, {0.0, -0.1, 0.1, WW_MEASURED}, 2.2, false},
        {"one tone", {1.0, 0.9, 1.1, WW_MEASURED}, WW_QUANTITY_INIT, 2.2, false}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const ww__merge_stated stated = {cases[i].times, cases[i].power};
        test_true(cases[i].name,
                  ww__merge_stated_bears_out(&stated, cases[i].gamma) == cases[i].want);
    }
}

static void too_few_places_say_nothing(void **state) {
    const ww__merge_noise drawn = {4e-6, 4e-5, 0.0}, stated = {1e-6, 1e-5, 0.0};
    ww__merge_blocks blocks = made_blocks(4.0, 0.0, &drawn, 8);
    (void)state;
    blocks.n = 100;
    const ww__merge_stated got = ww__merge_stated_find(&blocks, &real, &stated, 4.0, 0.0, 0.0, 0.0);
    test_close("open", ww__merge_stated_says(&got), WW__MERGE_STATED_OPEN, 0);
    free(blocks.block);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(noise_is_held_against_what_is_stated),
        cmocka_unit_test(displaced_detail_may_be_more_noise),
        cmocka_unit_test(one_level_decides_nothing),
        cmocka_unit_test(calm_places_are_held_against_their_own_light),
        cmocka_unit_test(a_decoding_is_borne_out_where_light_would_tell),
        cmocka_unit_test(too_few_places_say_nothing)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
