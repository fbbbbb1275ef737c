/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_margin.h"
#include "made_profile.h"
#include "support/support.h"

/* Steps with an even tone before them, over `wide` steps, and what lies beside all of it. */
typedef struct margin_row {
    const char *name;
    double wide, tone, beside; /* log10 */
    bool told;
} margin_row;

static void fill(const made_strip *s, const margin_row *row, made_profile *m) {
    made_profile_fill(s, m);
    for (size_t i = 0; i < MADE; i++) {
        const double x = (double)i + 0.5;
        if (x < s->from && x > s->from - row->wide * s->pitch)
            m->value[i] = row->tone;
        m->beside[0][i] = m->beside[1][i] = row->beside;
    }
    (void)ww__profile_smooth(m->value, MADE, (size_t)(0.12 * s->pitch), m->smooth, NULL);
}

/* Source: the drawing; steps begin 0.45 below open light and fall by 0.15. */
static void margin_is_told_from_a_step(void **state) {
    static const margin_row rows[] = {
        {"1.5 steps wide", 1.5, -0.25, 0.0, true},
        {"2.5 steps wide", 2.5, -0.25, 0.0, true},
        {"as a step would lie", 1.0, -0.30, 0.0, false},
        {"one wide on glass", 1.0, -0.25, 0.0, false},
        {"one wide, with film beside", 1.0, -0.25, -0.25, true},
        {"hardly lighter than the first", 1.0, -0.43, 0.0, true},
    };
    static made_profile m;
    static ww__lattice l;
    static ww__cells c;
    made_strip s = made_plain;
    s.first = 0.45;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__run run;
        ww__counts before;
        fill(&s, &rows[i], &m);
        made_lattice(&s, &l);
        test_status(rows[i].name, ww__cells_measure(&m.profile, &l, &c, NULL), WW_OK, NULL);
        test_true(rows[i].name, ww__run_find(&m.profile, &l, &c, &run));
        test_true(rows[i].name, ww__margin_leave_out(&l, &c, s.from, &run));
        test_true(rows[i].name, fabs(l.at[run.first] - s.from) < 0.5);
        ww__counts_find(&m.profile, &l, &c, &run, 0, 4, &before);
        test_true(rows[i].name,
                  ww__margin_is_told(&m.profile, &l, &c, &run, &before, s.steps) == rows[i].told);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(margin_is_told_from_a_step)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
