/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_plan_case.h"

static const ww_scan_tone *highlight(const ww_scan_plan *plan) {
    const ww_scan_channel *channel = &plan->channel[WW_VISUAL];
    return &channel->tone[channel->highlight];
}

static const ww_scan_tone *base(const ww_scan_plan *plan) {
    const ww_scan_channel *channel = &plan->channel[WW_VISUAL];
    return &channel->tone[channel->base];
}

static void which_tones_count(void **state) {
    static const char *const shadow[] = {"shadow"}, *const both[] = {"shadow", "cloud"};
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_usual(&c, 1.5);
    scan_plan_case_make("densest", &c, &plan);
    test_text("base", base(&plan)->tone, "base");
    test_text("highlight", highlight(&plan)->tone, "cloud");
    test_true("kept", highlight(&plan)->kept && !base(&plan)->kept);
    ww_scan_plan_release(&plan);
    c.request.keep = shadow, c.request.n_keep = 1;
    scan_plan_case_make("keep", &c, &plan);
    test_text("highlight", highlight(&plan)->tone, "shadow");
    ww_scan_plan_release(&plan);
    c.request.keep = both, c.request.n_keep = 2;
    scan_plan_case_make("keep both", &c, &plan);
    test_text("highlight", highlight(&plan)->tone, "cloud");
    ww_scan_plan_release(&plan);
}

/* The dense end is what noise threatens; without a base the thinnest end stands in. */
static void ends(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_start(&c, SCAN_PLAN_CASE_TRUTH);
    scan_plan_case_grey(&c, "cloud", WW_PART_THIN, 1.42);
    scan_plan_case_grey(&c, "cloud", WW_PART_DENSE, 1.51);
    scan_plan_case_grey(&c, "shadow", WW_PART_THIN, 0.31);
    scan_plan_case_grey(&c, "shadow", WW_PART_DENSE, 0.39);
    scan_plan_case_make("ends", &c, &plan);
    test_close("dense", highlight(&plan)->density, 1.51, 1e-12);
    test_close("thin", highlight(&plan)->thin.value, 1.42, 1e-12);
    test_text("stands in", base(&plan)->tone, "shadow");
    test_true("stands in", plan.channel[WW_VISUAL].stands_in);
    test_close("95 %, thin end", plan.channel[WW_VISUAL].stops.value,
               ww_scan_pass_stops_to(&c.made.scanner, WW_VISUAL, 0.31, 0.95), 1e-9);
    ww_scan_plan_release(&plan);
}

static void relative_to_base(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_start(&c, SCAN_PLAN_CASE_TRUTH);
    c.negative.meta.relative = WW_RELATIVE_BASE;
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 1.3);
    scan_plan_case_refused("no base", &c, WW_ENODATA, "add a row 'base'");
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.27);
    scan_plan_case_make("base", &c, &plan);
    test_close("absolute", highlight(&plan)->density, 1.57, 1e-12);
    test_close("absolute", base(&plan)->density, 0.27, 1e-12);
    test_true("said", test_noted(&plan.notes, "the base row's 0.27 was added"));
    ww_scan_plan_release(&plan);
}

static void beyond_the_instrument(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_usual(&c, 1.5);
    scan_plan_case_grey(&c, "sun", WW_PART_WHOLE, 0.0)->state = WW_CELL_OVER;
    scan_plan_case_make("over", &c, &plan);
    test_text("highlight", highlight(&plan)->tone, "sun");
    test_true("over", highlight(&plan)->over && !plan.holds && !plan.channel[WW_VISUAL].seen);
    ww_scan_plan_release(&plan);
}

/* Which column serves which channel. */
static void columns(void **state) {
    static const double cloud[] = {1.3, 1.5, 1.7}, film[] = {0.3, 0.5, 0.7};
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_usual(&c, 1.5);
    scan_plan_case_colour(&c, SCAN_PLAN_CASE_TRUTH);
    scan_plan_case_make("grey film, colour scanner", &c, &plan);
    test_true("visual serves", plan.channel[WW_BLUE].read == WW_VISUAL);
    ww_scan_plan_release(&plan);
    c.negative.meta.emulsion = WW_EMULSION_COLOUR_NEGATIVE;
    scan_plan_case_refused("colour film", &c, WW_ENODATA, "red, green and blue");
    scan_plan_case_start(&c, SCAN_PLAN_CASE_TRUTH);
    scan_plan_case_tone(&c, "base", WW_PART_WHOLE, WW_RED, 3, film);
    scan_plan_case_tone(&c, "cloud", WW_PART_WHOLE, WW_RED, 3, cloud);
    scan_plan_case_make("colour readings, grey scanner", &c, &plan);
    test_true("green serves", plan.channel[WW_VISUAL].read == WW_GREEN);
    ww_scan_plan_release(&plan);
}

static void refusals(void **state) {
    static const char *const keep[] = {"sky"}, *const bare[] = {"base"};
    scan_plan_case c;
    (void)state;
    scan_plan_case_usual(&c, 1.5);
    c.request.keep = keep, c.request.n_keep = 1;
    scan_plan_case_refused("not there", &c, WW_EMISMATCH, "base, shadow, cloud");
    scan_plan_case_grey(&c, "sky/thin", WW_PART_WHOLE, 1.4);
    scan_plan_case_refused("a part in the name", &c, WW_EMISMATCH, "told apart in a column 'part'");
    c.request.keep = bare;
    scan_plan_case_refused("the base", &c, WW_EMISMATCH, "holds no detail");
    scan_plan_case_start(&c, SCAN_PLAN_CASE_TRUTH);
    scan_plan_case_refused("nothing read", &c, WW_ENODATA, "no density");
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.27);
    scan_plan_case_refused("base alone", &c, WW_ENODATA, "densest cloud");
    scan_plan_case_start(&c, SCAN_PLAN_CASE_TRUTH);
    scan_plan_case_grey(&c, "cloud", WW_PART_THIN, 1.5);
    scan_plan_case_grey(&c, "cloud", WW_PART_DENSE, 1.3);
    scan_plan_case_refused("turned round", &c, WW_EMISMATCH, "change them over");
    scan_plan_case_usual(&c, 1.5);
    c.row[0].cell[WW_VISUAL].state = WW_CELL_MISSING;
    scan_plan_case_refused("a base that was not read", &c, WW_ENODATA,
                           "base has no visual density, and it sets the exposure");
    c.row[0].cell[WW_VISUAL].state = WW_CELL_LESS;
    scan_plan_case_refused("or is too light", &c, WW_ENODATA, "at the exposure of the wedge's");
    scan_plan_case_usual(&c, 0.1);
    scan_plan_case_refused("thinner than the base", &c, WW_EMISMATCH, "thinner than the film");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(which_tones_count), cmocka_unit_test(ends),
        cmocka_unit_test(relative_to_base),  cmocka_unit_test(beyond_the_instrument),
        cmocka_unit_test(columns),           cmocka_unit_test(refusals)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
