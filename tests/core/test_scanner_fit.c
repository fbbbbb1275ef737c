/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_made.h"
#include "support/support.h"
#include <stdlib.h>
#include <wedgework/start.h>

#define COUNT(a) (sizeof(a) / sizeof *(a))

static void fit(const made_scan *s, const ww_measured *dark, ww_scanner *scanner) {
    const ww_scanner_options options = {dark};
    ww_error err = WW_ERROR_INIT;
    *scanner = (ww_scanner)WW_SCANNER_INIT;
    test_status("fit", ww_scanner_fit(&s->measured, &s->wedge, &options, scanner, &err), WW_OK,
                &err);
}

static ww_quantity density_of(const ww_scanner *scanner, ww_channel channel,
                              const made_truth *truth, double density) {
    ww_quantity found = WW_QUANTITY_INIT;
    ww_error err = WW_ERROR_INIT;
    const double code = scanner->white * made_share(truth, density);
    test_status("density", ww_scanner_density(scanner, channel, code, &found, &err), WW_OK, &err);
    return found;
}

/* A dark scan: one spot of `n` pixels. */
typedef struct dark_scan {
    ww_measured measured;
    ww_patch patch;
} dark_scan;

static void make_dark(dark_scan *d, double code, double sd) {
    static char spot[] = "dark", file[] = "dark.tif";
    *d = (dark_scan){.patch = {.step = spot, .n = 10000}};
    d->measured = (ww_measured){
        .file = file, .bits = 16, .white = 65535.0, .patch = &d->patch, .n = 1, .n_spots = 1};
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        d->measured.has[c] = true;
        d->patch.channel[c] = (ww_patch_channel){.code = code, .sd = sd};
    }
}

/*
 * Source: definition of a 95 % interval; 200 scanners and wedges, whose steps are off each on its
 * own and all one way besides, read at densities that no step has. 92 to 98 %.
 */
static void intervals_hold_the_truth_as_often_as_they_say(void **state) {
    static const struct {
        const char *row;
        double gamma, flare, wedge_sd;
        size_t steps;
        double apart;
    } rows[] = {
        {"linear", 1.0, 0.002, 0.005, 21, 0.15},
        {"2.2", 2.2, 0.002, 0.005, 21, 0.15},
        {"sRGB", 0.0, 0.001, 0.005, 21, 0.15},
        {"few steps, poor wedge", 1.0, 0.005, 0.012, 11, 0.30},
    };
    const size_t n = test_quick() ? 10 : 200;
    (void)state;
    for (size_t r = 0; r < COUNT(rows); r++) {
        uint64_t seed = made_seed(r);
        size_t held = 0, asked = 0;
        for (size_t i = 0; i < n; i++) {
            made_truth truth = made_usual(rows[r].gamma);
            made_scan s;
            ww_scanner scanner;
            truth.flare = rows[r].flare;
            const double all = rows[r].wedge_sd * made_normal(&seed);
            made_wedge(&s, rows[r].steps, 0.05 + all, rows[r].apart, 16);
            s.wedge.meta.wedge_sd = (ww_optional){true, rows[r].wedge_sd};
            made_scan_channel(&s, WW_VISUAL, &truth, rows[r].wedge_sd, &seed);
            for (size_t k = 0; k < s.wedge.n; k++)
                s.row[k].cell[WW_COLUMN_VISUAL].value -= all;
            fit(&s, NULL, &scanner);
            for (double density = 0.317; density < 2.7; density += 0.573) {
                const ww_quantity found = density_of(&scanner, WW_VISUAL, &truth, density);
                held += found.low <= density && density <= found.high;
                asked++;
            }
            ww_scanner_release(&scanner);
        }
        const double share = (double)held / (double)asked;
        if (!test_quick() && !(share >= 0.92 && share <= 0.98))
            fail_msg("%s: %.1f %%", rows[r].row, 100.0 * share);
    }
}

