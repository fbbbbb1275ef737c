/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_end_notes.h"
#include "support/support.h"
#include <math.h>

/* Three linear channels without flare, read to density 2, and their noiseless steps at code 0.5. */
typedef struct made {
    ww_scanner scanner;
    ww__scanner_strips strips;
    ww_scanner_point point[3][2];
    ww__scanner_row row[3];
} made;

static void make(made *m, double step) {
    *m = (made){.scanner = {.white = 255.0, .gamma.value = 1.0}, .strips.n = 3};
    for (size_t s = 0; s < 3; s++) {
        const ww_channel c = (ww_channel)(WW_RED + (int)s);
        m->point[s][0].density = 2.0;
        m->point[s][1].density = 0.05;
        m->row[s] = (ww__scanner_row){.share = 0.5};
        m->scanner.channel[c] =
            (ww_scanner_channel){.present = true, .k = 0.9, .n_points = 2, .point = m->point[s]};
        m->scanner.channel[c].dmax = (ww_quantity){.value = 2.0, .how = WW_FITTED};
        m->strips.strip[s] =
            (ww__scanner_strip){.channel = c, .row = &m->row[s], .n = 1, .step = step};
    }
}

static void says(const char *row, made *m, size_t n, const char *words) {
    assert_int_equal(ww__scanner_end_notes_add(&m->strips, &m->scanner, NULL), WW_OK);
    test_close(row, (double)m->scanner.notes.n, (double)n, 0.0);
    test_true(row, n == 0 || test_noted(&m->scanner.notes, words));
    ww_notes_release(&m->scanner.notes);
}

/* Source: by hand. A code is 1 / 255 / (k ln 10 10^-D): with k = 0.9 it is 0.02 D at 1.0240 and
 * 0.1892 D at 2; with k = 0.8 at 0.9728, and 0.2129 D. */
static void coarse_codes_are_told_once(void **state) {
    made m;
    (void)state;
    make(&m, 1.0 / 255.0);
    says("alike", &m, 1,
         "One code (red, green, blue) is over 0.02 D from density 1.02 on, and 0.19 D at "
         "density 2.00 in red: 8 bits are too coarse there, and no number");
    m.scanner.channel[WW_GREEN].k = 0.8;
    says("green worst", &m, 1, "from density 0.97 on, and 0.21 D at density 2.00 in green: 8 bits");
    m.strips.strip[0].step = m.strips.strip[2].step = 0.0; /* floating point */
    says("alone", &m, 1,
         "One code (green) is over 0.02 D from density 0.97 on, and 0.21 D at "
         "density 2.00: 8 bits");
    m.row[1].pixel_sd = 1.0 / 255.0; /* a code of noise hides steps of codes */
    says("hidden", &m, 1, "8 bits are too coarse there for a pixel, though the mean of many");
    make(&m, 1.0 / 65535.0);
    says("16 bits", &m, 0, NULL);
}

/* Source: by hand; bits that the light does not reach are not too few. */
static void codes_that_light_does_not_reach_are_no_lack_of_bits(void **state) {
    made m;
    (void)state;
    make(&m, 1.0 / 4095.0);
    for (size_t s = 0; s < 3; s++) {
        m.scanner.channel[WW_RED + (int)s].k = 0.05;
        m.row[s].share = 0.0456;
    }
    says("dim", &m, 1,
         "the lightest step fills 4.6 % of the scale, and its codes are too coarse there, and no "
         "number of pixels mends it; scan with more exposure, or export so that the codes fill");
    m.row[0].share = m.row[1].share = m.row[2].share = 0.26;
    says("bright", &m, 1, "12 bits are too coarse there, and no number of pixels mends it; scan "
                          "with more.");
}

/* Source: definition. */
static void a_wedge_that_ends_first_is_told_once(void **state) {
    ww_scanner_step clipped = {.density = 2.15, .clipped = true};
    made m;
    (void)state;
    make(&m, 0.0);
    for (int c = WW_RED; c <= WW_BLUE; c++)
        m.scanner.channel[c].dmax.how = WW_MEASURED;
    says("alike", &m, 1, "The wedge ends at density 2.00 (red, green, blue) before the scanner");
    m.scanner.channel[WW_GREEN].dmax.value = 2.113;
    m.scanner.channel[WW_BLUE].dmax.value = 2.0049;
    says("apart", &m, 1, "ends at density 2.00 (red, blue), 2.11 (green) before the scanner does");
    m.scanner.channel[WW_RED].step = &clipped;
    m.scanner.channel[WW_RED].n_steps = 1;
    m.scanner.channel[WW_GREEN].dmax.how = WW_FITTED;
    says("one", &m, 1, "The wedge ends at density 2.00 (blue) before the scanner does");
    m.scanner.channel[WW_BLUE].dmax.how = WW_FITTED;
    says("none", &m, 0, NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(coarse_codes_are_told_once),
        cmocka_unit_test(codes_that_light_does_not_reach_are_no_lack_of_bits),
        cmocka_unit_test(a_wedge_that_ends_first_is_told_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
