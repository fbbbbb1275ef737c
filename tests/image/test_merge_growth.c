/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_growth.h"
#include "image/merge_made.h"

/*
 * Source: how the places were drawn. Variance k x^p of the shorter scan and k x^p ratio^q of the
 * longer; codes that are light^(1 / g) have dc = c^(1 - g) dL / g, so that photons leave p = 2 - g
 * and reading 2 - 2 g. Light taken for such codes is L^g: p = (1 + 2 (g - 1)) / g for photons.
 */
typedef struct pair {
    const char *name;
    double ratio, within, across;
    double grain; /* sd of what both have, as a share of light */
    double apart; /* as is told: px */
    bool decoded; /* by a scanner file */
    ww__merge_kind want;
    double displaced; /* sd of what each has of detail that lies elsewhere in the other */
} pair;

static const double lightest = 0.2, noise = 3e-7; /* and its variance */

static const pair rows[] = {
    {"photons", 4.0, 1.0, 1.0, 0.0, 0.0, false, WW__MERGE_SOUND, 0.0},
    {"photons, 2/3 stop", 1.6, 1.0, 1.0, 0.0, 0.0, false, WW__MERGE_SOUND, 0.0},
    {"reading", 4.0, 0.0, 0.0, 0.0, 0.0, false, WW__MERGE_SOUND, 0.0},
    {"photons and grain", 4.0, 1.0, 1.0, 0.002, 0.05, false, WW__MERGE_SOUND, 0.0},
    {"photons and strong grain", 4.0, 1.0, 1.0, 0.01, 0.0, false, WW__MERGE_SOUND, 0.0},
    {"the same, 1 stop", 2.0, 1.0, 1.0, 0.01, 0.0, false, WW__MERGE_SOUND, 0.0},
    {"photons, decoded", 4.0, 1.0, 1.0, 0.0, 0.0, true, WW__MERGE_SOUND, 0.0},
    {"amplified", 4.0, 1.0, 2.0, 0.0, 0.0, false, WW__MERGE_AMPLIFIED, 0.0},
    {"amplified, with grain", 2.0, 1.0, 2.0, 0.002, 0.05, false, WW__MERGE_AMPLIFIED, 0.0},
    {"amplified, half a pixel off", 4.0, 1.0, 2.0, 0.0, 0.5, false, WW__MERGE_AMPLIFIED, 0.0},
    {"more than amplified", 4.0, 1.0, 2.65, 0.0, 0.0, false, WW__MERGE_SHARPENED, 0.0},
    {"a mean of 8, then one of twice the light", 2.0, 1.0, 4.0, 0.0, 0.0, false,
     WW__MERGE_SHARPENED, 0.0}, /* 8 * 2 = 2^4 of its variance */
    {"the same, with grain", 2.0, 1.0, 4.0, 0.01, 0.0, false, WW__MERGE_SHARPENED, 0.0},
    {"a power of 2.2, photons", 1.54, -0.2, -0.2, 0.0, 0.0, false, WW__MERGE_ENCODED, 0.0},
    {"a power of 2.2, reading", 1.54, -2.4, -2.4, 0.0, 0.0, false, WW__MERGE_ENCODED, 0.0},
    {"light, taken for 2.2", 12.0, 1.545, 1.545, 0.0, 0.0, true, WW__MERGE_DECODED, 0.0},
    {"the same, not taken for it", 12.0, 1.545, 1.545, 0.0, 0.0, false, WW__MERGE_SOUND, 0.0}};

enum { MADE = 4000 };

static ww__merge_block made_block(const pair *p, double level, uint64_t *seed) {
    double x = 0.0, y = 0.0, xx = 0.0, yy = 0.0, xy = 0.0;
    const double v = noise * pow(level / lightest, p->within), n = WW__MERGE_PIXELS;
    for (size_t k = 0; k < WW__MERGE_PIXELS; k++) {
        const double grain = p->grain * level * made_normal_of(seed);
        const double off = p->displaced * level * made_normal_of(seed);
        const double a = grain + off + sqrt(v) * made_normal_of(seed);
        const double b =
            p->ratio * (grain - off) + sqrt(v * pow(p->ratio, p->across)) * made_normal_of(seed);
        x += a;
        y += b;
        xx += a * a;
        yy += b * b;
        xy += a * b;
    }
    return (ww__merge_block){level + x / n,
                             p->ratio * level + y / n,
                             (xx - x * x / n) / (n - 1.0),
                             (yy - y * y / n) / (n - 1.0),
                             (xy - x * y / n) / (n - 1.0),
                             0.0};
}

