/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_paper.h"
#include "support/support.h"
#include <math.h>

/* Source: the Status lines of wedgework/balance.h. Each row spoils one thing. */
static void start(balance_case *c) {
    balance_case_start(c);
    balance_case_grey(c, "card", 0.68, 0.80, 0.72, 0.70, 0.70, 0.70);
}

static void refuses_numbers_beyond_limits(void **state) {
    balance_case c;
    (void)state;
    start(&c);
    c.request.from.time_s = 0.0;
    balance_case_refused("time 0", &c, WW_EDOMAIN, "a time of 0 is not within 0.1 to 3600");
    c.request.from.time_s = NAN;
    balance_case_refused("no time", &c, WW_EDOMAIN, "a time of");
    start(&c);
    c.request.from.pack.cc[1] = -5.0;
    balance_case_refused("negative filter", &c, WW_EDOMAIN, "a filter of -5");
    start(&c);
    c.request.filter_step = 0.0;
    balance_case_refused("filter step", &c, WW_EDOMAIN, "a filter step of 0");
    start(&c);
    c.request.timer_step_s = 0.0;
    balance_case_refused("timer step", &c, WW_EDOMAIN, "a timer step of 0");
    start(&c);
    c.request.head_scale = 0.0;
    balance_case_refused("head", &c, WW_EDOMAIN, "a head scale of 0");
    start(&c);
    c.request.repeatability = (ww_optional){true, 1.0};
    balance_case_refused("repeatability", &c, WW_EDOMAIN, "a repeatability of 1");
}

static void refuses_another_status(void **state) {
    balance_case c;
    (void)state;
    start(&c);
    c.aim.readings.meta.status = WW_STATUS_T;
    balance_case_refused("aim", &c, WW_EMISMATCH,
                         "the aim was read in status T and the print in status A");
    start(&c);
    c.paper.meta.status = WW_STATUS_SCANNER;
    balance_case_refused("paper", &c, WW_EMISMATCH, "the paper's curve in status scanner");
    start(&c);
    c.print.readings.meta.status = WW_STATUS_UNKNOWN;
    c.paper.meta.status = WW_STATUS_M;
    balance_case_refused("aim and paper", &c, WW_EMISMATCH, "the aim was read in status A");
    start(&c);
    balance_case_ring(&c, "card", 60, 55, 0, 11, 0.68, 0.60, 0.72);
    c.ring.readings.meta.status = WW_STATUS_E;
    balance_case_refused("ring", &c, WW_EMISMATCH, "the ring-around was read in status E");
}

static void an_unknown_status_goes_with_any(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    start(&c);
    c.print.readings.meta.status = c.aim.readings.meta.status = WW_STATUS_UNKNOWN;
    balance_case_make("unknown", &c, &balance);
    ww_balance_release(&balance);
}

/* Source: the project's definition of status visual, which has one channel; the remedy names the
 * status of what it is set against. */
static void refuses_densities_without_colour(void **state) {
    balance_case c;
    (void)state;
    start(&c);
    c.print.readings.meta.status = WW_STATUS_VISUAL;
    c.print.readings.has[WW_RED] = c.print.readings.has[WW_GREEN] = false;
    c.print.readings.has[WW_BLUE] = false;
    c.paper.meta.status = WW_STATUS_T;
    balance_case_refused("print", &c, WW_ENODATA, "the print has no red, green and blue");
    balance_case_refused("remedy", &c, WW_ENODATA, "add a line '# status: T'");
    start(&c);
    c.aim.readings.has[WW_RED] = c.aim.readings.has[WW_GREEN] = false;
    c.aim.readings.has[WW_BLUE] = false;
    c.paper.meta.status = WW_STATUS_UNKNOWN;
    balance_case_refused("aim", &c, WW_ENODATA, "add a line '# status: A'");
}

static void refuses_another_zero_or_material(void **state) {
    balance_case c;
    (void)state;
    start(&c);
    c.print.readings.meta.relative = WW_RELATIVE_WHITE;
    balance_case_refused("white", &c, WW_EMISMATCH, "the print is relative to white");
    start(&c);
    c.aim.readings.meta.relative = WW_RELATIVE_WHITE;
    balance_case_refused("aim white", &c, WW_EMISMATCH, "the aim is relative to white");
    start(&c);
    c.paper.meta.relative = WW_RELATIVE_WHITE;
    balance_case_refused("paper white", &c, WW_EMISMATCH, "the paper's curve is relative to white");
    start(&c);
    c.paper.meta.material = WW_MATERIAL_FILM;
    balance_case_refused("film", &c, WW_EMISMATCH, "the paper's curve is of a film");
    start(&c);
    c.print.readings.meta.density = WW_DENSITY_TRANSMISSION;
    balance_case_refused("transmission", &c, WW_EMISMATCH, "read by transmission");
    start(&c);
    c.paper.channel[WW_BLUE].fitted = false;
    balance_case_refused("two channels", &c, WW_ENODATA, "lacks red, green or blue");
}

static void refuses_wet_prints_and_other_lots(void **state) {
    balance_case c;
    (void)state;
    start(&c);
    c.print.readings.meta.read = WW_READ_WET;
    balance_case_refused("wet", &c, WW_EMISMATCH, "read wet");
    start(&c);
    c.print.readings.meta.lot = (char *)"7";
    c.paper.meta.lot = (char *)"8";
    balance_case_refused("lot", &c, WW_EMISMATCH, "the print is on lot '7'");
    start(&c);
    balance_case_ring(&c, "card", 60, 55, 0, 11, 0.68, 0.60, 0.72);
    c.ring.readings.meta.lot = (char *)"7";
    c.print.readings.meta.lot = (char *)"6";
    balance_case_refused("ring's lot", &c, WW_EMISMATCH,
                         "the ring-around is on lot '7' and the print is of lot '6'; give prints "
                         "of one lot, or leave --ring out");
    c.print.readings.meta.lot = NULL;
    c.paper.meta.lot = (char *)"6";
    balance_case_refused("ring's and curve's lot", &c, WW_EMISMATCH,
                         "the ring-around is on lot '7' and the paper's curve is of lot '6'");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(refuses_numbers_beyond_limits),
        cmocka_unit_test(refuses_another_status),
        cmocka_unit_test(an_unknown_status_goes_with_any),
        cmocka_unit_test(refuses_densities_without_colour),
        cmocka_unit_test(refuses_another_zero_or_material),
        cmocka_unit_test(refuses_wet_prints_and_other_lots),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
