/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/surround.h"
#include "support/scan_case.h"
#include "support/support.h"
#include "support/wedge_picture.h"
#include <stdlib.h>
#include <string.h>

/* ------------------------------------------------------------------------------------- read */

/* Source: the drawing. Open light is 0.9 of full scale, a mask 0.9 x 10^-4, a sheet of 0.6 D
 * 0.9 x 10^-0.6 and a margin of 0.1 D 0.9 x 10^-0.1. */
static void the_lightest_beside_a_strip_is_seen(void **state) {
    static const struct {
        const char *name;
        wedge_surround surround;
        double margin, angle;
        bool upright;
        size_t channels;
        double density;
    } rows[] = {
        {"open light", WEDGE_ON_BRIGHT, 0.0, 0.0, false, 1, 0.0},
        {"askew", WEDGE_ON_BRIGHT, 0.0, 3.3, false, 3, 0.0},
        {"upright", WEDGE_ON_BRIGHT, 0.0, 1.0, true, 1, 0.0},
        {"a mask", WEDGE_ON_DARK, 0.0, 0.0, false, 1, 4.0},
        {"a sheet", WEDGE_ON_GREY, 0.0, 0.0, false, 1, 0.6},
        {"a narrow margin in open light", WEDGE_ON_BRIGHT, 14.0, 0.0, false, 1, 0.0},
        {"a margin in a mask", WEDGE_ON_DARK, 60.0, 0.0, false, 1, 0.1},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        wedge_scene s = wedge_scene_plain();
        ww_measured m = WW_MEASURED_INIT;
        ww_error err = WW_ERROR_INIT;
        s.surround = rows[i].surround;
        s.margin = rows[i].margin, s.margin_density = 0.1;
        s.angle_deg = rows[i].angle;
        s.channels = rows[i].channels;
        s.dust = 40;
        if (rows[i].upright)
            s.upright = true, s.x = 300.2, s.y = 213.7, s.length = 380.0;
        ww_picture picture = wedge_picture_new(&s);
        const ww_measure_request request = {.steps = 21, .threads = 2};
        test_status(rows[i].name, ww_measure_strip(&picture, &request, &m, &err), WW_OK, &err);
        for (int c = 0; c < WW_CHANNEL_COUNT && m.n > 0; c++) {
            test_true(rows[i].name, m.surround[c].seen == m.has[c]);
            if (m.has[c])
                test_close(rows[i].name, m.surround[c].code / m.white,
                           0.9 * pow(10.0, -rows[i].density), 0.002);
        }
        ww_measured_release(&m);
        ww_picture_release(&picture);
    }
}

/* ------------------------------------------------------------------------------------- note */

/*
 * Source: the formula of the header by hand, with codes of light 10^by times open light's of
 * scan_case.h: white (dark + k (10^by + flare)). The case's doubt at its thinnest point (0.1985 D)
 * is 0.007, at open light 0.0209, so that the limit is 0.0289 D. Full scale is lighter by log10 of
 * (1 - 0.0007 - 0.93 x 0.0041) / 0.93 = 0.0296.
 */
static void light_that_was_none_is_told(void **state) {
    static const struct {
        const char *name;
        double by;      /* D, of the scan's surround */
        double was;     /* D, of the wedge's; -9: not seen */
        double clipped; /* share */
        const char *words;
    } rows[] = {
        {"open light", 0.0, -9.0, 0.0, NULL},
        {"a mask", -2.0, -9.0, 0.0, NULL},
        {"within the doubt", 0.0279, -9.0, 0.0, NULL},
        {"over it", 0.0295, -9.0, 0.0, "is 0.03 D lighter than open light was"},
        {"and the wedge lay on bare glass", 0.0295, 0.0, 0.0, "if not. Lock"},
        {"clipped", 0.0296, -9.0, 1.0, "is at least 0.03 D lighter than open light was"},
        {"the wedge was masked", 0.0295, -1.2, 0.0, "or else the wedge's densities leave out"},
        {"the wedge's base is left out", 0.0295, 0.0295, 0.0, NULL},
        {"both clipped", 0.0296, 0.0296, 1.0, NULL},
        {"it is, and by more", 0.0295, 0.008, 0.0, "is 0.02 D lighter"},
    };
    struct scan_case *made = malloc(sizeof *made);
    struct scanner_case *scanner = malloc(sizeof *scanner);
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        scan_case_strip(made, false);
        scan_case_scanner(scanner, false);
        made->measured.surround[WW_VISUAL] =
            (ww_surround){true, scan_case_code(-rows[i].by), rows[i].clipped, 0.0};
        if (rows[i].was > -9.0)
            scanner->scanner.channel[WW_VISUAL].surround =
                (ww_optional){true, scan_case_code(-rows[i].was)};
        assert_int_equal(ww__surround_note(&made->measured, &scanner->scanner, NULL), WW_OK);
        test_true(rows[i].name, made->measured.notes.n == (rows[i].words ? 1u : 0u));
        test_true(rows[i].name, made->measured.off == (rows[i].words != NULL));
        test_true(rows[i].name, made->patch[4].channel[WW_VISUAL].density.sd.set == !rows[i].words);
        if (rows[i].words)
            test_true(rows[i].name,
                      test_noted(&made->measured.notes, rows[i].words) &&
                          test_noted(&made->measured.notes, "Lock the exposure") &&
                          test_noted(&made->measured.notes, "if the codes are encoded"));
        ww_notes_release(&made->measured.notes);
    }
    /* A strip of which nothing beside was seen. */
    scan_case_strip(made, false);
    assert_int_equal(ww__surround_note(&made->measured, &scanner->scanner, NULL), WW_OK);
    test_true("not seen", made->measured.notes.n == 0 && !made->measured.off);
    free(scanner);
    free(made);
}

/* Source: the header's words, with the same codes and limit. */
static void what_is_below_0_is_explained(void **state) {
    static const struct {
        const char *name;
        double by, was; /* as above */
        bool off;
        const char *words;
    } rows[] = {
        {"nothing lay beside the wedge", 0.0295, -9.0, true, "base; no open light lay beside it"},
        {"a mask did", 0.0295, -1.2, true, "base; no open light lay beside it"},
        {"bare glass did", 0.0295, 0.0, true, "levels have changed since, and all densities"},
        {"it was lighter than density 0", 0.0295, 0.0295, false, "its base, about 0.03 D, and so"},
    };
    struct scanner_case *scanner = malloc(sizeof *scanner);
    (void)state;
    scan_case_scanner(scanner, false);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char words[WW__SURROUND_WORDS];
        scanner->scanner.channel[WW_VISUAL].surround =
            (ww_optional){rows[i].was > -9.0, scan_case_code(-rows[i].was)};
        test_true(rows[i].name,
                  ww__surround_below_0(&scanner->scanner, WW_VISUAL, scan_case_code(-rows[i].by),
                                       words) == rows[i].off);
        test_true(words, strstr(words, rows[i].words) != NULL);
    }
    free(scanner);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_lightest_beside_a_strip_is_seen),
        cmocka_unit_test(light_that_was_none_is_told),
        cmocka_unit_test(what_is_below_0_is_explained),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
