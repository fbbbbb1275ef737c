/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/scan_end.h"
#include "support/scan_plan_case.h"

/* Source: the header's rule; 2^14 - 1 is 16383. */
static void codes_may_end_below_full_scale(void **state) {
    static const struct {
        const char *name;
        double seen, clips, step; /* codes; 0: not seen, none known */
        const char *words;
    } rows[] = {
        {"14 bits would hold it", 16383.0, 0.0, 1.0, "A scanner of 14 bits"},
        {"12 bits would", 4095.0, 0.0, 1.0, "A scanner of 12 bits"},
        {"over 14 bits", 16384.0, 0.0, 1.0, NULL},
        {"14 bits scaled to 16", 16380.0, 0.0, 4.0, NULL},
        {"nothing is known", 0.0, 0.0, 1.0, NULL},
        {"it is known", 16383.0, 16383.0, 1.0, "end at 16383 of 65535"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        scan_plan_case c;
        ww_scan_plan plan;
        scan_plan_case_usual(&c, 1.5);
        ww_scanner_channel *channel = &c.made.scanner.channel[WW_VISUAL];
        c.made.scanner.step = rows[i].step;
        channel->surround = (ww_optional){rows[i].seen > 0.0, rows[i].seen};
        channel->clips = (ww_optional){rows[i].clips > 0.0, rows[i].clips};
        channel->n_steps = 0;
        scan_plan_case_make(rows[i].name, &c, &plan);
        bool told = false, any = false;
        for (size_t k = 0; k < plan.notes.n; k++) {
            any = any || strstr(plan.notes.text[k], "A scanner of") ||
                  strstr(plan.notes.text[k], " end at ");
            told = told || (rows[i].words && strstr(plan.notes.text[k], rows[i].words));
        }
        test_true(rows[i].name, any == (rows[i].words != NULL) && told == any);
        ww_scan_plan_release(&plan);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(codes_may_end_below_full_scale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
