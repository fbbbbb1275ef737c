/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/settings.h"
#include "support/scan_case.h"
#include "support/support.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * Source: the formula of the header by hand. Codes are those of densities by scan_case.h, that of
 * open light of density 0; masks of 3.6 and 1.0 D pass 0.0007 + 0.93 (10^-D + 0.0041), 0.00475 and
 * 0.09751: 1.312 D apart. A mask of 0.3 D passes 50 % of open light, by which 1 % of flare takes
 * log10(1 + 0.5) = 0.176 D off density 2, and open light log10(1 + 1) = 0.301 D.
 */
static const struct {
    const char *name;
    double beside, spot, wedge; /* D; 9: not seen, or no such spot */
    bool named;                 /* glass is that spot */
    bool known;
    bool profile; /* embedded in both scans */
    size_t notes;
    const char *words;
} shown[] = {
    {"a mask, as the wedge's", 3.6, 9.0, 3.6, false, false, false, 1,
     "whether exposure and levels"},
    {"nothing beside", 9.0, 9.0, 9.0, false, false, false, 1,
     "a --spot named glass, on bare glass"},
    {"nor but a profile", 9.0, 9.0, 9.0, false, false, true, 1, "whether exposure and levels are"},
    {"bare glass and a mask", 3.6, 0.01, 3.6, true, false, false, 0, NULL},
    {"bare glass, another mask", 3.6, 0.01, 1.0, true, false, false, 1, "is 1.31 D darker than"},
    {"bare glass, no mask", 9.0, 0.01, 9.0, true, false, false, 1,
     "whether levels and encoding are"},
    {"bare glass and a profile", 9.0, 0.01, 9.0, true, false, true, 0, NULL},
    {"a spot of film", 3.6, 0.06, 3.6, false, false, false, 1, "holds only if they are"},
    {"film as light as glass", 3.6, 0.01, 3.6, false, false, false, 1,
     "if it is film base, this scan got"},
    {"nor does a profile tell", 9.0, 0.01, 9.0, false, false, true, 1,
     "as it was; if it is film base"},
    {"a known wedge", 3.6, 9.0, 3.6, false, true, false, 0, NULL},
    {"on open light both", 0.0, 9.0, 0.0, false, false, false, 1,
     "though nothing shows levels and encoding"},
    {"a lighter mask", 1.0, 9.0, 3.6, false, false, false, 1, "is 1.31 D lighter than the wedge's"},
    {"a darker mask", 3.6, 9.0, 1.0, false, false, false, 1, "is 1.31 D darker than the wedge's"},
    {"then masked, now open", 0.0, 9.0, 3.6, false, false, true, 2,
     "density 2.00 by 0.30 D if 1 %"},
    {"half open", 0.301, 0.0, 3.6, true, false, true, 1, "2.00 by 0.18 D if"},
    {"then open, now masked", 3.6, 0.0, 0.0, true, false, true, 1, "dense steps may read denser"},
    {"darker glass", 0.1, 9.0, 0.0, false, false, false, 1,
     "strip is 0.10 D darker than open light was"},
    {"glass hardly darker, then a mask", 0.05, 9.0, 3.6, false, false, true, 2,
     "is 0.05 D darker than"},
    {"as light as the film", 0.26, 9.0, 0.0, false, false, false, 2, "holds only if they are"},
    {"a known wedge, now open", 0.0, 9.0, 3.6, false, true, false, 1, "lies 100 % of open light"},
};

static void settings_that_nothing_checks_are_told(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    struct scanner_case *scanner = malloc(sizeof *scanner);
    (void)state;
    for (size_t i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        scan_case_strip(made, false);
        scan_case_scanner(scanner, false);
        /* A film whose thinnest step is no bare glass. */
        for (size_t k = 0; k < SCAN_CASE_STEPS; k++)
            made->patch[k].channel[WW_VISUAL].code = scan_case_code(scan_case_density(k) + 0.2);
        ww_patch *spot = &made->patch[SCAN_CASE_STEPS - 1];
        char glass[] = "glass";
        if (shown[i].spot < 9.0)
            spot->channel[WW_VISUAL].code = scan_case_code(shown[i].spot);
        if (shown[i].named) {
            spot->step = glass;
            made->measured.n_spots = 1;
        }
        made->measured.surround[WW_VISUAL] =
            (ww_surround){shown[i].beside < 9.0, scan_case_code(shown[i].beside), 0.0, 0.0};
        scanner->scanner.channel[WW_VISUAL].surround =
            (ww_optional){shown[i].wedge < 9.0, scan_case_code(shown[i].wedge)};
        double was[SCAN_CASE_STEPS];
        for (size_t k = 0; k < SCAN_CASE_STEPS; k++)
            was[k] = made->patch[k].channel[WW_VISUAL].density.sd.value;
        made->measured.profile = scanner->scanner.profile =
            shown[i].profile ? made->measured.profile : NULL;
        assert_int_equal(
            ww__settings_note(&made->measured, shown[i].known, &scanner->scanner, NULL), WW_OK);
        test_true(shown[i].name, made->measured.notes.n == shown[i].notes);
        test_true(shown[i].name,
                  !shown[i].words || test_noted(&made->measured.notes, shown[i].words));
        test_true(shown[i].name, !made->measured.off);
        test_true(shown[i].name, test_noted(&made->measured.notes, "darker than open light was") ==
                                     (shown[i].beside > 0.04 && shown[i].beside < 0.25));
        const double share = shown[i].beside < 9.0 && shown[i].wedge < 9.0
                                 ? pow(10.0, -shown[i].beside) - pow(10.0, -shown[i].wedge)
                                 : 0.0;
        for (size_t k = 0; k < SCAN_CASE_STEPS; k++) {
            const ww_cell *cell = &made->patch[k].channel[WW_VISUAL].density;
            if (cell->state == WW_CELL_VALUE)
                test_close(shown[i].name, cell->sd.value,
                           hypot(was[k], 0.005 * share * pow(10.0, cell->value) / 2.302585093),
                           1e-3 * cell->sd.value);
        }
        ww_notes_release(&made->measured.notes);
    }
    free(scanner);
    free(made);
}

