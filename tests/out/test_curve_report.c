/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/curve_words.h"
#include "results.h"

/* Source: the interface's rules for text and its conventions (averages never without end-points).
 */
static const ww__block *find_block(const ww__report *report, const char *title) {
    for (size_t i = 0; i < report->n; i++)
        if (strcmp(report->block[i].title, title) == 0 &&
            report->block[i].n > 2 * report->block[i].columns)
            return &report->block[i];
    return NULL;
}

/* Items with '|' between them. */
static void expect(const char *row, const ww__report *report, const char *title, const char *want) {
    const ww__block *block = find_block(report, title);
    ww__text text = WW__TEXT_INIT;
    for (size_t i = 0; block && i < block->n; i++) {
        ww__text_add(&text, i > 0 ? "|" : "");
        ww__text_add(&text, block->item[i]);
    }
    test_text(row, ww__text_string(&text), want);
    ww__text_release(&text);
}

static void slopes_stand_beside_their_ends(void **state) {
    ww_curve curve = make_film();
    ww_channel_curve *channel = &curve.channel[WW_VISUAL];
    ww__report report = WW__REPORT_INIT;
    (void)state;
    channel->figure[WW_FIGURE_GAMMA] = between(0.6134, 0.5892, 0.6349);
    channel->construction.run_from = -1.1972;
    channel->construction.run_to = 0.0021;
    channel->figure[WW_FIGURE_AVERAGE_GRADIENT] =
        (ww_quantity){0.5671, 0.5518, 0.5823, WW_EXTRAPOLATED};
    channel->construction.gradient_from = -2.1037;
    channel->construction.gradient_to = -0.6037;
    channel->figure[WW_FIGURE_CONTRAST_INDEX] = (ww_quantity)WW_QUANTITY_INIT;
    ww__curve_report(&curve, &report);
    expect("film", &report, "Contrast (95 % intervals)",
           "|gamma|between|average gradient|between|||log H||log H|visual|0.61 (0.59 to 0.63)|"
           "-1.20 to 0.00|0.57 (0.55 to 0.58) *|-2.10 to -0.60");
    test_text("mark", find_block(&report, "Marks")->item[0],
              "What is marked * is extrapolated beyond the measured steps.");
    ww__report_release(&report);
    ww_curve_release(&curve);
}

static void ranges_that_the_last_step_ends_are_least_values(void **state) {
    ww_curve curve = make_film();
    ww_channel_curve *channel = &curve.channel[WW_VISUAL];
    ww__report report = WW__REPORT_INIT;
    (void)state;
    channel->figure[WW_FIGURE_BASE_FOG] = between(0.27, 0.262, 0.278);
    channel->figure[WW_FIGURE_DMAX] = (ww_quantity)WW_QUANTITY_INIT;
    channel->figure[WW_FIGURE_DENSITY_RANGE] = (ww_quantity){1.71, 1.69, 1.73, WW_MEASURED};
    channel->construction.range_from = -2.0;
    channel->construction.range_to = 0.83;
    ww__curve_report(&curve, &report);
    expect("least", &report, "Densities",
           "|base+fog|density range|between||D|D|log H|visual|0.27 (0.26 to 0.28)|"
           "1.71 (1.69 to 1.73) +|-2.00 to 0.83");
    test_true("said", find_block(&report, "Marks") != NULL);
    ww__report_release(&report);
    ww_curve_release(&curve);
}

static void a_row_a_channel(void **state) {
    ww_curve curve = make_colour();
    const ww__block *block;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    curve.channel[WW_BLUE].figure[WW_FIGURE_GAMMA] = (ww_quantity)WW_QUANTITY_INIT;
    ww__curve_report(&curve, &report);
    block = find_block(&report, "Contrast (95 % intervals)");
    assert_non_null(block);
    assert_int_equal(block->n, (2 + 3) * block->columns);
    test_text("blue", block->item[4 * block->columns], "blue");
    test_text("no gamma of blue", block->item[4 * block->columns + 1], "-");
    test_text("no ends of it", block->item[4 * block->columns + 2], "-");
    ww__report_release(&report);
    ww_curve_release(&curve);
}

