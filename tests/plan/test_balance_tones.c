/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "support/colour_paper.h"
#include "support/support.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

static const double middle[] = {0.70, 0.71, 0.72}, dark[] = {1.40, 1.42, 1.43};

/* Names decide which aim belongs to which grey; one without a name goes with the only one. */
static void greys_go_by_their_names(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    colour_readings_add(&c.print, "middle", middle, 1);
    colour_readings_add(&c.print, "dark", dark, 1);
    colour_readings_add(&c.aim, "dark", dark, 1);
    colour_readings_add(&c.aim, "middle", middle, 1);
    balance_case_make("two", &c, &balance);
    test_close("two", (double)balance.n_tones, 2.0, 0.0);
    test_text("order of the print", balance.tone[0].tone, "middle");
    test_close("its own aim", balance.tone[1].aim[0], 1.40, 0.0);
    test_text("nearest to middle grey", balance.tone[balance.solved_for].tone, "middle");
    ww_balance_release(&balance);
    balance_case_start(&c);
    colour_readings_add(&c.print, "card", middle, 1);
    colour_readings_add(&c.aim, "", middle, 1);
    balance_case_make("no name", &c, &balance);
    ww_balance_release(&balance);
    balance_case_start(&c);
    colour_readings_add(&c.print, "card", middle, 1);
    colour_readings_add(&c.aim, "skin", middle, 1);
    balance_case_refused("other name", &c, WW_ENODATA, "no reading of the print's grey 'card'");
    balance_case_start(&c);
    colour_readings_add(&c.print, "", middle, 1);
    colour_readings_add(&c.print, "dark", dark, 1);
    colour_readings_add(&c.aim, "dark", dark, 1);
    balance_case_refused("unnamed of several", &c, WW_ENODATA, "each needs a name");
}

static void a_grey_without_aim_is_told(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    colour_readings_add(&c.print, "middle", middle, 1);
    colour_readings_add(&c.print, "dark", dark, 1);
    colour_readings_add(&c.aim, "middle", middle, 1);
    balance_case_make("one aim", &c, &balance);
    test_close("one", (double)balance.n_tones, 1.0, 0.0);
    test_true("told", test_noted(&balance.notes, "'dark' has no aim"));
    ww_balance_release(&balance);
}

static void one_grey_is_chosen(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "middle", 0.70, 0.75, 0.70, 0.70, 0.70, 0.70);
    balance_case_grey(&c, "dark", 1.40, 1.40, 1.40, 1.40, 1.40, 1.40);
    c.request.tone = "dark";
    balance_case_make("dark", &c, &balance);
    test_close("nothing to do there", balance.change.cc[WW_MAGENTA], 0.0, 1e-9);
    test_text("stands for the print", balance.tone[balance.solved_for].tone, "dark");
    ww_balance_release(&balance);
    c.request.tone = "sky";
    balance_case_refused("no such", &c, WW_ENODATA, "--tone: 'sky' is no grey");
}

