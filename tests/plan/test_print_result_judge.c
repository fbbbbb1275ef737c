/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_result_parts.h"
#include "support/print_trial.h"
#include "support/support.h"
#include <string.h>
#include <wedgework/start.h>

/* A cloud and a shadow up alike in log H are no fog, whatever the errors of a paper that nobody
 * measured leave open: the shadow does not stand. Nor is a cause told whose size the readings do
 * not bound. Source: definition of fog and flare, which fade in the dark tones. */
static void test_no_fog(void **state) {
    (void)state;
    for (int i = 0; i < 2; i++) {
        ww_print_miss miss = WW_PRINT_MISS_INIT;
        print_trial trial;
        dice d = {1};
        print_trial_start(&trial, &d, 0.0);
        trial.truth.log_h = 0.12;
        print_trial_print(&trial, &d, print_trial_time(&trial), 0x49);
        if (i == 1) /* taken for a thousandth of its seconds: all is foretold white */
            trial.print.negative.meta.exposure_time_s.value *= 1e-3;
        print_trial_explain(&trial, &miss);
        test_true("no fog", !miss.hypothesis[WW_MISS_LIGHT_END].supported);
        for (int c = 0; c < WW_MISS_CAUSES; c++)
            if (miss.hypothesis[c].tried && miss.hypothesis[c].log_h_sd.set)
                test_true("bounded", miss.hypothesis[c].log_h_sd.value > 0.0 &&
                                         miss.hypothesis[c].log_h_sd.value < 1e3);
        if (i == 1)
            test_true("the time is asked about", strstr(miss.why, "exposure time") != NULL);
        ww_print_miss_release(&miss);
    }
}

/*
 * Flare that moves the darkest tone read by a little, too, beside more exposure on a softer paper,
 * which fits a little worse and has a size more: both are named, the simpler first, and neither is
 * taken for known. Source: the truth is flare.
 */
static void test_flare(void **state) {
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    const ww_miss_hypothesis *h = miss.hypothesis;
    const char *fog, *lamp;
    print_trial trial;
    dice d = {1};
    (void)state;
    print_trial_start(&trial, &d, 0.0);
    trial.truth.light = 0.4;
    print_trial_print(&trial, &d, print_trial_time(&trial), 0x7e);
    trial.print.row[1].cell[WW_COLUMN_VISUAL].value += 0.03; /* the darkest of these */
    print_trial_explain(&trial, &miss);
    test_true("light end", h[WW_MISS_LIGHT_END].supported && miss.best == WW_MISS_LIGHT_END);
    test_true("both", h[WW_MISS_BOTH].supported && miss.n_supported == 2);
    test_true("as good",
              h[WW_MISS_BOTH].chi_squared > h[WW_MISS_LIGHT_END].chi_squared - WW__RESULT_HINT);
    fog = strstr(miss.why, "fog");
    lamp = strstr(miss.why, "lamp");
    test_true("in order", fog && lamp && fog < lamp);
    test_true("no contrast", miss.offset.range == 0.0);
    ww_print_miss_release(&miss);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_no_fog),
        cmocka_unit_test(test_flare),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print_result_judge", tests, NULL, NULL);
}
