/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_case.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

/*
 * A scene through film and paper. Source: the closed form of a straight film of slope 0.56, a veil
 * of 10^-2.2 and the logistic paper of range 1.05, computed outside the project.
 */
static void test_chain(void **state) {
    static const struct {
        const char *tone;
        double negative, print;
    } rows[] = {
        {"0.0", 1.4650, 0.0900},  {"-0.5", 1.1882, 0.2344}, {"-0.745", 1.0546, 0.4112},
        {"-1.0", 0.9183, 0.7040}, {"-1.6", 0.6219, 1.5109}, {"-2.2", 0.4000, 1.8651},
    };
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    print_case_start(&c);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        print_case_tone(&c, rows[i].tone, WW_PART_WHOLE, rows[i].negative);
    print_case_paper(&c, "logistic", 1.05, 0.5);
    print_case_place(&c, "0.0", 0.04);
    print_case_make("chain", &c, &plan);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        test_close(rows[i].tone, print_case_find(&plan.paper[0], rows[i].tone)->print.value + 0.05,
                   rows[i].print, 2e-4);
    test_close("negative range", plan.negative_range.value, 1.0650, 1e-9);
    test_close("paper range", plan.paper[0].paper_range.value, 1.05, 1e-9);
    test_close("too hard by", plan.paper[0].mismatch, -0.015, 1e-9);
    test_true("holds", plan.holds && plan.paper[0].holds);
    test_text("dense end", plan.dense_tone, "0.0");
    test_text("thin end", plan.thin_tone, "-2.2");
    ww_print_plan_release(&plan);
}

/* Middle and both ends of each class of the table that a university's lab sheet gives for diffuse
 * light, which is in hundredths: a class begins half of one before its end. */
static void test_grade_of_range(void **state) {
    static const struct {
        double range;
        const char *grade;
    } rows[] = {{1.60, "0"}, {1.50, "0"},  {1.41, "0"},  {1.406, "0"}, {1.404, "1"}, {1.40, "1"},
                {1.28, "1"}, {1.15, "1"},  {1.146, "1"}, {1.144, "2"}, {1.14, "2"},  {1.10, "2"},
                {0.95, "2"}, {0.946, "2"}, {0.944, "3"}, {0.94, "3"},  {0.87, "3"},  {0.80, "3"},
                {0.79, "4"}, {0.72, "4"},  {0.65, "4"},  {0.64, "5"},  {0.57, "5"},  {0.50, "5"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        print_case_start(&c);
        print_case_tone(&c, "shadow", WW_PART_WHOLE, 0.20);
        print_case_tone(&c, "cloud", WW_PART_WHOLE, 0.20 + rows[i].range);
        print_case_place(&c, "cloud", 0.04); /* the ends that the table's ranges are between */
        print_case_make(rows[i].grade, &c, &plan);
        test_text("grade", plan.paper[0].contrast, rows[i].grade);
        test_true("holds", plan.n_papers == 6 && plan.holds);
        test_true("nominal", plan.paper[0].nominal && print_case_noted(&plan, "NOMINAL"));
        test_true("no time", !plan.paper[0].time_s.set && !plan.paper[0].doubt_stops.set &&
                                 print_case_noted(&plan, "--test SECONDS:cloud=DENSITY"));
        for (size_t k = 2; k < plan.n_papers; k++) { /* behind the choice, which the table makes */
            test_true("best first", plan.paper[k - 1].holds || !plan.paper[k].holds);
            test_true("nearest first",
                      plan.paper[k - 1].holds != plan.paper[k].holds ||
                          fabs(plan.paper[k - 1].mismatch) <= fabs(plan.paper[k].mismatch));
        }
        ww_print_plan_release(&plan);
    }
}

/* Too long for any paper: the softest comes first, and the plan says what it loses. */
static void test_nothing_holds(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    print_case_start(&c);
    print_case_tone(&c, "shadow", WW_PART_WHOLE, 0.25);
    print_case_tone(&c, "cloud", WW_PART_WHOLE, 2.35);
    print_case_make("long", &c, &plan);
    test_text("softest", plan.paper[0].contrast, "0");
    test_true("does not hold", !plan.holds && !plan.paper[0].holds);
    test_true("says so", strstr(plan.paper[0].why, "'shadow': merges into black") != NULL);
    ww_print_plan_release(&plan);
}

/* A hard paper that merges the shadow does not beat a softer one that misses by more. */
static void test_hard_loses(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    print_case_start(&c);
    print_case_tone(&c, "shadow", WW_PART_WHOLE, 0.30);
    print_case_tone(&c, "sky", WW_PART_WHOLE, 1.50);
    print_case_paper(&c, "hard", 0.91, 0.0); /* 0.29 too hard: within 0.05 of D-max */
    print_case_paper(&c, "soft", 1.52, 0.0); /* 0.32 too soft */
    print_case_place(&c, "sky", 0.04);
    print_case_make("two sides", &c, &plan);
    test_text("soft first", plan.paper[0].paper, "soft");
    test_true("hard loses", plan.holds && !plan.paper[1].holds);
    test_true("misses", fabs(plan.paper[1].mismatch) < fabs(plan.paper[0].mismatch));
    ww_print_plan_release(&plan);
}

/* The range as the paper sees it. Sources beside the rows. */
static void test_seen_range(void **state) {
    static const struct {
        const char *name; /* and source */
        double thin, dense, callier, flare, range;
    } rows[] = {
        {"Callier 1.2 makes 1.26 of 1.05: printers' figure", 0.31, 1.36, 1.2, 0.0, 1.26},
        {"Callier 1.3 makes 1.37 of 1.05: printers' figure", 0.31, 1.36, 1.3, 0.0, 1.365},
        {"1 % flare at mean 0.2 makes 1.18 of 1.20: printers' figure", 0.2, 1.4, 1.0, 0.002, 1.18},
        {"2 % flare at mean 0.2 makes 1.16 of 1.20: printers' figure", 0.2, 1.4, 1.0, 0.004, 1.16},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        print_case_start(&c);
        print_case_tone(&c, "dark", WW_PART_WHOLE, rows[i].thin);
        print_case_tone(&c, "light", WW_PART_WHOLE, rows[i].dense);
        c.request.callier = rows[i].callier;
        c.request.enlarger_flare = rows[i].flare;
        print_case_make(rows[i].name, &c, &plan);
        test_close(rows[i].name, plan.negative_range.value, rows[i].range, 0.005);
        /* Closed form: two readings of 0.01 D, Callier factor, no flare. */
        if (rows[i].flare == 0.0)
            test_close("interval", plan.negative_range.high - plan.negative_range.value,
                       1.959964 * sqrt(2.0) * 0.01 * rows[i].callier, 1e-8);
        ww_print_plan_release(&plan);
    }
}

/* ------------------------------------------------------------------------------- every status */

static ww_curve *good(print_case *c) {
    print_case_start(c);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.30);
    print_case_tone(c, "cloud", WW_PART_WHOLE, 1.32);
    print_case_tone(c, "base", WW_PART_WHOLE, 0.21);
    return print_case_paper(c, "paper", 1.05, 0.0);
}