/* Source: the aim, 0.01 D up to D 2.5, by a certified wedge that is good to 0.005. */
static void densities_of_other_film_are_right(void **state) {
    static const struct {
        const char *row;
        made_truth truth;
    } rows[] = {
        {"linear", {.9, .002, 0, 1, 2e-4, 1.5e-3, .004, 0}},
        {"little flare", {.7, .0002, .003, 1, 2e-4, 1.5e-3, .004, 0}},
        {"1.8", {.9, .002, 0, 1.8, 2e-4, 1.5e-3, .004, 0}},
        {"2.2", {.95, .001, 0, 2.2, 2e-4, 1.5e-3, .004, 0}},
        {"sRGB", {.95, .001, 0, 0, 2e-4, 1.5e-3, .004, 0}},
        {"bent", {.9, .0005, 0, 1, 2e-4, 1.5e-3, .004, .02}},
        {"bent the other way", {.9, .0005, 0, 1, 2e-4, 1.5e-3, .004, -.03}},
        {"noisy", {.9, .0005, 0, 1, 2e-3, 3e-3, .01, 0}},
    };
    (void)state;
    for (size_t r = 0; r < COUNT(rows); r++) {
        uint64_t seed = made_seed(100 + r);
        made_scan s;
        ww_scanner scanner;
        made_wedge(&s, 31, 0.06, 0.1, 16);
        s.wedge.meta.wedge_sd = (ww_optional){true, 0.0025};
        made_scan_channel(&s, WW_RED, &rows[r].truth, 0.0025, &seed);
        fit(&s, NULL, &scanner);
        for (double density = 0.11; density <= 2.5; density += 0.083)
            test_close(rows[r].row, density_of(&scanner, WW_RED, &rows[r].truth, density).value,
                       density, 0.01);
        for (size_t i = 1; i < scanner.channel[WW_RED].n_points; i++) {
            const ww_scanner_point *p = scanner.channel[WW_RED].point;
            test_true("falls", p[i].code > p[i - 1].code && p[i].density < p[i - 1].density);
        }
        ww_scanner_release(&scanner);
    }
}

/* Source: the truth that made the scan. */
static void parameters_are_those_of_the_scanner(void **state) {
    made_truth truth = made_usual(1.0);
    made_scan s;
    ww_scanner scanner;
    uint64_t seed = made_seed(3);
    (void)state;
    truth.read = 6e-4; /* noise meets light at 3.13 D: past the flare, within a wedge of 3.45 */
    made_wedge(&s, 24, 0.05, 0.15, 16);
    s.wedge.meta.wedge_sd = (ww_optional){true, 0.005};
    made_scan_channel(&s, WW_VISUAL, &truth, 0.005, &seed);
    fit(&s, NULL, &scanner);
    const ww_scanner_channel *c = &scanner.channel[WW_VISUAL];
    test_text("name", scanner.name, "wedge.tif");
    assert_int_equal(scanner.bits, 16);
    test_close("white", scanner.white, 65535.0, 0.0);
    test_close("gamma", scanner.gamma.value, 1.0, 0.0);
    test_true("its interval", scanner.gamma.low <= 1.0 && scanner.gamma.high >= 1.0);
    assert_int_equal(scanner.gamma.how, WW_FITTED);
    assert_int_equal(scanner.wedge, WW_WEDGE_CERTIFIED);
    test_close("wedge sd", scanner.wedge_sd.value, 0.005, 0.0);
    test_true("others", !scanner.channel[WW_RED].present && !scanner.dark_scan);
    test_close("k", c->k / 0.9, 1.0, 0.01);
    test_close("flare", c->flare.value / 0.002, 1.0, 0.03);
    test_close("dark", c->dark.value, 0.0, 0.0);
    test_close("all of it may be dark", c->flare.low, 0.0, 0.0);
    test_true("or flare", c->dark.high > 0.0017 && c->flare.high > 0.002);
    test_close("read", c->noise.read / 6e-4, 1.0, 0.2);
    test_close("shot", c->noise.shot / 1.5e-3, 1.0, 0.2);
    test_close("fixed", c->noise.fixed / 0.004, 1.0, 0.2);
    /* S^2 = read^2 + shot^2 (S + F) + fixed^2 (S + F)^2, F = 0.0018: quadratic formula */
    const double a = 1.0 - 1.6e-5, b = -(2.25e-6 + 2.0 * 1.6e-5 * 0.0018),
                 f = -(3.6e-7 + 2.25e-6 * 0.0018 + 1.6e-5 * 0.0018 * 0.0018);
    const double end = -log10((-b + sqrt(b * b - 4.0 * a * f)) / (2.0 * a) / 0.9);
    test_close("dmax", c->dmax.value, end, 0.05);
    test_true("its interval", c->dmax.low < end && end < c->dmax.high);
    assert_int_equal(c->dmax.how, WW_FITTED);
    assert_int_equal(c->n_steps, 24);
    for (size_t i = 0; i < 24; i++) {
        test_true("compressed", c->step[i].compressed == (c->step[i].density > 2.699));
        test_close("fitted", c->step[i].fitted, c->step[i].density, 0.04);
    }
    test_close("residual sd", c->residual_sd, 0.005, 0.0035);
    test_true("worst", fabs(c->worst_residual) >= c->residual_sd);
    ww_scanner_release(&scanner);
}

