/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/strip_parts.h"
#include "support/strip_case.h"
#include "support/support.h"
#include <string.h>
#include <wedgework/start.h>

/*
 * What is typed for the times of a strip whose densities rise. Source: the seconds that a hand adds
 * are the differences of the handbook series 8, 10.1, 12.7, 16, 20.2 s, or of another even one.
 */
static const struct {
    const char *name;
    double time_s[5], density[5];
    const char *says; /* NULL: taken as totals */
} rows[] = {
    {"totals", {8.0, 10.1, 12.7, 16.0, 20.2}, {0.11, 0.16, 0.23, 0.34, 0.49}, NULL},
    {"added, 1/3 stop",
     {8.0, 2.1, 2.6, 3.3, 4.2},
     {0.11, 0.16, 0.23, 0.34, 0.49},
     "give the sums, 8.0, 10.1, 12.7, 16.0, 20.2 s"},
    {"added, rows from the other end",
     {4.2, 3.3, 2.6, 2.1, 8.0},
     {0.49, 0.34, 0.23, 0.16, 0.11},
     "give the sums, 8.0, 10.1, 12.7, 16.0, 20.2 s"},
    {"added, whole stops", {8, 8, 16, 32, 64}, {0.11, 0.60, 1.4, 1.9, 2.0}, "8, 16, 32, 64, 128 s"},
    {"added, whole seconds",
     {8, 2, 3, 3, 4},
     {0.11, 0.16, 0.23, 0.34, 0.49},
     "8, 10, 13, 16, 20 s"},
    {"equal seconds", {5, 5, 5, 5, 5}, {0.11, 0.30, 0.60, 0.95, 1.2}, "5, 10, 15, 20, 25 s"},
    {"a level between", {8.0, 2.1, 2.6, 3.3, 4.2}, {0.06, 0.06, 0.07, 0.06, 0.12}, "10.1, 12.7"},
    {"80 for 8", {80, 10.1, 12.7, 16.0, 20.2}, {0.11, 0.16, 0.23, 0.34, 0.49}, NULL},
    {"two changed over", {10.1, 8.0, 12.7, 16.0, 20.2}, {0.11, 0.16, 0.23, 0.34, 0.49}, NULL},
    {"from the longest", {20.2, 16.0, 12.7, 10.1, 8.0}, {0.49, 0.34, 0.23, 0.16, 0.11}, NULL},
    {"two readings of one exposure", {8, 8, 16, 32, 64}, {0.10, 0.11, 0.4, 0.9, 1.5}, NULL},
    {"two exposures", {8, 8, 16, 32, 64}, {0.10, 0.15, 0.4, 0.9, 1.5}, "has no more than step"},
    {"one exposure", {5, 5, 5, 5, 5}, {0.30, 0.31, 0.30, 0.29, 0.31}, NULL},
};

static void make(size_t i, strip_case *c) {
    strip_case_start(c, true);
    for (size_t k = 0; k < 5; k++)
        strip_case_step(c, rows[i].time_s[k], rows[i].density[k]);
}

static void added_seconds(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        strip_case c;
        ww_strip strip = {.kind = WW_STRIP_PROOF};
        ww_error err = WW_ERROR_INIT;
        make(i, &c);
        test_status(rows[i].name, ww__strip_steps_read(&c.readings, false, &strip, &err),
                    rows[i].says ? WW_EDOMAIN : WW_OK, &err);
        if (rows[i].says && !strstr(err.msg, rows[i].says))
            fail_msg("%s: %s", rows[i].name, err.msg);
        test_true(rows[i].name, strip_case_noted(&strip, "taken as readings of one exposure") ==
                                    (strcmp(rows[i].name, "two readings of one exposure") == 0));
        ww_strip_release(&strip);
    }
}

/* Under a safelight pieces may lie for any seconds. */
static void not_of_a_safelight(void **state) {
    strip_case c;
    ww_strip strip = {.kind = WW_STRIP_SAFELIGHT};
    (void)state;
    make(1, &c);
    test_status("read", ww__strip_steps_read(&c.readings, false, &strip, NULL), WW_OK, NULL);
    ww_strip_release(&strip);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(added_seconds),
        cmocka_unit_test(not_of_a_safelight),
    };
    if (ww_start() != WW_OK)
        return 1;
    return cmocka_run_group_tests(tests, NULL, NULL);
}
