/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_case.h"
#include "support/support.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

static char gloss[] = "gloss", matt[] = "matt", filter_2[] = "filter 2", filter_3[] = "filter 3";
static char lot_a[] = "A", lot_b[] = "B", empty[] = "";

static void start(print_case *c) {
    print_case_start(c);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.35);
    print_case_tone(c, "wall", WW_PART_WHOLE, 0.92);
    print_case_tone(c, "cloud", WW_PART_WHOLE, 1.39);
    ww_curve *paper = print_case_paper(c, "gloss", 1.05, 0.3);
    paper->meta.contrast = filter_2;
    paper->meta.lot = lot_a;
    print_case_place(c, "cloud", 0.10);
    c->request.from_scale = (ww_optional){true, 3.0};
    c->request.scale = (ww_optional){true, 3.0};
}

/* Which entry counts: by the doc block of ww_print_offset, one that does not match never, the
 * closest before a vaguer one, of equals the one with more prints. `want` is its place, -1 for
 * none. */
static const struct {
    const char *name;
    ww_print_offset entry[3];
    size_t n;
    bool tested;
    int want;
} which_rows[] = {
    {"none", {{.log_h = 0.1}}, 0, false, -1},
    {"anything", {{.log_h = 0.1}}, 1, false, 0},
    {"empty texts", {{.paper = empty, .contrast = empty, .lot = empty}}, 1, false, 0},
    {"all of it",
     {{.paper = gloss, .contrast = filter_2, .lot = lot_a, .scale = {true, 3.0}}},
     1,
     false,
     0},
    {"another paper", {{.paper = matt}}, 1, false, -1},
    {"another filter", {{.paper = gloss, .contrast = filter_3}}, 1, false, -1},
    {"another lot", {{.paper = gloss, .lot = lot_b}}, 1, false, -1},
    {"another size", {{.paper = gloss, .scale = {true, 3.1}}}, 1, false, -1},
    {"the closest",
     {{.prints = 9}, {.paper = gloss, .lot = lot_a, .prints = 1}, {.paper = gloss, .prints = 4}},
     3,
     false,
     1},
    {"more prints",
     {{.paper = gloss, .prints = 1}, {.paper = gloss, .prints = 3}, {.lot = lot_a, .prints = 2}},
     3,
     false,
     1},
    {"without a test print", {{.tested = true}}, 1, false, -1},
    {"with one", {{.tested = false}, {.tested = true}}, 2, true, 1},
};

static void test_which(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof which_rows / sizeof which_rows[0]; i++) {
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        ww_print_offset entry[3];
        double plain;
        start(&c);
        if (which_rows[i].tested) {
            c.request.test[0] = (ww_print_test){10.0, "cloud", 0.10};
            c.request.n_tests = 1;
        }
        print_case_make("plain", &c, &plan);
        plain = plan.paper[0].time_s.value;
        ww_print_plan_release(&plan);
        for (size_t k = 0; k < 3; k++) {
            entry[k] = which_rows[i].entry[k];
            entry[k].log_h = 0.05 + 0.03 * (double)k;
            entry[k].sd = 0.01;
        }
        c.request.offset = entry;
        c.request.n_offsets = which_rows[i].n;
        print_case_make(which_rows[i].name, &c, &plan);
        /* The paper gets 10^log_h more than foretold: definition. */
        test_close(which_rows[i].name, log10(plain / plan.paper[0].time_s.value),
                   which_rows[i].want < 0 ? 0.0 : 0.05 + 0.03 * which_rows[i].want, 1e-9);
        if (which_rows[i].want >= 0)
            test_close("doubt", print_case_budget(&plan.paper[0], "earlier prints"),
                       1.959964 * 0.01 / log10(2.0), 1e-6);
        ww_print_plan_release(&plan);
    }
}

/*
 * A paper that turned out harder: the logistic paper of that range, and the tone that sets the time
 * stays where it is. Closed form; so are its times, tones and burns.
 */
