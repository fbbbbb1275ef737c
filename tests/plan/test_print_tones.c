/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_case.h"
#include "support/support.h"
#include <string.h>

/* A plan whose tones are read back; the face sets the time. */
static void start(print_case *c) {
    print_case_start(c);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.35);
    print_case_tone(c, "face", WW_PART_WHOLE, 0.80);
    print_case_paper(c, "logistic", 1.05, 0.3);
    print_case_place(c, "face", 0.60);
}

static bool has_tone(const ww_print_plan *plan, const char *tone) {
    bool has = false;
    for (size_t i = 0; i < plan->paper[0].n_tones; i++)
        has = has || strcmp(plan->paper[0].tone[i].tone, tone) == 0;
    return has;
}

/* Replicates, and places of one tone with labels of their own, are averaged as density. */
static void test_average(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    static char first[] = "a", second[] = "b";
    (void)state;
    start(&c);
    print_case_tone(&c, "sky", WW_PART_WHOLE, 1.20);
    print_case_tone(&c, "sky", WW_PART_WHOLE, 1.24);
    print_case_tone(&c, "sea", WW_PART_WHOLE, 1.00);
    print_case_tone(&c, "sea", WW_PART_WHOLE, 1.06);
    c.row[4].step = first;
    c.row[5].step = second;
    print_case_make("average", &c, &plan);
    assert_int_equal(plan.paper[0].n_tones, 4);
    test_close("replicates", print_case_find(&plan.paper[0], "sky")->negative, 1.22, 1e-12);
    test_close("places", print_case_find(&plan.paper[0], "sea")->negative, 1.03, 1e-12);
    ww_print_plan_release(&plan);
}

/* A reading beyond the instrument is no density: nothing is said of the tone but that. */
static void test_over(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    const ww_print_tone *tone;
    (void)state;
    start(&c);
    print_case_tone(&c, "sun", WW_PART_WHOLE, 0.0)->state = WW_CELL_OVER;
    print_case_tone(&c, "cloud", WW_PART_THIN, 1.40);
    print_case_tone(&c, "cloud", WW_PART_DENSE, 0.0)->state = WW_CELL_OVER;
    print_case_tone(&c, "lake", WW_PART_WHOLE, 1.10);
    print_case_tone(&c, "lake", WW_PART_DENSE, 0.0)->state = WW_CELL_OVER;
    print_case_make("over", &c, &plan);
    test_true("sun is not in the table", !has_tone(&plan, "sun"));
    test_true("sun", print_case_noted(&plan, "'sun' reads beyond the instrument"));
    tone = print_case_find(&plan.paper[0], "cloud");
    test_close("cloud by its thin end", tone->negative, 1.40, 0.0);
    test_true("cloud is not judged", !tone->negative_dense.set && !tone->separation.set);
    test_true("cloud", print_case_noted(&plan, "'cloud' has an end beyond the instrument"));
    test_close("lake by its whole", print_case_find(&plan.paper[0], "lake")->negative, 1.10, 0.0);
    test_true("lake", print_case_noted(&plan, "'lake' has an end beyond the instrument"));
    ww_print_plan_release(&plan);
}

/* Missing cells and empty rows are no tones; base is one by either column. */
static void test_rows(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    print_case_tone(&c, "lake", WW_PART_WHOLE, 0.0)->state = WW_CELL_MISSING;
    print_case_tone(&c, "", WW_PART_WHOLE, 0.0)->state = WW_CELL_MISSING;
    print_case_tone(&c, "", WW_PART_WHOLE, 0.20);
    c.row[4].is_base = true;
    print_case_make("rows", &c, &plan);
    assert_int_equal(plan.paper[0].n_tones, 3);
    test_true("base", print_case_find(&plan.paper[0], "base")->base);
    test_true("lake", !has_tone(&plan, "lake"));
    ww_print_plan_release(&plan);
}

