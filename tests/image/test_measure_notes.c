/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/measure_notes.h"
#include "support/scan_case.h"
#include "support/support.h"
#include "support/wedge_picture.h"
#include <stdlib.h>
#include <string.h>

static const ww_measure_request codes_only = {.scanner = NULL};

/* Source of all: the limits of the header, one fault at a time in a strip that has none. */

static void good(struct scan_case *made, bool colour) {
    scan_case_strip(made, colour);
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
        made->patch[i].rejected = 0.01;
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            made->patch[i].channel[c].drift = 0.0;
            made->patch[i].channel[c].reach = WW_REACH_WITHIN;
        }
    }
}

typedef struct spoiled {
    const char *name;
    void (*spoil)(struct scan_case *made, double by);
    double little, much; /* by the one there is no note, by the other there is */
    const char *words[3];
} spoiled;

static void few(struct scan_case *made, double by) {
    made->patch[3].n = made->patch[9].n = (size_t)by;
    made->patch[9].n += 2;
}

static void dirt(struct scan_case *made, double by) {
    made->patch[3].rejected = by;
    made->patch[9].rejected = made->patch[10].rejected = by - 0.0001;
}

/* Most pixels at code 0, and the rest of their noise left out, which is no dirt. */
static void tail(struct scan_case *made, double by) {
    ww_patch *patch = &made->patch[20];
    patch->channel[WW_GREEN].low = -1.5;
    patch->channel[WW_GREEN].clipped = by;
    patch->rejected = by > 0.0 ? 0.386 : 0.0;
}

static void holes(struct scan_case *made, double by) {
    made->patch[3].channel[WW_RED].no_number = (size_t)by;
}

/* All that was left out, and more than dust would be told for, but none of it is dust. */
static void holes_alone(struct scan_case *made, double by) {
    ww_patch *patch = &made->patch[3];
    patch->n = 2000;
    patch->rejected = 0.2;
    patch->channel[WW_RED].no_number = (size_t)by;
}

/* Also where more is left out than dust would be told for: a line is one fault. */
static void scratch(struct scan_case *made, double by) {
    for (size_t i = 3; i < 9; i++) {
        made->patch[i].line = (unsigned)by;
        made->patch[i].rejected = by > 0.0 ? 0.02 + 0.01 * (double)i : 0.0;
    }
}

static void clip_light(struct scan_case *made, double by) {
    made->patch[0].channel[WW_RED].clipped = by;
    made->patch[0].channel[WW_BLUE].clipped = by * 1.01;
}

static void clip_dark(struct scan_case *made, double by) {
    made->patch[20].channel[WW_GREEN].clipped = by;
}

/* Light that changes by `by` D, the noise being as it is drawn. */
static void shade(struct scan_case *made, double by) {
    ww_patch_channel *c = &made->patch[2].channel[WW_GREEN];
    const double ratio = pow(10.0, by);
    c->drift = -2.0 * c->code * (ratio - 1.0) / (ratio + 1.0);
}

/* A change in the noise, whatever its size, is none. Of grain 3.4 in the other twenty steps and 16
 * in place of its own the mean is 4: six standard errors are 6 x 4 sd / sqrt n x 2. */
static void shade_in_noise(struct scan_case *made, double by) {
    ww_patch_channel *c = &made->patch[2].channel[WW_GREEN];
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
        ww_patch_channel *other = &made->patch[i].channel[WW_GREEN];
        other->sd = 0.2 * other->code;
        other->grain = i == 2 ? 99.0 : 3.4;
    }
    c->drift = by * 48.0 * c->sd / sqrt((double)made->patch[2].n);
}

static const spoiled rows[] = {
    {"few pixels", few, 25, 24, {"'4'", "24 pixels", NULL}},
    {"more few pixels", few, 25, 20, {"'4'", "another one", "20 pixels"}},
    {"one pixel", few, 25, 1, {"'4'", "1 pixel tells", NULL}},
    {"dirt", dirt, 0.05, 0.0512, {"'4'", "2 others", "5.1 %"}},
    {"a lot of dirt", dirt, 0.01, 0.243, {"'4'", "2 others", "24 %"}},
    {"a hole", holes, 0, 1, {"Step '4' (red): 1 pixel is no number", "was left out", NULL}},
    {"holes", holes, 0, 57, {"Step '4' (red): 57 pixels are no numbers", "were left out", NULL}},
    {"a line", scratch, 0.0, 1.0, {"A line", "steps '4' to '9'", "5.0 to 10 %"}},
    {"clipped light", clip_light, 0.0009, 0.3, {"'1' (blue):", "30 %", "greatest code"}},
    {"clipped dark", clip_dark, 0.001, 0.02, {"'21' (green):", "2.0 %", "code 0"}},
    {"clipped, with its noise", tail, 0.0, 0.6, {"'21' (green): 60 %", "code 0", NULL}},
    {"uneven", shade, 0.0099, 0.0213, {"'3' (green):", "0.021 D", NULL}},
    {"uneven or noise", shade_in_noise, 0.99, 1.01, {"'3' (green):", NULL, NULL}},
};