static void test_range(void **state) {
    static const double range[] = {1.05, 0.93, 1.19};
    (void)state;
    for (size_t i = 0; i < sizeof range / sizeof range[0]; i++) {
        const double first = print_case_log_h(1.05, 0.3, 0.10);
        const double x0 = first - print_case_log_h(range[i], 0.0, 0.10);
        const ww_print_offset entry = {.paper = gloss, .range = 1.05 - range[i], .prints = 2};
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        const ww_print_tone *wall;
        start(&c);
        print_case_place(&c, "wall", 0.60);
        c.request.offset = &entry;
        c.request.n_offsets = 1;
        print_case_make("range", &c, &plan);
        test_close("time", log10(plan.paper[0].time_s.value), first + 1.39, 1e-9);
        test_close("shadow", print_case_find(&plan.paper[0], "shadow")->print.value,
                   print_case_net(range[i], x0, first + 1.39 - 0.35), 1e-9);
        wall = print_case_find(&plan.paper[0], "wall");
        test_close("burn", wall->burn_stops.value,
                   (print_case_log_h(range[i], x0, 0.60) - (first + 1.39 - 0.92)) / log10(2.0),
                   1e-9);
        test_close("range", plan.paper[0].paper_range.value,
                   print_case_log_h(range[i], x0, 0.60) - first, 1e-9);
        /* The local slope is that of the harder paper: 0.01 D on the negative and at the aim. */
        test_close("readings", print_case_budget(&plan.paper[0], "readings"),
                   1.959964 / log10(2.0) * hypot(0.01, 0.01 / (6.089045 / range[i] * 0.10 * 0.95)),
                   1e-6);
        ww_print_plan_release(&plan);
    }
}

/* What prints taught was learned with the paper's log h0 as it is: its error is in the offset. */
static void test_log_h0(void **state) {
    const ww_print_offset entry = {.paper = gloss, .sd = 0.01, .prints = 1};
    print_case c;
    (void)state;
    for (size_t taught = 0; taught < 2; taught++) {
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        bool counts = false;
        start(&c);
        c.paper[0].meta.log_h0_sd = (ww_optional){true, 0.05};
        c.request.offset = &entry;
        c.request.n_offsets = taught;
        print_case_make("log h0", &c, &plan);
        for (size_t i = 0; i < plan.paper[0].n_budget; i++)
            counts = counts || strcmp(plan.paper[0].budget[i].from, "log h0") == 0;
        test_true("counts where nothing was taught", counts == (taught == 0));
        ww_print_plan_release(&plan);
    }
}