/* Both ends and a whole reading: the mean of the ends stands, and that is said. */
static void test_whole_and_ends(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    print_case_tone(&c, "cloud", WW_PART_WHOLE, 1.10);
    print_case_tone(&c, "cloud", WW_PART_THIN, 1.00);
    print_case_tone(&c, "cloud", WW_PART_DENSE, 1.40);
    print_case_make("ends", &c, &plan);
    test_close("mean", print_case_find(&plan.paper[0], "cloud")->negative, 1.20, 1e-12);
    test_true("said", print_case_noted(&plan, "its whole reading was not used"));
    ww_print_plan_release(&plan);
}

/* Ends changed over within the error of reading are one density: blocked, not refused. */
static void test_ends_alike(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    print_case_tone(&c, "cloud", WW_PART_THIN, 1.21);
    print_case_tone(&c, "cloud", WW_PART_DENSE, 1.20);
    print_case_make("alike", &c, &plan);
    test_true("blocked", print_case_find(&plan.paper[0], "cloud")->verdict == WW_VERDICT_BLOCKED);
    ww_print_plan_release(&plan);
}

/* As thin as the base within the readings' doubt, 0.03 D: allowed. Source: common practice. */
static void test_thin_as_base(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    print_case_tone(&c, "base", WW_PART_WHOLE, 0.24);
    print_case_tone(&c, "hole", WW_PART_WHOLE, 0.215);
    print_case_make("thin", &c, &plan);
    test_true("there", has_tone(&plan, "hole"));
    ww_print_plan_release(&plan);
    c.row[3].cell[WW_COLUMN_VISUAL].value = -0.02;
    c.negative.meta.relative = WW_RELATIVE_BASE; /* the base row is its own density, not the zero */
    print_case_make("relative", &c, &plan);
    test_true("there", has_tone(&plan, "hole"));
    ww_print_plan_release(&plan);
}

/* A refusal names the file and, where `line` is not 0, the row. */
static void refuse(const char *row, const print_case *c, ww_status status, size_t line,
                   const char *words) {
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_print_plan_make(&c->request, &plan, &err), status, &err);
    test_text(row, err.file, "quay.csv");
    assert_true(line == 0 || err.line == line);
    test_holds(row, err.msg, words);
}

static void test_place_of_refusal(void **state) {
    static char name[] = "quay.csv";
    print_case c;
    (void)state;
    start(&c);
    c.negative.file = name;
    print_case_tone(&c, "sea", WW_PART_THIN, 0.90);
    print_case_tone(&c, "sea", WW_PART_DENSE, 0.80);
    c.row[2].line = 17;
    c.row[3].line = 18;
    refuse("changed over", &c, WW_EMISMATCH, 18, "sea");
    print_case_tone(&c, "base", WW_PART_WHOLE, 0.95);
    c.row[2].cell[WW_COLUMN_VISUAL].value = 0.70;
    refuse("under base", &c, WW_EMISMATCH, 0, "base");
}

/* A density without a name is in no table, so it is refused where it stands. Source: definition. */
static void test_nameless(void **state) {
    static char name[] = "quay.csv", label[] = "7";
    print_case c;
    (void)state;
    start(&c);
    c.negative.file = name;
    print_case_tone(&c, "", WW_PART_WHOLE, 1.45);
    c.row[2].line = 4;
    refuse("blank", &c, WW_EINPUT, 4, "this density, 1.45, has no tone");
    c.row[2].step = label;
    refuse("a step", &c, WW_EINPUT, 4, "this density, 1.45, has no tone");
    c.row[2].cell[WW_COLUMN_VISUAL].state = WW_CELL_OVER;
    refuse("over", &c, WW_EINPUT, 4, "this density, over, has no tone");
}

