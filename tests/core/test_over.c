/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/over.h"
#include "core/readings_made.h"

/*
 * Source of every row: definition. Steps 1, 2, ... along log H; 'o' beyond the instrument, 'r' read
 * (0.31, 0.42, ... D), '-' not read. What is left of them, and what the note says.
 */
typedef struct over_row {
    const char *name, *given;
    ww_process process;
    const char *left;
    const char *note; /* "": nothing is said */
} over_row;

static const over_row rows[] = {
    {"none", "rrrrr", WW_PROCESS_NEGATIVE, "rrrrr", ""},
    {"at the dense end", "rrroo", WW_PROCESS_NEGATIVE, "rrroo", ""},
    {"nothing read", "ooo", WW_PROCESS_NEGATIVE, "ooo", ""},
    {"within", "rrorr", WW_PROCESS_NEGATIVE, "rr-rr",
     "step 3 is said to be beyond the instrument, but step 5, which should be denser, was read at "
     "0.75"},
    {"process not said", "ror", WW_PROCESS_UNKNOWN, "r-r", "step 2 is said"},
    {"within and at the end", "rroro", WW_PROCESS_NEGATIVE, "rr-ro", "step 3 is said"},
    {"last read, then empty", "ror-", WW_PROCESS_NEGATIVE, "r-r-", "but step 3, which"},
    {"reversal, dense end", "oorr", WW_PROCESS_REVERSAL, "oorr", ""},
    {"reversal, thin end", "rroo", WW_PROCESS_REVERSAL, "rr--",
     "steps 3, 4 are said to be beyond the instrument, but step 1, which should be denser, was "
     "read at 0.31"},
    {"many", "oooooor", WW_PROCESS_NEGATIVE, "------r", "steps 1, 2, 3, 4 and 2 more are said"},
};

static void made(const char *given, ww_channel channel, ww_readings *r) {
    r->exposure = WW_EXPOSURE_LOG_H;
    r->has[channel] = true;
    for (size_t i = 0; given[i]; i++) {
        const char step[] = {(char)('1' + i), '\0'};
        ww_row *row = made_row(r, step, "");
        row->exposure = (ww_optional){true, -2.31 + 0.15 * (double)i};
        row->cell[channel] = (ww_cell){.state = given[i] == 'o'   ? WW_CELL_OVER
                                                : given[i] == 'r' ? WW_CELL_VALUE
                                                                  : WW_CELL_MISSING,
                                       .value = 0.31 + 0.11 * (double)i,
                                       .n = 1};
    }
}

static void contradictions(void **state) {
    (void)state;
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        ww_readings r = WW_READINGS_INIT;
        ww_notes notes = WW_NOTES_INIT;
        char left[16] = "";
        made(rows[k].given, WW_VISUAL, &r);
        r.meta.process = rows[k].process;
        test_status(rows[k].name, ww__over_check(&r, &notes, NULL), WW_OK, NULL);
        for (size_t i = 0; i < r.n; i++)
            left[i] = "-ro"[r.row[i].cell[WW_VISUAL].state == WW_CELL_VALUE  ? 1
                            : r.row[i].cell[WW_VISUAL].state == WW_CELL_OVER ? 2
                                                                             : 0];
        test_text(rows[k].name, left, rows[k].left);
        assert_int_equal(notes.n, rows[k].note[0] ? 1 : 0);
        if (notes.n && !strstr(notes.text[0], rows[k].note))
            fail_msg("%s: '%s' is not in: %s", rows[k].name, rows[k].note, notes.text[0]);
        ww_notes_release(&notes);
        ww_readings_release(&r);
    }
}

static void the_channel_is_named_beside_others(void **state) {
    (void)state;
    ww_readings r = WW_READINGS_INIT;
    ww_notes notes = WW_NOTES_INIT;
    made("ror", WW_BLUE, &r);
    r.has[WW_RED] = true;
    made_step(&r, "base", WW_COLUMN_BLUE, 0.23); /* without exposure */
    test_status("blue", ww__over_check(&r, &notes, NULL), WW_OK, NULL);
    assert_int_equal(notes.n, 1);
    test_true("blue", strstr(notes.text[0], "step 2 (blue) is said") != NULL);
    ww_notes_release(&notes);
    ww_readings_release(&r);
}

static void exposures_that_are_none(void **state) {
    (void)state;
    static const struct {
        ww_optional second; /* of the step that is over */
        ww_status want;
    } cases[] = {{{false, 0.0}, WW_ENODATA}, {{true, -1.0}, WW_EDOMAIN}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        ww_readings r = WW_READINGS_INIT;
        ww_notes notes = WW_NOTES_INIT;
        ww_error err = WW_ERROR_INIT;
        made("ro", WW_VISUAL, &r);
        r.exposure = WW_EXPOSURE_TIME;
        r.row[0].exposure.value = 2.7;
        r.row[1].exposure = cases[i].second;
        test_status("time", ww__over_check(&r, &notes, &err), cases[i].want, &err);
        ww_notes_release(&notes);
        ww_readings_release(&r);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(contradictions),
        cmocka_unit_test(the_channel_is_named_beside_others),
        cmocka_unit_test(exposures_that_are_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
