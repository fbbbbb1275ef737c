/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "../core/readings_made.h"
#include "support/printers.h"
#include "support/support.h"
#include <math.h>
#include <wedgework/match.h>
#include <wedgework/start.h>

enum { GRAYS = 21 };
static ww_match match; /* large */

/* What a display shows, in cd/m2: light behind a power of 2.2 over its own black. */
static double shown(double drive) {
    return 0.12 + 119.88 * pow(1.0 - drive, 2.2);
}

static ww_readings display_read(double black) {
    ww_readings made = WW_READINGS_INIT;
    for (int i = 0; i < GRAYS; i++) {
        ww_row *row = made_row(&made, "", "");
        made_value(&made, row, WW_COLUMN_GRAY, 100.0 * i / (GRAYS - 1));
        made_value(&made, row, WW_COLUMN_LUMINANCE,
                   i == GRAYS - 1 ? black : shown((double)i / (GRAYS - 1)));
    }
    return made;
}

/* Closed forms: the preview shows the print's densities above white, down to its black. */
static void a_display(void **state) {
    (void)state;
    ww_readings aim = printer_read(PRINTER_DOTS, WW_RAMP_GRAY, GRAYS, 0.0, 1, NULL, NULL);
    ww_readings display = display_read(shown(1.0));
    const ww_match_request request = {.aim = &aim, .print = &display};
    const ww_match_channel *c = &match.channel[0];
    ww_error err = WW_ERROR_INIT;
    test_status("display", ww_match_make(&request, &match, &err), WW_OK, &err);
    test_true("read", c->read == WW_COLUMN_LUMINANCE && match.display);
    for (int i = 0; i <= 100; i++)
        test_close("density shown", log10(shown(0.0) / shown(ww_match_out(c, i / 100.0))),
                   printer_density(PRINTER_DOTS, i / 100.0) - printer_density(PRINTER_DOTS, 0.0),
                   0.02);
    test_close("its black is not led to", c->kept, 1.0, 0.0);
    test_true("told", test_noted(&match.notes, "begin at its own white"));
    test_true("no paper to speak of", !test_noted(&match.notes, "This paper is"));
    ww_match_release(&match);
    ww_readings_release(&display);
    display = display_read(0.0);
    test_status("no light", ww_match_make(&request, &match, &err), WW_EDOMAIN, &err);
    test_holds("no light", err.msg, "no density comes of Y 0");
    const ww_match_request both = {.aim = &aim, .print = &display, .absolute = true};
    test_status("densities", ww_match_make(&both, &match, &err), WW_EMISMATCH, &err);
    ww_readings_release(&display);
    ww_readings_release(&aim);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_display)};
    ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
