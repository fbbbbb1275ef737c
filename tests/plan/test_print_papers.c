/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "support/print_case.h"
#include "support/real_paper.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

/* R of the nominal grades. Source: middles of the table of grades, see wedgework/paper.h. */
static void test_nominal(void **state) {
    static const double iso_range[] = {155, 128, 105, 88, 73, 58};
    print_case c;
    ww__print_sheets sheets = WW__PRINT_SHEETS_INIT;
    ww_notes notes = WW_NOTES_INIT;
    ww_error err = WW_ERROR_INIT;
    bool seen[6] = {false};
    (void)state;
    print_case_start(&c);
    test_status("nominal", ww__print_papers_read(&c.request, &sheets, &notes, &err), WW_OK, &err);
    assert_int_equal(sheets.n, 6);
    for (size_t i = 0; i < sheets.n; i++) {
        const ww__print_sheet *sheet = &sheets.sheet[i];
        const int grade = sheet->curve->meta.contrast[0] - '0';
        double light = 0.0, dark = 0.0, middle = 0.0;
        assert_in_range(grade, 0, 5);
        seen[grade] = true;
        test_true("reach", ww__print_papers_log_h(sheet, 0.04, &light) &&
                               ww__print_papers_log_h(sheet, 1.80, &dark) &&
                               ww__print_papers_log_h(sheet, 1.0, &middle));
        test_close(sheet->name, 100.0 * (dark - light), iso_range[grade], 1e-6);
        /* Logistic paper, closed form: net 0.04 lies ln 49/s below the middle. */
        test_close(sheet->name, middle - light, log(49.0) / (6.089045 / (iso_range[grade] / 100.0)),
                   1e-6);
        test_close(sheet->name, sheet->dmax, 2.0, 1e-12);
        test_close(sheet->name, sheet->white, 0.05, 1e-12);
        test_true("black", sheet->black_measured && sheet->nominal);
    }
    for (size_t i = 0; i < 6; i++)
        test_true("every grade", seen[i]);
    test_true("said loudly", notes.n == 1 && strstr(notes.text[0], "NOMINAL"));
    ww__print_sheets_release(&sheets);
    ww_notes_release(&notes);
}

/* Paper white: the base row's or fitted figure, 0 where the paper is relative to it, else the
 * shape's own; black: D-max, else the darkest step. */
static void test_white_and_black(void **state) {
    print_case c;
    ww__print_sheets sheets = WW__PRINT_SHEETS_INIT;
    ww_notes notes = WW_NOTES_INIT;
    ww_channel_curve *channel;
    (void)state;
    print_case_start(&c);
    print_case_paper(&c, "measured", 1.05, 0.0)->channel[WW_VISUAL].figure[WW_FIGURE_BASE_FOG] =
        (ww_quantity){0.07, 0.06, 0.08, WW_MEASURED};
    channel = print_case_paper(&c, "relative", 1.05, 0.0)->channel;
    c.paper[1].meta.relative = WW_RELATIVE_WHITE;
    channel = print_case_paper(&c, "bare", 1.05, 0.0)->channel;
    channel[WW_VISUAL].figure[WW_FIGURE_BASE_FOG].how = WW_ABSENT;
    channel[WW_VISUAL].figure[WW_FIGURE_DMAX].how = WW_ABSENT;
    channel[WW_VISUAL].domain_high = print_case_log_h(1.05, 0.0, 1.5);
    assert_int_equal(ww__print_papers_read(&c.request, &sheets, &notes, NULL), WW_OK);
    test_close("measured white", sheets.sheet[0].white, 0.07, 0.0);
    test_close("measured black", sheets.sheet[0].dmax, 1.98, 1e-12);
    test_close("relative to white", sheets.sheet[1].white, 0.0, 0.0);
    test_close("shape's white", sheets.sheet[2].white, 0.05, 0.0);
    test_close("darkest step", sheets.sheet[2].dmax, 1.5, 1e-9);
    test_true("stands in", !sheets.sheet[2].black_measured);
    ww__print_sheets_release(&sheets);
    ww_notes_release(&notes);
}

