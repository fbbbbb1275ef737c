/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_case.h"
#include "support/support.h"
#include <string.h>

/*
 * Which tones set time and contrast, and over which aims the paper is measured. Source of the
 * rules: conventions; of the ranges: closed form of the logistic paper of range 1.05.
 */
typedef struct ends_row {
    const char *name;
    struct {
        const char *tone;
        double aim;
    } place[3];
    const char *dense, *thin;   /* ends; thin "" where one tone sets no contrast */
    double light_aim, dark_aim; /* between which the paper is measured */
} ends_row;

#define BLACK 1.8 /* 90 % of net D-max 2.0 */

static const ends_row rows[] = {
    {"nothing placed", {{NULL, 0}}, "cloud", "shadow", 0.08, BLACK},
    {"the cloud placed", {{"cloud", 0.12}}, "cloud", "shadow", 0.12, BLACK},
    {"the face placed", {{"face", 0.60}}, "face", "shadow", 0.60, BLACK},
    {"cloud and shadow", {{"cloud", 0.10}, {"shadow", 1.65}}, "cloud", "shadow", 0.10, 1.65},
    {"cloud and face", {{"cloud", 0.10}, {"face", 0.65}}, "cloud", "face", 0.10, 0.65},
    {"shadow first", {{"shadow", 1.65}, {"cloud", 0.10}}, "cloud", "shadow", 0.10, 1.65},
    {"face first of three",
     {{"face", 0.60}, {"cloud", 0.10}, {"shadow", 1.60}},
     "face",
     "shadow",
     0.60,
     1.60},
    {"the shadow alone", {{"shadow", 1.65}}, "cloud", "shadow", 0.08, 1.65},
    {"the shadow alone, as light as the densest", {{"shadow", 0.06}}, "shadow", "", 0.06, BLACK},
    {"two of one aim", {{"cloud", 0.10}, {"face", 0.10}}, "cloud", "shadow", 0.10, BLACK},
};

static void start(print_case *c) {
    print_case_start(c);
    print_case_tone(c, "base", WW_PART_WHOLE, 0.20);
    print_case_tone(c, "face", WW_PART_WHOLE, 0.90);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.40);
    print_case_tone(c, "cloud", WW_PART_WHOLE, 1.35);
    print_case_paper(c, "logistic", 1.05, 0.3);
}

static double density_of(const print_case *c, const char *tone) {
    for (size_t i = 0; i < c->negative.n; i++)
        if (strcmp(c->row[i].tone, tone) == 0)
            return c->row[i].cell[WW_COLUMN_VISUAL].value;
    return 0.0;
}

static void test_ends(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ends_row *row = &rows[i];
        const double paper_range = print_case_log_h(1.05, 0.3, row->dark_aim) -
                                   print_case_log_h(1.05, 0.3, row->light_aim);
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        start(&c);
        for (size_t k = 0; k < 3 && row->place[k].tone; k++)
            print_case_place(&c, row->place[k].tone, row->place[k].aim);
        print_case_make(row->name, &c, &plan);
        test_text(row->name, plan.dense_tone, row->dense);
        test_text(row->name, plan.thin_tone, row->thin);
        test_close(row->name, plan.paper[0].paper_range.value, paper_range, 1e-8);
        test_true(row->name, ww_quantity_present(plan.negative_range) == (row->thin[0] != '\0'));
        if (row->thin[0] != '\0') {
            const double range = density_of(&c, row->dense) - density_of(&c, row->thin);
            test_close(row->name, plan.negative_range.value, range, 1e-12);
            test_close(row->name, plan.paper[0].mismatch, paper_range - range, 1e-8);
        }
        /* The first placed tone is where it was placed. */
        if (row->place[0].tone)
            test_close(row->name, print_case_find(&plan.paper[0], row->place[0].tone)->print.value,
                       row->place[0].aim, 1e-9);
        test_true(row->name, !print_case_find(&plan.paper[0], "base")->aim.set);
        ww_print_plan_release(&plan);
    }
}

/* The middle of a placed tone that was read at both ends is their mean. */
static void test_placed_mean(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    const ww_print_tone *tone;
    (void)state;
    start(&c);
    c.row[3].part = WW_PART_THIN;
    print_case_tone(&c, "cloud", WW_PART_DENSE, 1.55);
    print_case_place(&c, "cloud", 0.10);
    print_case_make("mean", &c, &plan);
    tone = print_case_find(&plan.paper[0], "cloud");
    test_close("print", tone->print.value, 0.10, 1e-9);
    test_close("thin", tone->print_thin.value,
               print_case_net(1.05, 0.3, print_case_log_h(1.05, 0.3, 0.10) + 0.10), 1e-9);
    test_close("dense", tone->print_dense.value,
               print_case_net(1.05, 0.3, print_case_log_h(1.05, 0.3, 0.10) - 0.10), 1e-9);
    ww_print_plan_release(&plan);
}

/* A negative of one tone: a time, but no advice on contrast; the normal nominal grade stands. */
static void test_one_tone(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    print_case_start(&c);
    print_case_tone(&c, "fog", WW_PART_WHOLE, 0.90);
    print_case_tone(&c, "base", WW_PART_WHOLE, 0.20);
    print_case_paper(&c, "logistic", 1.05, 0.3);
    print_case_make("one tone", &c, &plan);
    test_true("time", plan.paper[0].time_s.set);
    test_true("no range", !ww_quantity_present(plan.negative_range));
    test_true("said", print_case_noted(&plan, "'fog' alone sets no contrast"));
    ww_print_plan_release(&plan);
    c.request.n_papers = 0;
    print_case_make("one tone, nominal", &c, &plan);
    test_text("normal grade", plan.paper[0].contrast, "2");
    ww_print_plan_release(&plan);
}

/* Two tones alike and a third: the first is the thinnest, so the densest is the other end. */
static void test_two_thinnest(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    print_case_tone(&c, "coat", WW_PART_WHOLE, 0.40);
    print_case_place(&c, "shadow", 1.60);
    print_case_make("alike", &c, &plan);
    test_text("dense", plan.dense_tone, "cloud");
    test_text("thin", plan.thin_tone, "shadow");
    ww_print_plan_release(&plan);
}

/* A denser tone that is to print darker needs a hand; the one that sets the time stays placed.
 * Source: common practice, a sky burned in below a wall. */
static void test_wrong_way(void **state) {
    static const struct {
        const char *first, *second;
        double first_aim, second_aim;
        const char *words;
    } wrong[] = {
        {"face", "cloud", 0.10, 0.20,
         "leave 'cloud' out of --place and burn it by hand, under \"moves\" in the recipe"},
        {"cloud", "face", 0.20, 0.10, "leave 'face' out of --place and dodge it by hand"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        ww_error err = WW_ERROR_INIT;
        start(&c);
        print_case_place(&c, wrong[i].first, wrong[i].first_aim);
        print_case_place(&c, wrong[i].second, wrong[i].second_aim);
        test_status(wrong[i].first, ww_print_plan_make(&c.request, &plan, &err), WW_EDOMAIN, &err);
        test_holds(wrong[i].first, err.msg, wrong[i].words);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_ends),      cmocka_unit_test(test_placed_mean),
        cmocka_unit_test(test_one_tone),  cmocka_unit_test(test_two_thinnest),
        cmocka_unit_test(test_wrong_way),
    };
    return cmocka_run_group_tests_name("print_placing", tests, NULL, NULL);
}
