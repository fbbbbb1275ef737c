/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_rest.h"
#include "scanner_made.h"
#include "support/support.h"
#include <stdlib.h>
#include <wedgework/start.h>

static const double no_scatter[WW_CHANNEL_COUNT];

/* A scan as one strip with its model fitted. */
static void prepare(const made_scan *s, ww__scanner_strips *strips, ww__scanner_light *light,
                    bool *free_gamma) {
    ww__scanner_model model;
    ww_error err = WW_ERROR_INIT;
    test_status("match", ww__scanner_steps_match(&s->measured, &s->wedge, strips, &err), WW_OK,
                &err);
    test_status("model", ww__scanner_model_fit(strips, no_scatter, NULL, &model, &err), WW_OK,
                &err);
    *light = ww__scanner_model_light(&model, 0);
    *free_gamma = model.free_gamma;
}

static ww__scanner_rest *rest_of(const ww__scanner_strip *strip, const ww__scanner_light *light,
                                 bool free_gamma) {
    ww__scanner_rest *rest = NULL;
    ww_error err = WW_ERROR_INIT;
    test_status("rest", ww__scanner_rest_new(strip, light, free_gamma, &rest, &err), WW_OK, &err);
    return rest;
}

static void make(made_scan *s, const made_truth *truth, double sd, uint64_t *seed) {
    made_wedge(s, 21, 0.05, 0.15, 16);
    s->wedge.meta.wedge_sd = (ww_optional){true, sd};
    made_scan_channel(s, WW_VISUAL, truth, sd, seed);
}

/* Source: closed form of weighted least squares in two parameters, (H'WH)^-1 by hand. */
static void doubt_is_that_of_least_squares_where_the_model_will_do(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
    ww__scanner_light light;
    bool free_gamma;
    (void)state;
    make(&s, &truth, 0.005, NULL);
    prepare(&s, &strips, &light, &free_gamma);
    ww__scanner_rest *rest = rest_of(&strips.strip[0], &light, free_gamma);
    test_close("no process", ww__scanner_rest_amplitude(rest), 0.0, 0.0);
    test_close("no scatter", ww__scanner_rest_scatter(rest), 0.0, 0.0);
    double a = 0.0, b = 0.0, c = 0.0;
    for (size_t i = 0; i < 21; i++) {
        const ww__scanner_row *row = &strips.strip[0].row[i];
        const double open = light.k * pow(10.0, -row->density);
        const double sd = hypot(row->mean_sd, 0.005 * 2.302585092994046 * open);
        a += open * open / (sd * sd);
        b += open / (sd * sd);
        c += 1.0 / (sd * sd);
    }
    for (double density = 0.1; density < 3.0; density += 0.317) {
        const double open = light.k * pow(10.0, -density);
        double share, sd;
        ww__scanner_rest_at(rest, density, &share, &sd);
        test_close("doubt", sd / sqrt((open * open * c - 2.0 * open * b + a) / (a * c - b * b)),
                   1.0, 1e-6);
        test_close("correction", share, 0.0, 1e-9);
    }
    ww__scanner_rest_free(rest);
    ww__scanner_steps_release(&strips);
}

