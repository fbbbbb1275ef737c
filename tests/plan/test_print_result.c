/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_trial.h"
#include "support/support.h"
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/start.h>

/* Source of what is refused: definition (the Status lines of the header). */

enum { ALL = 0x7f };

static char lot_a[] = "A", lot_b[] = "B", hard[] = "5", soft[] = "1", boat[] = "boat";

static void start(print_trial *trial) {
    dice d = {1};
    print_trial_start(trial, &d, 0.0);
    print_trial_print(trial, &d, print_trial_time(trial), ALL);
}

/* One thing that is not as the plan has it. */
typedef void spoil(print_trial *trial);
static void wrong_tone(print_trial *t) {
    t->print.row[3].tone = boat;
}
static void nothing_read(print_trial *t) {
    t->print.negative.n = 1;
}
static void other_status(print_trial *t) {
    t->plan.paper[0].meta.status = WW_STATUS_VISUAL;
    t->print.negative.meta.status = WW_STATUS_A;
}
static void relative_to_base(print_trial *t) {
    t->print.negative.meta.relative = WW_RELATIVE_BASE;
}
static void transmission(print_trial *t) {
    t->print.negative.meta.density = WW_DENSITY_TRANSMISSION;
}
static void no_print(print_trial *t) {
    t->print.negative.meta.material = WW_MATERIAL_NEGATIVE;
}
static void reversal(print_trial *t) {
    t->print.negative.meta.process = WW_PROCESS_REVERSAL;
}
static void wet(print_trial *t) {
    t->print.negative.meta.read = WW_READ_WET;
}
static void other_lot(print_trial *t) {
    t->plan.paper[0].meta.lot = lot_a;
    t->print.negative.meta.lot = lot_b;
}
static void other_size(print_trial *t) {
    t->plan.request.from_scale = t->plan.request.scale = (ww_optional){true, 3.0};
    t->print.negative.meta.scale = (ww_optional){true, 5.0};
}
static void other_aperture(print_trial *t) {
    t->plan.paper[0].meta.aperture = (ww_optional){true, 8.0};
    t->print.negative.meta.aperture = (ww_optional){true, 11.0};
}
static void other_contrast(print_trial *t) {
    t->plan.paper[0].meta.contrast = soft;
    t->print.negative.meta.contrast = hard;
}
static void other_filter(print_trial *t) {
    t->print.negative.has[WW_COLUMN_VISUAL] = false;
    t->print.negative.has[WW_COLUMN_RED] = true;
}
static void no_time(print_trial *t) {
    t->plan.paper[0].meta.exposure_unit = WW_UNIT_RELATIVE;
}
static void no_white(print_trial *t) {
    t->plan.paper[0].meta.relative = WW_RELATIVE_WHITE;
    t->print.row[0].cell[WW_COLUMN_VISUAL].state = WW_CELL_MISSING;
}
static void odd_time(print_trial *t) {
    t->print.negative.meta.exposure_time_s.value = 1e6;
}
static void part_that_was_not_read(print_trial *t) {
    t->print.row[3].part = WW_PART_THIN;
}
static void no_plan(print_trial *t) {
    t->plan.request.callier = 7.0;
}

static const struct {
    const char *name;
    spoil *spoil;
    ww_status status;
    const char *words;
} refused[] = {
    {"tone", wrong_tone, WW_ENODATA, "'boat'"},
    {"empty", nothing_read, WW_ENODATA, "no tone of the print"},
    {"status", other_status, WW_EMISMATCH, "status A"},
    {"zero", relative_to_base, WW_EMISMATCH, "relative to a film's base"},
    {"transmission", transmission, WW_EMISMATCH, "transmission densities"},
    {"negative", no_print, WW_EMISMATCH, "readings of a negative, not of a print"},
    {"reversal", reversal, WW_EMISMATCH, "reversal"},
    {"wet", wet, WW_EMISMATCH, "read wet"},
    {"lot", other_lot, WW_EMISMATCH, "lot 'B'"},
    {"size", other_size, WW_EMISMATCH, "magnification 5, and the plan is for 3"},
    {"aperture", other_aperture, WW_EMISMATCH, "f-number 11, and the plan is for 8"},
    {"contrast", other_contrast, WW_ENODATA, "contrast '5'"},
    {"filter", other_filter, WW_ENODATA, "no visual densities"},
    {"no time", no_time, WW_ENODATA, "--test"},
    {"no white", no_white, WW_EMISMATCH, "a row 'base'"},
    {"odd time", odd_time, WW_EDOMAIN, "1e+06 s"},
    {"part", part_that_was_not_read, WW_ENODATA, "at its thin part"},
    {"the plan's own", no_plan, WW_EDOMAIN, "Callier"},
};

