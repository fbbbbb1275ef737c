/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_made.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

static void fit(const made_scan *s, ww_scanner *scanner) {
    ww_error err = WW_ERROR_INIT;
    *scanner = (ww_scanner)WW_SCANNER_INIT;
    test_status("fit", ww_scanner_fit(&s->measured, &s->wedge, NULL, scanner, &err), WW_OK, &err);
}

/* Source: definition; steps 0.15 apart on the glass, 0.10 apart in the file. The codes would have
 * to be the light to the power of 1.5. */
static void another_wedge_is_refused(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    ww_scanner scanner = WW_SCANNER_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    made_wedge(&s, 21, 0.05, 0.15, 16);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    for (size_t i = 0; i < s.wedge.n; i++)
        s.wedge.row[i].cell[WW_VISUAL].value = 0.05 + 0.10 * (double)i;
    test_status("another", ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, &err),
                WW_EMISMATCH, &err);
    test_text("file", err.file, "wedge.tif");
    test_true("which", strstr(err.msg, "is not the wedge on the glass") != NULL);
}

/* Source: closed form. An S-shaped tone curve, x^2 (3 - 2 x) of the share (common practice), over a
 * linear scan of the right wedge. */
static void a_tone_curve_is_named_too(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    ww_scanner scanner = WW_SCANNER_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    made_wedge(&s, 21, 0.05, 0.15, 16);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    for (size_t i = 0; i < s.measured.n; i++) {
        double *code = &s.patch[i].channel[WW_VISUAL].code;
        const double share = *code / s.measured.white;
        *code = s.measured.white * share * share * (3.0 - 2.0 * share);
    }
    test_status("S", ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, &err), WW_EMISMATCH,
                &err);
    test_true("the curve", strstr(err.msg, "tone curve") != NULL);
    test_true("or the wedge", strstr(err.msg, "is not the wedge on the glass") != NULL);
}

/* Source: closed form. The last step that the file names, of 3.20, is dark glass of 4.00. Where the
 * picture shows that it is a step, it is one with dirt on it. */
static void a_step_beyond_the_wedge_is_refused(void **state) {
    const made_truth truth = made_usual(1.0);
    (void)state;
    for (int assumed = 0; assumed < 2; assumed++) {
        made_scan s;
        ww_scanner scanner = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        made_wedge(&s, 22, 0.05, 0.15, 16);
        s.wedge.row[21].cell[WW_VISUAL].value = 4.0;
        made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
        s.wedge.row[21].cell[WW_VISUAL].value = 3.2;
        s.measured.end_assumed = assumed;
        test_status("22", ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, &err),
                    assumed ? WW_EMISMATCH : WW_OK, &err);
        test_true(err.msg, !assumed || strstr(err.msg, "21 steps are seen where ") != NULL);
        ww_scanner_release(&scanner);
    }
}

typedef struct power_case {
    const char *row, *steps; /* NULL: it is taken */
    double gamma;            /* of the codes; 0: sRGB */
    double glass, file;      /* D from step to step */
    ww_wedge_kind wedge;
} power_case;

/* Source: closed form, 10^(-D / gamma) of another D; usual exports: common practice. */
static const power_case powers[] = {
    {"0.10 as 0.15", "about 0.10 D apart instead of 0.15", 1, .10, .15, WW_WEDGE_UNKNOWN},
    {"certified", "about 0.10 D apart instead of 0.15", 1, .10, .15, WW_WEDGE_CERTIFIED},
    {"sRGB, 0.10 as 0.15", "0.10 if they are encoded", 0, .10, .15, WW_WEDGE_NOMINAL},
    {"2.2, 0.10 as 0.15", "0.10 if they are encoded", 2.2, .10, .15, WW_WEDGE_CERTIFIED},
    {"sRGB, 0.15 as 0.10", "if they are encoded as sRGB", 0, .15, .10, WW_WEDGE_NOMINAL},
    {"2.2, 0.15 as 0.10", "if they are encoded as sRGB", 2.2, .15, .10, WW_WEDGE_NOMINAL},
    {"1.8, 0.15 as 0.10", "if they are encoded as sRGB", 1.8, .15, .10, WW_WEDGE_CERTIFIED},
    {"1.8", NULL, 1.8, .15, .15, WW_WEDGE_NOMINAL},
    {"1.8 certified", NULL, 1.8, .15, .15, WW_WEDGE_CERTIFIED},
    {"2.2", NULL, 2.2, .15, .15, WW_WEDGE_CERTIFIED},
    {"2.4", NULL, 2.4, .15, .15, WW_WEDGE_CERTIFIED},
    {"sRGB", NULL, 0, .15, .15, WW_WEDGE_NOMINAL},
    {"1.8, 3 % less", NULL, 1.8, .15, .1545, WW_WEDGE_NOMINAL},
    {"2.4, 3 % more", NULL, 2.4, .15, .1455, WW_WEDGE_NOMINAL},
};

static void a_power_that_no_export_makes_is_another_wedge(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof powers / sizeof powers[0]; i++) {
        const power_case *c = &powers[i];
        const made_truth truth = made_usual(c->gamma);
        made_scan s;
        ww_scanner scanner;
        uint64_t seed = made_seed(11);
        made_wedge(&s, 21, 0.05, c->glass, 16);
        s.wedge.meta.wedge = c->wedge;
        made_scan_channel(&s, WW_VISUAL, &truth, 0.003, &seed);
        for (size_t k = 0; k < s.wedge.n; k++)
            s.wedge.row[k].cell[WW_VISUAL].value = 0.05 + c->file * (double)k;
        fit(&s, &scanner);
        test_true(c->row, scanner.misfit == (c->steps != NULL));
        test_true(c->row, !c->steps || strstr(scanner.notes.text[0], c->steps) != NULL);
        test_true(c->row, !c->steps || strstr(scanner.notes.text[0], "no export") != NULL);
        ww_scanner_release(&scanner);
    }
}

