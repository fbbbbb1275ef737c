/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings_made.h"
#include "core/repeats.h"
#include "support/emulsion.h"
#include <math.h>

static void add(ww_readings *r, const char *step, ww_column column, double value, double sd,
                size_t n) {
    ww_cell *cell = &made_step(r, step, column, value)->cell[column];
    cell->n = n;
    cell->sd = (ww_optional){true, sd};
}

static ww_notes notes_on(const ww_readings *r) {
    ww_notes notes = WW_NOTES_INIT;
    test_status("note", ww__repeats_note(r, &notes, NULL), WW_OK, NULL);
    return notes;
}

static void said(const ww_notes *notes, const char *word) {
    assert_int_equal(notes->n, 1);
    if (!strstr(notes->text[0], word))
        fail_msg("'%s' is not in: %s", word, notes->text[0]);
}

/*
 * Source: closed form. With two degrees of freedom above, F's upper tail is (1 + 2 F / m)^(-m / 2);
 * five steps read three times have m = 8, and 0.01 / 5 of it lies beyond F = 14.9149.
 */
static void the_limit(void **state) {
    (void)state;
    const double limit = 4.0 * (pow(500.0, 0.25) - 1.0);
    for (int above = 0; above < 2; above++) {
        ww_readings r = WW_READINGS_INIT;
        for (int i = 0; i < 5; i++) {
            const double sd = i == 3 ? 0.013 * sqrt(limit) * (above ? 1.001 : 0.999) : 0.013;
            add(&r, i == 3 ? "odd" : "even", WW_COLUMN_RED, 0.7, sd, 3);
        }
        ww_notes notes = notes_on(&r);
        assert_int_equal(notes.n, above);
        if (above)
            said(&notes, "step odd: its 3 readings");
        ww_notes_release(&notes);
        ww_readings_release(&r);
    }
}

/* Repeats that agree to the last digit do not make a difference of a hundredth or two remarkable;
 * a channel is named beside others; a pair is given back: 1.20 and 1.59 have sd 0.39 / sqrt 2. */
static void what_is_said(void **state) {
    (void)state;
    static const struct {
        const char *name;
        double apart;
        bool noted;
    } rows[] = {{"rounding", 0.01, false}, {"small", 0.028, false}, {"slip", 0.39, true}};
    for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
        ww_readings r = WW_READINGS_INIT;
        for (int i = 0; i < 12; i++)
            add(&r, "like", WW_COLUMN_GREEN, 0.1 * i, 0.0, 2);
        add(&r, "9", WW_COLUMN_GREEN, 1.395, rows[k].apart / sqrt(2.0), 2);
        r.has[WW_COLUMN_BLUE] = true;
        ww_notes notes = notes_on(&r);
        test_true(rows[k].name, notes.n == rows[k].noted);
        if (rows[k].noted) {
            said(&notes, "step 9 (green): its two readings, ");
            said(&notes, "1.20 and 1.59");
        }
        ww_notes_release(&notes);
        ww_readings_release(&r);
    }
}

/* Of two steps with repeats neither is the odd one, and single readings have no spread. */
static void too_few_to_say(void **state) {
    (void)state;
    ww_readings r = WW_READINGS_INIT;
    add(&r, "1", WW_COLUMN_VISUAL, 0.5, 0.004, 4);
    add(&r, "2", WW_COLUMN_VISUAL, 0.7, 0.4, 4);
    for (int i = 0; i < 9; i++)
        made_step(&r, "single", WW_COLUMN_VISUAL, 0.1 * i);
    ww_notes notes = notes_on(&r);
    assert_int_equal(notes.n, 0);
    ww_readings_release(&r);
}

/* Source: definition of the test, which lets 1 % of clean sets have a note; of 1000, ten and three
 * deviations of that count. */
static void false_alarms(void **state) {
    (void)state;
    enum { SETS = 1000 };
    dice d = {4711};
    size_t alarms = 0;
    for (int k = 0; k < SETS; k++) {
        ww_readings r = WW_READINGS_INIT;
        for (int i = 0; i < 21; i++) {
            const double apart = dice_normal(&d, 0.03) - dice_normal(&d, 0.03);
            add(&r, "s", WW_COLUMN_VISUAL, 0.1 * i, fabs(apart) / sqrt(2.0), 2);
        }
        ww_notes notes = notes_on(&r);
        alarms += notes.n > 0;
        ww_notes_release(&notes);
        ww_readings_release(&r);
    }
    print_message("%zu alarms of %d\n", alarms, SETS);
    test_true("alarms", alarms <= 20);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_limit),
        cmocka_unit_test(what_is_said),
        cmocka_unit_test(too_few_to_say),
        cmocka_unit_test(false_alarms),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
