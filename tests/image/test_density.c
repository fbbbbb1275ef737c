/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_made.h"
#include "image/density.h"
#include "support/scan_case.h"
#include "support/support.h"
#include <string.h>
#include <wedgework/start.h>

/* Source: the calibration's own points (definition), whose doubts are half-widths of 95 %. */
static void points_give_back_their_densities(void **state) {
    struct scanner_case made;
    (void)state;
    scan_case_scanner(&made, false);
    const ww_scanner_channel *channel = &made.scanner.channel[WW_VISUAL];
    for (size_t i = 1; i + 1 < channel->n_points; i++) {
        ww_cell cell;
        const ww_reach reach =
            ww__density_of_code(&made.scanner, WW_VISUAL, channel->point[i].code, &cell);
        test_true("there", cell.state == WW_CELL_VALUE && cell.n == 1 && cell.sd.set &&
                               reach == WW_REACH_WITHIN);
        test_close("density", cell.value, channel->point[i].density, 1e-9);
        test_close("doubt", cell.sd.value, channel->point[i].doubt / 1.96, 1e-9);
    }
}

static void beyond_the_wedge_is_the_model_s_or_a_limit(void **state) {
    struct scanner_case made;
    ww_cell cell;
    (void)state;
    scan_case_scanner(&made, false);
    const ww_scanner *s = &made.scanner;
    const ww_scanner_channel *channel = &s->channel[WW_VISUAL];
    /* Denser than the densest by more than it may be for sure (99.9 %: 1.68 times its doubt), by a
     * little more than its doubt, and by less: that may be the step itself. */
    const ww_scanner_point *end = &channel->point[0];
    const double dense = end->density - 0.004 * sin(3.0 * end->density);
    double code = scan_case_code(dense + 1.7 * end->doubt);
    test_true("denser", ww__density_of_code(s, WW_VISUAL, code, &cell) == WW_REACH_DARK &&
                            cell.state == WW_CELL_OVER);
    code = scan_case_code(dense + 1.5 * end->doubt);
    test_true("a little denser",
              ww__density_of_code(s, WW_VISUAL, code, &cell) == WW_REACH_DENSER &&
                  cell.state == WW_CELL_VALUE);
    test_close("a little denser", cell.value, end->density + 1.5 * end->doubt, 1e-9);
    code = scan_case_code(dense + 0.5 * end->doubt);
    test_true("the step itself",
              ww__density_of_code(s, WW_VISUAL, code, &cell) == WW_REACH_WITHIN &&
                  cell.state == WW_CELL_VALUE);
    test_close("the step itself", cell.value, end->density + 0.5 * end->doubt, 1e-9);
    /* 0.05 D thinner than the thinnest, which the model reaches: the point stands for its own. */
    const ww_scanner_point *first = &channel->point[channel->n_points - 1];
    const double thin = scan_case_density(1), left = 0.004 * sin(3.0 * thin);
    code = scan_case_code(thin - left - 0.05);
    test_true("a little thinner",
              ww__density_of_code(s, WW_VISUAL, code, &cell) == WW_REACH_THINNER &&
                  cell.state == WW_CELL_VALUE);
    test_close("a little thinner", cell.value, thin - 0.05, 1e-9);
    /* More than 0.1 D thinner, and clipped: all that is known is that the first step is denser. */
    code = scan_case_code(thin - left - 0.11);
    test_true("too light", ww__density_of_code(s, WW_VISUAL, code, &cell) == WW_REACH_LIGHT &&
                               cell.state == WW_CELL_LESS);
    test_close("too light", cell.value, first->density, 1e-9);
    test_true("white", ww__density_of_code(s, WW_VISUAL, 65535.0, &cell) == WW_REACH_LIGHT &&
                           cell.state == WW_CELL_LESS);
}

/*
 * Source: closed form. Codes are light, so that density is -log10(code / 65535) and an error of a
 * code 0.4343 error / code; the file's doubt is 0.01 (one sd) at each of its points. Terms are
 * those of ww_measure_strip. Light is even to 10 of 20000 codes from
 * step to step, and to 1 % (95 %) from scan to scan.
 */
static const double per_code = 0.4342944819 / 20000.0;

static ww_scanner plain_scanner(ww_scanner_point point[2], double noise) {
    ww_scanner scanner = {.bits = 16, .white = 65535.0, .gamma = {1.0, 1.0, 1.0, WW_FITTED}};
    point[0] = (ww_scanner_point){6553.5, 1.0, 0.0196};
    point[1] = (ww_scanner_point){60000.0, -log10(60000.0 / 65535.0), 0.0196};
    scanner.channel[WW_VISUAL] = (ww_scanner_channel){
        .present = true, .k = 1.0, .noise = {.read = noise}, .point = point, .n_points = 2};
    return scanner;
}