static void test_refused(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        print_trial trial;
        ww_print_miss miss = WW_PRINT_MISS_INIT;
        ww_error err = WW_ERROR_INIT;
        start(&trial);
        refused[i].spoil(&trial);
        test_status(
            refused[i].name,
            ww_print_result_explain(&trial.plan.request, &trial.print.negative, &miss, &err),
            refused[i].status, &err);
        test_true(refused[i].name, !miss.set && !miss.why);
        if (!strstr(err.msg, refused[i].words))
            fail_msg("%s: '%s'", refused[i].name, err.msg);
    }
}

/* A name that the negative does not have is the print's to correct: its file and line are said. */
static void test_misspelt(void **state) {
    static char file[] = "print.csv", recipe[] = "recipe.json";
    print_trial trial;
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    start(&trial);
    trial.plan.negative.file = recipe;
    trial.print.negative.file = file;
    trial.print.row[3].tone = boat;
    trial.print.row[3].line = 7;
    test_status("misspelt",
                ww_print_result_explain(&trial.plan.request, &trial.print.negative, &miss, &err),
                WW_ENODATA, &err);
    test_text("file", err.file, "print.csv");
    test_true("line", err.line == 7);
    test_true("tone", strstr(err.msg, "'boat'") && strstr(err.msg, trial_tone[2]));
}

/* Nothing is lighter than the paper. Source: definition. */
static void test_under_white(void **state) {
    static char file[] = "print.csv";
    print_trial trial;
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    start(&trial);
    trial.print.negative.file = file;
    trial.print.row[7].cell[WW_COLUMN_VISUAL].value = 0.01; /* white is 0.05: beyond 0.03 */
    trial.print.row[7].line = 11;
    test_status("under white",
                ww_print_result_explain(&trial.plan.request, &trial.print.negative, &miss, &err),
                WW_EDOMAIN, &err);
    test_text("file", err.file, "print.csv");
    test_true("line", err.line == 11 && strstr(err.msg, "'cloud'") != NULL);
    trial.print.row[7].cell[WW_COLUMN_VISUAL].value = 0.03; /* a reading errs by that */
    print_trial_explain(&trial, &miss);
    ww_print_miss_release(&miss);
}

/* A covariance of all readings is weighed: there is a limit to them. Source: the header. */
static void test_too_many(void **state) {
    enum { MANY = WW_PRINT_RESULT_TONES_MOST + 1 };
    static char empty[] = "", name[MANY][8];
    static ww_row row[2][MANY];
    print_trial trial;
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    start(&trial);
    for (size_t i = 0; i < MANY; i++) {
        snprintf(name[i], sizeof name[i], "t%zu", i % 1000);
        for (size_t k = 0; k < 2; k++) {
            row[k][i] = (ww_row){.step = empty, .tone = name[i], .pack = empty};
            row[k][i].cell[WW_COLUMN_VISUAL] =
                (ww_cell){.state = WW_CELL_VALUE,
                          .value = k == 0 ? 0.4 + 0.005 * (double)i : 1.9 - 0.009 * (double)i,
                          .n = 1};
        }
    }
    trial.plan.negative.row = row[0];
    trial.plan.negative.n = MANY;
    trial.plan.place[0].tone = name[MANY - 1];
    trial.print.negative.row = row[1];
    trial.print.negative.n = MANY;
    test_status("too many",
                ww_print_result_explain(&trial.plan.request, &trial.print.negative, &miss, &err),
                WW_EDOMAIN, &err);
    test_true("how many", strstr(err.msg, "201 readings of the print") != NULL);
    trial.print.negative.n = MANY - 1;
    test_status("as many as go",
                ww_print_result_explain(&trial.plan.request, &trial.print.negative, &miss, &err),
                WW_OK, &err);
    ww_print_miss_release(&miss);
}