/* Source: closed form of the end (test_scanner_noise.c has the formula). What passes for flare here
 * is dark, without shot noise: the interval knows; a dark scan puts the value right. */
static void the_end_is_doubted_where_dark_is_not_known(void **state) {
    made_truth truth = made_usual(1.0);
    made_scan s;
    dark_scan d;
    ww_scanner scanner;
    (void)state;
    truth.flare = 0.0002;
    truth.dark = 0.0016;
    truth.read = 1e-4;
    truth.shot = 0.012;
    truth.fixed = 0.0;
    made_wedge(&s, 28, 0.05, 0.15, 16);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    /* S^2 = read^2 + shot^2 (S + F), F = 0.00018 */
    const double b = 0.012 * 0.012, c = 1e-8 + b * 0.00018;
    const double end = -log10(0.5 * (b + sqrt(b * b + 4.0 * c)) / 0.9);
    fit(&s, NULL, &scanner);
    const ww_quantity without = scanner.channel[WW_VISUAL].dmax;
    test_true("held", without.low <= end && end <= without.high);
    ww_scanner_release(&scanner);
    make_dark(&d, 65535.0 * 0.0016, 65535.0 * 1e-4);
    fit(&s, &d.measured, &scanner);
    const ww_quantity with = scanner.channel[WW_VISUAL].dmax;
    test_close("by a dark scan", with.value, end, 0.01);
    test_true("surer", with.high - with.low < 0.5 * (without.high - without.low));
    ww_scanner_release(&scanner);
}

static void a_wedge_may_end_before_the_scanner(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    ww_scanner scanner;
    (void)state;
    made_wedge(&s, 11, 0.05, 0.2, 16);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    fit(&s, NULL, &scanner);
    test_close("dmax", scanner.channel[WW_VISUAL].dmax.value, 2.05, 1e-9);
    assert_int_equal(scanner.channel[WW_VISUAL].dmax.how, WW_MEASURED);
    ww_scanner_release(&scanner);
}