static void set_one_scale(print_case *c) {
    c->request.scale = (ww_optional){true, 4.0};
}
static void set_no_scale(print_case *c) {
    c->request.from_scale = (ww_optional){true, 0.0};
    c->request.scale = (ww_optional){true, 4.0};
}
static void set_one_aperture(print_case *c) {
    c->request.from_aperture = (ww_optional){true, 8.0};
}
static void set_bad_aperture(print_case *c) {
    c->request.from_aperture = (ww_optional){true, 8.0};
    c->request.aperture = (ww_optional){true, -8.0};
}
static void set_callier(print_case *c) {
    c->request.callier = 0.0;
}
static void set_big_callier(print_case *c) {
    c->request.callier = 100.0;
}
static void set_flare(print_case *c) {
    c->request.enlarger_flare = 1.0;
}
static void set_dry_down(print_case *c) {
    c->request.dry_down_percent = 100.0;
}
static void set_timer(print_case *c) {
    c->request.timer_step_s = 0.0;
}
static void set_repeatability(print_case *c) {
    c->request.repeatability = (ww_optional){true, (double)NAN};
}
static void set_test(print_case *c, double time_s, const char *tone, double density) {
    c->request.test[0] = (ww_print_test){time_s, tone, density};
    c->request.n_tests = 1;
}
static void set_test_time(print_case *c) {
    set_test(c, 0.0, "cloud", 0.1);
}
static void set_test_density(print_case *c) {
    set_test(c, 12.0, "cloud", 0.0);
}
static void set_test_tone(print_case *c) {
    set_test(c, 12.0, "lake", 0.1);
}
static void set_endless_time(print_case *c) {
    c->paper[0].channel[WW_VISUAL].shape.parameter[3] = 400.0;
    c->paper[0].channel[WW_VISUAL].domain_low = 399.0;
    c->paper[0].channel[WW_VISUAL].domain_high = 401.0;
}
static void place_missing(print_case *c) {
    print_case_place(c, "lake", 0.1);
}
static void place_base(print_case *c) {
    print_case_place(c, "base", 1.9);
}
static void place_twice(print_case *c) {
    print_case_place(c, "cloud", 0.1);
    print_case_place(c, "cloud", 0.2);
}
static void place_under_white(print_case *c) {
    print_case_place(c, "cloud", -0.01);
}
static void place_beyond_black(print_case *c) {
    print_case_place(c, "shadow", 2.3);
}
static void place_unmeasured(print_case *c) {
    c->paper[0].channel[WW_VISUAL].figure[WW_FIGURE_DMAX].how = WW_ABSENT;
    place_beyond_black(c);
}
static void place_at_nothing(print_case *c) {
    print_case_place(c, "cloud", 1e-300);
}
static void place_too_light(print_case *c) {
    c->paper[0].channel[WW_VISUAL].domain_low = -0.8; /* net 0.019 in closed form */
    print_case_place(c, "cloud", 0.01);
}
static void place_wrong_way(print_case *c) {
    print_case_place(c, "cloud", 1.6);
    print_case_place(c, "shadow", 0.1);
}
static void place_over(print_case *c) {
    c->row[1].cell[WW_COLUMN_VISUAL].state = WW_CELL_OVER;
    print_case_place(c, "cloud", 0.1);
}
static void densest_over(print_case *c) {
    c->row[1].cell[WW_COLUMN_VISUAL].state = WW_CELL_OVER;
}
static void no_range(print_case *c) {
    c->row[1].cell[WW_COLUMN_VISUAL].value = 0.31;
}
static void no_tones(print_case *c) {
    c->negative.n = 0;
}
static void no_column(print_case *c) {
    c->negative.has[WW_COLUMN_VISUAL] = false;
}
static void print_for_negative(print_case *c) {
    c->negative.meta.material = WW_MATERIAL_PRINT;
}
static void reflection_negative(print_case *c) {
    c->negative.meta.density = WW_DENSITY_REFLECTION;
}
static void white_negative(print_case *c) {
    c->negative.meta.relative = WW_RELATIVE_WHITE;
}
static void reversal_film(print_case *c) {
    c->negative.meta.process = WW_PROCESS_REVERSAL;
}
static void reversal_colour_film(print_case *c) {
    c->negative.meta.emulsion = WW_EMULSION_COLOUR_REVERSAL;
}
static void ends_changed_over(print_case *c) {
    print_case_tone(c, "sea", WW_PART_THIN, 0.90);
    print_case_tone(c, "sea", WW_PART_DENSE, 0.80);
}
static void tone_under_base(print_case *c) {
    print_case_tone(c, "sky", WW_PART_WHOLE, 0.10);
}
static void end_under_base(print_case *c) {
    print_case_tone(c, "sea", WW_PART_THIN, 0.17);
    print_case_tone(c, "sea", WW_PART_DENSE, 0.80);
}
static void under_zero(print_case *c) {
    c->negative.meta.relative = WW_RELATIVE_BASE;
    print_case_tone(c, "sky", WW_PART_WHOLE, -0.04);
}
static void base_only(print_case *c) {
    c->row[0] = c->row[2];
    c->negative.n = 1;
}
static void film_for_paper(print_case *c) {
    c->paper[0].meta.material = WW_MATERIAL_FILM;
}
static void reversal_paper(print_case *c) {
    c->paper[0].meta.process = WW_PROCESS_REVERSAL;
}
static void falling_paper(print_case *c) {
    c->paper[0].channel[WW_VISUAL].shape.falling = true;
}
static void base_paper(print_case *c) {
    c->paper[0].meta.relative = WW_RELATIVE_BASE;
}
static void unfitted_paper(print_case *c) {
    c->paper[0].channel[WW_VISUAL].fitted = false;
}
static void two_statuses(print_case *c) {
    print_case_paper(c, "other", 1.3, 0.0);
    c->paper[0].meta.status = WW_STATUS_A;
    c->paper[1].meta.status = WW_STATUS_VISUAL;
}