/* Papers that can't be planned for are left out by name; the rest goes on. */
static void test_left_out(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    print_case_start(&c);
    print_case_tone(&c, "shadow", WW_PART_WHOLE, 0.40);
    print_case_tone(&c, "cloud", WW_PART_WHOLE, 1.35);
    print_case_paper(&c, "unfitted", 1.05, 0.0)->channel[WW_VISUAL].fitted = false;
    print_case_paper(&c, "level", 1.05, 0.0)->channel[WW_VISUAL].figure[WW_FIGURE_DMAX] =
        (ww_quantity){0.05, 0.05, 0.05, WW_MEASURED};
    print_case_paper(&c, "no toe", 1.05, 0.0)->channel[WW_VISUAL].domain_low =
        print_case_log_h(1.05, 0.0, 0.2);
    print_case_paper(&c, NULL, 1.05, 0.0);
    print_case_make("left out", &c, &plan);
    assert_int_equal(plan.n_papers, 1);
    test_text("named by its place", plan.paper[0].paper, "paper 2");
    test_text("no contrast", plan.paper[0].contrast, "");
    test_true("unfitted", print_case_noted(&plan, "'unfitted' was left out"));
    test_true("level", print_case_noted(&plan, "'level' was left out"));
    test_true("no toe",
              print_case_noted(&plan, "'no toe' was left out: it was measured from 0.20"));
    ww_print_plan_release(&plan);
}

/* Statuses: one unknown goes with any; a paper in RGB is taken by its green curve. */
static void test_status_and_channel(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    ww_curve *curve;
    (void)state;
    print_case_start(&c);
    print_case_tone(&c, "shadow", WW_PART_WHOLE, 0.40);
    print_case_tone(&c, "cloud", WW_PART_WHOLE, 1.35);
    print_case_paper(&c, "unknown", 1.3, 0.0);
    curve = print_case_paper(&c, "coloured", 1.05, 0.0);
    curve->meta.status = WW_STATUS_A;
    curve->channel[WW_RED] = curve->channel[WW_GREEN] = curve->channel[WW_BLUE] =
        curve->channel[WW_VISUAL];
    curve->channel[WW_GREEN].shape.parameter[3] = 0.4; /* told apart by speed */
    curve->channel[WW_VISUAL] = (ww_channel_curve){.present = false};
    print_case_place(&c, "cloud", 0.10);
    print_case_make("statuses", &c, &plan);
    test_text("green", plan.paper[0].paper, "coloured");
    test_close("green", plan.paper[0].time_s.value,
               pow(10.0, print_case_log_h(1.05, 0.4, 0.10) + 1.35), 1e-6);
    test_true("said", print_case_noted(&plan, "green densities of 'coloured' stand in"));
    ww_print_plan_release(&plan);
}

/* The message about a curve that is no paper names its file, also where it has no name itself. */
static void test_file(void **state) {
    static const char *const files[] = {"grade2.json", "film.json"};
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    print_case_start(&c);
    print_case_tone(&c, "cloud", WW_PART_WHOLE, 1.30);
    print_case_paper(&c, "paper", 1.05, 0.0);
    print_case_paper(&c, "", 1.05, 0.0)->meta.material = WW_MATERIAL_FILM;
    c.request.paper_file = files;
    test_status("film", ww_print_plan_make(&c.request, &plan, &err), WW_EMISMATCH, &err);
    test_text("file", err.file, "film.json");
    test_true("no empty name", strstr(err.msg, "this is the curve of a film") == err.msg);
}

/* Each nominal paper of a plan brings its own curve, of the R above; a measured one brings none. */
static void test_nominal_curve(void **state) {
    static const double iso_range[] = {155, 128, 105, 88, 73, 58};
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    print_case_start(&c);
    print_case_tone(&c, "shadow", WW_PART_WHOLE, 0.40);
    print_case_tone(&c, "cloud", WW_PART_WHOLE, 1.35);
    print_case_make("nominal", &c, &plan);
    assert_int_equal(plan.n_papers, 6);
    for (size_t i = 0; i < plan.n_papers; i++) {
        const ww_print_paper *paper = &plan.paper[i];
        double light = 0.0, dark = 0.0;
        assert_non_null(paper->own_curve);
        test_text("grade", paper->own_curve->meta.contrast, paper->contrast);
        test_true("reach", ww_curve_log_h(&paper->own_curve->channel[WW_VISUAL], 0.05 + 0.04,
                                          &light, NULL) == WW_OK &&
                               ww_curve_log_h(&paper->own_curve->channel[WW_VISUAL], 0.05 + 1.80,
                                              &dark, NULL) == WW_OK);
        test_close(paper->paper, 100.0 * (dark - light), iso_range[paper->contrast[0] - '0'], 1e-6);
    }
    ww_print_plan_release(&plan);
    print_case_paper(&c, "measured", 1.05, 0.0);
    print_case_make("measured", &c, &plan);
    assert_null(plan.paper[0].own_curve);
    ww_print_plan_release(&plan);
}

