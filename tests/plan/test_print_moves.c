/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "support/print_case.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

#define LOG_STOP 0.301029995663981195

/* A face that sets the time at 0.60 from D 0.80, a sky read at both ends, a shadow. */
static void start(print_case *c) {
    print_case_start(c);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.35);
    print_case_tone(c, "face", WW_PART_WHOLE, 0.80);
    print_case_tone(c, "sky", WW_PART_THIN, 1.15);
    print_case_tone(c, "sky", WW_PART_DENSE, 1.27);
    print_case_tone(c, "wall", WW_PART_WHOLE, 1.40);
    print_case_tone(c, "base", WW_PART_WHOLE, 0.21);
    print_case_paper(c, "logistic", 1.05, 0.3);
    print_case_place(c, "face", 0.60);
}

/* Net density of the paper under D seen with so many stops more; closed form of the paper. */
static double net_at(double seen, double stops) {
    return print_case_net(1.05, 0.3,
                          print_case_log_h(1.05, 0.3, 0.60) - (seen - 0.80) + stops * LOG_STOP);
}

/*
 * Two dodges of half a stop are -1.27 stop, two burns +0.87. Source: printers' figures as quoted,
 * closed form log2(2 2^n - 1); densities and separations are the paper's closed form.
 */
static void test_applied(void **state) {
    static const ww_print_move moves[] = {
        {"sky", 0.5}, {"shadow", -0.5}, {"sky", 0.5}, {"shadow", -0.5}, {"face", 0.25}};
    const double burned = log2(2.0 * sqrt(2.0) - 1.0), dodged = log2(sqrt(2.0) - 1.0);
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    const ww_print_tone *tone;
    (void)state;
    start(&c);
    c.request.move = moves;
    c.request.n_moves = sizeof moves / sizeof moves[0];
    print_case_make("moves", &c, &plan);
    tone = print_case_find(&plan.paper[0], "sky");
    test_close("+0.87", tone->hand_stops.value, 0.87, 0.005);
    test_close("burned", tone->hand_stops.value, burned, 1e-12);
    test_true("not the plan's", !tone->burn_stops.set && tone->verdict == WW_VERDICT_PRINTS);
    test_close("straight", tone->print.value, net_at(1.21, 0.0), 1e-9);
    test_close("after", tone->print_after.value, net_at(1.21, burned), 1e-9);
    test_close("apart", tone->separation.value, net_at(1.15, burned) - net_at(1.27, burned), 1e-9);
    test_close("apart, straight", tone->separation_straight.value,
               net_at(1.15, 0.0) - net_at(1.27, 0.0), 1e-9);
    test_close("t (2^n - 1)", tone->hand_seconds.value,
               plan.paper[0].time_s.value * (2.0 * sqrt(2.0) - 2.0), 1e-9);
    tone = print_case_find(&plan.paper[0], "shadow");
    test_close("-1.27", tone->hand_stops.value, -1.27, 0.005);
    test_close("dodged", tone->print_after.value, net_at(0.35, dodged), 1e-9);
    tone = print_case_find(&plan.paper[0], "face");
    test_close("off its aim, as asked", tone->print_after.value, net_at(0.80, 0.25), 1e-9);
    test_true("and told", print_case_noted(&plan, "'face' is taken off its aim, 0.60: it prints"));
    tone = print_case_find(&plan.paper[0], "wall");
    test_true("none by hand", !tone->hand_stops.set);
    test_close("as it is", tone->print_after.value, net_at(1.40, 0.0), 1e-9);
    tone = print_case_find(&plan.paper[0], "base");
    test_close("base as it is", tone->print_after.value, net_at(0.21, 0.0), 1e-9);
    ww_print_plan_release(&plan);
}

/* The plan's burn and one by hand add in seconds: 2^n + 2^m - 1. Source: closed form. */
static void test_besides_the_plan(void **state) {
    static const ww_print_move moves[] = {{"wall", 0.7}};
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    const ww_print_tone *tone;
    double planned;
    (void)state;
    start(&c);
    print_case_place(&c, "wall", 0.20);
    c.request.move = moves;
    c.request.n_moves = 1;
    print_case_make("besides", &c, &plan);
    tone = print_case_find(&plan.paper[0], "wall");
    planned =
        (print_case_log_h(1.05, 0.3, 0.20) - print_case_log_h(1.05, 0.3, 0.60) + 0.60) / LOG_STOP;
    test_close("the plan's", tone->burn_stops.value, planned, 1e-9);
    test_close("by hand", tone->hand_stops.value, 0.7, 1e-12);
    test_close("after both", tone->print_after.value,
               net_at(1.40, log2(pow(2.0, planned) + pow(2.0, 0.7) - 1.0)), 1e-9);
    test_close("the plan's work", plan.paper[0].work_stops, planned, 1e-9);
    ww_print_plan_release(&plan);
}

