/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "support/print_case.h"
#include "support/real_paper.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

/* Labels as they stand on boxes, filters and dials. Source: common practice. */
static void test_numbers(void **state) {
    static const struct {
        const char *label, *word;
        bool has;
        double number;
    } rows[] = {
        {"2", "", true, 2.0},
        {"filter 3", "filter", true, 3.0},
        {"grade 3 1/2", "grade", true, 3.5},
        {"2.5", "", true, 2.5},
        {"Filter 1\xC2\xBD", "Filter", true, 1.5},
        {"00", "", true, -1.0},
        {"filter 0", "filter", true, 0.0},
        {"soft", "", false, 0.0},
        {"", "", false, 0.0},
        {"2 and 3", "", false, 0.0},
        {"60Y", "", false, 0.0},
        {"12345678901234567890", "", false, 0.0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char word[48] = "";
        double number = 0.0;
        test_true(rows[i].label, ww__print_halves_number(rows[i].label, word, sizeof word,
                                                         &number) == rows[i].has);
        if (!rows[i].has)
            continue;
        test_text(rows[i].label, word, rows[i].word);
        test_close(rows[i].label, number, rows[i].number, 0.0);
    }
}

static char filter_2[] = "filter 2", filter_3[] = "filter 3", filter_4[] = "filter 4";
static char filter_00[] = "filter 00", filter_0[] = "filter 0", grade_3[] = "3", lot[] = "B";

/* Two filters on one paper, R 110 and 90 as a maker publishes them for filters 2 and 3. */
static void start(print_case *c) {
    print_case_start(c);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.31);
    print_case_tone(c, "wall", WW_PART_WHOLE, 0.77);
    print_case_tone(c, "cloud", WW_PART_WHOLE, 1.31);
    print_case_paper(c, "gloss", 1.10, 0.02)->meta.contrast = filter_2;
    print_case_paper(c, "gloss", 0.90, 0.13)->meta.contrast = filter_3;
    print_case_place(c, "cloud", 0.04);
}

static const ww_print_paper *find(const ww_print_plan *plan, const char *contrast) {
    for (size_t i = 0; i < plan->n_papers; i++)
        if (strcmp(plan->paper[i].contrast, contrast) == 0)
            return &plan->paper[i];
    return NULL;
}

/*
 * Half-way between logistic papers of one white and black at every share of the range lies the
 * logistic paper of the mean range and the mean middle: closed form. R 100 for the half filter is
 * what makers give (from memory).
 */
static void test_half_way(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    const ww_print_paper *half;
    (void)state;
    start(&c);
    print_case_make("half", &c, &plan);
    assert_int_equal(plan.n_papers, 3);
    half = find(&plan, "filter 2.5");
    assert_non_null(half);
    test_true("marked", half->interpolated && !half->nominal && half->own_curve);
    test_text("name", half->paper, "gloss");
    test_text("why first", plan.paper[0].contrast, "filter 2.5"); /* the negative gives 1.00 */
    test_true("said", print_case_noted(&plan, "'filter 2.5' was not measured"));
    test_close("R 100", half->paper_range.value, 1.00, 0.003);
    test_close("time", half->time_s.value, pow(10.0, print_case_log_h(1.00, 0.075, 0.04) + 1.31),
               0.005 * half->time_s.value);
    test_close("wall", print_case_find(half, "wall")->print.value,
               print_case_net(1.00, 0.075, print_case_log_h(1.00, 0.075, 0.04) + 1.31 - 0.77),
               0.005);
    test_close("shadow", print_case_find(half, "shadow")->print.value, 1.80, 0.005);
    for (double net = 0.02; net < 1.96; net += 0.0731) {
        double log_h = 0.0;
        test_true("reach", ww_curve_log_h(&half->own_curve->channel[WW_VISUAL], 0.05 + net, &log_h,
                                          NULL) == WW_OK);
        test_close("curve", log_h, print_case_log_h(1.00, 0.075, net), 0.004);
    }
    test_true("the measured bring none", !find(&plan, "filter 2")->own_curve);
    ww_print_plan_release(&plan);
}