/* What no print teaches is a slip in a file. */
static void test_refused(void **state) {
    static const struct {
        const char *name;
        ww_print_offset entry;
        const char *words;
    } rows[] = {
        {"offset", {.log_h = 2.1}, "taught an offset in log H of 2.1"},
        {"no number", {.log_h = (double)NAN}, "an offset in log H of"},
        {"sd", {.sd = -0.1}, "a standard deviation of -0.1"},
        {"no sd", {.sd = (double)NAN}, "a standard deviation of"},
        {"range", {.range = 0.6}, "a range shorter by a log H of 0.6"},
        {"soft", {.range = -1.1}, "a range shorter by a log H of -1.1"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        ww_error err = WW_ERROR_INIT;
        start(&c);
        c.request.offset = &rows[i].entry;
        c.request.n_offsets = 1;
        test_status(rows[i].name, ww_print_plan_make(&c.request, &plan, &err), WW_EDOMAIN, &err);
        if (!strstr(err.msg, rows[i].words))
            fail_msg("%s: '%s'", rows[i].name, err.msg);
    }
}

/*
 * What the place of the print that taught leaves of each line. Source: root sums of squares; what
 * is the same place cancels; a nominal wedge is 0.01 off at its thin, 0.10 at its dense end, and
 * off all along; two places 0.15 log H apart share no error of the curve. Beside another test print
 * than then the readings of both count, one of which nobody knows as that of now.
 */
static const struct {
    const char *name;
    const char *tone;
    double negative, density;
    double test_density, by_density; /* of the test print now and of then; 0: none */
    bool tied, same;
} place_rows[] = {
    {"none", "", 0.0, 0.0, 0.0, 0.0, false, false},
    {"on the aim", "cloud", 1.39, 0.10, 0.0, 0.0, true, true},
    {"beside it", "cloud", 1.39, 0.60, 0.0, 0.0, true, true},
    {"another reading", "cloud", 1.40, 0.10, 0.0, 0.0, true, false},
    {"another tone", "wall", 1.39, 0.10, 0.0, 0.0, true, false},
    {"on no curve", "cloud", 1.39, 2.50, 0.0, 0.0, false, false},
    {"by the same test", "cloud", 1.39, 0.10, 0.20, 0.20, true, true},
    {"by another test", "cloud", 1.39, 0.10, 0.20, 0.60, false, false},
    {"by a test of which nobody knows", "cloud", 1.39, 0.10, 0.20, 0.0, false, false},
};

static double slope_at(double net) {
    return (log(49.0) + log(9.0)) / 1.05 * net * (1.0 - 0.5 * net);
}

/* Log H of the lines "wedge" and "paper fit", between the aim and a place tied to. */
static void check_place(const char *row, const ww_print_paper *paper, double tied_to, bool tied) {
    const double stop = 0.301029995663981195, white = 1.959963984540054 * 0.007;
    const double log_h = print_case_log_h(1.05, 0.3, 0.10);
    const double apart = print_case_log_h(1.05, 0.3, tied ? tied_to : 0.10) - log_h;
    const double share = fmin(1.0, apart / 0.15);
    const double wedge = tied ? 0.09 * apart / 3.2 : 0.01 + 0.09 * (1.9 - log_h) / 3.2;
    const double fit = tied ? share * hypot(white / slope_at(0.10), white / slope_at(tied_to))
                            : white / slope_at(0.10);
    test_close(row, print_case_budget(paper, "wedge"), wedge / stop, 1e-6);
    test_close(row, print_case_budget(paper, "paper fit"), fit / stop, 1e-6);
}

static void test_place(void **state) {
    const double read = 1.959963984540054 * 0.01 / 0.301029995663981195, g = slope_at(0.10);
    (void)state;
    for (size_t i = 0; i < sizeof place_rows / sizeof place_rows[0]; i++) {
        char tone[8];
        ww_print_offset taught = {.tone = tone, .log_h = 0.05, .sd = 0.01, .prints = 1};
        const double by = place_rows[i].by_density;
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        start(&c);
        c.paper[0].meta.wedge = WW_WEDGE_NOMINAL;
        print_case_white_sd(&c, &c.paper[0], 0.007);
        snprintf(tone, sizeof tone, "%s", place_rows[i].tone);
        taught.negative = place_rows[i].negative;
        taught.density = place_rows[i].density;
        taught.tested = place_rows[i].test_density > 0.0;
        taught.test_s = (ww_optional){by > 0.0, 10.0};
        taught.test_density = (ww_optional){by > 0.0, by};
        c.request.test[0] = (ww_print_test){10.0, "cloud", place_rows[i].test_density};
        c.request.n_tests = taught.tested ? 1 : 0;
        c.request.offset = &taught;
        c.request.n_offsets = 1;
        print_case_make(place_rows[i].name, &c, &plan);
        if (place_rows[i].tied || !taught.tested)
            check_place(place_rows[i].name, &plan.paper[0], taught.density, place_rows[i].tied);
        test_close(place_rows[i].name, print_case_budget(&plan.paper[0], "readings"),
                   !place_rows[i].tied && taught.tested
                       ? read * hypot(1.0 / g, hypot(1.0 / slope_at(0.20),
                                                     1.0 / slope_at(by > 0.0 ? by : 0.20)))
                       : read * hypot(1.0 / g, place_rows[i].same   ? 0.0
                                               : place_rows[i].tied ? sqrt(2.0)
                                                                    : 1.0),
                   1e-6);
        test_close(place_rows[i].name, print_case_budget(&plan.paper[0], "earlier prints"), read,
                   1e-9);
        ww_print_plan_release(&plan);
    }
}

/*
 * A plan by a test print beside a print without one: a test has in it what lamp and lens have done
 * since the curve, and where it took as much less than the curve says as the print came out darker,
 * the two agree. Where it did not, and with several papers, nobody can tell which is wrong: all of
 * the difference is doubt. The time is the test's in any case, and the range that of the print.
 */
static void test_witness(void **state) {
    static const struct {
        const char *name;
        double taught, lacks; /* log H: by the print, and of the test over that */
        double range;
        bool at_odds;
    } rows[] = {
        {"they agree", 0.1807, 0.0, 0.0, false},
        {"they agree within their doubts", 0.1807, 0.02, 0.0, false},
        {"they do not", 0.1807, -0.1309, 0.0, true},
        {"nothing was taught", 0.0, -0.1309, 0.0, true},
        {"a harder paper", 0.1807, 0.0, 0.093, false},
    };
    const double first = print_case_log_h(1.05, 0.3, 0.10);
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ww_print_offset entry = {.paper = gloss,
                                       .contrast = filter_2,
                                       .log_h = rows[i].taught,
                                       .range = rows[i].range,
                                       .sd = 0.01,
                                       .prints = 1};
        const double log_time = first + 1.39 - rows[i].taught + rows[i].lacks;
        const double range = 1.05 - rows[i].range;
        const double x0 = first - print_case_log_h(range, 0.0, 0.10);
        const ww_print_paper *paper;
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        bool at_odds = false;
        start(&c);
        print_case_paper(&c, "matt", 1.45, 0.3);
        c.request.test[0] = (ww_print_test){pow(10.0, log_time), "cloud", 0.10};
        c.request.n_tests = 1;
        c.request.offset = &entry;
        c.request.n_offsets = 1;
        print_case_make(rows[i].name, &c, &plan);
        paper = &plan.paper[strcmp(plan.paper[0].paper, gloss) == 0 ? 0 : 1];
        test_close(rows[i].name, log10(paper->time_s.value), log_time, 1e-9);
        test_close(rows[i].name, print_case_find(paper, "shadow")->print.value,
                   print_case_net(range, x0, first + 1.39 - 0.35), 1e-9);
        for (size_t k = 0; k < paper->n_budget; k++)
            at_odds = at_odds || strcmp(paper->budget[k].from, "test against curve") == 0;
        test_true(rows[i].name, at_odds == rows[i].at_odds);
        if (at_odds)
            test_close(rows[i].name, print_case_budget(paper, "test against curve"),
                       fabs(rows[i].lacks) / log10(2.0), 1e-9);
        ww_print_plan_release(&plan);
    }
}

/* A print on one contrast of a paper may have shown the lamp, which lights the other too: all of it
 * is doubt there, and none of it is in the time. */
static void test_other_contrast(void **state) {
    const ww_print_offset entry = {
        .paper = gloss, .contrast = filter_2, .log_h = -0.1807, .sd = 0.01, .prints = 1};
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    c.paper[0].meta.contrast = filter_3;
    c.request.offset = &entry;
    c.request.n_offsets = 1;
    print_case_make("other contrast", &c, &plan);
    test_close("time", log10(plan.paper[0].time_s.value), print_case_log_h(1.05, 0.3, 0.10) + 1.39,
               1e-9);
    test_close("doubt", print_case_budget(&plan.paper[0], "another contrast"), 0.1807 / log10(2.0),
               1e-9);
    ww_print_plan_release(&plan);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_which),          cmocka_unit_test(test_range),
        cmocka_unit_test(test_log_h0),         cmocka_unit_test(test_refused),
        cmocka_unit_test(test_place),          cmocka_unit_test(test_witness),
        cmocka_unit_test(test_other_contrast),
    };
    return cmocka_run_group_tests_name("print_offset", tests, NULL, NULL);
}
