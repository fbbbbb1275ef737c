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
static void settings_that_nothing_checks_are_told(void **state) {
    static const struct {
        const char *name;
        double beside, spot, wedge; /* D; 9: not seen, or no such spot */
        bool known;
        size_t notes;
        const char *words;
    } rows[] = {
        {"a mask, as the wedge's", 3.6, 9.0, 3.6, false, 1, "a --spot on bare glass would check"},
        {"nothing beside", 9.0, 9.0, 9.0, false, 1, "holds only if they are"},
        {"a spot of bare glass", 3.6, 0.01, 3.6, false, 0, NULL},
        {"a spot of film", 3.6, 0.06, 3.6, false, 1, "holds only if they are"},
        {"a known wedge", 3.6, 9.0, 3.6, true, 0, NULL},
        {"on open light both", 0.0, 9.0, 0.0, false, 0, NULL},
        {"a lighter mask", 1.0, 9.0, 3.6, false, 1, "is 1.31 D lighter than the wedge's"},
        {"a darker mask", 3.6, 9.0, 1.0, false, 1, "is 1.31 D darker than the wedge's"},
        {"then masked, now open", 0.0, 9.0, 3.6, false, 1, "density 2.00 by 0.30 D if 1 %"},
        {"half open", 0.301, 0.0, 3.6, false, 1, "2.00 by 0.18 D if"},
        {"then open, now masked", 3.6, 0.0, 0.0, false, 1, "dense steps may read denser"},
        {"a known wedge, now open", 0.0, 9.0, 3.6, true, 1, "lies 100 % of open light"},
    };
    struct scan_case *made = malloc(sizeof *made);
    struct scanner_case *scanner = malloc(sizeof *scanner);
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        scan_case_strip(made, false);
        scan_case_scanner(scanner, false);
        /* A film whose thinnest step is no bare glass. */
        for (size_t k = 0; k < SCAN_CASE_STEPS; k++)
            made->patch[k].channel[WW_VISUAL].code = scan_case_code(scan_case_density(k) + 0.2);
        if (rows[i].spot < 9.0)
            made->patch[SCAN_CASE_STEPS - 1].channel[WW_VISUAL].code = scan_case_code(rows[i].spot);
        made->measured.surround[WW_VISUAL] =
            (ww_surround){rows[i].beside < 9.0, scan_case_code(rows[i].beside), 0.0};
        scanner->scanner.channel[WW_VISUAL].surround =
            (ww_optional){rows[i].wedge < 9.0, scan_case_code(rows[i].wedge)};
        double was[SCAN_CASE_STEPS];
        for (size_t k = 0; k < SCAN_CASE_STEPS; k++)
            was[k] = made->patch[k].channel[WW_VISUAL].density.sd.value;
        assert_int_equal(ww__settings_note(&made->measured, rows[i].known, &scanner->scanner, NULL),
                         WW_OK);
        test_true(rows[i].name, made->measured.notes.n == rows[i].notes);
        test_true(rows[i].name, !rows[i].words || test_noted(&made->measured.notes, rows[i].words));
        test_true(rows[i].name, !made->measured.off);
        const double share = rows[i].beside < 9.0 && rows[i].wedge < 9.0
                                 ? pow(10.0, -rows[i].beside) - pow(10.0, -rows[i].wedge)
                                 : 0.0;
        for (size_t k = 0; k < SCAN_CASE_STEPS; k++) {
            const ww_cell *cell = &made->patch[k].channel[WW_VISUAL].density;
            if (cell->state == WW_CELL_VALUE)
                test_close(rows[i].name, cell->sd.value,
                           hypot(was[k], 0.005 * share * pow(10.0, cell->value) / 2.302585093),
                           1e-3 * cell->sd.value);
        }
        ww_notes_release(&made->measured.notes);
    }
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
        cmocka_unit_test(settings_that_differ_are_not_told_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
