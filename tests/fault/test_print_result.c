/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "support/print_trial.h"
#include <wedgework/start.h>

/* Source: definition (the Status lines of the header). */

/* As in test_fit.c: what GSL keeps of a workspace that it could not allocate whole. */
enum { GSL_LOSES = 60 };

static ww_status explain(void *context, ww_error *err) {
    print_trial *trial = context;
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    ww_print_offset known = {.log_h = 0.1}, *learned = NULL;
    size_t n = 0;
    ww_status status =
        ww_print_result_explain(&trial->plan.request, &trial->print.negative, &miss, err);
    test_true("all or nothing", miss.set == (status == WW_OK));
    if (status == WW_OK)
        status = ww_print_offsets_learn(&miss, &known, 1, &learned, &n, err);
    test_true("all or nothing", (learned != NULL) == (status == WW_OK));
    ww_print_offsets_release(learned, n);
    ww_print_miss_release(&miss);
    return status;
}

static void explained(void **state) {
    /* The last with a tone misread, so that the rest is asked. */
    static const trial_truth truth[] = {
        {.log_h = 0.1}, {.light = 0.7}, {.log_h = 0.0}, {.log_h = 0.12}};
    const size_t last = sizeof truth / sizeof truth[0] - 1;
    (void)state;
    for (size_t i = 0; i < sizeof truth / sizeof truth[0]; i++) {
        print_trial trial;
        dice d = {3};
        print_trial_start(&trial, &d, 0.01);
        trial.truth = truth[i];
        print_trial_print(&trial, &d, print_trial_time(&trial), 0x7f);
        if (i == last)
            trial.print.row[3].cell[WW_COLUMN_VISUAL].value += 0.25;
        inject_each_but("explained", explain, &trial, GSL_LOSES);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(explained),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print result without memory", tests, NULL, NULL);
}
