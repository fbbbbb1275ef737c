/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/density_notes.h"
#include "support/scan_case.h"
#include "support/support.h"
#include <stdlib.h>
#include <string.h>

/* Source of all: a note says what the cell shows, and names the patch. */

typedef struct told {
    const char *name;
    ww_reach reach;
    ww_cell cell;
    double rejected, clipped, drift;
    size_t notes;
    const char *words[3];
} told;

static const told rows[] = {
    {"within", WW_REACH_WITHIN, {WW_CELL_VALUE, 0.6, {true, 0.01}, 1}, 0, 0, 0, 0, {NULL}},
    {"hardly clipped",
     WW_REACH_WITHIN,
     {WW_CELL_VALUE, 0.6, {true, 0.01}, 1},
     0,
     0.005,
     0,
     0,
     {NULL}},
    {"thinner: a density stands",
     WW_REACH_THINNER,
     {WW_CELL_VALUE, 0.03, {true, 0.01}, 1},
     0,
     0,
     0,
     1,
     {"Step '4': a little thinner", "density is the model's", NULL}},
    {"denser: a density stands",
     WW_REACH_DENSER,
     {WW_CELL_VALUE, 3.02, {true, 0.01}, 1},
     0,
     0,
     0,
     1,
     {"Step '4': a little denser", "density is the model's", NULL}},
    {"too light",
     WW_REACH_LIGHT,
     {WW_CELL_LESS, 0.21, {false, 0}, 0},
     0,
     0,
     0,
     1,
     {"Step '4': lighter", "no density but that it is less than 0.21", NULL}},
    {"clipped in the light",
     WW_REACH_LIGHT,
     {WW_CELL_LESS, 0.03, {false, 0}, 0},
     0,
     0.3,
     0,
     1,
     {"Step '4': 30 %", "greatest code", "less than 0.03"}},
    {"too dark",
     WW_REACH_DARK,
     {WW_CELL_OVER, 0, {false, 0}, 0},
     0,
     0,
     0,
     1,
     {"Step '4': denser", "so there is no density", NULL}},
    {"below 0",
     WW_REACH_WITHIN,
     {WW_CELL_VALUE, -0.02, {true, 0.01}, 1},
     0,
     0,
     0,
     1,
     {"Step '4': density -0.02, lighter than open light", "calibrate anew", NULL}},
    {"below 0 within its doubt",
     WW_REACH_WITHIN,
     {WW_CELL_VALUE, -0.019, {true, 0.01}, 1},
     0,
     0,
     0,
     0,
     {NULL}},
    {"less than something below 0",
     WW_REACH_LIGHT,
     {WW_CELL_LESS, -0.04, {false, 0}, 0},
     0,
     0.3,
     0,
     2,
     {"greatest code", "density less than -0.04, lighter than open light", NULL}},
    {"much left out",
     WW_REACH_NONE,
     {WW_CELL_MISSING, 0, {false, 0}, 0},
     0.46,
     0,
     0,
     1,
     {"Step '4': 46 % of its pixels", "none is given", "see measure --overlay, clean it"}},
    {"across two steps",
     WW_REACH_NONE,
     {WW_CELL_MISSING, 0, {false, 0}, 0},
     0,
     0,
     0.5,
     1,
     {"Step '4': it changes by 0.2", "none is given", "see measure --overlay, clean it"}},
};

static void note_and_number_agree(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    struct scanner_case *scanner = malloc(sizeof *scanner);
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const told *row = &rows[i];
        const ww_measure_request request = {.scanner = &scanner->scanner};
        scan_case_strip(made, false);
        scan_case_scanner(scanner, false);
        for (size_t k = 0; k < SCAN_CASE_STEPS; k++) {
            made->patch[k].channel[WW_VISUAL].drift = 0.0;
            made->patch[k].channel[WW_VISUAL].reach = WW_REACH_WITHIN;
        }
        ww_patch_channel *p = &made->patch[3].channel[WW_VISUAL];
        if (row->reach == WW_REACH_LIGHT)
            p->code = 60000.0;
        p->reach = row->reach;
        p->density = row->cell;
        p->clipped = row->clipped;
        p->drift = row->drift * p->code;
        made->patch[3].rejected = row->rejected;
        assert_int_equal(ww__density_notes(&made->measured, "step", &request, NULL), WW_OK);
        test_close(row->name, (double)made->measured.notes.n, (double)row->notes, 0.0);
        for (size_t k = 0; k < 3 && row->words[k]; k++)
            test_true(row->words[k], test_noted(&made->measured.notes, row->words[k]));
        /* What all are off by nobody knows: no density keeps a doubt beside a note that says so. */
        const bool off = test_noted(&made->measured.notes, "all densities here are off");
        test_true(row->name, made->measured.off == off);
        test_true(row->name, made->patch[6].channel[WW_VISUAL].density.sd.set == !off);
        ww_notes_release(&made->measured.notes);
    }
    free(scanner);
    free(made);
}

