/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings_made.h"
#include "image/encoding.h"
#include "support/scan_case.h"

/*
 * Source: what encoded scans read as through a linear calibration, closed form: D / gamma; and the
 * other way round, gamma D. Flare compresses the dense end only.
 */
static const struct {
    const char *name;
    double factor, flare; /* of what is read */
    size_t steps;         /* that have a density */
    ww_status status;
    const char *says;
} rows[] = {
    {"itself", 1.0, 0.0, 20, WW_OK, NULL},
    {"2.2 as linear", 1.0 / 2.2, 0.0, 20, WW_EMISMATCH, "reads 0.45 times as steep"},
    {"1.8 as linear", 1.0 / 1.8, 0.0, 20, WW_EMISMATCH, "reads 0.56 times as steep"},
    {"linear as 2.2", 2.2, 0.0, 9, WW_EMISMATCH, "reads 2.20 times as steep"},
    {"a wedge of another material", 0.93, 0.0, 20, WW_OK, NULL},
    {"1 % of flare", 1.0, 0.01, 20, WW_OK, NULL},
    {"too few to say", 1.0 / 2.2, 0.0, 3, WW_OK, NULL},
    {"none", 1.0, 0.0, 0, WW_OK, NULL},
};

static void encodings_are_told_by_the_wedge(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int colour = 0; colour < 2; colour++) {
            struct scan_case made;
            struct scanner_case scanner;
            ww_readings wedge = WW_READINGS_INIT;
            ww_error err = WW_ERROR_INIT;
            scan_case_strip(&made, colour == 1);
            scan_case_scanner(&scanner, colour == 1);
            made_row(&wedge, "base", "");
            for (size_t k = 0; k < SCAN_CASE_STEPS; k++) {
                const double d = scan_case_density(k), flare = rows[i].flare;
                made_step(&wedge, made.patch[k].step, WW_COLUMN_VISUAL, d);
                for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
                    ww_patch_channel *channel = &made.patch[k].channel[c];
                    channel->reach = k == 0 ? WW_REACH_THINNER : WW_REACH_WITHIN;
                    channel->density = (ww_cell){.state = WW_CELL_OVER};
                    if (k > 0 && k <= rows[i].steps)
                        channel->density =
                            (ww_cell){.state = WW_CELL_VALUE,
                                      .value = -rows[i].factor *
                                               log10((pow(10.0, -d) + flare) / (1.0 + flare)),
                                      .n = 1};
                }
            }
            test_status(rows[i].name,
                        ww__encoding_check(&made.measured, &wedge, &scanner.scanner, &err),
                        rows[i].status, &err);
            test_true(rows[i].name, !rows[i].says || strstr(err.msg, rows[i].says));
            ww_readings_release(&wedge);
        }
}

/* Steps of other labels say nothing. */
static void other_labels_say_nothing(void **state) {
    struct scan_case made;
    struct scanner_case scanner;
    ww_readings wedge = WW_READINGS_INIT;
    (void)state;
    scan_case_strip(&made, false);
    scan_case_scanner(&scanner, false);
    made_step(&wedge, "nowhere", WW_COLUMN_VISUAL, 2.0);
    test_status("other", ww__encoding_check(&made.measured, &wedge, &scanner.scanner, NULL), WW_OK,
                NULL);
    ww_readings_release(&wedge);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(encodings_are_told_by_the_wedge),
                                       cmocka_unit_test(other_labels_say_nothing)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