/* Source: definition of a deleted residual: fit without the row, look at what is said of it. */
static void deleted_rows_are_those_of_a_fit_without_them(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
    ww__scanner_light light;
    bool free_gamma;
    uint64_t seed = made_seed(99u);
    (void)state;
    make(&s, &truth, 0.003, &seed);
    s.wedge.meta.wedge_sd.value = 0.004; /* rather too much: neither scatter nor process */
    prepare(&s, &strips, &light, &free_gamma);
    ww__scanner_strip *strip = &strips.strip[0];
    ww__scanner_rest *all = rest_of(strip, &light, free_gamma);
    test_close("no process", ww__scanner_rest_amplitude(all), 0.0, 0.0);
    test_close("no scatter", ww__scanner_rest_scatter(all), 0.0, 0.0);
    for (size_t i = 0; i < 21; i += 3) {
        const ww__scanner_deleted deleted = ww__scanner_rest_deleted(all, i);
        double correction, sd, slope;
        strip->row[i].suspect = true;
        ww__scanner_rest *others = rest_of(strip, &light, free_gamma);
        strip->row[i].suspect = false;
        if (ww__scanner_rest_amplitude(others) > 0.0 || ww__scanner_rest_scatter(others) > 0.0) {
            ww__scanner_rest_free(others);
            continue;
        }
        ww__scanner_rest_at(others, strip->row[i].density, &correction, &sd);
        const double expected =
            ww__scanner_share(&light, strip->row[i].density, &slope) + correction;
        const double off = strip->row[i].share - expected;
        test_true("counts", deleted.counts);
        test_close("departure", deleted.departure / (off / slope), 1.0, 1e-6);
        test_close("z",
                   deleted.z /
                       (off / hypot(sd, ww__scanner_model_error(&light, &strip->row[i], 0.0))),
                   1.0, 1e-6);
        test_true("does not count any more", !ww__scanner_rest_deleted(others, i).counts);
        ww__scanner_rest_free(others);
    }
    ww__scanner_rest_free(all);
    ww__scanner_steps_release(&strips);
}

/* Source: the truth that made the scan: its scale sags by 0.03 D, which no model has. */
static void a_bent_scale_is_followed(void **state) {
    made_truth truth = made_usual(1.0);
    made_scan s;
    ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
    ww__scanner_light light;
    bool free_gamma;
    uint64_t seed = made_seed(4u);
    (void)state;
    truth.bend = 0.03;
    truth.flare = 0.0002;
    make(&s, &truth, 0.002, &seed);
    prepare(&s, &strips, &light, &free_gamma);
    ww__scanner_rest *rest = rest_of(&strips.strip[0], &light, free_gamma);
    for (double density = 0.1; density < 2.6; density += 0.2) {
        double correction, sd, slope;
        ww__scanner_rest_at(rest, density, &correction, &sd);
        const double share = ww__scanner_share(&light, density, &slope) + correction;
        test_close("bent", (share - made_share(&truth, density)) / slope, 0.0, 0.006);
    }
    ww__scanner_rest_free(rest);
    ww__scanner_steps_release(&strips);
}

/* Source: the truth: densities are off by 0.02 where 0.002 is stated. */
static void scatter_beyond_the_stated_is_found(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
    ww__scanner_light light;
    bool free_gamma;
    uint64_t seed = made_seed(12345u);
    (void)state;
    make(&s, &truth, 0.02, &seed);
    s.wedge.meta.wedge_sd.value = 0.002;
    prepare(&s, &strips, &light, &free_gamma);
    ww__scanner_rest *rest = rest_of(&strips.strip[0], &light, free_gamma);
    test_close("scatter", ww__scanner_rest_scatter(rest), 0.02, 0.0091);
    ww__scanner_rest_free(rest);
    ww__scanner_rest_free(NULL);
    ww__scanner_steps_release(&strips);
}

/* Steps that are all one density leave light and constant open. */
static void what_the_steps_leave_open_is_refused(void **state) {
    const made_truth truth = made_usual(1.0);
    const ww__scanner_light light = {WW_ENCODING_POWER, 1.0, 0.9, 0.0};
    made_scan s;
    ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
    ww__scanner_rest *rest = NULL;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    made_wedge(&s, 8, 1.0, 0.0, 16);
    made_scan_channel(&s, WW_RED, &truth, 0.0, NULL);
    test_status("match", ww__scanner_steps_match(&s.measured, &s.wedge, &strips, &err), WW_OK,
                &err);
    test_status("one density", ww__scanner_rest_new(&strips.strip[0], &light, true, &rest, &err),
                WW_ECONVERGE, &err);
    assert_null(rest);
    ww__scanner_steps_release(&strips);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(doubt_is_that_of_least_squares_where_the_model_will_do),
        cmocka_unit_test(deleted_rows_are_those_of_a_fit_without_them),
        cmocka_unit_test(a_bent_scale_is_followed),
        cmocka_unit_test(scatter_beyond_the_stated_is_found),
        cmocka_unit_test(what_the_steps_leave_open_is_refused),
    };
    (void)ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