/* What was measured comes before what was not, where both match alike. */
static void test_measured_first(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    c.row[0].cell[WW_COLUMN_VISUAL].value = 0.35; /* the negative gives 0.96 */
    c.paper[0].channel[WW_VISUAL].shape.parameter[2] = (log(49.0) + log(9.0)) / 1.00;
    print_case_make("like", &c, &plan);
    test_text("measured", plan.paper[0].contrast, "filter 2");
    test_text("nearer", plan.paper[1].contrast, "filter 2.5");
    test_true("nearer", fabs(plan.paper[1].mismatch) < fabs(plan.paper[0].mismatch));
    ww_print_plan_release(&plan);
}

static void other_name(print_case *c) {
    static char matt[] = "matt";
    c->paper[1].meta.name = matt;
}
static void other_lot(print_case *c) {
    c->paper[1].meta.lot = lot;
}
static void other_unit(print_case *c) {
    c->paper[1].meta.exposure_unit = WW_UNIT_LUX_SECOND;
}
static void other_way(print_case *c) {
    c->paper[1].meta.read = WW_READ_WET;
}
static void other_word(print_case *c) {
    c->paper[1].meta.contrast = grade_3;
}
static void two_apart(print_case *c) {
    c->paper[1].meta.contrast = filter_4;
}
static void no_label(print_case *c) {
    c->paper[1].meta.contrast = NULL;
}
static void half_measured(print_case *c) {
    static char half[] = "filter 2 1/2";
    print_case_paper(c, "gloss", 1.01, 0.08)->meta.contrast = half;
}
static void no_common_range(print_case *c) {
    c->paper[0].channel[WW_VISUAL].domain_high = print_case_log_h(1.10, 0.02, 0.5);
    c->paper[0].channel[WW_VISUAL].figure[WW_FIGURE_DMAX].how = WW_ABSENT;
    c->paper[1].channel[WW_VISUAL].domain_low = print_case_log_h(0.90, 0.13, 1.99);
}

/* Only neighbours of one paper, lot, unit and way of reading have something between them. */
static void test_kin(void **state) {
    static const struct {
        const char *name;
        void (*spoil)(print_case *c);
        size_t sheets;
    } rows[] = {
        {"another paper", other_name, 2},
        {"another lot", other_lot, 2},
        {"another unit", other_unit, 2},
        {"wet and dry", other_way, 2},
        {"grade, filter", other_word, 2},
        {"two apart", two_apart, 2},
        {"no label", no_label, 2},
        {"the half was measured", half_measured, 3},
        {"no common range", no_common_range, 2},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        print_case c;
        ww__print_sheets sheets = WW__PRINT_SHEETS_INIT;
        ww_notes notes = WW_NOTES_INIT;
        start(&c);
        rows[i].spoil(&c);
        assert_int_equal(ww__print_papers_read(&c.request, &sheets, &notes, NULL), WW_OK);
        if (sheets.n != rows[i].sheets)
            fail_msg("%s: %zu papers, want %zu", rows[i].name, sheets.n, rows[i].sheets);
        /* Neighbours that could not be joined are told. */
        test_true(rows[i].name,
                  (notes.n > 0 && strstr(notes.text[0], "Nothing was taken half-way between "
                                                        "'filter 2' and 'filter 3' of 'gloss'")) ==
                      (rows[i].spoil == no_common_range));
        ww__print_sheets_release(&sheets);
        ww_notes_release(&notes);
    }
}

/* 00 is the filter below 0. */
static void test_below_0(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    c.paper[0].meta.contrast = filter_00;
    c.paper[1].meta.contrast = filter_0;
    print_case_make("00", &c, &plan);
    assert_int_equal(plan.n_papers, 3);
    assert_non_null(find(&plan, "filter 00 to 0"));
    ww_print_plan_release(&plan);
}

/* A paper that is given twice is one paper. */
static void test_twice(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    print_case_paper(&c, "gloss", 1.10, 0.02)->meta.contrast = filter_2;
    print_case_make("twice", &c, &plan);
    assert_int_equal(plan.n_papers, 3);
    test_true("said", print_case_noted(&plan, "'gloss' was given twice and is listed once."));
    ww_print_plan_release(&plan);
}

/*
 * The doubt of a half: both neighbours' own, and a tenth of the way between them. Source: project
 * convention; log H 0.02 - ln(49)/s and so on are the closed form.
 */