/* A bend that no encoding makes: the correction follows it, and the first note doubts it. */
static void a_misfit_is_said_before_all_else(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    ww_scanner scanner;
    (void)state;
    made_wedge(&s, 21, 0.05, 0.15, 16);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    for (size_t i = 0; i < s.wedge.n; i++)
        s.wedge.row[i].cell[WW_VISUAL].value += 0.25 * sin(0.42 * (double)i);
    fit(&s, &scanner);
    test_true("it is one", scanner.channel[WW_VISUAL].residual_sd > 0.05);
    test_true("and known by", scanner.misfit);
    test_true("first", strstr(scanner.notes.text[0], "Before all else: the model leaves ") != NULL);
    ww_scanner_release(&scanner);
}

/* Source: definition. A certificate of 0.005 D whose steps are off by 0.026 D each, up and down in
 * turn, is refuted (4 sd, and 0.02 D at least); by 0.016 D it may be worse than it says, and a
 * wedge without one may be off by both. Rows are in their places. */
static void a_certificate_is_refuted_without_a_slip(void **state) {
    static const struct {
        const char *row;
        double off;
        bool certified, refuted;
    } rows[] = {{"far off", 0.026, true, true},
                {"a little off", 0.016, true, false},
                {"nominal", 0.026, false, false}};
    const made_truth truth = made_usual(1.0);
    (void)state;
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        made_scan s;
        ww_scanner scanner;
        made_wedge(&s, 21, 0.05, 0.15, 16);
        made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
        for (size_t i = 0; i < s.wedge.n; i++)
            s.wedge.row[i].cell[WW_VISUAL].value += i % 2 ? rows[r].off : -rows[r].off;
        s.wedge.meta.wedge = rows[r].certified ? WW_WEDGE_CERTIFIED : WW_WEDGE_NOMINAL;
        s.wedge.meta.wedge_sd = (ww_optional){rows[r].certified, 0.005};
        fit(&s, &scanner);
        test_true(rows[r].row, scanner.misfit == rows[r].refuted);
        test_true(rows[r].row,
                  !rows[r].refuted || strstr(scanner.notes.text[0], "D of its certificate. Check"));
        test_true("no slip", !test_noted(&scanner.notes, "look like those of the"));
        ww_scanner_release(&scanner);
    }
}

/* Source: closed form. An 8 bit scanner without noise rounds each step to a whole code: light ends
 * where it is a code, k 10^-D = root (1 + 1/12) / 255, and no step of it is at fault. */
static void rounding_is_no_misfit(void **state) {
    made_truth truth = made_usual(1.0);
    made_scan s;
    ww_scanner scanner;
    (void)state;
    truth.read = truth.shot = truth.fixed = 0.0;
    made_wedge(&s, 21, 0.05, 0.15, 8);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    for (size_t i = 0; i < s.measured.n; i++)
        s.patch[i].channel[WW_VISUAL].code = floor(s.patch[i].channel[WW_VISUAL].code + 0.5);
    fit(&s, &scanner);
    const ww_scanner_channel *c = &scanner.channel[WW_VISUAL];
    test_true("it is rounded", c->residual_sd > 0.05);
    for (size_t i = 0; i < c->n_steps; i++)
        test_true(c->step[i].step, !c->step[i].suspect);
    test_true("no misfit", !scanner.misfit);
    test_true("not before all else", !test_noted(&scanner.notes, "Before all else"));
    test_close("sees to", c->dmax.value, log10(0.9 * 255.0 / 1.0408330), 0.02);
    test_true("no mean mends it", test_noted(&scanner.notes, "no number of pixels mends it"));
    ww_scanner_release(&scanner);
}

/* Source: definition, by simulation. Every density is as certified; one pixel has noise of 0.012 of
 * full scale (300 of 65535 on 800 pixels instead of 5000), which the means of dense steps show. */
static void noise_is_no_misfit(void **state) {
    (void)state;
    const uint64_t scans = test_quick() ? 4 : 40;
    for (uint64_t k = 0; k < scans; k++) {
        made_truth truth = made_usual(1.0);
        made_scan s;
        ww_scanner scanner;
        uint64_t seed = made_seed(71 + k);
        truth.read = 0.012;
        made_wedge(&s, 21, 0.05, 0.15, 16);
        s.wedge.meta.wedge_sd = (ww_optional){true, 0.005};
        made_scan_channel(&s, WW_VISUAL, &truth, 0.005, &seed);
        fit(&s, &scanner);
        test_true("no misfit", !scanner.misfit);
        ww_scanner_release(&scanner);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(another_wedge_is_refused),
        cmocka_unit_test(a_tone_curve_is_named_too),
        cmocka_unit_test(a_step_beyond_the_wedge_is_refused),
        cmocka_unit_test(a_power_that_no_export_makes_is_another_wedge),
        cmocka_unit_test(a_misfit_is_said_before_all_else),
        cmocka_unit_test(a_certificate_is_refuted_without_a_slip),
        cmocka_unit_test(rounding_is_no_misfit),
        cmocka_unit_test(noise_is_no_misfit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
