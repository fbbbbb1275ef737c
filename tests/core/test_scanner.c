/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner.h"
#include "scanner_made.h"
#include "support/support.h"
#include <stdlib.h>

#define COUNT(a) (sizeof(a) / sizeof *(a))

static double through(const ww__scanner_light *light, double density) {
    return -log10(ww__scanner_share(light, density, NULL) / ww__scanner_share(light, 0.0, NULL));
}

/* Source: the trade's table of flare and encodings, two decimals, and closed forms behind it. */
static void what_wrong_reading_makes_of_densities(void **state) {
    static const struct {
        const char *row;
        double flare, gamma, density, reads;
    } rows[] = {
        {"flare .1 %", .001, 1, 1.5, 1.49},  {"flare .1 %", .001, 1, 2.0, 1.96},
        {"flare .1 %", .001, 1, 2.5, 2.38},  {"flare .1 %", .001, 1, 3.0, 2.70},
        {"flare .5 %", .005, 1, 1.5, 1.44},  {"flare .5 %", .005, 1, 2.0, 1.83},
        {"flare .5 %", .005, 1, 2.5, 2.09},  {"flare .5 %", .005, 1, 3.0, 2.22},
        {"flare 1 %", .01, 1, 1.5, 1.38},    {"flare 1 %", .01, 1, 2.0, 1.70},
        {"flare 1 %", .01, 1, 2.5, 1.88},    {"flare 1 %", .01, 1, 3.0, 1.96},
        {"2.2 as linear", 0, 2.2, 1.0, .45}, {"2.2 as linear", 0, 2.2, 2.0, .91},
        {"sRGB as linear", 0, 0, 1.0, .46},  {"sRGB as linear", 0, 0, 2.0, 1.00},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        const ww__scanner_light light = {rows[i].gamma > 0.0 ? WW_ENCODING_POWER : WW_ENCODING_SRGB,
                                         rows[i].gamma, 1.0, rows[i].flare};
        test_close(rows[i].row, through(&light, rows[i].density), rows[i].reads, 0.0051);
    }
}

/* Source: densities from codes, D = -log10((c - dark)/(white - dark)): closed form. */
static void densities_of_codes_less_dark(void **state) {
    const ww__scanner_light dark = {WW_ENCODING_POWER, 1.0, 59800.0 / 65535.0, 200.0 / 65535.0};
    const ww__scanner_light plain = {WW_ENCODING_POWER, 1.0, 1.0, 0.0};
    (void)state;
    test_close("(1200-200)/(60000-200)", ww__scanner_dense(&dark, 1200.0 / 65535.0, 0.0), 1.77670,
               5e-6);
    test_close("6554/65535", ww__scanner_dense(&plain, 6554.0 / 65535.0, 0.0), 0.99997, 5e-6);
    /* darker than the dark: the tangent at 3.0, where one code is 0.43429/(59.8) D: closed form */
    test_close("darker than dark",
               ww__scanner_dense(&dark, (200.0 + 59.8 - 3.0 * 59.8) / 65535.0, 3.0),
               3.0 + 3.0 * 0.4342944819, 1e-9);
}

/* Source: IEC 61966-2-1, its own formula worked by hand; power: closed form. */
static void light_and_code_of_each_encoding(void **state) {
    static const struct {
        const char *row;
        ww_encoding encoding;
        double gamma, code, light;
    } rows[] = {
        {"linear", WW_ENCODING_POWER, 1.0, 12345.0, 12345.0 / 65535.0},
        {"power 2.2", WW_ENCODING_POWER, 2.2, 65535.0 / 2.0, 0.217637640824},
        {"sRGB half", WW_ENCODING_SRGB, 2.2, 65535.0 / 2.0, 0.214041140482},
        {"sRGB foot", WW_ENCODING_SRGB, 2.2, 655.35, 0.01 / 12.92},
        {"black", WW_ENCODING_POWER, 2.2, 0.0, 0.0},
        {"white", WW_ENCODING_SRGB, 2.2, 65535.0, 1.0},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        ww_scanner scanner = WW_SCANNER_INIT;
        scanner.white = 65535.0;
        scanner.encoding = rows[i].encoding;
        scanner.gamma = (ww_quantity){rows[i].gamma, rows[i].gamma, rows[i].gamma, WW_FITTED};
        test_close(rows[i].row, ww_scanner_light(&scanner, rows[i].code), rows[i].light, 1e-10);
        test_close(rows[i].row, ww_scanner_code(&scanner, rows[i].light), rows[i].code, 1e-5);
    }
    test_text("name", ww_encoding_name(WW_ENCODING_POWER), "power");
    test_text("name", ww_encoding_name(WW_ENCODING_SRGB), "sRGB");
}

