/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_made.h"
#include "support/scan_plan_case.h"
#include <math.h>

/*
 * Scanners drawn at random, from the wedge to the scan: pixels of the wedge by the model's own
 * definition, rounded; the scanner calibrated on them; the plan's exposure; and pixels of base and
 * cloud drawn at that, each patch of 3 x 3 elsewhere between two codes. All invented. Source: the
 * issue's aims: stops within 0.1; signal-to-noise and what is told apart within 20 % of simulation.
 */
enum { STEPS = 21, PIXELS = 1000 };

/* A patch of the wedge as it would be measured: mean as light, back as a code; sd in codes. */
static void draw_step(const scan_pixels_truth *t, double density, uint64_t *state,
                      ww_patch *patch) {
    const double white = exp2(t->bits) - 1.0, beyond = t->k * (pow(10.0, -density) + t->flare);
    double light = 0.0, codes = 0.0, squares = 0.0, ends = 0.0;
    for (int i = 0; i < PIXELS; i++) {
        const double own = 1.0 + t->fixed * scan_pixels_normal(state);
        const double noise = t->read * scan_pixels_normal(state) +
                             t->shot * sqrt(beyond) * scan_pixels_normal(state);
        const double seen = fmax(t->dark + beyond * own + noise, 0.0);
        const double code = fmin(round(white * pow(seen, 1.0 / t->gamma)), white);
        light += pow(code / white, t->gamma) / PIXELS;
        codes += code, squares += code * code;
        ends += code <= 0.0 || code >= white;
    }
    const double mean = codes / PIXELS;
    ww_patch_channel *p = &patch->channel[WW_VISUAL];
    p->code = white * pow(light, 1.0 / t->gamma);
    p->sd = sqrt(fmax(squares / PIXELS - mean * mean, 0.0));
    p->step = 1.0;
    p->clipped = ends / PIXELS;
    patch->n = PIXELS;
}

static double between(uint64_t *state, double low, double high) {
    return low + (high - low) * scan_pixels_uniform(state);
}

/* Noise of a twentieth of a code to many codes. */
static scan_pixels_truth draw_scanner(uint64_t *state) {
    static const unsigned bits[] = {8, 8, 12, 16};
    static const double gamma[] = {1.0, 1.0, 1.8, 2.2};
    scan_pixels_truth t = {.k = between(state, 0.5, 0.9)};
    t.flare = pow(10.0, between(state, -3.3, -2.2));
    t.dark = scan_pixels_uniform(state) < 0.5 ? 0.0 : 0.002;
    t.read = pow(10.0, between(state, -4.0, -2.9));
    t.shot = pow(10.0, between(state, -3.3, -2.3));
    t.fixed = pow(10.0, between(state, -3.0, -2.2));
    t.bits = bits[(int)between(state, 0.0, 4.0)];
    t.gamma = gamma[(int)between(state, 0.0, 4.0)];
    return t;
}

/* How many of them are as foretold. */
typedef struct tally {
    size_t n, stops, snr, separable, told;
    double worst_separable, worst_told;
} tally;

static bool within(double foretold, double drawn, double *worst) {
    const double off = fabs(foretold / drawn - 1.0);
    *worst = fmax(*worst, off);
    return off <= 0.2;
}

static void plan_one(const ww_scanner *scanner, const scan_pixels_truth *truth, double base,
                     double cloud, tally *sum) {
    scan_plan_case c;
    ww_scan_plan plan;
    double unused = 0.0;
    scan_plan_case_start(&c, *truth);
    c.request.scanner = scanner;
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, base);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, cloud);
    scan_plan_case_make("drawn", &c, &plan);
    const ww_scan_channel *channel = &plan.channel[WW_VISUAL];
    const double stops = channel->stops.value;
    const scan_pixels_seen thin = scan_pixels_see(truth, stops, base, 1, 100);
    const scan_pixels_seen dense = scan_pixels_see(truth, stops, cloud, 1, 1500);
    sum->n++;
    sum->stops += fabs(log2(thin.light / 0.95)) < 0.1;
    sum->snr += within(channel->tone[channel->highlight].snr, dense.snr, &unused);
    sum->separable += within(channel->separable, dense.separable, &sum->worst_separable);
    sum->told += within(channel->told, dense.told, &sum->worst_told);
    ww_scan_plan_release(&plan);
}

static void drawn_scanners(void **state) {
    const size_t n = test_quick() ? 6 : 160;
    uint64_t draw = 20261201u;
    tally sum = {.n = 0};
    (void)state;
    for (size_t i = 0; i < n; i++) {
        const scan_pixels_truth truth = draw_scanner(&draw);
        const double base = between(&draw, 0.2, 0.5), cloud = base + between(&draw, 0.8, 1.35);
        made_scan s;
        ww_scanner scanner = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        made_wedge(&s, STEPS, 0.05, 0.15, truth.bits);
        s.measured.has[WW_VISUAL] = true;
        for (size_t step = 0; step < STEPS; step++)
            draw_step(&truth, s.row[step].cell[WW_COLUMN_VISUAL].value, &draw, &s.patch[step]);
        test_status("calibrated", ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, &err),
                    WW_OK, &err);
        plan_one(&scanner, &truth, base, cloud, &sum);
        ww_scanner_release(&scanner);
    }
    print_message("of %zu channels within 20 %%: signal-to-noise %zu, told apart at a pixel %zu "
                  "(worst %.0f %%), over 3 x 3 %zu (worst %.0f %%)\n",
                  sum.n, sum.snr, sum.separable, 100.0 * sum.worst_separable, sum.told,
                  100.0 * sum.worst_told);
    test_close("stops", (double)sum.stops, (double)sum.n, 0.0);
    if (test_quick())
        return;
    test_true("signal-to-noise", (double)sum.snr >= 0.98 * (double)sum.n);
    test_true("a pixel", (double)sum.separable >= 0.98 * (double)sum.n);
    test_true("a patch", (double)sum.told >= 0.98 * (double)sum.n);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(drawn_scanners)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