static void each_fault_has_its_note(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        good(made, true);
        rows[i].spoil(made, rows[i].little);
        assert_int_equal(ww__measure_notes(&made->measured, "step", &codes_only, NULL), WW_OK);
        test_true(rows[i].name, made->measured.notes.n == 0);
        good(made, true);
        rows[i].spoil(made, rows[i].much);
        assert_int_equal(ww__measure_notes(&made->measured, "step", &codes_only, NULL), WW_OK);
        test_true(rows[i].name, made->measured.notes.n == 1);
        for (size_t k = 0; k < 3 && rows[i].words[k]; k++)
            test_true(rows[i].words[k], test_noted(&made->measured.notes, rows[i].words[k]));
        ww_notes_release(&made->measured.notes);
    }
    free(made);
}

/* Whoever fits the steps says himself which are clipped; what else is wrong with them is told. */
static void clipped_steps_of_a_calibration_are_told_by_it(void **state) {
    const ww_measure_request calibration = {.calibrates = true};
    struct scan_case *made = malloc(sizeof *made);
    (void)state;
    good(made, true);
    clip_light(made, 0.3);
    clip_dark(made, 0.02);
    shade(made, 0.0213);
    assert_int_equal(ww__measure_notes(&made->measured, "step", &calibration, NULL), WW_OK);
    test_true("one note", made->measured.notes.n == 1);
    test_true("of light", test_noted(&made->measured.notes, "0.021 D"));
    ww_notes_release(&made->measured.notes);
    free(made);
}

/* By hand: of 2500 pixels 500 are no numbers, a fifth, and all that was left out; or 300 are. */
static void what_is_no_number_is_no_dust(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    (void)state;
    good(made, true);
    holes_alone(made, 500);
    assert_int_equal(ww__measure_notes(&made->measured, "step", &codes_only, NULL), WW_OK);
    test_true("one note", made->measured.notes.n == 1);
    test_true("of holes", test_noted(&made->measured.notes, "500 pixels are no numbers"));
    ww_notes_release(&made->measured.notes);
    good(made, true);
    holes_alone(made, 300);
    assert_int_equal(ww__measure_notes(&made->measured, "step", &codes_only, NULL), WW_OK);
    test_true("two", made->measured.notes.n == 2);
    test_true("the rest",
              test_noted(&made->measured.notes, "8.0 % of the pixels are unlike the rest"));
    ww_notes_release(&made->measured.notes);
    free(made);
}

/* The wedge of the calibration: the same labels and densities. */
static ww_readings wedge_of(const struct scanner_case *made, ww_row row[SCAN_CASE_STEPS]) {
    ww_readings wedge = {.row = row, .n = SCAN_CASE_STEPS};
    wedge.has[WW_VISUAL] = true;
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
        row[i] = (ww_row){.step = (char *)made->label[i]};
        row[i].cell[WW_VISUAL] = (ww_cell){.state = WW_CELL_VALUE, .value = scan_case_density(i)};
    }
    return wedge;
}

/* Source: by hand. The greatest code of 12 bits is 4095, and a sixteenth of 65535 is 4095.9. */
static void a_sixteenth_of_the_scale_is_told(void **state) {
    static const struct {
        unsigned bits;
        double white, most;
        bool told;
    } dim[] = {{16, 65535.0, 4095.0, true},  {16, 65535.0, 212.0, true},
               {16, 65535.0, 4096.5, false}, {16, 65535.0, 0.0, false},
               {8, 255.0, 14.0, false},      {32, 1.0, 0.03, false}};
    (void)state;
    for (size_t i = 0; i < sizeof dim / sizeof *dim; i++) {
        ww_notes notes = WW_NOTES_INIT;
        assert_int_equal(ww__measure_dim_note(dim[i].bits, dim[i].white, dim[i].most, &notes, NULL),
                         WW_OK);
        test_close("told", (double)notes.n, dim[i].told, 0.0);
        if (i == 0)
            test_true("so", test_noted(&notes, "over 4095 of 65535, a sixteenth of the scale"));
        ww_notes_release(&notes);
    }
}

/* Source: by hand. 255 steps of 257 make 65535, which 8 bits count; a converter of 12 bits is none
 * to speak of. */