/* Burning all detail into the black, or holding the whole time back, is told as such. */
static void test_overdone(void **state) {
    static const ww_print_move dark[] = {{"rail", 1.9}}, none[] = {{"shadow", -0.9}};
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    const ww_print_tone *tone;
    (void)state;
    start(&c);
    print_case_tone(&c, "rail", WW_PART_THIN, 0.45);
    print_case_tone(&c, "rail", WW_PART_DENSE, 0.52);
    c.request.move = dark;
    c.request.n_moves = 1;
    print_case_make("into black", &c, &plan);
    test_true("lost", print_case_find(&plan.paper[0], "rail")->verdict == WW_VERDICT_LOST);
    test_true("no longer held", !plan.holds);
    ww_print_plan_release(&plan);
    start(&c);
    print_case_place(&c, "shadow", net_at(0.35, -1.3)); /* the plan dodges it by 1.3 stops itself */
    c.request.move = none;
    c.request.n_moves = 1;
    print_case_make("nothing left", &c, &plan);
    tone = print_case_find(&plan.paper[0], "shadow");
    test_close("the plan's", tone->burn_stops.value, -1.3, 1e-8);
    test_true("no print", !tone->print_after.set && !plan.holds);
    test_true("by hand", strstr(plan.paper[0].why, "'shadow': with its moves by hand it is held "
                                                   "back the whole time; hold it back less"));
    test_true("not by its aim", !strstr(plan.paper[0].why, "check its reading"));
    test_true("told once", !print_case_noted(&plan, "off its aim"));
    ww_print_plan_release(&plan);
}

/* Two burns of 4 stops add to log2 31 = 4.95. Source: closed form; over 4 stops no print takes. */
static void test_over_most(void **state) {
    static const ww_print_move moves[] = {{"wall", 4.0}, {"wall", 4.0}};
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    c.request.move = moves;
    c.request.n_moves = 2;
    print_case_make("over 4 stops", &c, &plan);
    test_close("in seconds", print_case_find(&plan.paper[0], "wall")->hand_stops.value, log2(31.0),
               1e-12);
    test_true("no print takes it", !plan.holds);
    test_true("by hand", strstr(plan.paper[0].why, "'wall': with its moves by hand it gets over 4 "
                                                   "stops, which no print takes; move it less"));
    test_true("not by its aim", !strstr(plan.paper[0].why, "check its reading"));
    ww_print_plan_release(&plan);
}

static void test_sum(void **state) {
    const ww_optional none = {false, 0.0}, half = {true, 0.5}, dodge = {true, -1.0};
    (void)state;
    test_close("none", ww__print_moves_sum(none, none), 0.0, 0.0);
    test_close("one", ww__print_moves_sum(half, none), 0.5 * LOG_STOP, 1e-15);
    test_close("other", ww__print_moves_sum(none, half), 0.5 * LOG_STOP, 1e-15);
    test_close("both", ww__print_moves_sum(half, half), log10(2.0 * sqrt(2.0) - 1.0), 1e-14);
    test_true("nothing left", isinf(ww__print_moves_sum(dodge, dodge)));
}

/* Burns and dodges of one place may come in any order. Source: closed form. */
static void test_order(void **state) {
    static const ww_print_move moves[] = {{"sky", -1.0}, {"sky", -1.0}, {"sky", 1.0}};
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    c.request.move = moves;
    c.request.n_moves = 3;
    print_case_make("order", &c, &plan);
    test_close("0", print_case_find(&plan.paper[0], "sky")->hand_stops.value, 0.0, 1e-12);
    ww_print_plan_release(&plan);
}

static void test_refused(void **state) {
    static const struct {
        const char *name;
        size_t n;
        ww_print_move move[2];
        ww_status status;
    } rows[] = {
        {"no such tone", 1, {{"tree", 0.5}}, WW_ENODATA},
        {"beyond the instrument", 1, {{"lamp", 0.5}}, WW_ENODATA},
        {"the base", 1, {{"base", 0.5}}, WW_EDOMAIN},
        {"over 4 stops", 1, {{"sky", 4.1}}, WW_EDOMAIN},
        {"under -4 stops", 1, {{"sky", -4.1}}, WW_EDOMAIN},
        {"not a number", 1, {{"sky", NAN}}, WW_EDOMAIN},
        {"the whole time", 2, {{"sky", -1.0}, {"sky", -1.0}}, WW_EDOMAIN},
        {"more than the whole time", 2, {{"sky", -2.0}, {"sky", -1.0}}, WW_EDOMAIN},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        ww_error err = WW_ERROR_INIT;
        start(&c);
        print_case_tone(&c, "lamp", WW_PART_WHOLE, 0.0)->state = WW_CELL_OVER;
        c.request.move = rows[i].move;
        c.request.n_moves = rows[i].n;
        test_status(rows[i].name, ww_print_plan_make(&c.request, &plan, &err), rows[i].status,
                    &err);
        test_true("names it", strstr(err.msg, rows[i].move[0].tone) != NULL);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_applied),   cmocka_unit_test(test_besides_the_plan),
        cmocka_unit_test(test_overdone),  cmocka_unit_test(test_sum),
        cmocka_unit_test(test_over_most), cmocka_unit_test(test_order),
        cmocka_unit_test(test_refused),
    };
    return cmocka_run_group_tests_name("print_moves", tests, NULL, NULL);
}