static const struct {
    const char *name;
    void (*spoil)(print_case *c);
    ww_status status;
    const char *words;
} status_rows[] = {
    {"one magnification", set_one_scale, WW_EDOMAIN, "both or neither"},
    {"no magnification", set_no_scale, WW_EDOMAIN, "magnification can't be 0; give 0.01 to 1000"},
    {"one aperture", set_one_aperture, WW_EDOMAIN, "both or neither"},
    {"negative aperture", set_bad_aperture, WW_EDOMAIN, "aperture can't be -8; give 0.5 to 256"},
    {"Callier 0", set_callier, WW_EDOMAIN, "Callier factor can't be 0; give 0.5 to 3"},
    {"Callier 100", set_big_callier, WW_EDOMAIN, "Callier factor can't be 100"},
    {"flare 1", set_flare, WW_EDOMAIN, "flare"},
    {"dry-down 100 %", set_dry_down, WW_EDOMAIN, "dry-down"},
    {"timer step 0", set_timer, WW_EDOMAIN, "timer"},
    {"repeatability not a number", set_repeatability, WW_EDOMAIN, "repeatability"},
    {"test of no time", set_test_time, WW_EDOMAIN, "test print"},
    {"test at paper white", set_test_density, WW_EDOMAIN, "above its paper white"},
    {"test of a missing tone", set_test_tone, WW_ENODATA, "to test 'lake'"},
    {"time beyond clocks", set_endless_time, WW_EDOMAIN, "beyond any clock"},
    {"placed tone missing", place_missing, WW_ENODATA, "to place 'lake'"},
    {"those that are there", place_missing, WW_ENODATA, "are: shadow, cloud, base"},
    {"base placed", place_base, WW_EDOMAIN, "placed nowhere"},
    {"placed twice", place_twice, WW_EDOMAIN, "placed twice"},
    {"aim under white", place_under_white, WW_EDOMAIN, "give 0.005 to 6"},
    {"aim of no density", place_at_nothing, WW_EDOMAIN, "placed at 1e-300"},
    {"aim beyond black", place_beyond_black, WW_EDOMAIN, "no paper prints 'shadow' at 2.300"},
    {"aim not measured", place_unmeasured, WW_EDOMAIN, "the paper was not measured to its black"},
    {"aim lighter than measured", place_too_light, WW_EDOMAIN, "no paper was measured"},
    {"wrong way round", place_wrong_way, WW_EDOMAIN, "the other way round"},
    {"placed beyond the instrument", place_over, WW_ENODATA, "beyond the instrument"},
    {"densest beyond the instrument", densest_over, WW_ENODATA, "beyond the instrument"},
    {"no range", no_range, WW_ENODATA, "no range"},
    {"no tones", no_tones, WW_ENODATA, "no tone"},
    {"no density column", no_column, WW_ENODATA, ""},
    {"a print for a negative", print_for_negative, WW_EMISMATCH, "print"},
    {"reflection", reflection_negative, WW_EMISMATCH, "correct their line 'density'"},
    {"relative to white", white_negative, WW_EMISMATCH, "correct their line 'relative to'"},
    {"reversal film", reversal_film, WW_EMISMATCH, "reversal"},
    {"colour reversal film", reversal_colour_film, WW_EMISMATCH, "reversal"},
    {"ends changed over", ends_changed_over, WW_EMISMATCH, "change them over"},
    {"tone under the base", tone_under_base, WW_EMISMATCH, "'sky' reads 0.10"},
    {"which is named", tone_under_base, WW_EMISMATCH, "base+fog, 0.21"},
    {"end under the base", end_under_base, WW_EMISMATCH, "'sea' reads 0.17"},
    {"under a base of zero", under_zero, WW_EMISMATCH, "'sky' reads -0.04"},
    {"base and no tone", base_only, WW_ENODATA, "only the film's base"},
    {"film for paper", film_for_paper, WW_EMISMATCH, "film"},
    {"reversal paper", reversal_paper, WW_EMISMATCH, "reversal"},
    {"falling paper", falling_paper, WW_EMISMATCH, "reversal"},
    {"paper relative to a base", base_paper, WW_EMISMATCH, "base"},
    {"paper without a curve", unfitted_paper, WW_ENODATA, "no paper has a fitted curve"},
    {"papers of two statuses", two_statuses, WW_EMISMATCH, "status A and in status visual"},
};

