/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_case.h"
#include "support/support.h"
#include <math.h>

static void start(print_case *c) {
    print_case_start(c);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.35);
    print_case_tone(c, "wall", WW_PART_WHOLE, 1.50);
    print_case_tone(c, "sky", WW_PART_WHOLE, 1.90);
    print_case_paper(c, "logistic", 1.05, 0.3);
}

static void set_test(print_case *c, double time_s, const char *tone, double density) {
    c->request.test[0] = (ww_print_test){time_s, tone, density};
    c->request.n_tests = 1;
}

static double time_of(const char *row, const print_case *c) {
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    double time_s;
    print_case_make(row, c, &plan);
    test_true(row, plan.paper[0].time_s.set);
    time_s = plan.paper[0].time_s.value;
    ww_print_plan_release(&plan);
    return time_s;
}

static bool has_time(const char *row, const print_case *c, const char *words) {
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    bool has;
    print_case_make(row, c, &plan);
    has = plan.paper[0].time_s.set;
    test_true(row, has == plan.paper[0].doubt_stops.set && has == (plan.paper[0].n_budget > 0));
    if (!has)
        test_true(row, print_case_noted(&plan, words));
    ww_print_plan_release(&plan);
    return has;
}

/* Paper in seconds: log t = log H + D. Source: definition of density. */
static void test_seconds(void **state) {
    print_case c;
    double straight;
    (void)state;
    start(&c);
    print_case_place(&c, "wall", 0.20);
    straight = time_of("seconds", &c);
    test_close("closed form", straight, pow(10.0, print_case_log_h(1.05, 0.3, 0.20) + 1.50), 1e-7);
    c.request.callier = 1.2;
    test_close("Callier", time_of("Callier", &c), straight * pow(10.0, 0.2 * 1.50), 1e-6);
    c.request.callier = 1.0;
    c.request.enlarger_flare = 0.01; /* D 1.5 is seen as 1.3850: closed form */
    test_close("flare", time_of("flare", &c), straight * pow(10.0, 1.3850 - 1.5), 1e-3 * straight);
}

/* 12 s under D 1.5 give what 30 s give under D 1.9. Source: textbook example, 12 x 10^0.4. */
static void test_base_time(void **state) {
    print_case c;
    (void)state;
    start(&c);
    set_test(&c, 12.0, "wall", 0.30);
    print_case_place(&c, "sky", 0.30);
    test_close("30 s", time_of("base time", &c), 12.0 * pow(10.0, 0.4), 1e-8);
    test_close("as the book rounds it", time_of("base time", &c), 30.0, 0.2);
}

/* One test print: log t = log t_test + log H(aim) - log H(test), on any paper. Closed form. */
static void test_test_print(void **state) {
    static const ww_exposure_unit units[] = {WW_UNIT_SECOND, WW_UNIT_LUX_SECOND, WW_UNIT_RELATIVE,
                                             WW_UNIT_UNKNOWN};
    const double aim = print_case_log_h(1.05, 0.3, 0.20), got = print_case_log_h(1.05, 0.3, 0.11);
    print_case c;
    (void)state;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        start(&c);
        c.paper[0].meta.exposure_unit = units[i];
        set_test(&c, 13.7, "wall", 0.11);
        print_case_place(&c, "wall", 0.20);
        test_close("test print", time_of("test", &c), 13.7 * pow(10.0, aim - got), 1e-7);
    }
    c.negative.meta.relative = WW_RELATIVE_BASE; /* the tone's own density cancels */
    test_close("relative", time_of("relative", &c), 13.7 * pow(10.0, aim - got), 1e-7);
    c.request.n_papers = 0;
    test_true("nominal papers", has_time("nominal", &c, ""));
}

static void test_no_time(void **state) {
    print_case c;
    (void)state;
    start(&c);
    c.paper[0].meta.exposure_unit = WW_UNIT_LUX_SECOND;
    test_true("lux seconds", !has_time("lux", &c, "--test SECONDS:sky=DENSITY"));
    c.paper[0].meta.exposure_unit = WW_UNIT_UNKNOWN;
    test_true("unit unknown", !has_time("unit", &c, "--test SECONDS:sky=DENSITY"));
    c.paper[0].meta.exposure_unit = WW_UNIT_SECOND;
    c.paper[0].exposure = WW_EXPOSURE_WEDGE;
    test_true("no origin", !has_time("origin", &c, "give no exposure time"));
    c.paper[0].meta.exposure_time_s = (ww_optional){true, 1.0};
    test_true("origin", has_time("origin", &c, ""));
    start(&c);
    c.negative.meta.relative = WW_RELATIVE_BASE;
    test_true("relative", !has_time("base", &c, "base density is not known"));
    start(&c);
    set_test(&c, 12.0, "wall", 1.9999);
    test_true("test in the black", !has_time("black", &c, "lies outside what was measured"));
}

