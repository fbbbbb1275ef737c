/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "made_profile.h"
#include "support/support.h"

static double price_of(const ww__counts *counts, size_t count) {
    for (size_t i = 0; i < counts->n; i++)
        if (counts->count[i] == count)
            return counts->price[i];
    return HUGE_VAL;
}

/* Source: the drawing; which counts a profile leaves open follows from what can be seen of it. */
static void counts_beyond_the_run(void **state) {
    static const struct {
        const char *name;
        double before, after, first, noise;
        size_t steps;
        int side;
        size_t sure, never;
    } rows[] = {
        {"open light before: no step", 0.0, 0.0, 0.05, 0.0, 14, 0, 0, 2},
        {"open light behind: one step", 0.0, 0.0, 0.05, 0.0, 14, 1, 1, 2},
        {"mask before: one step", -4.0, 0.0, 0.05, 0.0, 14, 0, 1, 2},
        {"grey before: one step", -0.6, -0.6, 0.05, 0.0, 14, 0, 1, 2},
        {"mask behind: none after its edge", 0.0, -4.0, 0.05, 0.0, 10, 1, 0, 30},
    };
    static made_profile m;
    static ww__lattice l;
    static ww__cells c;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        made_strip s = made_plain;
        ww__run run;
        ww__counts counts;
        s.before = rows[i].before, s.after = rows[i].after, s.first = rows[i].first;
        s.noise = rows[i].noise, s.steps = rows[i].steps;
        made_profile_fill(&s, &m);
        made_lattice(&s, &l);
        test_status(rows[i].name, ww__cells_measure(&m.profile, &l, &c, NULL), WW_OK, NULL);
        test_true(rows[i].name, ww__run_find(&m.profile, &l, &c, &run));
        ww__counts_find(&m.profile, &l, &c, &run, rows[i].side, 4, &counts);
        test_true(rows[i].name, price_of(&counts, rows[i].sure) < 0.1);
        test_true(rows[i].name, counts.count[counts.likely] == rows[i].sure);
        test_true(rows[i].name, price_of(&counts, rows[i].never) > 1.0);
    }
}

/* Three steps below the noise: nothing between them, but the strip ends where they do. */
static void steps_in_the_noise_count(void **state) {
    static made_profile m;
    static ww__lattice l;
    static ww__cells c;
    made_strip s = made_plain;
    ww__run run;
    ww__counts counts;
    (void)state;
    s.gap = 0.3, s.noise = 1e-3;
    made_profile_fill(&s, &m);
    made_lattice(&s, &l);
    test_status("cells", ww__cells_measure(&m.profile, &l, &c, NULL), WW_OK, NULL);
    test_true("run", ww__run_find(&m.profile, &l, &c, &run));
    test_true("not all is seen", run.last < 15);
    ww__counts_find(&m.profile, &l, &c, &run, 1, 6, &counts);
    test_true("the rest is possible", price_of(&counts, 17 - run.last) < 1.0);
}

static void rows_that_go_on(void **state) {
    static made_profile m;
    static ww__lattice l;
    static ww__cells c;
    (void)state;
    made_profile_fill(&made_plain, &m);
    made_lattice(&made_plain, &l);
    const double strip[2] = {l.at[6], l.at[10]};
    test_status("cells", ww__cells_measure(&m.profile, &l, &c, NULL), WW_OK, NULL);
    test_true("open light does not", !ww__row_goes_on(&m.profile, &l, &c, strip, 2, 0));
    test_true("a patch of the row does", ww__row_goes_on(&m.profile, &l, &c, strip, 5, 0));
    test_true("nothing beyond the profile", !ww__row_goes_on(&m.profile, &l, &c, strip, 0, 0));
    test_true("nor at its end", !ww__row_goes_on(&m.profile, &l, &c, strip, c.n, 1));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(counts_beyond_the_run),
        cmocka_unit_test(steps_in_the_noise_count),
        cmocka_unit_test(rows_that_go_on),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