/* Densities count above the print's own white, else that of the curve, which a note says; what was
 * read above white counts as it is. Source: interface, 0. */
static void test_white(void **state) {
    print_trial trial;
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    double came;
    (void)state;
    start(&trial);
    print_trial_explain(&trial, &miss);
    came = miss.tone[0].came;
    test_true("said nothing", miss.notes.n == 0);
    ww_print_miss_release(&miss);

    for (size_t i = 0; i < trial.print.negative.n; i++) /* fogged all over */
        trial.print.row[i].cell[WW_COLUMN_VISUAL].value += 0.06;
    print_trial_explain(&trial, &miss);
    test_close("above its own", miss.tone[0].came, came, 1e-12);
    test_true("noted", miss.notes.n == 1 && strstr(miss.notes.text[0], "fog or stain"));
    ww_print_miss_release(&miss);

    trial.print.row[0].cell[WW_COLUMN_VISUAL].state = WW_CELL_MISSING;
    print_trial_explain(&trial, &miss);
    test_close("above the curve's", miss.tone[0].came, came + 0.06, 1e-12);
    test_true("noted", miss.notes.n == 1 && strstr(miss.notes.text[0], "stands in"));
    ww_print_miss_release(&miss);

    trial.print.negative.meta.relative = WW_RELATIVE_WHITE;
    print_trial_explain(&trial, &miss);
    test_close("as it is", miss.tone[0].came, came + 0.06 + 0.05, 1e-12);
    ww_print_miss_release(&miss);
}

/* A density without a tone is beside nothing that was foretold: it is left out, which is said. */
static void test_nameless(void **state) {
    static char empty[] = "";
    print_trial trial;
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    size_t weighed;
    (void)state;
    start(&trial);
    print_trial_explain(&trial, &miss);
    weighed = miss.n_tones;
    ww_print_miss_release(&miss);
    trial.print.row[3].tone = empty;
    trial.print.row[3].line = 7;
    print_trial_explain(&trial, &miss);
    assert_int_equal(miss.n_tones, weighed - 1);
    test_true("said",
              miss.notes.n == 1 && strstr(miss.notes.text[0], "without a tone, from line 7"));
    ww_print_miss_release(&miss);
}

/* The paper that the print says it was made on is taken; its time too, else the timer's of the
 * plan. */
static void test_taken(void **state) {
    print_trial trial;
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    const double other = TRIAL_X0 + 0.4;
    (void)state;
    start(&trial);
    trial.plan.paper[0].meta.contrast = soft;
    print_case_paper(&trial.plan, "gloss", TRIAL_RANGE, other)->meta.contrast = hard;
    trial.print.negative.meta.contrast = hard;
    trial.print.negative.meta.exposure_time_s.set = false;
    print_trial_explain(&trial, &miss);
    test_text("contrast", miss.contrast, "5");
    /* log t = log H at the aim + D, closed form, to 0.1 s */
    test_close("time", miss.time_s, pow(10.0, print_case_log_h(TRIAL_RANGE, other, 0.10) + 1.38),
               0.05);
    ww_print_miss_release(&miss);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_refused),     cmocka_unit_test(test_misspelt),
        cmocka_unit_test(test_under_white), cmocka_unit_test(test_too_many),
        cmocka_unit_test(test_white),       cmocka_unit_test(test_taken),
        cmocka_unit_test(test_nameless),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print_result", tests, NULL, NULL);
}