/*
 * Source: by hand. Bare glass is density 0.00; 20 % less light is log10(0.8) = -0.097 D, log2(0.8)
 * = -0.32 stop, and 0.02 D is the limit of the interface.
 */
static void a_spot_named_glass_must_be_open_light(void **state) {
    static const struct {
        const char *name, *spot;
        double density;
        ww_density_kind kind;
        bool off;
    } rows[] = {
        {"as it was", "glass", 0.01, WW_DENSITY_UNKNOWN, false},
        {"less light", "Glass", 0.0969, WW_DENSITY_TRANSMISSION, true},
        {"more light", "glass", -0.0969, WW_DENSITY_UNKNOWN, true},
        {"another name", "sky", 0.0969, WW_DENSITY_UNKNOWN, false},
        {"no glass on prints", "glass", 0.0969, WW_DENSITY_REFLECTION, false},
    };
    struct scan_case *made = malloc(sizeof *made);
    struct scanner_case *scanner = malloc(sizeof *scanner);
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char name[8];
        scan_case_strip(made, false);
        scan_case_scanner(scanner, false);
        scanner->scanner.density = rows[i].kind;
        snprintf(name, sizeof name, "%s", rows[i].spot);
        ww_patch *spot = &made->patch[SCAN_CASE_STEPS - 1];
        spot->step = name;
        spot->channel[WW_VISUAL].code = scan_case_code(rows[i].density);
        made->measured.n_spots = 1;
        assert_int_equal(ww__settings_note(&made->measured, false, &scanner->scanner, NULL), WW_OK);
        test_true(rows[i].name, made->measured.off == rows[i].off);
        test_true(rows[i].name,
                  test_noted(&made->measured.notes, "0.10 D (0.32 stop)") == rows[i].off);
        test_true(rows[i].name,
                  !rows[i].off || test_noted(&made->measured.notes,
                                             rows[i].density < 0.0 ? "too thin" : "too dense"));
        test_true(rows[i].name, test_noted(&made->measured.notes, "bare glass") ==
                                    (rows[i].off || rows[i].spot[0] == 's'));
        ww_notes_release(&made->measured.notes);
    }
    free(scanner);
    free(made);
}

/* Clipped light has lost how light it was. */
static void clipped_light_shows_no_exposure(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    struct scanner_case *scanner = malloc(sizeof *scanner);
    (void)state;
    scan_case_strip(made, false);
    scan_case_scanner(scanner, false);
    for (size_t k = 0; k < SCAN_CASE_STEPS; k++)
        made->patch[k].channel[WW_VISUAL].code = scan_case_code(scan_case_density(k) + 0.2);
    made->measured.surround[WW_VISUAL] = (ww_surround){true, scan_case_code(0.0), 0.5, 0.0};
    assert_int_equal(ww__settings_note(&made->measured, false, &scanner->scanner, NULL), WW_OK);
    assert_true(test_noted(&made->measured.notes, "shows whether exposure"));
    ww_notes_release(&made->measured.notes);
    free(scanner);
    free(made);
}

/* Where all densities are known to be off, nobody asks any more. */
static void settings_that_differ_are_not_told_twice(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    struct scanner_case *scanner = malloc(sizeof *scanner);
    (void)state;
    scan_case_strip(made, false);
    scan_case_scanner(scanner, false);
    made->measured.off = true;
    assert_int_equal(ww__settings_note(&made->measured, false, &scanner->scanner, NULL), WW_OK);
    assert_int_equal(made->measured.notes.n, 0);
    free(scanner);
    free(made);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(settings_that_nothing_checks_are_told),
        cmocka_unit_test(a_spot_named_glass_must_be_open_light),
        cmocka_unit_test(clipped_light_shows_no_exposure),
        cmocka_unit_test(settings_that_differ_are_not_told_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