/*
 * What no timer can be set to is no time: half a step rounds up to one (definition), less rounds to
 * none; the paper's seconds are those of the closed form, log t = log H + D.
 */
static void test_unsettable(void **state) {
    static const struct {
        const char *name;
        double time_s, step_s;
        bool set;
        const char *words;
    } rows[] = {
        {"half a step", 0.0501, 0.1, true, ""},
        {"under half a step", 0.0499, 0.1, false, "under half a step of the timer, 0.1 s"},
        {"with a finer timer", 0.0499, 0.05, true, ""},
        {"a coarse timer", 29.0, 60.0, false, "comes out at 29 s"},
        {"a day", 86400.0, 0.1, true, ""},
        {"longer", 2e5, 0.1, false, "comes out at 2e+05 s"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        start(&c);
        c.request.n_papers = 0;
        print_case_paper(&c, "made for the time", 1.05,
                         log10(rows[i].time_s) - 1.50 - print_case_log_h(1.05, 0.0, 0.20));
        print_case_place(&c, "wall", 0.20);
        print_case_place(&c, "sky", 0.10);
        c.request.timer_step_s = rows[i].step_s;
        test_true(rows[i].name, has_time(rows[i].name, &c, rows[i].words) == rows[i].set);
        print_case_make(rows[i].name, &c, &plan);
        test_true("why", (plan.paper[0].no_time == NULL) == rows[i].set);
        test_true("burns", print_case_find(&plan.paper[0], "sky")->burn_seconds.set == rows[i].set);
        ww_print_plan_release(&plan);
    }
}

/* A time that was to be had and can't be set is not held, by test print or paper in seconds alike;
 * one that nobody could have without a test print is no failing. Source: the header. */
static void test_held(void **state) {
    static const struct {
        const char *name;
        double x0; /* of the paper: its seconds */
        ww_exposure_unit unit;
        bool holds;
    } rows[] = {{"seconds", 0.0, WW_UNIT_SECOND, true},
                {"too short to set", -5.0, WW_UNIT_SECOND, false},
                {"lux seconds", -5.0, WW_UNIT_LUX_SECOND, true}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        print_case_start(&c);
        print_case_tone(&c, "shadow", WW_PART_WHOLE, 0.40);
        print_case_tone(&c, "wall", WW_PART_WHOLE, 1.10);
        print_case_paper(&c, "made for it", 1.05, rows[i].x0)->meta.exposure_unit = rows[i].unit;
        print_case_place(&c, "wall", 0.25);
        print_case_make(rows[i].name, &c, &plan);
        test_true(rows[i].name, plan.holds == rows[i].holds && plan.paper[0].holds == plan.holds);
        ww_print_plan_release(&plan);
    }
}

/* A test print denser than the paper's black. */
static void test_outside(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    c.paper[0].channel[WW_VISUAL].figure[WW_FIGURE_BASE_FOG].value =
        0.0503; /* over the asymptote */
    set_test(&c, 16.0, "wall", 5.0);
    print_case_make("outside", &c, &plan);
    test_text(
        "why", plan.paper[0].no_time,
        "the test print's 5.00 above white lies outside what was measured on 'logistic', 0.00 "
        "to 2.00; make one where 'sky' is near 0.08");
    test_true("not in silence", !plan.holds && !plan.paper[0].holds &&
                                    print_case_noted(&plan, "No time: the test print"));
    ww_print_plan_release(&plan);
}

/* The base row of a relative set gives the base's own density. */
static void test_base_density(void **state) {
    print_case c;
    double absolute, relative;
    (void)state;
    start(&c);
    absolute = time_of("absolute", &c);
    start(&c);
    c.negative.meta.relative = WW_RELATIVE_BASE;
    for (size_t i = 0; i < 3; i++)
        c.row[i].cell[WW_COLUMN_VISUAL].value -= 0.25;
    print_case_tone(&c, "base", WW_PART_WHOLE, 0.25);
    relative = time_of("relative", &c);
    test_close("the same", relative, absolute, 1e-9 * absolute);
    c.row[3].cell[WW_COLUMN_VISUAL].value = 0.0; /* the base against itself says nothing */
    test_true("no base density", !has_time("zero", &c, "base density is not known"));
}

/* Size: Clerc, 2x to 4x is 25/9. Aperture: definition. Dry-down: t (1 - p), wet papers only. */
static void test_factors(void **state) {
    print_case c;
    double plain;
    (void)state;
    start(&c);
    plain = time_of("plain", &c);
    static const double clerc[] = {9.0, 16.0, 25.0, 36.0}; /* Clerc: 2, 3, 4 and 5 times */
    c.request.from_scale = (ww_optional){true, 2.0};
    for (size_t i = 0; i < sizeof clerc / sizeof clerc[0]; i++) {
        c.request.scale = (ww_optional){true, 2.0 + (double)i};
        test_close("Clerc", time_of("Clerc", &c), plain * clerc[i] / clerc[0], 1e-9 * plain);
    }
    c.request.scale = (ww_optional){true, 4.0};
    test_close("size", time_of("size", &c), plain * 2.7778, 1e-4 * plain);
    /* 24 mm to 8 and to 11 inches: a printer's 21 s became 38 s, by the formula 37.4. */
    set_test(&c, 21.0, "sky", 0.08);
    c.request.from_scale = (ww_optional){true, 8.0 * 25.4 / 24.0};
    c.request.scale = (ww_optional){true, 11.0 * 25.4 / 24.0};
    test_close("a printer's", time_of("printer", &c), 37.4, 0.06);
    c.request.n_tests = 0;
    c.request.from_scale = (ww_optional){true, 2.0};
    c.request.scale = (ww_optional){true, 4.0};
    c.request.from_aperture = (ww_optional){true, 8.0};
    c.request.aperture = (ww_optional){true, 11.0};
    test_close("aperture", time_of("aperture", &c), plain * 25.0 / 9.0 * 2.0, /* a full stop */
               1e-9 * plain);
    start(&c);
    c.request.dry_down_percent = 10.0;
    test_close("dry paper", time_of("dry", &c), plain, 1e-9 * plain);
    c.paper[0].meta.read = WW_READ_WET;
    test_close("wet paper", time_of("wet", &c), 0.9 * plain, 1e-9 * plain);
}

/*
 * Reciprocity t = t0 (t'/t0)^P. Source: a film maker's formula for one second and more, 10 s^1.31 =
 * 20.4 s; the rest is its closed form.
 */
static void test_reciprocity(void **state) {
    print_case c;
    double straight;
    (void)state;
    start(&c);
    print_case_place(&c, "wall", 0.20);
    print_case_place(&c, "sky", 0.10);
    c.request.reciprocity = (ww_optional){true, 1.31};
    straight = pow(10.0, print_case_log_h(1.05, 0.3, 0.20) + 1.50);
    test_close("nothing to count from", time_of("none", &c), straight, 1e-8 * straight);

    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    print_case_make("not applied", &c, &plan);
    test_true("said", print_case_noted(&plan, "Reciprocity was not applied"));
    const ww_print_tone *sky = print_case_find(&plan.paper[0], "sky");
    test_close("burn", sky->burn_seconds.value, straight * (exp2(sky->burn_stops.value) - 1.0),
               1e-8 * straight);
    ww_print_plan_release(&plan);

    c.paper[0].meta.exposure_time_s = (ww_optional){true, 1.0};
    c.paper[0].channel[WW_VISUAL].shape.parameter[3] -= log10(straight / 10.0); /* 10 s alone */
    c.paper[0].channel[WW_VISUAL].domain_low -= log10(straight / 10.0);
    test_close("from one second", time_of("film's", &c), 20.4, 0.05);
    print_case_make("burn", &c, &plan);
    sky = print_case_find(&plan.paper[0], "sky");
    test_close("base and burn by one law", plan.paper[0].time_s.value + sky->burn_seconds.value,
               pow(10.0 * exp2(sky->burn_stops.value), 1.31), 1e-7);
    test_true("said", print_case_noted(&plan, "from 1 s by an exponent of 1.31"));
    ww_print_plan_release(&plan);

    set_test(&c, 12.0, "wall", 0.20); /* at the aim itself there is nothing to correct */
    test_close("test at the aim", time_of("at the aim", &c), 12.0, 1e-8);
    c.request.from_scale = (ww_optional){true, 2.0};
    c.request.scale = (ww_optional){true, 5.0};
    test_close("size", time_of("size", &c), 12.0 * pow(4.0, 1.31), 1e-7);

    /* Light down by 3 stops, exponents 1/0.8 and 1/0.9: closed form t 2^(3/p) of a textbook law. */
    c.request.scale = c.request.from_scale = (ww_optional){false, 0.0};
    c.request.from_aperture = (ww_optional){true, 4.0};
    c.request.aperture = (ww_optional){true, 4.0 * sqrt(8.0)};
    c.request.reciprocity.value = 1.0 / 0.8;
    test_close("p 0.8", time_of("p 0.8", &c), 12.0 * 13.454, 0.01);
    c.request.reciprocity.value = 1.0 / 0.9;
    test_close("p 0.9", time_of("p 0.9", &c), 12.0 * 10.079, 0.01);
}

/* A strip exposed second by second says how long the aim took there: from that it counts. */
static void test_reciprocity_of_a_strip(void **state) {
    const double at_aim = pow(10.0, print_case_log_h(1.05, 0.3, 0.20));
    print_case c;
    (void)state;
    start(&c);
    print_case_place(&c, "wall", 0.20);
    c.paper[0].exposure = WW_EXPOSURE_TIME;
    c.request.reciprocity = (ww_optional){true, 1.10};
    test_close("strip", time_of("strip", &c), at_aim * pow(10.0, 1.10 * 1.50), 1e-6 * at_aim);
}

/* Far from the time that calibrated nobody knows, and it is said. */
static void test_reciprocity_unknown(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c);
    print_case_place(&c, "wall", 0.20);
    set_test(&c, 3.0, "wall", 0.20);
    print_case_make("near", &c, &plan);
    test_true("near", !print_case_noted(&plan, "may lose speed"));
    ww_print_plan_release(&plan);
    c.request.from_scale = (ww_optional){true, 2.0};
    c.request.scale = (ww_optional){true, 6.0};
    print_case_make("far", &c, &plan);
    test_true("far", print_case_noted(&plan, "The time is 2.4 stops from the 3 s"));
    ww_print_plan_release(&plan);
}