static const ww__merge_light real = {.kind = WW_SAMPLE_FLOAT, .white = 1.0, .clips = 1.0};

static void what_noise_says_of_light(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        uint64_t seed = (i + 1u) * 0x9e3779b97f4a7c15u;
        ww__merge_blocks blocks = {malloc(MADE * sizeof *blocks.block), MADE, MADE};
        for (size_t k = 0; k < MADE; k++)
            blocks.block[k] =
                made_block(&rows[i], lightest * pow(10.0, -0.8 * (double)k / MADE), &seed);
        const ww__merge_growth got =
            ww__merge_growth_find(&blocks, &real, rows[i].ratio, 0.0, 0.0, rows[i].apart);
        test_true(rows[i].name, !got.same);
        test_true(rows[i].name, got.across.how == WW_MEASURED && got.within.how == WW_MEASURED);
        test_close(rows[i].name, got.across.value, rows[i].across, 0.05);
        test_close(rows[i].name, got.within.value, rows[i].within, 0.1);
        test_close(rows[i].name, ww__merge_growth_says(&got, !rows[i].decoded, rows[i].decoded),
                   rows[i].want, 0);
        free(blocks.block);
    }
}

/* Grain that lies displaced by no one knows what, or by most of a pixel: as much noise for its
 * light in both, but it grows as no noise does. A ratio that no one knows makes no more sure.
 * Grain 0.67 px off, where 0.5 are told, has 0.36 of its variance displaced. */
static void what_is_displaced_is_no_amplifier(void **state) {
    static const double displaced[] = {0.02, 0.0, 0.02, 0.0, 0.00204},
                        off[] = {0.0, HUGE_VAL, 0.0, 0.0, 0.0},
                        within[] = {1.0, 1.0, 1.0, 1.0, 2.0}, across[] = {1.0, 2.0, 1.0, 2.0, 1.0},
                        apart[] = {-1.0, -1.0, 0.9, 0.9, 0.5},
                        grain[] = {0.0, 0.0, 0.0, 0.03,
                                   0.0034}; /* in both alike: no place is calm */
    static const ww__merge_kind want[] = {WW__MERGE_DISPLACED, WW__MERGE_SOUND, WW__MERGE_DISPLACED,
                                          WW__MERGE_DISPLACED, WW__MERGE_DISPLACED};
    (void)state;
    for (size_t i = 0; i < sizeof want / sizeof want[0]; i++) {
        uint64_t seed = (i + 3u) * 0x9e3779b97f4a7c15u;
        const pair p = {.ratio = 4.0,
                        .within = within[i],
                        .across = across[i],
                        .grain = grain[i],
                        .displaced = displaced[i]};
        ww__merge_blocks blocks = {malloc(MADE * sizeof *blocks.block), MADE, MADE};
        for (size_t k = 0; k < MADE; k++)
            blocks.block[k] = made_block(&p, lightest * pow(10.0, -0.8 * (double)k / MADE), &seed);
        const ww__merge_growth got =
            ww__merge_growth_find(&blocks, &real, p.ratio, off[i], 0.0, apart[i]);
        test_close("no amplifier", ww__merge_growth_says(&got, true, false), want[i], 0);
        free(blocks.block);
    }
}

/* Where all of the difference is the longer scan's own rounding, the shorter one adds nothing. */
static void one_scan_multiplied(void **state) {
    static const double rounding[] = {0.0, 1e-9};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        uint64_t seed = (i + 7u) * 0x9e3779b97f4a7c15u;
        const pair alone = {.ratio = 1.7, .within = 1.0, .across = -30.0, .grain = 0.01};
        ww__merge_blocks blocks = {malloc(MADE * sizeof *blocks.block), MADE, MADE};
        for (size_t k = 0; k < MADE; k++) {
            ww__merge_block b =
                made_block(&alone, lightest * pow(10.0, -0.8 * (double)k / MADE), &seed);
            b.cov = 1.7 * b.var_x;
            b.var_y = 1.7 * 1.7 * b.var_x + rounding[i] * (0.8 + 0.4 * made_random(&seed));
            blocks.block[k] = b;
        }
        const ww__merge_growth got = ww__merge_growth_find(&blocks, &real, 1.7, 0.0, 0.0, 0.0);
        test_true("same", got.same);
        test_close("same", ww__merge_growth_says(&got, true, false), WW__MERGE_SAME, 0);
        free(blocks.block);
    }
}