static void test_statuses(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof status_rows / sizeof status_rows[0]; i++) {
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        ww_error err = WW_ERROR_INIT;
        good(&c);
        status_rows[i].spoil(&c);
        test_status(status_rows[i].name, ww_print_plan_make(&c.request, &plan, &err),
                    status_rows[i].status, &err);
        if (!strstr(err.msg, status_rows[i].words))
            fail_msg("%s: '%s' says nothing of '%s'", status_rows[i].name, err.msg,
                     status_rows[i].words);
        test_true("untouched", plan.n_papers == 0 && plan.notes.n == 0 && !plan.dense_tone);
        test_status(status_rows[i].name, ww_print_plan_make(&c.request, &plan, NULL),
                    status_rows[i].status, NULL);
    }
}

/* Numbers in sentences keep their point. */
static void test_locale(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    if (!test_comma_locale())
        skip();
    good(&c);
    print_case_make("locale", &c, &plan);
    test_true("note", print_case_noted(&plan, "goes to 0.08 above paper white"));
    test_true("why", strstr(plan.paper[0].why, "and the negative gives 1.02:") != NULL);
    ww_print_plan_release(&plan);
}

static void test_release(void **state) {
    (void)state;
    ww_print_plan_release(NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_chain),      cmocka_unit_test(test_grade_of_range),
        cmocka_unit_test(test_hard_loses), cmocka_unit_test(test_nothing_holds),
        cmocka_unit_test(test_seen_range), cmocka_unit_test(test_statuses),
        cmocka_unit_test(test_release),    cmocka_unit_test(test_locale),
    };
    return cmocka_run_group_tests_name("print", tests, NULL, NULL);
}