/* Source: definition: the straight paper has no slope under 0.1 and ends at 2.3. */
static void white_and_black_have_no_slope(void **state) {
    static const struct {
        const char *name;
        double red, aim;
        const char *words;
    } rows[] = {
        {"white", 0.1, 0.70, "no slope at red 0.10"},
        {"beyond black", 2.4, 0.70, "no slope at red 2.400: the paper's measured curve runs from"},
        {"white aim", 0.70, 0.1, "no slope at red 0.10"},
        {"black aim", 0.70, 2.35, "no slope at red 2.35"},
        {"what to read", 0.02, 0.70, "take a grey that reads between 0.1"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        balance_case c;
        balance_case_start(&c);
        balance_case_grey(&c, "card", rows[i].red, 0.7, 0.7, rows[i].aim, 0.7, 0.7);
        balance_case_refused(rows[i].name, &c, WW_ENODATA, rows[i].words);
    }
}

/* What it says can be told, can be: definition. A bent paper, whose slopes end between hundredths
 * of a density. */
static void told_range_can_be_read(void **state) {
    balance_case c;
    ww_error err = WW_ERROR_INIT;
    double low, high, log_h, slope;
    (void)state;
    balance_case_start(&c);
    for (size_t colour = 0; colour < 3; colour++) {
        assert_int_equal(ww__balance_look(&c.paper, colour, 0.02, &log_h, &slope, &err),
                         WW_ENODATA);
        const char *told = strstr(err.msg, "reads between ");
        assert_non_null(told);
        assert_int_equal(sscanf(told, "reads between %lf and %lf", &low, &high), 2);
        test_status("low", ww__balance_look(&c.paper, colour, low, &log_h, &slope, &err), WW_OK,
                    &err);
        test_status("high", ww__balance_look(&c.paper, colour, high, &log_h, &slope, &err), WW_OK,
                    &err);
        test_status("lower", ww__balance_look(&c.paper, colour, low - 0.05, &log_h, &slope, &err),
                    WW_ENODATA, NULL);
        test_status("higher", ww__balance_look(&c.paper, colour, high + 0.05, &log_h, &slope, &err),
                    WW_ENODATA, NULL);
    }
}

/* Of several greys the others are used. */
static void a_flat_grey_is_left_out(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "light", 0.10, 0.10, 0.10, 0.12, 0.12, 0.12);
    balance_case_grey(&c, "middle", 0.70, 0.75, 0.70, 0.70, 0.70, 0.70);
    balance_case_make("flat", &c, &balance);
    test_close("one", (double)balance.n_tones, 1.0, 0.0);
    test_true("told", test_noted(&balance.notes, "'light' was not used: no slope at red 0.10"));
    ww_balance_release(&balance);
    c.request.tone = "light";
    balance_case_refused("asked for", &c, WW_ENODATA, "no slope");
}

static void refuses_what_was_not_read(void **state) {
    balance_case c;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.7, 0.7, 0.7, 0.7, 0.7, 0.7);
    c.print.row[0].cell[WW_GREEN].state = WW_CELL_MISSING;
    balance_case_refused("missing", &c, WW_ENODATA, "the green density is missing");
    /* What the reader of spectra said of it is the reason. */
    c.print.readings.has[WW_GREEN] = false;
    assert_int_equal(ww_notes_add(&c.print.readings.notes, NULL,
                                  "there are no green densities: the range ends at 500 nm"),
                     WW_OK);
    balance_case_refused("spectra", &c, WW_ENODATA, "the range ends at 500 nm");
    ww_notes_release(&c.print.readings.notes);
    c.print.readings.has[WW_GREEN] = true;
    c.print.row[0].cell[WW_GREEN].state = WW_CELL_OVER;
    balance_case_refused("over", &c, WW_ENODATA, "the green density is beyond the instrument");
    balance_case_start(&c);
    balance_case_refused("nothing", &c, WW_ENODATA, "no reading of a grey");
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.7, 0.7, 0.7, 0.7, 0.7, 0.7);
    colour_readings_add(&c.print, "card", middle, 1)->pack = (char *)"10Y";
    balance_case_refused("two prints", &c, WW_EMISMATCH, "'card' stands twice");
    balance_case_start(&c);
    for (int i = 0; i < 9; i++) {
        static const char *const name[] = {"a", "b", "c", "d", "e", "f", "g", "h", "i"};
        balance_case_grey(&c, name[i], 0.7, 0.7, 0.7, 0.7, 0.7, 0.7);
    }
    balance_case_refused("many", &c, WW_EDOMAIN, "over 8 greys");
}

/* Source: definition: repeats are averaged, and their error is smaller. */
static void repeats_are_averaged(void **state) {
    balance_case c;
    ww_balance one = WW_BALANCE_INIT, many = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.7, 0.7, 0.7, 0.7, 0.7, 0.7);
    balance_case_make("one", &c, &one);
    colour_readings_add(&c.print, "card", (const double[]){0.72, 0.70, 0.70}, 1);
    balance_case_make("two", &c, &many);
    test_close("mean", many.tone[0].print[0], 0.71, 1e-12);
    test_close("one grey", (double)many.n_tones, 1.0, 0.0);
    ww_balance_release(&one);
    ww_balance_release(&many);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(greys_go_by_their_names),
        cmocka_unit_test(a_grey_without_aim_is_told),
        cmocka_unit_test(one_grey_is_chosen),
        cmocka_unit_test(white_and_black_have_no_slope),
        cmocka_unit_test(told_range_can_be_read),
        cmocka_unit_test(a_flat_grey_is_left_out),
        cmocka_unit_test(refuses_what_was_not_read),
        cmocka_unit_test(repeats_are_averaged),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