/* Source: (1200-200)/(60000-200) is 1.77670, closed form; and the truth that made the scan. */
static void a_dark_scan_tells_dark_from_flare(void **state) {
    made_truth truth = made_usual(1.0);
    made_scan s;
    dark_scan d;
    ww_scanner scanner;
    ww_quantity density;
    (void)state;
    truth.k = 59800.0 / 65535.0;
    truth.flare = 0.0;
    truth.dark = 200.0 / 65535.0;
    make_dark(&d, 200.0, 12.0);
    made_wedge(&s, 21, 0.05, 0.15, 16);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    fit(&s, &d.measured, &scanner);
    test_true("dark scan", scanner.dark_scan);
    test_close("dark", scanner.channel[WW_VISUAL].dark.value * 65535.0, 200.0, 1e-9);
    assert_int_equal(scanner.channel[WW_VISUAL].dark.how, WW_MEASURED);
    test_close("no flare", scanner.channel[WW_VISUAL].flare.value, 0.0, 1e-6);
    test_true("nothing assumed", !test_noted(&scanner.notes, "dark is taken as 0"));
    test_status("density", ww_scanner_density(&scanner, WW_VISUAL, 1200.0, &density, NULL), WW_OK,
                NULL);
    test_close("(1200-200)/(60000-200)", density.value, 1.77670, 2e-4);
    ww_scanner_release(&scanner);

    truth.flare = 0.004;
    truth.gamma = 2.2;
    make_dark(&d, 65535.0 * pow(truth.dark, 1.0 / 2.2), 12.0);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    fit(&s, &d.measured, &scanner);
    test_close("encoded dark", scanner.channel[WW_VISUAL].dark.value, truth.dark, 1e-5);
    test_close("encoded flare", scanner.channel[WW_VISUAL].flare.value, 0.004, 4e-5);
    test_true("flare for sure", scanner.channel[WW_VISUAL].flare.low > 0.0035);
    ww_scanner_release(&scanner);

    make_dark(&d, 40000.0, 12.0); /* a dark scan with the lamp on */
    fit(&s, &d.measured, &scanner);
    test_true("set aside",
              !scanner.dark_scan && test_noted(&scanner.notes, "The dark scan is lighter"));
    ww_scanner_release(&scanner);
}

/* Source: interface conventions; the wedge's tolerance is the least doubt. */
static void a_nominal_wedge_is_in_every_doubt(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    ww_scanner scanner;
    uint64_t seed = made_seed(5);
    (void)state;
    made_wedge(&s, 21, 0.05, 0.15, 16);
    s.wedge.meta.wedge = WW_WEDGE_NOMINAL;
    made_scan_channel(&s, WW_VISUAL, &truth, 0.005, &seed);
    fit(&s, NULL, &scanner);
    const ww_scanner_channel *c = &scanner.channel[WW_VISUAL];
    for (size_t i = 0; i < c->n_points; i++)
        test_true("doubt",
                  c->point[i].doubt >= 0.01 + 0.09 * (c->point[i].density - 0.05) / 3.0 - 1e-12);
    test_close("dense", c->point[0].doubt, 0.10, 0.02);
    test_close("linear", scanner.gamma.value, 1.0, 0.0);
    ww_scanner_release(&scanner);
}

/* Source: closed form; grey scans calibrate `visual`, colour scans each channel by its own. */
static void channels_are_calibrated_each(void **state) {
    made_truth red = made_usual(2.2), blue = made_usual(2.2);
    made_scan s;
    ww_scanner scanner;
    (void)state;
    blue.k = 0.4;
    blue.flare = 0.01;
    made_wedge(&s, 21, 0.05, 0.15, 16);
    made_scan_channel(&s, WW_RED, &red, 0.0, NULL);
    made_scan_channel(&s, WW_BLUE, &blue, 0.0, NULL);
    fit(&s, NULL, &scanner);
    test_close("gamma", scanner.gamma.value, 2.2, 1e-6);
    test_close("red", density_of(&scanner, WW_RED, &red, 1.731).value, 1.731, 2e-4);
    test_close("blue", density_of(&scanner, WW_BLUE, &blue, 1.731).value, 1.731, 2e-4);
    test_close("flare", scanner.channel[WW_BLUE].flare.value, 0.01, 1e-6);
    ww_quantity density;
    test_status("green", ww_scanner_density(&scanner, WW_GREEN, 2e4, &density, NULL), WW_ENODATA,
                NULL);
    ww_scanner_release(&scanner);
}

