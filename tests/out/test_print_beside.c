/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "out/print_beside.h"

/* Source: the interface's rules for text (stops in twelfths, densities to 0.01, units in the
 * headings); what lies next softer and harder follows from the papers' ranges. */

enum { PAPERS = 4 };

static void neighbours_by_range(void **state) {
    static char cloud[] = "cloud", shadow[] = "shadow", one[] = "1", three[] = "3", none[] = "",
                other[] = "Breakwater matt", another[] = "Groyne pearl";
    ww_print_tone tone[PAPERS][2];
    ww_print_paper paper[PAPERS];
    const double range[PAPERS] = {1.05, 1.60, 1.25, 0.88};
    char *const label[PAPERS] = {three, none, one, none};
    const ww_print_plan plan = {.paper = paper, .n_papers = PAPERS};
    ww__report report = WW__REPORT_INIT;
    (void)state;
    for (size_t i = 0; i < PAPERS; i++) {
        tone[i][0] = (ww_print_tone){.tone = cloud,
                                     .print_thin = given(0.11),
                                     .print_dense = given(0.09 - 0.01 * (double)i)};
        tone[i][1] = (ww_print_tone){
            .tone = shadow, .print = given(1.6), .burn_stops = {i == 3, -0.5}, .beyond = i == 2};
        paper[i] = (ww_print_paper){.paper = other,
                                    .contrast = label[i],
                                    .paper_range = between(range[i], range[i], range[i]),
                                    .tone = tone[i],
                                    .n_tones = 2};
    }
    ww__print_beside_papers(&plan, &report);
    expect_row("sides", &report, "Straight print on the next softer and harder", 0,
               "tone|softer|burn|chosen|burn|harder|burn");
    expect_row("labels, or names", &report, "Straight print on the next softer and harder", 1,
               "|grade 1, D|stops|grade 3, D|stops|Breakwater matt, D|stops");
    expect_row("a tone with two ends", &report, "Straight print on the next softer and harder", 2,
               "cloud|0.07 to 0.11|-|0.09 to 0.11|-|0.06 to 0.11|-");
    expect_row("a dodge, and what is beyond", &report,
               "Straight print on the next softer and harder", 3,
               "shadow|1.60 *|-|1.60|-|1.60|-1/2");
    test_holds("what the star says", find_block(&report, "Marks")->item[0],
               "marked *, an end falls outside the paper's measured range");
    ww__report_release(&report);
    paper[2].paper = another;
    ww__print_beside_papers(&plan, &report);
    expect_row("the same paper before one that is nearer", &report,
               "Straight print on the next softer and harder", 1,
               "|Breakwater matt, D|stops|grade 3, D|stops|Breakwater matt, D|stops");
    ww__report_release(&report);
    paper[1].paper = another;
    ww__print_beside_papers(&plan, &report);
    expect_row("else another, by its name", &report, "Straight print on the next softer and harder",
               0, "tone|Groyne pearl|burn|chosen|burn|harder|burn");
    ww__report_release(&report);
}

static void alone_it_has_no_neighbours(void **state) {
    struct made_plan made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    make_plan(&made);
    made.plan.n_papers = 1;
    ww__print_beside_papers(&made.plan, &report);
    ww__print_beside_flash(&made.paper[0], 0.1, &report);
    ww__print_beside_soft_burn(&made.paper[0], 0.1, &report);
    assert_int_equal(report.n, 0);
    ww__report_release(&report);
}

static void flash_and_softer_burn(void **state) {
    struct made_plan made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    make_plan(&made);
    made.paper[0].flash =
        (ww_print_flash){true, 1.23, between(-1, -1, -1), between(0.0083, 0.0, 0.0279), 0.11};
    made.tone[1].flash_print = given(0.071);
    made.tone[1].flash_separation = given(0.028);
    made.tone[1].flash_burn_stops = given(0.5);
    made.tone[1].soft_seconds = given(21.04);
    made.tone[1].soft_separation = given(0.036);
    ww__print_beside_flash(&made.paper[0], 0.1, &report);
    expect_row("flash", &report, "With a flash in place of burning", 2,
               "cloud|0.02|0.04|0.03|0.07|+1/2");
    test_holds("its seconds", find_block(&report, "The flash")->item[0],
               "Flash the whole sheet 1.2 s ");
    test_holds("what it costs", find_block(&report, "The flash")->item[0],
               "leaves 0.008 (0.000 to 0.028) D on bare paper, where 0.01 D is the least");
    ww__print_beside_soft_burn(&made.paper[0], 0.1, &report);
    expect_row("softer", &report, "Burning through the softer filter", 2,
               "cloud|27.8|0.04|21.0|0.04");
    ww__report_release(&report);
}

static void seconds_of_each_split(void **state) {
    static char label[] = "soft 60 %";
    struct made_plan made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    make_plan(&made);
    made.paper[0].split = (ww_print_split){true, 18.37, 0.0};
    ww__print_beside_splits(&made.plan, 0.1, &report);
    assert_int_equal(report.n, 0); /* one exposure is no split */
    made.paper[1].contrast = label;
    made.paper[1].split = (ww_print_split){true, 0.6 * 16.08, 0.4 * 16.08};
    ww__print_beside_splits(&made.plan, 0.1, &report);
    expect_row("seconds", &report, "The two exposures of a split", 2, "soft 60 %|9.6|6.4");
    ww__report_release(&report);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(neighbours_by_range),
        cmocka_unit_test(alone_it_has_no_neighbours),
        cmocka_unit_test(flash_and_softer_burn),
        cmocka_unit_test(seconds_of_each_split),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
