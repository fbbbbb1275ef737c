/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/split_case.h"
#include "support/support.h"
#include <math.h>

static const double wall = 1.08, thin = 1.30, dense = 1.42;

static void start(split_case *c, double seconds) {
    split_case_start(c, &split_papers[0], seconds);
    print_case_tone(&c->print, "shadow", WW_PART_WHOLE, 0.52);
    print_case_tone(&c->print, "wall", WW_PART_WHOLE, wall);
    print_case_tone(&c->print, "cloud", WW_PART_THIN, thin);
    print_case_tone(&c->print, "cloud", WW_PART_DENSE, dense);
    print_case_place(&c->print, "wall", 0.25);
    print_case_place(&c->print, "shadow", 1.65);
}

/* The paper itself under both exposures and so much soft light besides. */
static double truth(const split_case *c, const ww_print_split *split, double more, double density) {
    const double light = pow(10.0, -density);
    return split_net(c->paper, (split->soft_s + more) * light, split->hard_s * light);
}

/* The soft burn brings a placed tone to its aim, an unplaced one's dense end to 0.04, and leaves
 * the detail that is foretold. Source: the paper in closed form. */
static void test_against_truth(void **state) {
    for (int placed = 0; placed < 2; placed++) {
        split_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        const ww_print_tone *cloud;
        const ww_print_split *split;
        start(&c, 500.0);
        if (placed)
            print_case_place(&c.print, "cloud", 0.12);
        print_case_make("burn", &c.print, &plan);
        split = &plan.paper[0].split;
        cloud = print_case_find(&plan.paper[0], "cloud");
        test_true("mixed", split->soft_s > 1.0 && split->hard_s > 1.0);
        test_true("burned", cloud->burn_stops.set && cloud->burn_stops.value > 0.0);
        test_true("or soft", cloud->soft_seconds.set && cloud->soft_separation.set);
        const double more = cloud->soft_seconds.value;
        if (placed)
            test_close("middle", truth(&c, split, more, 0.5 * (thin + dense)), 0.12, 0.01);
        else
            test_close("dense end", truth(&c, split, more, dense), 0.04, 0.01);
        test_close("detail", cloud->soft_separation.value,
                   truth(&c, split, more, thin) - truth(&c, split, more, dense), 0.012);
        ww_print_plan_release(&plan);
    }
    (void)state;
}

/* With reciprocity a burn is longer than its exposure, through either filter in the same way. */
static void test_reciprocity(void **state) {
    split_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    double bare[2], plain;
    (void)state;
    start(&c, 500.0);
    print_case_make("plain", &c.print, &plan);
    plain = plan.paper[0].time_s.value;
    bare[0] = print_case_find(&plan.paper[0], "cloud")->burn_seconds.value / plain;
    bare[1] = print_case_find(&plan.paper[0], "cloud")->soft_seconds.value / plain;
    ww_print_plan_release(&plan);
    c.print.request.reciprocity = (ww_optional){true, 1.1};
    print_case_make("reciprocity", &c.print, &plan);
    const double time_s = plan.paper[0].time_s.value;
    const ww_print_tone *cloud = print_case_find(&plan.paper[0], "cloud");
    test_close("time", time_s, 500.0 * pow(plain / 500.0, 1.1), 1e-6 * time_s);
    test_close("burn", 1.0 + cloud->burn_seconds.value / time_s, pow(1.0 + bare[0], 1.1), 1e-9);
    test_close("soft burn", 1.0 + cloud->soft_seconds.value / time_s, pow(1.0 + bare[1], 1.1),
               1e-9);
    ww_print_plan_release(&plan);
}

/* No softer burn where the print is through the softest already, or none is needed. */
static void test_none(void **state) {
    split_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c, 500.0);
    print_case_make("none", &c.print, &plan);
    for (size_t i = 0; i < plan.n_papers; i++) {
        const ww_print_paper *paper = &plan.paper[i];
        const bool softest = !(paper->split.hard_s > 0.0);
        test_true("softest", !softest || !print_case_find(paper, "cloud")->soft_seconds.set);
        test_true("the first tone", !print_case_find(paper, "wall")->soft_seconds.set);
    }
    ww_print_plan_release(&plan);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_against_truth),
        cmocka_unit_test(test_reciprocity),
        cmocka_unit_test(test_none),
    };
    return cmocka_run_group_tests_name("print_split_burn", tests, NULL, NULL);
}