static void test_doubt(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    const double apart =
        fabs(print_case_log_h(0.90, 0.13, 0.04) - print_case_log_h(1.10, 0.02, 0.04));
    const double s[] = {6.089045 / 1.10, 6.089045 / 0.90};
    const double slope[] = {s[0] * 0.04 * (1.0 - 0.02), s[1] * 0.04 * (1.0 - 0.02)};
    double width;
    (void)state;
    start(&c);
    print_case_make("no covariance", &c, &plan);
    test_close("the way", print_case_budget(find(&plan, "filter 2.5"), "paper fit"),
               0.1 * apart / log10(2.0), 1e-4);
    ww_print_plan_release(&plan);
    print_case_white_sd(&c, &c.paper[0], 0.003);
    print_case_white_sd(&c, &c.paper[1], 0.003);
    print_case_make("covariance", &c, &plan);
    width = 1.959964 * 0.5 * hypot(0.003 / slope[0], 0.003 / slope[1]);
    test_close("and both", print_case_budget(find(&plan, "filter 2.5"), "paper fit"),
               hypot(width, 0.1 * apart) / log10(2.0), 2e-3);
    ww_print_plan_release(&plan);
}

/* Where on a real paper, by its points, a share of its range is reached. */
static double real_log_h(const real_paper *p, double share) {
    const double white = p->density[0], dmax = p->density[p->n - 1] - white;
    double low = p->log_h[0], high = p->log_h[p->n - 1];
    for (int i = 0; i < 50; i++) {
        const double middle = 0.5 * (low + high);
        if (real_paper_density(p, middle) < white + share * dmax)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/*
 * Half-way between two grades of a real paper, taken for neighbours: at each share of the range the
 * mean of their log H, by their digitised points. 0.02 D, by the slope there, for those points and
 * two fits.
 */
static void test_real_halves(void **state) {
    static const char *const files[] = {"curves/kodak_polymax_fine_art_paper_grade_0.csv",
                                        "curves/kodak_polymax_fine_art_paper_grade_2.csv",
                                        "curves/kodak_polymax_fine_art_paper_grade_4.csv"};
    static char name[] = "real", label[][2] = {"1", "2", "3"};
    real_paper p[3];
    print_case c;
    ww__print_sheets sheets = WW__PRINT_SHEETS_INIT;
    ww_notes notes = WW_NOTES_INIT;
    (void)state;
    print_case_start(&c);
    for (size_t i = 0; i < 3; i++)
        if (!real_paper_read(files[i], "vis", &p[i]))
            skip();
    for (size_t i = 0; i < 3; i++) {
        c.paper[i] = (ww_curve)WW_CURVE_INIT;
        c.list[i] = &c.paper[i];
        real_paper_fit(&p[i], &c.paper[i]);
        c.paper[i].meta.name = name;
        c.paper[i].meta.contrast = label[i];
    }
    c.request.n_papers = 3;
    assert_int_equal(ww__print_papers_read(&c.request, &sheets, &notes, NULL), WW_OK);
    assert_int_equal(sheets.n, 5);
    for (size_t i = 3; i < 5; i++)
        for (double share = 0.02; share < 0.95; share += 0.031) {
            const double want = 0.5 * (real_log_h(&p[i - 3], share) + real_log_h(&p[i - 2], share));
            double net = 0.0;
            test_true("measured", ww__print_papers_net(&sheets.sheet[i], want, &net, NULL));
            test_close("half", net, share * sheets.sheet[i].dmax, 0.02);
        }
    ww__print_sheets_release(&sheets);
    ww_notes_release(&notes);
    for (size_t i = 0; i < 3; i++) {
        c.paper[i].meta.name = c.paper[i].meta.contrast = NULL;
        ww_curve_release(&c.paper[i]);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_numbers), cmocka_unit_test(test_half_way),
        cmocka_unit_test(test_kin),     cmocka_unit_test(test_measured_first),
        cmocka_unit_test(test_below_0), cmocka_unit_test(test_twice),
        cmocka_unit_test(test_doubt),   cmocka_unit_test(test_real_halves),
    };
    return cmocka_run_group_tests_name("print_halves", tests, NULL, NULL);
}
