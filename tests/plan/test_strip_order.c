/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/strip_parts.h"
#include "support/support.h"
#include <string.h>

/* Strips of equal steps; which of them are out of order. Source: definition (more light must not
 * print lighter, by more than three times the error and 0.02); 0.0 of no step marks the end. */
static const struct {
    const char *name;
    double density[9];
    const char *out; /* '.' in order, 'x' out of order, one a step */
    const char *says;
} rows[] = {
    {"in order", {0.1, 0.3, 0.7, 1.2, 1.6}, ".....", NULL},
    {"level within error", {0.1, 0.3, 0.29, 0.31, 1.6}, ".....", NULL},
    {"0.04 is three errors of one reading and less", {0.1, 0.34, 0.30, 1.2, 1.6}, ".....", NULL},
    {"0.05 is more", {0.1, 0.35, 0.30, 1.2, 1.6}, ".xx..", "Step '2'"},
    {"decimal point: 0.12 for 1.2", {0.1, 0.3, 0.7, 0.12, 1.6}, "...x.", "Step '4'"},
    {"1.7 for 0.7", {0.1, 0.3, 1.7, 1.2, 1.6, 1.9}, "..x...", "Step '3'"},
    {"two changed over", {0.1, 0.3, 1.2, 0.7, 1.6}, "..xx.", "Step '3'"},
    {"falls to the end", {0.1, 0.5, 1.5, 2.0, 1.9, 1.7}, "....xx", "reversal (solarised"},
    {"by 0.04 and 0.07", {0.8, 1.3, 1.75, 2.08, 2.09, 2.05, 1.98}, ".....xx", "reversal"},
    {"one misread at the end", {0.8, 1.3, 1.75, 2.08, 2.09, 2.08, 1.98}, "......x", "Step '7'"},
    {"turned round", {1.6, 1.2, 0.7, 0.3, 0.1}, "xxxxx", "turned round"},
    {"in toe, by 0.02 and 0.03", {0.22, 0.11, 0.07, 0.04, 0.02}, "xxxxx", "turned round"},
    {"the first of three alike", {1.2, 0.12, 0.11, 0.10}, "x...", "Step '1'"},
    {"one at the end", {0.1, 0.5, 1.5, 2.0, 1.9}, "...xx", "Step '5'"},
};

/* One time that is given twice, with densities that differ by more than three errors of their
 * difference, 0.042: one of the times is a slip, and nothing says which. */
static void one_time_twice(void **state) {
    static const double times[] = {8.0, 10.1, 12.7, 12.7, 20.2};
    static const struct {
        const char *name;
        double density[5];
        bool out;
    } cases[] = {{"12.7 for 16.0", {0.05, 0.10, 0.17, 0.28, 0.43}, true},
                 {"as often in the other order", {0.05, 0.10, 0.28, 0.17, 0.43}, true},
                 {"read twice", {0.05, 0.10, 0.17, 0.21, 0.43}, false}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        static const size_t order[] = {0, 1, 2, 3, 4};
        char label[5][4];
        ww_strip_step step[5];
        ww_strip strip = {.kind = WW_STRIP_READ, .step = step, .n_steps = 5};
        for (size_t k = 0; k < 5; k++) {
            label[k][0] = (char)('1' + k);
            label[k][1] = '\0';
            step[k] = (ww_strip_step){.step = label[k],
                                      .time_s = times[k],
                                      .state = WW_CELL_VALUE,
                                      .density = cases[i].density[k],
                                      .error = 0.01,
                                      .n = 1};
        }
        test_status(cases[i].name, ww__strip_order_check(&strip, order, 5, NULL), WW_OK, NULL);
        for (size_t k = 0; k < 5; k++)
            if (step[k].out_of_order != (cases[i].out && (k == 2 || k == 3)))
                fail_msg("%s: step %zu", cases[i].name, k + 1);
        test_true(cases[i].name, strip.notes.n == (cases[i].out ? 2 : 0));
        test_true("why", !cases[i].out || strstr(strip.notes.text[0], "of the same time"));
        ww_notes_release(&strip.notes);
    }
}

static void out_of_order(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_strip_step step[9];
        char label[9][4];
        size_t order[9], n = strlen(rows[i].out);
        ww_strip strip = {.kind = WW_STRIP_READ, .step = step, .n_steps = n};
        bool found = rows[i].says == NULL;
        for (size_t k = 0; k < n; k++) {
            label[k][0] = (char)('1' + k);
            label[k][1] = '\0';
            step[k] = (ww_strip_step){.step = label[k],
                                      .time_s = 4.0 + 3.0 * (double)k,
                                      .state = WW_CELL_VALUE,
                                      .density = rows[i].density[k],
                                      .error = 0.01,
                                      .n = 1};
            order[k] = k;
        }
        test_status(rows[i].name, ww__strip_order_check(&strip, order, n, NULL), WW_OK, NULL);
        for (size_t k = 0; k < n; k++)
            if (step[k].out_of_order != (rows[i].out[k] == 'x'))
                fail_msg("%s: step %zu", rows[i].name, k + 1);
        for (size_t k = 0; k < strip.notes.n && !found; k++)
            found = strstr(strip.notes.text[k], rows[i].says) != NULL;
        test_true(rows[i].name, found && (rows[i].says != NULL) == (strip.notes.n > 0));
        ww_notes_release(&strip.notes);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(out_of_order),
                                       cmocka_unit_test(one_time_twice)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