/* A fit that leaves the time open by over two stops gives none. Source: project convention; the
 * slope at net 0.20 in closed form. */
static void test_no_recommendation(void **state) {
    static const struct {
        const char *name;
        double stops;
        bool set;
    } rows[] = {{"nearly", 1.97, true}, {"too much", 2.03, false}, {"absurd", 300.0, false}};
    const double slope = (log(49.0) + log(9.0)) / 1.05 * 0.20 * 0.90;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        start(&c);
        print_case_white_sd(&c, &c.paper[0], rows[i].stops * log10(2.0) * slope / 1.959964);
        print_case_place(&c, "wall", 0.20);
        print_case_place(&c, "sky", 0.10);
        test_true(rows[i].name,
                  has_time(rows[i].name, &c, "the curve's fit does not determine the time") ==
                      rows[i].set);
        print_case_make(rows[i].name, &c, &plan);
        test_true("burns", print_case_find(&plan.paper[0], "sky")->burn_seconds.set == rows[i].set);
        ww_print_plan_release(&plan);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_seconds),
        cmocka_unit_test(test_base_time),
        cmocka_unit_test(test_test_print),
        cmocka_unit_test(test_no_time),
        cmocka_unit_test(test_held),
        cmocka_unit_test(test_base_density),
        cmocka_unit_test(test_factors),
        cmocka_unit_test(test_unsettable),
        cmocka_unit_test(test_outside),
        cmocka_unit_test(test_reciprocity),
        cmocka_unit_test(test_reciprocity_of_a_strip),
        cmocka_unit_test(test_reciprocity_unknown),
        cmocka_unit_test(test_no_recommendation),
    };
    return cmocka_run_group_tests_name("print_time", tests, NULL, NULL);
}