/* Reading noise of 0.9 codes, rounded, is the same at all levels: most places have it alone, near
 * code 33; others have detail, up to code 55. */
static void bytes_are_light_at_a_code_of_noise(void **state) {
    static const ww__merge_light bytes = {.kind = WW_SAMPLE_8, .white = 255.0, .clips = 250.0};
    const double ratio = 4.0, n = WW__MERGE_PIXELS;
    uint64_t seed = 0x9e3779b97f4a7c15u;
    ww__merge_blocks blocks = {malloc(MADE * sizeof *blocks.block), MADE, MADE};
    (void)state;
    for (size_t k = 0; k < MADE; k++) {
        const double detail = k % 5 == 0 ? 3.0 : 0.0;
        const double level =
            detail > 0.0 ? 33.0 + 22.0 * (double)k / MADE : 33.0 + 0.001 * (double)(k % 600);
        double x = 0.0, y = 0.0, xx = 0.0, yy = 0.0, xy = 0.0;
        for (size_t i = 0; i < WW__MERGE_PIXELS; i++) {
            const double both = level + detail * made_normal_of(&seed);
            const double a = floor(both + 0.9 * made_normal_of(&seed) + 0.5) / 255.0;
            const double b = floor(ratio * both + 0.9 * made_normal_of(&seed) + 0.5) / 255.0;
            x += a;
            y += b;
            xx += a * a;
            yy += b * b;
            xy += a * b;
        }
        blocks.block[k] = (ww__merge_block){x / n,
                                            y / n,
                                            (xx - x * x / n) / (n - 1.0),
                                            (yy - y * y / n) / (n - 1.0),
                                            (xy - x * y / n) / (n - 1.0),
                                            0.0};
    }
    const ww__merge_growth got = ww__merge_growth_find(&blocks, &bytes, ratio, 0.0, 0.0, 0.0);
    test_close("sound", ww__merge_growth_says(&got, true, false), WW__MERGE_SOUND, 0);
    test_close("reading", got.within.value, 0.0, 0.1);
    free(blocks.block);
}

/* The logarithm of a ratio near 1 divides by next to nothing. */
static void exposures_alike_show_no_growth(void **state) {
    const pair p = {.ratio = 1.002, .within = 1.0, .across = 1.0};
    uint64_t seed = 0x9e3779b97f4a7c15u;
    ww__merge_blocks blocks = {malloc(MADE * sizeof *blocks.block), MADE, MADE};
    (void)state;
    for (size_t k = 0; k < MADE; k++)
        blocks.block[k] = made_block(&p, lightest * pow(10.0, -0.8 * (double)k / MADE), &seed);
    const ww__merge_growth got = ww__merge_growth_find(&blocks, &real, p.ratio, 0.0, 0.0, 0.0);
    test_close("across", got.across.how, WW_ABSENT, 0);
    test_close("within", got.within.value, 1.0, 0.1);
    free(blocks.block);
}

static void too_few_places_say_nothing(void **state) {
    ww__merge_blocks blocks = {NULL, 0, 0};
    const ww__merge_growth got = ww__merge_growth_find(&blocks, &real, 2.0, 0.0, 0.0, 0.0);
    (void)state;
    test_close("sound", ww__merge_growth_says(&got, true, true), WW__MERGE_SOUND, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_noise_says_of_light),
                                       cmocka_unit_test(what_is_displaced_is_no_amplifier),
                                       cmocka_unit_test(one_scan_multiplied),
                                       cmocka_unit_test(bytes_are_light_at_a_code_of_noise),
                                       cmocka_unit_test(exposures_alike_show_no_growth),
                                       cmocka_unit_test(too_few_places_say_nothing)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