/* What a net density may be off by: the fit, the white that was read, and half of what single steps
 * are off by. Source: root sum of squares; project convention. */
static void test_sd(void **state) {
    print_case c;
    ww__print_sheets sheets = WW__PRINT_SHEETS_INIT;
    ww_notes notes = WW_NOTES_INIT;
    ww_channel_curve *channel;
    double sd = 0.0;
    (void)state;
    print_case_start(&c);
    channel = &print_case_paper(&c, "paper", 1.05, 0.0)->channel[WW_VISUAL];
    print_case_white_sd(&c, &c.paper[0], 0.004);
    channel->residual_rms = 0.012;
    channel->figure[WW_FIGURE_BASE_FOG] =
        (ww_quantity){0.05, 0.05 - 1.959964 * 0.005, 0.05 + 1.959964 * 0.005, WW_MEASURED};
    assert_int_equal(ww__print_papers_read(&c.request, &sheets, &notes, NULL), WW_OK);
    test_true("known", ww__print_papers_sd(&sheets.sheet[0], 0.1, &sd));
    test_close("sd", sd, sqrt(0.004 * 0.004 + 0.005 * 0.005 + 0.006 * 0.006), 1e-8);
    test_true("beyond", !ww__print_papers_sd(&sheets.sheet[0], 1.7, &sd));
    ww__print_sheets_release(&sheets);
    ww_notes_release(&notes);
}

/* ------------------------------------------------------------------------------- real papers */

/*
 * Tones placed at each point of a real paper's curve come out there: within 0.01 D in the
 * highlights (to net 0.30) and 0.03 D beyond. Source: three grades of one paper, digitised from its
 * maker's data sheet; the exposure is the time planned, through the density of the negative.
 */
static void test_real_papers(void **state) {
    static const char *const files[] = {"curves/kodak_polymax_fine_art_paper_grade_0.csv",
                                        "curves/kodak_polymax_fine_art_paper_grade_2.csv",
                                        "curves/kodak_polymax_fine_art_paper_grade_4.csv"};
    (void)state;
    for (size_t f = 0; f < sizeof files / sizeof files[0]; f++) {
        real_paper p;
        print_case c;
        if (!real_paper_read(files[f], "vis", &p))
            skip();
        print_case_start(&c);
        c.paper[0] = (ww_curve)WW_CURVE_INIT;
        c.list[0] = &c.paper[0];
        c.request.n_papers = 1;
        c.request.timer_step_s = 0.001;
        real_paper_fit(&p, &c.paper[0]);
        for (size_t i = 1; i + 1 < p.n; i++) {
            const double white = p.density[0], aim = p.density[i] - white;
            const double dmax = p.density[p.n - 1] - white;
            ww_print_plan plan = WW_PRINT_PLAN_INIT;
            if (aim < 0.02 || aim > 0.95 * dmax)
                continue;
            c.negative.n = 0;
            c.request.n_places = 0;
            print_case_tone(&c, "shadow", WW_PART_WHOLE, 0.31);
            print_case_tone(&c, "cloud", WW_PART_WHOLE, 1.27);
            print_case_place(&c, "cloud", aim);
            print_case_make(files[f], &c, &plan);
            if (!plan.paper[0].time_s.set)
                fail_msg("%s: no time at %g: %s", files[f], aim, plan.paper[0].no_time);
            const double out =
                real_paper_density(&p, log10(plan.paper[0].time_s.value) - 1.27) - white;
            test_close(files[f], out, aim, aim <= 0.30 ? 0.01 : 0.03);
            ww_print_plan_release(&plan);
        }
        ww_curve_release(&c.paper[0]);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_nominal),  cmocka_unit_test(test_white_and_black),
        cmocka_unit_test(test_left_out), cmocka_unit_test(test_status_and_channel),
        cmocka_unit_test(test_file),     cmocka_unit_test(test_nominal_curve),
        cmocka_unit_test(test_sd),       cmocka_unit_test(test_real_papers),
    };
    return cmocka_run_group_tests_name("print_papers", tests, NULL, NULL);
}
