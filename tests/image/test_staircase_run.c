/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "made_profile.h"
#include "support/support.h"

#include <math.h>
/* Source: the drawing. */
static void levels_and_run(void **state) {
    static made_profile m;
    static ww__lattice l;
    static ww__cells c;
    ww__run run;
    (void)state;
    made_profile_fill(&made_plain, &m);
    made_lattice(&made_plain, &l);
    test_status("cells", ww__cells_measure(&m.profile, &l, &c, NULL), WW_OK, NULL);
    for (size_t k = 0; k < 14; k++)
        test_close("level", c.level[3 + k],
                   log10(pow(10.0, -0.05 - 0.15 * (double)k) + m.profile.floor), 1e-9);
    test_true("run", ww__run_find(&m.profile, &l, &c, &run));
    test_true("from the surround to the last", run.first == 3 && run.last == 16);
    test_true("seen", run.seen == 14);
    test_close("fall", run.fall, 0.149, 0.002);
    test_close("no slope", run.slopes, 0.0, 0.0);
}

static void a_slope_is_none(void **state) {
    static made_profile m;
    static ww__lattice l;
    static ww__cells c;
    ww__run run;
    (void)state;
    made_profile_fill(&made_plain, &m);
    for (size_t i = 0; i < MADE; i++)
        m.value[i] = -0.006 * (double)i;
    made_lattice(&made_plain, &l);
    test_status("cells", ww__cells_measure(&m.profile, &l, &c, NULL), WW_OK, NULL);
    test_true("a slope", !ww__run_find(&m.profile, &l, &c, &run));
    for (size_t i = 0; i < MADE; i++)
        m.value[i] = m.smooth[i] = -1.0;
    test_status("cells", ww__cells_measure(&m.profile, &l, &c, NULL), WW_OK, NULL);
    test_true("even", !ww__run_find(&m.profile, &l, &c, &run));
}

/* Source: closed form: falls of a logistic function grow and shrink again; others do not. */
static void a_curve_is_told_from_uneven_falls(void **state) {
    static made_profile m;
    static ww__lattice l;
    static ww__cells c;
    ww__run run;
    (void)state;
    made_profile_fill(&made_plain, &m);
    made_lattice(&made_plain, &l);
    test_status("cells", ww__cells_measure(&m.profile, &l, &c, NULL), WW_OK, NULL);
    for (size_t k = 0; k < c.n; k++)
        c.level[k] = k < 4 ? -0.1 : -0.1 - 2.0 / (1.0 + exp(8.0 - (double)k));
    test_true("run", ww__run_find(&m.profile, &l, &c, &run));
    test_true("curved", run.curved);
    c.level[8] = 0.9 * c.level[7] + 0.1 * c.level[9];
    test_true("run", ww__run_find(&m.profile, &l, &c, &run));
    test_true("uneven", !run.curved);
}

/* Source: the drawing: a third of a step of white paper behind the last step, then a black lid. */
static void a_border_ends_the_run(void **state) {
    static made_profile m;
    static ww__lattice l;
    static ww__cells c;
    ww__run run;
    (void)state;
    for (int border = 0; border < 2; border++) {
        made_profile_fill(&made_plain, &m);
        for (size_t i = 471; i < MADE; i++)
            m.value[i] = border == 1 && i < 480 ? 0.0 : -3.0;
        made_lattice(&made_plain, &l);
        test_status("cells", ww__cells_measure(&m.profile, &l, &c, NULL), WW_OK, NULL);
        test_true("run", ww__run_find(&m.profile, &l, &c, &run));
        test_true(border == 1 ? "lid" : "mask", run.last == (border == 1 ? 16u : 17u));
    }
}

/* Source: the drawing: one step denser by nearly three. */
static void one_step_may_be_far_too_dense(void **state) {
    static made_profile m;
    static ww__lattice l;
    static ww__cells c;
    ww__run run;
    (void)state;
    made_profile_fill(&made_plain, &m);
    made_lattice(&made_plain, &l);
    test_status("cells", ww__cells_measure(&m.profile, &l, &c, NULL), WW_OK, NULL);
    c.level[9] -= 0.4;
    test_true("run", ww__run_find(&m.profile, &l, &c, &run));
    test_true("all of it", run.first == 3 && run.last == 16);
    c.level[12] -= 0.4;
    test_true("run", ww__run_find(&m.profile, &l, &c, &run));
    test_true("not two", run.first > 3 || run.last < 16);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(levels_and_run),
        cmocka_unit_test(a_slope_is_none),
        cmocka_unit_test(a_curve_is_told_from_uneven_falls),
        cmocka_unit_test(a_border_ends_the_run),
        cmocka_unit_test(one_step_may_be_far_too_dense),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