/* Source: definition, by difference quotients. */
static void slopes_are_those_of_the_model(void **state) {
    static const double gammas[] = {1.0, 2.2, 0.0};
    (void)state;
    for (size_t g = 0; g < COUNT(gammas); g++)
        for (double density = 0.05; density < 3.2; density += 0.371) {
            const ww__scanner_light light = {gammas[g] > 0.0 ? WW_ENCODING_POWER : WW_ENCODING_SRGB,
                                             gammas[g], 0.83, 0.0017};
            double slope;
            const double share = ww__scanner_share(&light, density, &slope), h = 1e-6;
            const double quotient = (ww__scanner_share(&light, density + h, NULL) -
                                     ww__scanner_share(&light, density - h, NULL)) /
                                    (2.0 * h);
            test_close("slope", slope / quotient, 1.0, 1e-6);
            test_close("closes", ww__scanner_dense(&light, share, 0.0), density, 1e-9);
        }
    double slope = 1.0;
    const ww__scanner_light below = {WW_ENCODING_POWER, 1.0, 0.5, -0.01};
    test_close("no light", ww__scanner_share(&below, 3.0, &slope), 0.0, 0.0);
    test_close("no light, no slope", slope, 0.0, 0.0);
}

/* A scanner without flare: points every 0.02 D from 3.05 to 0.05 by the formula. */
static void plain_scanner(ww_scanner *scanner, ww_scanner_point point[151]) {
    *scanner = (ww_scanner){.bits = 16, .white = 65535.0, .gamma = {1.0, 1.0, 1.0, WW_FITTED}};
    scanner->channel[WW_GREEN] =
        (ww_scanner_channel){.present = true, .k = 0.9, .point = point, .n_points = 151};
    for (size_t i = 0; i < 151; i++) {
        const double density = 3.05 - 0.02 * (double)i;
        point[i] = (ww_scanner_point){65535.0 * 0.9 * pow(10.0, -density), density,
                                      0.004 + 0.001 * density};
    }
}

/* Source: closed form; the rules of the header. */
static void densities_between_and_beyond_the_points(void **state) {
    static const struct {
        const char *row;
        double density, low, high, tolerance;
        ww_how how;
    } rows[] = {
        {"between", 1.731, 1.731 - 0.005731, 1.731 + 0.005731, 1e-9, WW_MEASURED},
        {"dense end", 3.05, 3.05 - 0.00705, 3.05 + 0.00705, 1e-9, WW_MEASURED},
        {"thin end", 0.05, 0.05 - 0.00405, 0.05 + 0.00405, 1e-9, WW_MEASURED},
        {"base a little thinner", 0.02, 0.02 - 1.3 * 0.00405, 0.02 + 1.3 * 0.00405, 1e-9,
         WW_EXTRAPOLATED},
        {"hardly thinner", 0.047, 0.047 - 1.03 * 0.00405, 0.047 + 1.03 * 0.00405, 1e-9,
         WW_MEASURED},
        {"hardly denser", 3.055, 3.055 - 0.01205, 3.055 + 0.01205, 1e-9, WW_MEASURED},
        {"a little denser", 3.06, 3.06 - 0.01705, 3.06 + 0.01705, 1e-9, WW_EXTRAPOLATED},
    };
    ww_scanner_point point[151];
    ww_scanner scanner;
    (void)state;
    plain_scanner(&scanner, point);
    for (size_t i = 0; i < COUNT(rows); i++) {
        ww_quantity density;
        ww_error err = WW_ERROR_INIT;
        double code = 65535.0 * 0.9 * pow(10.0, -rows[i].density);
        if (rows[i].density == 3.05)
            code = point[0].code;
        test_status(rows[i].row, ww_scanner_density(&scanner, WW_GREEN, code, &density, &err),
                    WW_OK, &err);
        test_close(rows[i].row, density.value, rows[i].density, rows[i].tolerance);
        test_close(rows[i].row, density.low, rows[i].low, rows[i].tolerance);
        test_close(rows[i].row, density.high, rows[i].high, rows[i].tolerance);
        assert_int_equal(density.how, rows[i].how);
    }
}