/* A strip and a scanner file that go with each other, and its notes once `change` has been made. */
static void note(void (*change)(struct scan_case *, struct scanner_case *), bool off,
                 const char *words) {
    struct scan_case *made = malloc(sizeof *made);
    struct scanner_case *scanner = malloc(sizeof *scanner);
    const ww_measure_request request = {.scanner = &scanner->scanner};
    scan_case_strip(made, false);
    scan_case_scanner(scanner, false);
    change(made, scanner);
    assert_int_equal(ww__density_notes(&made->measured, "step", &request, NULL), WW_OK);
    test_true("off", made->measured.off == off);
    test_true(words, test_noted(&made->measured.notes, words));
    ww_notes_release(&made->measured.notes);
    free(scanner);
    free(made);
}

static void set_misfit(struct scan_case *made, struct scanner_case *scanner) {
    (void)made;
    scanner->scanner.misfit = true;
}

/* A scanner file that does not fit its wedge is none to read densities by. */
static void a_misfit_of_the_scanner_file_is_told(void **state) {
    (void)state;
    note(set_misfit, true, "The scanner file does not fit its own wedge");
}

static void clip_most(struct scan_case *made, struct scanner_case *scanner) {
    ww_patch *patch = &made->patch[3];
    (void)scanner;
    patch->rejected = 0.386;
    patch->channel[WW_VISUAL] = (ww_patch_channel){.code = 0.02,
                                                   .low = -1.5,
                                                   .high = 1.5,
                                                   .clipped = 0.6,
                                                   .reach = WW_REACH_NONE,
                                                   .density = {.state = WW_CELL_MISSING}};
}

/* What clipping leaves of the noise is no dirt. */
static void clipped_pixels_are_not_to_be_cleaned(void **state) {
    (void)state;
    note(clip_most, false,
         "Step '4': 60 % of its pixels are clipped and others are not, so it has no one density "
         "and none is given; scan with more exposure");
}

static void set_scale(struct scan_case *made, struct scanner_case *scanner) {
    (void)made;
    scanner->scanner.gamma = (ww_quantity){1.05, 1.04, 1.06, WW_FITTED};
}

/* Source: closed form, 1 - 1/1.05 = 4.8 %. */
static void a_wedge_off_by_a_factor_is_told(void **state) {
    (void)state;
    note(set_scale, false, "is off by 4.8 % throughout, or the scanner is");
}

static void leave_out_base(struct scan_case *made, struct scanner_case *scanner) {
    ww_patch_channel *first = &made->patch[0].channel[WW_VISUAL];
    scanner->scanner.channel[WW_VISUAL].surround = (ww_optional){true, scan_case_code(-0.0295)};
    first->code = scan_case_code(-0.0295);
    first->density = (ww_cell){WW_CELL_VALUE, -0.0295, {true, 0.005}, 1};
}

/* Bare glass beside the wedge read 0.029 D lighter than its density 0, which leaves out its base: a
 * step as light as that glass is told, and nothing is off. */
static void a_base_that_is_left_out_puts_nothing_off(void **state) {
    (void)state;
    note(leave_out_base, false, "density -0.03, below 0 but no lighter");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(note_and_number_agree),
        cmocka_unit_test(a_misfit_of_the_scanner_file_is_told),
        cmocka_unit_test(clipped_pixels_are_not_to_be_cleaned),
        cmocka_unit_test(a_wedge_off_by_a_factor_is_told),
        cmocka_unit_test(a_base_that_is_left_out_puts_nothing_off),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