/* Channels without a curve: no table of nothing, no row of nothing. */
static void nothing_takes_no_room(void **state) {
    ww_curve curve = make_colour();
    ww__report report = WW__REPORT_INIT;
    (void)state;
    for (int c = WW_RED; c <= WW_BLUE; c++) {
        curve.channel[c].fitted = false;
        for (int f = 0; f < WW_FIGURE_COUNT; f++)
            curve.channel[c].figure[f] = (ww_quantity)WW_QUANTITY_INIT;
    }
    ww__curve_report(&curve, &report);
    for (size_t i = 0; i < report.n; i++)
        test_true("no table", report.block[i].columns == 0);
    ww__report_release(&report);
    curve.channel[WW_GREEN].figure[WW_FIGURE_BASE_FOG] =
        (ww_quantity){0.61, 0.61, 0.61, WW_MEASURED};
    ww__curve_report(&curve, &report);
    expect("a base alone", &report, "Densities", "|base+fog||D|green|0.61");
    ww__report_release(&report);
    ww_curve_release(&curve);
}

static void speeds(void **state) {
    ww_curve curve = make_film();
    ww__report report = WW__REPORT_INIT;
    (void)state;
    curve.speed = (ww_speed){.standard = WW_SPEED_EXPOSURE_INDEX,
                             .exact = between(98.24, 95.11, 101.9),
                             .arithmetic = 100,
                             .degrees = 21,
                             .density_difference = given(0.6456),
                             .delta_x = given(119.6)};
    ww__curve_report(&curve, &report);
    expect(
        "outside the condition", &report, "Speed",
        "exposure index, exactly 98.2 (95.1 to 101.9).|Density gains 0.65 D over 1.30 log H from "
        "the speed point; ISO 6 asks for 0.75 to 0.85 D: not met, so this is an exposure index, "
        "not an ISO speed.|By the Delta-X criterion, which asks for no one contrast: 120.");
    ww__report_release(&report);
    curve.speed.standard = WW_SPEED_ISO_6;
    curve.speed.condition_met = true;
    ww__curve_report(&curve, &report);
    test_holds("met", find_block(&report, "Speed")->item[1], "0.85 D: met.");
    ww__report_release(&report);
    ww_curve_release(&curve);
}

static void crossovers(void **state) {
    ww_curve curve = make_colour();
    ww__report report = WW__REPORT_INIT;
    (void)state;
    curve.crossover = (ww_crossover){.found = true,
                                     .worst_cc = between(6.21, 4.13, 8.34),
                                     .channel = WW_BLUE,
                                     .at = -0.304,
                                     .from = -1.8,
                                     .to = 0.1,
                                     .middle = -0.8};
    ww__curve_report(&curve, &report);
    expect(
        "film", &report, "Crossover",
        "blue departs from a course parallel to green by 6.2 (4.1 to 8.3) CC at most, at log H "
        "-0.30; over the picture range, log H -1.80 to 0.10, with middle grey at log H -0.80. No "
        "filter takes this away.");
    ww__report_release(&report);
    curve.crossover.found = false;
    curve.meta.material = WW_MATERIAL_PAPER;
    ww__curve_report(&curve, &report);
    test_holds("paper", find_block(&report, "Crossover")->item[0], "at -0.30 D;");
    test_holds("none", find_block(&report, "Crossover")->item[0], "no crossover was found.");
    ww__report_release(&report);
    ww_curve_release(&curve);
}

static void suspects_are_named_with_size_and_cause(void **state) {
    static const struct {
        ww_cause cause;
        const char *want;
    } rows[] = {
        {WW_CAUSE_SLIP, "step 3, visual: 0.41 D read, 0.14 D above the curve; likely misread or "
                        "mistyped, density or exposure."},
        {WW_CAUSE_SWAPPED, "likely swapped with its neighbour."},
        {WW_CAUSE_SKIPPED, "likely a step was skipped, so that all later readings moved up."},
        {WW_CAUSE_DECIMAL_POINT, "likely a misplaced decimal point."},
        {WW_CAUSE_DUST, "likely dust or a scratch."},
        {WW_CAUSE_UNKNOWN, "cause unknown."},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww_curve curve = make_film();
        const ww__block *block;
        ww__report report = WW__REPORT_INIT;
        curve.channel[WW_VISUAL].point[2].density = 0.271;
        add_suspect(&curve.channel[WW_VISUAL], 2, 0.1391, rows[i].cause);
        ww__curve_report(&curve, &report);
        block =
            find_block(&report, "Suspect readings, which did not move the result: read them again");
        assert_non_null(block);
        test_true("a warning", block->warning);
        test_holds(ww_cause_name(rows[i].cause), block->item[0], rows[i].want);
        ww__report_release(&report);
        ww_curve_release(&curve);
    }
}