static void coarse_codes_are_told(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    (void)state;
    for (int coarse = 0; coarse < 2; coarse++) {
        good(made, false);
        for (size_t i = 0; i < SCAN_CASE_STEPS; i++)
            made->patch[i].channel[WW_VISUAL].step = coarse ? 257.0 : 16.0;
        assert_int_equal(ww__measure_notes(&made->measured, "step", &codes_only, NULL), WW_OK);
        test_true("told",
                  coarse == test_noted(&made->measured.notes,
                                       "This 16 bit file holds 8 bits: its codes come in steps "
                                       "of 257"));
        ww_notes_release(&made->measured.notes);
    }
    free(made);
}

/* An 8 bit scan that a curve went over: 257 apart at one place, 411 at another. */
static void uneven_codes_are_told(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    (void)state;
    for (unsigned bits = 8; bits <= 16; bits += 8) {
        const double apart = bits == 8 ? 1.0 : 257.0;
        good(made, false);
        made->measured.bits = bits;
        for (size_t i = 0; i < SCAN_CASE_STEPS; i++)
            made->patch[i].channel[WW_VISUAL].step = i == 17 ? 1.6 * apart : apart;
        assert_int_equal(ww__measure_notes(&made->measured, "step", &codes_only, NULL), WW_OK);
        test_true("one", made->measured.notes.n == 1);
        test_true("told", test_noted(&made->measured.notes, bits == 8 ? "uneven steps, 1.6 apart"
                                                                      : "uneven steps, 411 apart"));
        test_true("where", test_noted(&made->measured.notes, "tep '18'"));
        ww_notes_release(&made->measured.notes);
    }
    free(made);
}

/* Source: closed form. Exposed k times as much, the wedge reads log10 k thinner; the limit is
 * 0.02. */
static void the_same_wedge_must_read_the_same(void **state) {
    static const struct {
        const char *name;
        double denser;
        bool other_wedge;
        const char *words;
    } cases[] = {{"same", 0.0, false, NULL},
                 {"a little", 0.019, false, NULL},
                 {"denser", 0.047, false, "'2' reads 0.05 D denser"},
                 {"thinner", -0.13, false, "'2' reads 0.13 D thinner"},
                 {"another wedge", 0.4, true, NULL}};
    struct scan_case *made = malloc(sizeof *made);
    struct scanner_case *scanner = malloc(sizeof *scanner);
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        ww_row row[SCAN_CASE_STEPS];
        good(made, false);
        scan_case_scanner(scanner, false); /* its step 1 is clipped: step 2 is the thinnest */
        const ww_readings wedge = wedge_of(scanner, row);
        const double own = SCAN_CASE_WHITE * (SCAN_CASE_DARK + SCAN_CASE_K * SCAN_CASE_FLARE);
        const double then = scanner->step[0][1].code;
        made->patch[1].channel[WW_VISUAL].code = own + (then - own) * pow(10.0, -cases[i].denser);
        if (cases[i].other_wedge)
            row[7].cell[WW_VISUAL].value += 0.01;
        assert_int_equal(ww__measure_base_note(&made->measured, &wedge, &scanner->scanner, NULL),
                         WW_OK);
        test_true(cases[i].name, made->measured.notes.n == (cases[i].words ? 1 : 0));
        test_true(cases[i].name, made->measured.off == (cases[i].words != NULL));
        test_true(cases[i].name,
                  !cases[i].words || test_noted(&made->measured.notes, cases[i].words));
        ww_notes_release(&made->measured.notes);
    }
    free(scanner);
    free(made);
}

/*
 * Source: by hand. Patches lie along x, 0.6 of their steps; widths are said in any unit. Strips
 * whose widths read alike from both ends, or nearly so, tell nothing.
 */
static void widths_from_the_other_end_are_told(void **state) {
    static const struct {
        const char *name;
        double lies[4], said[4];
        bool noted;
    } widths[] = {{"as said", {50, 20, 30, 20}, {2.5, 1, 1.5, 1}, false},
                  {"from the other end", {20, 30, 20, 50}, {2.5, 1, 1.5, 1}, true},
                  {"within a pixel", {19.5, 30.4, 20.3, 49.6}, {2.5, 1, 1.5, 1}, true},
                  {"alike", {30, 30, 30, 30}, {7, 7, 7, 7}, false},
                  {"symmetrical", {20, 30.1, 30, 20.2}, {2, 3, 3, 2}, false},
                  {"nearly alike", {30, 30.4, 30, 31}, {1.02, 1, 1, 1}, false},
                  {"neither", {20, 50, 20, 20}, {5, 1, 1, 1}, false}};
    (void)state;
    for (size_t i = 0; i < sizeof widths / sizeof *widths; i++) {
        char label[4][2] = {"1", "2", "3", "4"};
        ww_patch patch[4] = {
            {.step = label[0]}, {.step = label[1]}, {.step = label[2]}, {.step = label[3]}};
        ww_measured measured = {.patch = patch, .n = 4};
        double from = 0.0;
        for (size_t k = 0; k < 4; k++) {
            const double to = from + 0.6 * widths[i].lies[k];
            const double corner[4][2] = {{from, 0}, {to, 0}, {to, 9}, {from, 9}};
            memcpy(patch[k].corner, corner, sizeof corner);
            from += widths[i].lies[k];
        }
        const bool known = i % 2 == 0;
        assert_int_equal(ww__measure_width_note(&measured, widths[i].said, known, NULL), WW_OK);
        test_close(widths[i].name, (double)measured.notes.n, widths[i].noted, 0.0);
        if (widths[i].noted) {
            test_true(widths[i].name,
                      test_noted(&measured.notes, "step '1' may lie where '4' was read"));
            test_true("only numbers are turned",
                      test_noted(&measured.notes, "--reverse") == !known);
        }
        ww_notes_release(&measured.notes);
    }
}