/* Awkward scans: 8 bit with rounded codes; floating point; steps that have no noise. */
static void awkward_scans_are_read_all_the_same(void **state) {
    static const unsigned bits[] = {8, 12, 16};
    (void)state;
    for (size_t i = 0; i < COUNT(bits); i++) {
        made_truth truth = made_usual(1.0);
        made_scan s;
        ww_scanner scanner;
        truth.read = truth.shot = truth.fixed = truth.flare = 0.0;
        made_wedge(&s, 13, 0.05, 0.15, bits[i]);
        made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
        for (size_t k = 0; k < 13; k++)
            s.patch[k].channel[WW_VISUAL].code = round(s.patch[k].channel[WW_VISUAL].code);
        s.patch[3].channel[WW_VISUAL].step = bits[i] == 16 ? 257.0 : 1.0;
        fit(&s, NULL, &scanner);
        test_close("step", scanner.step, bits[i] == 16 ? 257.0 : 1.0, 1e-9);
        const ww_quantity found = density_of(&scanner, WW_VISUAL, &truth, 1.13);
        test_true("its own doubt", found.low <= 1.13 && 1.13 <= found.high);
        ww_scanner_release(&scanner);
    }
    made_truth truth = made_usual(1.0);
    made_scan s;
    ww_scanner scanner;
    made_wedge(&s, 21, 0.05, 0.15, 32);
    s.measured.white = 1.0;
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    fit(&s, NULL, &scanner);
    test_close("floating point", density_of(&scanner, WW_VISUAL, &truth, 2.217).value, 2.217, 3e-4);
    ww_scanner_release(&scanner);
}

/* Source: Status lines of the header. */
static void refusals(void **state) {
    static const struct {
        const char *row;
        int what;
        ww_status status;
        const char *says;
    } rows[] = {
        {"labels", 0, WW_EMISMATCH, "'x'"},
        {"five steps", 1, WW_ENODATA, "calibration needs 6"},
        {"inverted", 2, WW_EMISMATCH, "do not fall"},
        {"no density", 3, WW_ENODATA, "no density for visual"},
        {"dark of other bits", 4, WW_EMISMATCH, "8 bits"},
        {"dark without a spot", 5, WW_ENODATA, "no spot"},
        {"dark without the channel", 6, WW_EMISMATCH, "no channel visual"},
        {"one density", 7, WW_ECONVERGE, "(visual) do not determine"},
        {"no channel", 8, WW_ENODATA, "no channel"},
    };
    static char x[] = "x";
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        const made_truth truth = made_usual(1.0);
        made_scan s;
        dark_scan d;
        ww_scanner scanner = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        make_dark(&d, 0.0, 3.0);
        made_wedge(&s, 21, 0.05, rows[i].what == 7 ? 0.0 : 0.15, 16);
        made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
        if (rows[i].what == 0)
            s.patch[3].step = x;
        if (rows[i].what == 1)
            s.measured.n = s.wedge.n = 5;
        for (size_t k = 0; k < 21 && rows[i].what == 2; k++)
            s.patch[k].channel[WW_VISUAL].code = 65000.0 - s.patch[k].channel[WW_VISUAL].code;
        if (rows[i].what == 3)
            s.wedge.has[WW_COLUMN_VISUAL] = false;
        if (rows[i].what == 4)
            d.measured.bits = 8;
        if (rows[i].what == 5)
            d.measured.n = 0;
        if (rows[i].what == 6)
            d.measured.has[WW_VISUAL] = false;
        if (rows[i].what == 8)
            s.measured.has[WW_VISUAL] = false;
        const ww_scanner_options options = {&d.measured};
        test_status(rows[i].row, ww_scanner_fit(&s.measured, &s.wedge, &options, &scanner, &err),
                    rows[i].status, &err);
        if (!strstr(err.msg, rows[i].says))
            fail_msg("%s: '%s' does not hold '%s'", rows[i].row, err.msg, rows[i].says);
        assert_null(scanner.name);
        assert_int_equal(scanner.notes.n, 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(intervals_hold_the_truth_as_often_as_they_say),
        cmocka_unit_test(densities_of_other_film_are_right),
        cmocka_unit_test(parameters_are_those_of_the_scanner),
        cmocka_unit_test(the_end_is_doubted_where_dark_is_not_known),
        cmocka_unit_test(a_wedge_may_end_before_the_scanner),
        cmocka_unit_test(a_dark_scan_tells_dark_from_flare),
        cmocka_unit_test(a_nominal_wedge_is_in_every_doubt),
        cmocka_unit_test(channels_are_calibrated_each),
        cmocka_unit_test(awkward_scans_are_read_all_the_same),
        cmocka_unit_test(refusals),
    };
    (void)ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
