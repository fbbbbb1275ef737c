/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_paper.h"
#include "support/support.h"

/* Source: definition: 0.05 D of bare paper is more than 0.03 and than twice the error. */
static void whites_are_compared(void **state) {
    balance_case c;
    (void)state;
    balance_case_near(&c);
    colour_readings_add(&c.print, "", (const double[]){0.08, 0.09, 0.16}, 1)->is_base = true;
    balance_case_noted("no other white", &c, "Bare paper", false);
    colour_readings_add(&c.aim, "", (const double[]){0.08, 0.09, 0.11}, 1)->is_base = true;
    balance_case_noted(
        "stain", &c,
        "Bare paper reads 0.16 in blue in this print, against 0.11 in the aim: ", true);
    c.print.row[1].cell[WW_BLUE].value = 0.13;
    balance_case_noted("within", &c, "Bare paper", false);
    balance_case_end(&c);
}

/* Source: definition, likewise: the paper's file and the ring-around have a white, too, of which
 * only those are named that the print's does not go with; a white in more doubt says less. */
static void whites_of_paper_and_ring_are_compared(void **state) {
    ww_quantity *base;
    balance_case c;
    (void)state;
    balance_case_near(&c);
    balance_case_ring(&c, "card", 60, 55, 0, 11, 0.67, 0.58, 0.68);
    colour_readings_add(&c.print, "", (const double[]){0.20, 0.09, 0.10}, 1)->is_base = true;
    colour_readings_add(&c.aim, "", (const double[]){0.19, 0.09, 0.10}, 1)->is_base = true;
    base = &c.paper.channel[WW_RED].figure[WW_FIGURE_BASE_FOG];
    *base = (ww_quantity){0.09, 0.08, 0.10, WW_MEASURED};
    balance_case_noted("paper", &c,
                       "reads 0.20 in red in this print, against 0.09 in the paper's file: ", true);
    colour_readings_add(&c.ring, "", (const double[]){0.11, 0.09, 0.10}, 1)->is_base = true;
    balance_case_noted("both", &c,
                       "against 0.09 in the paper's file, 0.11 in the ring-around: another", true);
    *base = (ww_quantity){0.09, 0.02, 0.25, WW_FITTED};
    balance_case_noted("a white that is not told", &c, "against 0.11 in the ring-around: another",
                       true);
    c.ring.row[1].cell[WW_RED].value = 0.18;
    balance_case_noted("within", &c, "Bare paper", false);
    balance_case_end(&c);
}

static void a_curve_without_doubt_is_told(void **state) {
    balance_case c;
    (void)state;
    balance_case_near(&c);
    balance_case_noted("no covariance", &c, "carries no covariance", true);
}

/* Source: definition. By hand: 0.01 D on slopes of 2.6 is 0.385 CC of light in each colour; the
 * filters' table of wedgework/response.h turned round, without cyan, is worst for magenta: 1.306,
 * -1.462 and 0.156 of red, green and blue, 1.966 by squares; 1.96 x 0.385 x 1.966 = 1.48 CC. */
static void scatter_that_nobody_told_is_told(void **state) {
    static const char says[] = "How much two prints of one setting differ is not in the doubt";
    balance_case c;
    (void)state;
    balance_case_near(&c);
    balance_case_noted("more doubt", &c, says, false);
    balance_case_ring(&c, "card", 60, 55, 0, 11, 0.67, 0.58, 0.68);
    balance_case_noted("ring", &c, says, true);
    c.request.repeatability = (ww_optional){true, 0.01};
    balance_case_noted("told", &c, says, false);
    balance_case_end(&c);
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.70, 0.70, 0.70, 0.70, 0.70, 0.70);
    balance_case_sure(&c);
    balance_case_noted("less doubt", &c,
                       "The usual 0.01 D (common practice) alone would make +-1.5 CC of it", true);
    balance_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(whites_are_compared),
                                       cmocka_unit_test(whites_of_paper_and_ring_are_compared),
                                       cmocka_unit_test(a_curve_without_doubt_is_told),
                                       cmocka_unit_test(scatter_that_nobody_told_is_told)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