static void doubt_grows_with_what_was_seen(void **state) {
    const double even = hypot(10.0, 20000.0 * 0.01 / 1.96) * per_code;
    const struct {
        const char *name;
        double all, sd, noise, uneven, rejected;
        unsigned line;
        size_t n;
        double more; /* beside the calibration and the evenness of the light */
    } rows[] = {
        {"even and clean", 20000, 200, 200, 0, 0.0, 0, 1000000, 0.2 * per_code},
        {"noise of the mean", 20000, 200, 200, 0, 0.0, 0, 4, 100 * per_code},
        {"light that drifts", 20000, 2000, 0, 2000, 0.0, 0, 1000000, 2000 * per_code},
        {"a quarter left out", 18000, 200, 200, 0, 0.25, 0, 1000000,
         0.5 * log10(20000.0 / 18000.0)},
        {"a tenth left out", 19600, 200, 200, 0, 0.1, 0, 1000000,
         sqrt(0.1) * log10(20000.0 / 19600.0)},
        {"a little dust", 30000, 200, 200, 0, 0.04, 0, 1000000, 0.2 * per_code},
        {"a line", 30000, 200, 200, 0, 0.1, 2, 1000000, 0.2 * per_code},
        {"detail", 20000, 2000, 0, 0, 0.0, 0, 1000000, 200 * per_code},
        {"noisier than it was", 20000, 500, 300, 0, 0.0, 0, 1000000, 40 * per_code},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_scanner_point point[2];
        const ww_scanner scanner = plain_scanner(point, rows[i].noise / 65535.0);
        ww_patch patch = {.n = rows[i].n, .rejected = rows[i].rejected, .line = rows[i].line};
        ww_patch_channel *p = &patch.channel[WW_VISUAL];
        *p = (ww_patch_channel){.code = 20000.0,
                                .all = rows[i].all,
                                .sd = rows[i].sd,
                                .low = 10000.0,
                                .high = 30000.0,
                                .uneven = rows[i].uneven};
        ww__density_of_patch(&scanner, WW_VISUAL, &patch);
        test_true(rows[i].name, p->reach == WW_REACH_WITHIN && p->density.state == WW_CELL_VALUE);
        test_close(rows[i].name, p->density.value, -log10(20000.0 / 65535.0), 1e-9);
        test_close(rows[i].name, p->density.sd.value, hypot(hypot(0.01, even), rows[i].more), 5e-5);
    }
}

/* Source: definition: at the code at which the scanner file says that codes end, all is clipped; a
 * code below it is none of it. */
static void codes_that_end_below_full_scale(void **state) {
    (void)state;
    for (int i = 0; i < 2; i++) {
        const double code = i == 0 ? 20000.0 : 19990.0;
        ww_scanner_point point[2];
        ww_scanner scanner = plain_scanner(point, 200.0 / 65535.0);
        ww_patch patch = {.n = 1000};
        scanner.channel[WW_VISUAL].clips = (ww_optional){true, 20000.0};
        patch.channel[WW_VISUAL] = (ww_patch_channel){.code = code,
                                                      .all = code,
                                                      .low = code - 1.5,
                                                      .high = code + 1.5,
                                                      .clipped = i == 0 ? 1.0 : 0.0};
        ww__density_of_patch(&scanner, WW_VISUAL, &patch);
        test_true("reach",
                  patch.channel[WW_VISUAL].reach == (i == 0 ? WW_REACH_LIGHT : WW_REACH_WITHIN));
    }
}

/* Source: the limits of the header; densities by the closed form above. 0.1 D thinner than the
 * file's first point its doubt has doubled. */