/* What stands in for what the paper sees. Source: conventions. */
static void test_stand_ins(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    print_case_make("visual", &c, &plan);
    test_true("nothing to say", !print_case_noted(&plan, "stand in"));
    ww_print_plan_release(&plan);

    c.negative.meta.status = WW_STATUS_VISUAL;
    c.negative.meta.grain = WW_GRAIN_SILVER;
    print_case_make("silver", &c, &plan);
    test_true("silver is grey", !print_case_noted(&plan, "stand in"));
    ww_print_plan_release(&plan);

    c.negative.meta.grain = WW_GRAIN_UNKNOWN;
    print_case_make("of unknown grain", &c, &plan);
    test_true("may be stained", print_case_noted(&plan, "status visual stand in"));
    ww_print_plan_release(&plan);

    c.negative.has[WW_COLUMN_VISUAL] = false;
    for (size_t i = 0; i < c.negative.n; i++)
        for (int k = WW_COLUMN_RED; k <= WW_COLUMN_BLUE; k++) {
            c.negative.has[k] = true;
            c.row[i].cell[k] = c.row[i].cell[WW_COLUMN_VISUAL];
            c.row[i].cell[k].value += 0.1 * k;
        }
    c.negative.meta.status = WW_STATUS_M;
    print_case_make("RGB", &c, &plan);
    test_true("green", print_case_noted(&plan, "green densities stand in"));
    test_true("status", print_case_noted(&plan, "status M stand in"));
    test_close("green", print_case_find(&plan.paper[0], "face")->negative, 0.90, 1e-12);
    ww_print_plan_release(&plan);

    c.negative.meta.grain = WW_GRAIN_STAINED;
    c.negative.meta.status = WW_STATUS_SCANNER;
    print_case_make("stained", &c, &plan);
    test_true("blue", print_case_noted(&plan, "blue densities stand in"));
    test_true("scanner", print_case_noted(&plan, "status scanner stand in"));
    test_close("blue", print_case_find(&plan.paper[0], "face")->negative, 1.00, 1e-12);
    ww_print_plan_release(&plan);
}

/* Readings relative to the base give the range as absolute ones do. */
static void test_relative(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    c.negative.meta.relative = WW_RELATIVE_BASE;
    c.request.enlarger_flare = 0.01;
    print_case_make("relative", &c, &plan);
    test_true("range", ww_quantity_present(plan.negative_range));
    test_true("no seconds", !plan.paper[0].time_s.set);
    test_true("flare", print_case_noted(&plan, "Flare was counted from the film base"));
    ww_print_plan_release(&plan);
    print_case_tone(&c, "base", WW_PART_WHOLE, 0.24);
    print_case_make("base given", &c, &plan);
    test_true("seconds", plan.paper[0].time_s.set);
    test_true("said", print_case_noted(&plan, "the base row's 0.24 was added"));
    test_close("as read", print_case_find(&plan.paper[0], "face")->negative, 0.80, 0.0);
    ww_print_plan_release(&plan);
}

/* Common practice: a colour print is set by filters and time, of which one time is but the half. */
static void test_colour_paper(void **state) {
    print_case c;
    ww_curve *paper;
    (void)state;
    start(&c);
    paper = print_case_paper(&c, "Tern colour", 1.2, -0.5);
    print_case_says("one layer", &c, "one time cannot set its colour", false);
    for (int k = WW_RED; k <= WW_BLUE; k++)
        paper->channel[k] = paper->channel[WW_VISUAL];
    print_case_says("three", &c,
                    "one time cannot set its colour. Give the first print's readings to balance",
                    true);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_average),      cmocka_unit_test(test_over),
        cmocka_unit_test(test_rows),         cmocka_unit_test(test_whole_and_ends),
        cmocka_unit_test(test_ends_alike),   cmocka_unit_test(test_stand_ins),
        cmocka_unit_test(test_colour_paper), cmocka_unit_test(test_relative),
        cmocka_unit_test(test_thin_as_base), cmocka_unit_test(test_place_of_refusal),
        cmocka_unit_test(test_nameless),
    };
    return cmocka_run_group_tests_name("print_tones", tests, NULL, NULL);
}