/* Source: the rules of the header. */
static void codes_that_have_no_density(void **state) {
    static const struct {
        const char *row;
        ww_channel channel;
        double code;
        ww_status status;
        const char *says;
    } rows[] = {
        {"another channel", WW_RED, 30000.0, WW_ENODATA, "red"},
        {"grey for colour", WW_VISUAL, 30000.0, WW_ENODATA, "visual"},
        {"darker", WW_GREEN, 30.0, WW_EDOMAIN, "3.05"},
        {"darker by 0.013", WW_GREEN, 65535.0 * 0.7 * 8.6497e-4, WW_EDOMAIN,
         "3.05"}, /* 10^-3.063 */
        {"below 0", WW_GREEN, -1.0, WW_EDOMAIN, "3.05"},
        {"black", WW_GREEN, 0.0, WW_EDOMAIN, "3.05"},
        {"brighter by more than 0.1", WW_GREEN, 65534.0, WW_EDOMAIN, "0.05"},
        {"clipped", WW_GREEN, 65535.0, WW_EDOMAIN, "clipped"},
        {"not a number", WW_GREEN, (double)NAN, WW_EDOMAIN, "code"},
    };
    ww_scanner_point point[151];
    ww_scanner scanner;
    (void)state;
    plain_scanner(&scanner, point);
    scanner.channel[WW_GREEN].k = 0.7; /* open light at 0.7: room above the wedge's codes */
    for (size_t i = 0; i < 151; i++)
        point[i].code *= 0.7 / 0.9;
    for (size_t i = 0; i < COUNT(rows); i++) {
        ww_quantity density = {7.0, 7.0, 7.0, WW_GIVEN};
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].row,
                    ww_scanner_density(&scanner, rows[i].channel, rows[i].code, &density, &err),
                    rows[i].status, &err);
        test_true(rows[i].row, strstr(err.msg, rows[i].says) != NULL);
        test_close("untouched", density.value, 7.0, 0.0);
        (void)ww_scanner_density(&scanner, rows[i].channel, rows[i].code, &density, NULL);
    }
}

/* Source: closed form. Codes are light, and all densities of a certified wedge's file are too great
 * or too small by a factor: which of the two is at fault no scan can tell, and doubts hold both. */
static void a_wedge_off_by_a_factor_is_in_every_doubt(void **state) {
    static const double factors[] = {0.96, 1.0, 1.02, 1.03, 1.05, 1.07};
    const made_truth truth = made_usual(1.0);
    (void)state;
    for (size_t f = 0; f < COUNT(factors); f++) {
        made_scan s;
        ww_scanner scanner = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        uint64_t seed = made_seed(41);
        made_wedge(&s, 21, 0.05, 0.15, 16);
        s.wedge.meta.wedge_sd = (ww_optional){true, 0.005};
        made_scan_channel(&s, WW_VISUAL, &truth, 0.003, &seed);
        for (size_t i = 0; i < s.wedge.n; i++)
            s.row[i].cell[WW_VISUAL].value *= factors[f];
        test_status("fit", ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, &err), WW_OK,
                    &err);
        test_true("told", test_noted(&scanner.notes, "than its file says") == (factors[f] != 1.0));
        for (double density = 0.1; density < 2.75; density += 0.1) {
            ww_quantity q = WW_QUANTITY_INIT;
            test_status("density",
                        ww_scanner_density(&scanner, WW_VISUAL,
                                           scanner.white * made_share(&truth, density), &q, &err),
                        WW_OK, &err);
            test_true("as it is", q.low <= density && density <= q.high);
            test_true("as the file says",
                      q.low <= density * factors[f] && density * factors[f] <= q.high);
            test_true("no more than that", q.high - q.value < 0.03 + 0.1 * density);
        }
        ww_scanner_release(&scanner);
    }
}

static void release_takes_anything(void **state) {
    ww_scanner scanner = WW_SCANNER_INIT;
    (void)state;
    ww_scanner_release(NULL);
    ww_scanner_release(&scanner);
    scanner.channel[WW_RED].step = calloc(1, sizeof *scanner.channel[WW_RED].step);
    scanner.channel[WW_RED].n_steps = 1;
    ww_scanner_release(&scanner);
    assert_null(scanner.channel[WW_RED].step);
    ww_scanner_release(&scanner);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_wrong_reading_makes_of_densities),
        cmocka_unit_test(densities_of_codes_less_dark),
        cmocka_unit_test(light_and_code_of_each_encoding),
        cmocka_unit_test(slopes_are_those_of_the_model),
        cmocka_unit_test(densities_between_and_beyond_the_points),
        cmocka_unit_test(codes_that_have_no_density),
        cmocka_unit_test(a_wedge_off_by_a_factor_is_in_every_doubt),
        cmocka_unit_test(release_takes_anything),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