/* Source: by hand. Density 1.25 on a black sheet is 0.056 of the scale, under a sixteenth. */
static void dim_scans_are_told(void **state) {
    (void)state;
    for (int dim = 0; dim < 2; dim++) {
        wedge_scene s = wedge_scene_plain();
        s.surround = WEDGE_ON_DARK, s.steps = 11, s.gap = 0.12, s.first = dim ? 1.25 : 1.15;
        ww_picture p = wedge_picture_new(&s);
        const ww_measure_request request = {.steps = s.steps, .threads = 1};
        ww_measured m = WW_MEASURED_INIT;
        ww_whole w = WW_WHOLE_INIT;
        assert_int_equal(ww_measure_strip(&p, &request, &m, NULL), WW_OK);
        assert_int_equal(ww_measure_whole(&p, &request, &w, NULL), WW_OK);
        test_true("strip", test_noted(&m.notes, "a sixteenth of the scale") == (dim == 1));
        test_true("whole", test_noted(&w.notes, "a sixteenth of the scale") == (dim == 1));
        ww_measured_release(&m);
        ww_whole_release(&w);
        ww_picture_release(&p);
    }
}

/* Source: by hand, from the densities that the codes are made of (scan_case.h). */
static void steps_out_of_order_are_told(void **state) {
    static const struct {
        const char *name;
        double by; /* D by which step 12 is lighter than step 11 */
        double sd; /* of a pixel's code, as a share of it */
        const char *says;
    } orders[] = {
        {"in order", -0.15, 0.004, NULL},
        {"alike", 0.0, 0.004, NULL},
        {"a little", 0.019, 0.004, NULL},
        {"out of order", 0.103, 0.004,
         "Step '12': out of order with the step before it, by 0.10 D"},
        {"or noise", 0.103, 2.0, NULL}, /* means of 2969 pixels are good to 3.7 %, 0.10 D is 27 % */
        {"hardly noise", 0.103, 1.0, "Step '12': out of order"},
    };
    struct scan_case *made = malloc(sizeof *made);
    (void)state;
    for (size_t i = 0; i < sizeof orders / sizeof orders[0]; i++)
        for (int reversed = 0; reversed < 2; reversed++) {
            good(made, false);
            made->measured.n_spots = 0;
            for (size_t k = 0; k < SCAN_CASE_STEPS; k++) {
                const double density =
                    0.1 * (double)(k <= 10 ? k : k - 1) - (k >= 11 ? orders[i].by : 0.0);
                ww_patch_channel *c =
                    &made->patch[reversed ? SCAN_CASE_STEPS - 1 - k : k].channel[WW_VISUAL];
                c->code = 50000.0 * pow(10.0, -density);
                c->sd = orders[i].sd * c->code;
                c->step = 1.0;
            }
            assert_int_equal(ww__measure_order_note(&made->measured, NULL, NULL), WW_OK);
            test_close(orders[i].name, (double)made->measured.notes.n, orders[i].says ? 1.0 : 0.0,
                       0.0);
            if (orders[i].says && !reversed)
                test_true(orders[i].name, test_noted(&made->measured.notes, orders[i].says));
            if (orders[i].says && reversed)
                test_true("step 11 of 21", test_noted(&made->measured.notes, "Step '11': out of"));
            ww_notes_release(&made->measured.notes);
        }
    free(made);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_fault_has_its_note),
        cmocka_unit_test(clipped_steps_of_a_calibration_are_told_by_it),
        cmocka_unit_test(what_is_no_number_is_no_dust),
        cmocka_unit_test(a_sixteenth_of_the_scale_is_told),
        cmocka_unit_test(dim_scans_are_told),
        cmocka_unit_test(coarse_codes_are_told),
        cmocka_unit_test(uneven_codes_are_told),
        cmocka_unit_test(the_same_wedge_must_read_the_same),
        cmocka_unit_test(widths_from_the_other_end_are_told),
        cmocka_unit_test(steps_out_of_order_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
