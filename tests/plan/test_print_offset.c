/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_case.h"
#include "support/support.h"
#include <math.h>
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

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_which),
        cmocka_unit_test(test_range),
        cmocka_unit_test(test_log_h0),
        cmocka_unit_test(test_refused),
    };
    return cmocka_run_group_tests_name("print_offset", tests, NULL, NULL);
}
