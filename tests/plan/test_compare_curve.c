/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/compare_case.h"
#include "support/print_case.h"

/* Source: the logistic paper of closed form (support/print_case.h). */

static void compare(const ww_curve *a, const ww_curve *b, ww_status status, ww_comparison *made) {
    const ww_compare_input input[] = {{.curve = a, .file = "a.json"}, {.curve = b, .file = "b"}};
    ww_error err = WW_ERROR_INIT;
    test_status("curves", ww_compare_make(input, 2, NULL, made, &err), status, &err);
}

/* With the speed point of its closed form. */
static const ww_curve *paper(print_case *c, const char *name, double range, double x0) {
    ww_curve *made = print_case_paper(c, name, range, x0);
    const double at = print_case_log_h(range, x0, 0.60);
    for (int k = 0; k < WW_CHANNEL_COUNT; k++)
        made->channel[k].figure[WW_FIGURE_SPEED_POINT] =
            (ww_quantity){at, at - 0.01, at + 0.01, WW_FITTED};
    return made;
}

/* Twice as fast is the same paper: exposure takes it up. A harder one differs as its form says. */
static void over_each_other(void **state) {
    (void)state;
    print_case c;
    ww_comparison made = WW_COMPARISON_INIT;
    print_case_start(&c);
    const ww_curve *soft = paper(&c, "Soft", 1.30, 0.2);
    const ww_curve *fast = paper(&c, "Fast", 1.30, -0.1);
    compare(soft, fast, WW_OK, &made);
    test_true("tones", made.pair[0].n > 15);
    test_close("the same", made.pair[0].worst.value, 0.0, 1e-6);
    test_true("told", test_noted(&made.notes, "at their speed points"));
    ww_comparison_release(&made);
    const ww_curve *hard = paper(&c, "Hard", 0.80, 0.2);
    compare(soft, hard, WW_OK, &made);
    const ww_compare_print *print = &made.print[0];
    const double from = print_case_log_h(1.30, 0.2, 0.60),
                 other = print_case_log_h(0.80, 0.2, 0.60);
    for (size_t i = 0; i < made.pair[0].n; i++) {
        const ww_compare_difference *tone = &made.pair[0].tone[i];
        const double at = print->tone[tone->a].sent.value;
        test_close("difference", tone->density[made.pair[0].main].value,
                   print_case_net(0.80, 0.2, other + at) - print_case_net(1.30, 0.2, from + at),
                   1e-6);
    }
    test_close("white", print->white.value, 0.05, 0.02);
    ww_comparison_release(&made);
}

static void what_was_not_fitted(void **state) {
    (void)state;
    print_case c;
    ww_comparison made = WW_COMPARISON_INIT;
    ww_curve empty = WW_CURVE_INIT;
    print_case_start(&c);
    compare(print_case_paper(&c, "Soft", 1.30, 0.2), &empty, WW_ENODATA, &made);
    test_true("nothing", made.print == NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(over_each_other),
        cmocka_unit_test(what_was_not_fitted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