/* Readings that were moved are in the curve: nothing is said of not moving it, and the phrase tells
 * which way the strip went wrong, as the note does. */
static void moved_readings_are_in_the_curve(void **state) {
    static const struct {
        ww_cause cause;
        double by;
        const char *want;
    } rows[] = {
        {WW_CAUSE_SKIPPED, 0.207,
         "step 11, visual: 1.33 D read, 0.11 D under the curve at its own exposure; likely a step "
         "was skipped, so that all later readings moved up; the curve has them one step further "
         "on."},
        {WW_CAUSE_SLIP, -0.207,
         "step 11, visual: 1.33 D read, 0.11 D under the curve at its own exposure; likely the "
         "step before it was read twice, so that all later readings moved down; the curve has "
         "them one step back."},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww_curve curve = make_film();
        ww_channel_curve *channel = &curve.channel[WW_VISUAL];
        const ww__block *block;
        ww__report report = WW__REPORT_INIT;
        ww__text why = WW__TEXT_INIT;
        add_suspect(channel, 10, -0.1137, rows[i].cause);
        add_suspect(channel, 14, 0.2, WW_CAUSE_DUST);
        channel->point[10].density = 1.33;
        for (size_t k = 10; k < channel->n_points; k++)
            channel->point[k].moved = rows[i].by;
        ww__curve_report(&curve, &report);
        block = find_block(&report, "Suspect readings: read them again");
        assert_non_null(block);
        test_text("moved", block->item[0], rows[i].want);
        test_holds("its own cause", block->item[1], "above the curve; likely dust");
        ww__words_curve_why(&why, &curve);
        test_holds("only one is left out", ww__text_string(&why), "through 20 readings");
        ww__text_release(&why);
        ww__report_release(&report);
        ww_curve_release(&curve);
    }
}

static void what_was_left_out_is_counted(void **state) {
    ww_curve curve = make_film();
    ww__report report = WW__REPORT_INIT;
    (void)state;
    curve.channel[WW_VISUAL].point[20].state = WW_CELL_OVER;
    curve.channel[WW_VISUAL].point[19].cut = true;
    curve.channel[WW_VISUAL].point[18].cut = true;
    ww__curve_report(&curve, &report);
    expect("over and cut", &report, "Left out of the curve",
           "visual: 1 reading beyond the instrument.|visual: 2 readings past the exposure at which "
           "density falls again.");
    ww__report_release(&report);
    ww_curve_release(&curve);
}

static void papers_have_a_table_of_range(void **state) {
    ww_curve curve = make_paper();
    ww_channel_curve *channel = &curve.channel[WW_VISUAL];
    ww__report report = WW__REPORT_INIT;
    (void)state;
    channel->figure[WW_FIGURE_ISO_RANGE] = between(106.4, 103.7, 109.2);
    channel->construction.iso_from = 0.2481;
    channel->construction.iso_to = 1.3121;
    channel->figure[WW_FIGURE_PAPER_SPEED] = (ww_quantity)WW_QUANTITY_INIT;
    channel->figure[WW_FIGURE_SPEED_POINT] = between(0.781, 0.772, 0.793);
    ww__curve_report(&curve, &report);
    expect("R with its ends", &report, "Range and speed",
           "|ISO range R|between|speed point|||log H|log H|visual|110 (106, 104 to 109)|"
           "0.25 to 1.31|0.78 (0.77 to 0.79)");
    test_true("none for film", find_block(&report, "Exposures") == NULL);
    ww__report_release(&report);
    ww_curve_release(&curve);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slopes_stand_beside_their_ends),
        cmocka_unit_test(ranges_that_the_last_step_ends_are_least_values),
        cmocka_unit_test(a_row_a_channel),
        cmocka_unit_test(nothing_takes_no_room),
        cmocka_unit_test(speeds),
        cmocka_unit_test(crossovers),
        cmocka_unit_test(suspects_are_named_with_size_and_cause),
        cmocka_unit_test(moved_readings_are_in_the_curve),
        cmocka_unit_test(what_was_left_out_is_counted),
        cmocka_unit_test(papers_have_a_table_of_range),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