static void what_is_no_reading_is_none(void **state) {
    const double end = -log10(60000.0 / 65535.0), first = -log10(64000.0 / 65535.0);
    const struct {
        const char *name;
        double code, uneven, rejected, clipped, low, high;
        ww_reach reach;
        ww_cell_state cell;
        double limit;
    } rows[] = {
        {"a third", 20000, 0, 0.33, 0, 1, 30000, WW_REACH_WITHIN, WW_CELL_VALUE, 0},
        {"over a third", 20000, 0, 0.34, 0, 1, 30000, WW_REACH_NONE, WW_CELL_MISSING, 0},
        {"drifts", 20000, 2250, 0.0, 0, 1, 30000, WW_REACH_WITHIN, WW_CELL_VALUE, 0},
        {"drifts further", 20000, 2350, 0.0, 0, 1, 30000, WW_REACH_NONE, WW_CELL_MISSING, 0},
        {"clipped in the light", 64000, 0, 0.0, 0.02, 1, 65600, WW_REACH_LIGHT, WW_CELL_LESS,
         first + 0.0196 * (1.0 + (end - first) / 0.1)},
        {"hardly clipped", 64000, 0, 0.0, 0.009, 1, 65600, WW_REACH_THINNER, WW_CELL_VALUE, 0},
        {"pinholes, left out", 20000, 0, 0.02, 0.02, 1, 65000, WW_REACH_WITHIN, WW_CELL_VALUE, 0},
        {"all clipped", 65535, 0, 0.0, 1.0, 65533, 65537, WW_REACH_LIGHT, WW_CELL_LESS,
         0.0196 * (1.0 + end / 0.1)},
        {"clipped in the dark", 7000, 0, 0.0, 0.02, -9, 9000, WW_REACH_DARK, WW_CELL_OVER, 0},
        {"black dust, left out", 7000, 0, 0.02, 0.02, 5000, 9000, WW_REACH_WITHIN, WW_CELL_VALUE,
         0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_scanner_point point[2];
        const ww_scanner scanner = plain_scanner(point, 0.0);
        ww_patch patch = {.n = 5000, .rejected = rows[i].rejected};
        ww_patch_channel *p = &patch.channel[WW_VISUAL];
        *p = (ww_patch_channel){.code = rows[i].code,
                                .all = rows[i].code,
                                .sd = rows[i].uneven,
                                .low = rows[i].low,
                                .high = rows[i].high,
                                .uneven = rows[i].uneven,
                                .clipped = rows[i].clipped};
        ww__density_of_patch(&scanner, WW_VISUAL, &patch);
        test_true(rows[i].name, p->reach == rows[i].reach && p->density.state == rows[i].cell);
        if (rows[i].cell == WW_CELL_LESS)
            test_close(rows[i].name, p->density.value, rows[i].limit, 1e-6);
        ww_measured m = {.patch = &patch, .n = 1, .has = {[WW_VISUAL] = true}};
        test_true(rows[i].name, ww__density_is_none(&m, 0) == (rows[i].reach == WW_REACH_NONE));
    }
}

/* Source: closed form. Light at code 6600 of a scanner whose read noise is that of its pixels: 4000
 * codes or 0.263 D, of 900 pixels 0.0088, of which quarters may seem uneven by six: 0.053. On a
 * clean scanner the same pixels have no one density. */
static void noise_makes_no_patch_uneven(void **state) {
    (void)state;
    for (int clean = 0; clean < 2; clean++) {
        ww_scanner_point point[2];
        const ww_scanner scanner = plain_scanner(point, clean ? 0.0 : 4000.0 / 65535.0);
        ww_patch patch = {.n = 900};
        ww_patch_channel *p = &patch.channel[WW_VISUAL];
        *p = (ww_patch_channel){.code = 6600.0,
                                .all = 6600.0,
                                .sd = 4000.0,
                                .low = 1.0,
                                .high = 30000.0,
                                .uneven = 850.0}; /* 0.056 D */
        ww__density_of_patch(&scanner, WW_VISUAL, &patch);
        test_true(clean ? "uneven" : "noise",
                  p->reach == (clean ? WW_REACH_NONE : WW_REACH_WITHIN));
        test_true("doubted", clean || p->density.sd.value > 0.056);
    }
}

/* Source: the formula of ww_measure_strip, by hand: at code 6553.5, D 1, a code is 6.627e-5 D. An 8
 * bit scan in 16 bit, all one code: rounding 257 / sqrt 12 and evenness 3.3 make 0.00492, half of
 * half a step 0.00426, the level 0.00222, the calibration 0.0100. */
static void coarse_codes_are_doubtful(void **state) {
    ww_scanner_point point[2];
    const ww_scanner scanner = plain_scanner(point, 0.0);
    (void)state;
    for (int coarse = 0; coarse < 2; coarse++) {
        ww_patch patch = {.n = 5000};
        ww_patch_channel *p = &patch.channel[WW_VISUAL];
        *p = (ww_patch_channel){.code = 6553.5, .all = 6553.5, .low = 1.0, .high = 30000.0};
        p->step = coarse ? 257.0 : 1.0;
        ww__density_of_patch(&scanner, WW_VISUAL, &patch);
        test_close("doubt", p->density.sd.value, coarse ? 0.01213 : 0.01024, 2e-5);
        ww_cell pixel;
        ww__density_of_pixel(&scanner, WW_VISUAL, 6553.5, p->step, &pixel);
        test_close("pixel", pixel.sd.value, coarse ? 0.01213 : 0.01024, 2e-5);
    }
}

/* A patch of another film on the same scanner, whose light drifts by `drift` D from end to end; it
 * was laid anywhere on it. */
static double read_off(const ww_scanner *scanner, const made_truth *truth, double density,
                       double drift, uint64_t *seed) {
    const double white = scanner->white, n = 2000.0;
    const double level = 1.0 + 0.0051 * made_normal(seed); /* 1 %, 95 % */
    const made_truth lit = {.k = level * truth->k, .flare = truth->flare, .gamma = truth->gamma};
    const double meant = density + drift * (made_uniform(seed) - 0.5);
    const double sd = made_pixel_sd(truth, density);
    const double slope =
        fabs(made_share(truth, density + 0.5 * drift) - made_share(truth, density - 0.5 * drift));
    ww_patch patch = {.n = (size_t)n};
    ww_patch_channel *p = &patch.channel[WW_VISUAL];
    p->code = white * (made_share(&lit, density) + sd / sqrt(n) * made_normal(seed));
    p->all = p->code;
    p->uneven = white * slope / sqrt(12.0);
    p->sd = hypot(white * sd, p->uneven);
    ww__density_of_patch(scanner, WW_VISUAL, &patch);
    return (p->density.value - meant) / (1.96 * p->density.sd.value);
}

/* A certificate of 0.005 D, one sd: how its steps are off, and the light over a patch. */
typedef struct coverage_case {
    const char *row;
    double own, common, tilt; /* D, one sd: each step; all alike; the dense end */
    double drift;             /* D, over a patch */
} coverage_case;

static const coverage_case coverages[] = {
    {"each step on its own", 0.005, 0.0, 0.0, 0.0}, {"light that drifts", 0.005, 0.0, 0.0, 0.08},
    {"all one way", 0.0, 0.005, 0.0, 0.0},          {"more and more", 0.0, 0.0, 0.005, 0.0},
    {"some of each", 0.003, 0.003, 0.003, 0.0},
};

/* Calibrates a scanner of its own with such a wedge. */
static made_truth calibrate(const coverage_case *c, size_t k, ww_scanner *scanner, uint64_t *seed) {
    made_truth truth = made_usual(k % 3 == 0 ? 2.2 : 1.0);
    made_scan s;
    ww_error err = WW_ERROR_INIT;
    const double common = c->common * made_normal(seed), tilt = c->tilt * made_normal(seed);
    truth.flare = pow(10.0, -3.5 + made_uniform(seed));
    truth.read = pow(10.0, -4.2 + made_uniform(seed));
    made_wedge(&s, 21, 0.05, 0.15, 16);
    for (size_t i = 0; i < s.wedge.n; i++)
        s.row[i].cell[WW_COLUMN_VISUAL].value += common + tilt * (double)i / 20.0;
    made_scan_channel(&s, WW_VISUAL, &truth, c->own, seed);
    for (size_t i = 0; i < s.wedge.n; i++)
        s.row[i].cell[WW_COLUMN_VISUAL].value = 0.05 + 0.15 * (double)i;
    s.wedge.meta.wedge_sd = (ww_optional){true, 0.005};
    test_status("fit", ww_scanner_fit(&s.measured, &s.wedge, NULL, scanner, &err), WW_OK, &err);
    return truth;
}

/*
 * Source: definition of a 95 % interval, against simulated scanners of known truth, with steps off
 * as the file says or as it cannot tell. Flare and noise vary by a factor of ten, the light by 1 %
 * (95 %) from scan to scan. No interval knows which way a wedge is off: that for all alike holds
 * too much where each is off on its own.
 */
static void intervals_hold_the_truth(void **state) {
    const size_t scanners = 300, patches = 8;
    (void)state;
    if (test_quick())
        skip();
    for (size_t i = 0; i < sizeof coverages / sizeof coverages[0]; i++) {
        const coverage_case *c = &coverages[i];
        uint64_t seed = made_seed(4711);
        size_t held = 0, n = 0;
        for (size_t k = 0; k < scanners; k++) {
            ww_scanner scanner = WW_SCANNER_INIT;
            const made_truth truth = calibrate(c, k, &scanner, &seed);
            for (size_t j = 0; j < patches; j++, n++)
                held += fabs(read_off(&scanner, &truth, 0.2 + 2.2 * made_uniform(&seed), c->drift,
                                      &seed)) <= 1.0;
            ww_scanner_release(&scanner);
        }
        const double share = (double)held / (double)n;
        print_message("%s: intervals hold the truth of %zu patches in %.1f %%\n", c->row, n,
                      100.0 * share);
        test_true("19 of 20", share >= 0.93);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(points_give_back_their_densities),
        cmocka_unit_test(beyond_the_wedge_is_the_model_s_or_a_limit),
        cmocka_unit_test(doubt_grows_with_what_was_seen),
        cmocka_unit_test(noise_makes_no_patch_uneven),
        cmocka_unit_test(coarse_codes_are_doubtful),
        cmocka_unit_test(codes_that_end_below_full_scale),
        cmocka_unit_test(what_is_no_reading_is_none),
        cmocka_unit_test(intervals_hold_the_truth),
    };
    (void)ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
