/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/accused.h"
#include "core/points_made.h"
#include <math.h>
#include <string.h>

/* A straight toe-line far above its toe: D = 0.2 + 0.7 (u + 3) to 1e-6, u = log H or -log H. */
static const ww_shape rising = {WW_MODEL_TOE_LINE, false, 4, {0.2, 0.7, -3.0, 0.05}, 0, 0};
static const ww_shape sinking = {WW_MODEL_TOE_LINE, true, 4, {0.2, 0.7, -3.0, 0.05}, 0, 0};

typedef struct trial {
    ww__points points;
    ww__series series;
    ww__findings findings;
    ww_channel_curve curve;
    ww_notes notes;
    double scatter; /* 0: that of careful readings */
} trial;

enum { N = 10 };

/* Ten points on the line, 0.2 log H apart from -2.1 on; reversal the other way round. */
static void trial_make(trial *t, bool falling) {
    double density[N];
    const double from = falling ? 2.1 : -2.1, gap = falling ? -0.2 : 0.2;
    *t = (trial){.findings = {.n = 0}};
    for (size_t i = 0; i < N; i++)
        density[i] = 0.2 + 0.7 * (0.9 + 0.2 * (double)i);
    t->points = made_points(N, from, gap, density);
}

static void trial_name(trial *t, bool falling, const char *of, bool transmission) {
    const ww__accused accused = {.findings = &t->findings,
                                 .series = &t->series,
                                 .shape = falling ? &sinking : &rising,
                                 .residual_sd = t->scatter > 0.0 ? t->scatter : 0.004,
                                 .transmission = transmission,
                                 .of = of,
                                 .points = &t->points,
                                 .curve = &t->curve,
                                 .notes = &t->notes};
    test_status("name", ww__accused_name(&accused, NULL), WW_OK, NULL);
}

static void trial_release(trial *t) {
    free(t->curve.suspect);
    ww__points_release(&t->points);
    ww__series_release(&t->series);
    ww_notes_release(&t->notes);
}

static void told(const trial *t, size_t note, const char *words[], size_t n) {
    assert_true(note < t->notes.n);
    for (size_t i = 0; i < n; i++)
        if (!strstr(t->notes.text[note], words[i]))
            fail_msg("'%s' is not in: %s", words[i], t->notes.text[note]);
}
#define TOLD(t, note, ...)                                                                         \
    do {                                                                                           \
        const char *words[] = {__VA_ARGS__};                                                       \
        told((t), (note), words, sizeof words / sizeof *words);                                    \
    } while (0)

/* Source: definition. Step, size and likely cause, the reading that would fit, all worked by hand:
 * the line stands at 0.83, 0.97, 1.11, 1.25, 1.39, ... */
static void single_readings(void **state) {
    (void)state;
    trial t;
    trial_make(&t, false);
    t.points.point[3].density = 1.52;  /* 1.25, two digits exchanged */
    t.points.point[6].density = 0.167; /* 1.67, the point in the wrong place */
    t.points.point[8].state = WW_CELL_OVER;
    t.points.point[9].density = 2.13; /* 2.09, and a speck of dust */
    test_status("series", ww__points_series(&t.points, false, &t.series, NULL), WW_OK, NULL);
    t.findings = (ww__findings){.n = 3,
                                .item = {{WW_CAUSE_UNKNOWN, 0, 3, 3},
                                         {WW_CAUSE_UNKNOWN, 0, 8, 8}, /* the point after one over */
                                         {WW_CAUSE_UNKNOWN, 0, 6, 6}}};
    trial_name(&t, false, " (red)", true);
    assert_int_equal(t.curve.n_suspects, 3);
    const ww_suspect *s = t.curve.suspect;
    assert_int_equal(s[0].point, 3);
    assert_int_equal(s[0].cause, WW_CAUSE_SLIP);
    test_close("residual", s[0].residual, 0.27, 1e-6);
    TOLD(&t, 0, "step 4 (red)", "1.25 in place of 1.52");
    assert_int_equal(s[1].point, 9);
    assert_int_equal(s[1].cause, WW_CAUSE_DUST);
    test_close("residual", s[1].residual, 0.04, 1e-6);
    assert_int_equal(s[2].point, 6);
    assert_int_equal(s[2].cause, WW_CAUSE_DECIMAL_POINT);
    test_close("residual", s[2].residual, 0.167 - 1.67, 1e-6);
    TOLD(&t, 1, "step 7 (red)", "1.67 in place of 0.17");
    assert_int_equal(t.notes.n, 2); /* dust: nothing to add to the list of suspects */
    trial_release(&t);
}

/* Source: definition. Of two readings a and b the sample deviation is |a - b| / sqrt 2, so the mean
 * gives both back; the line stands at 1.25, 1.67 and 2.09. */
static void means_of_repeats(void **state) {
    (void)state;
    trial t;
    trial_make(&t, false);
    const double mean[] = {1.39, 9.185, 2.30};
    const double sd[] = {(1.53 - 1.25) / sqrt(2.0), (16.7 - 1.67) / sqrt(2.0), 0.364};
    for (size_t i = 0; i < 3; i++) {
        ww_curve_point *p = &t.points.point[3 + 3 * i];
        p->density = mean[i];
        p->sd = (ww_optional){true, sd[i]};
        p->n = i < 2 ? 2 : 3;
        t.findings.item[i] = (ww__finding){WW_CAUSE_UNKNOWN, 0, 3 + 3 * i, 3 + 3 * i};
    }
    t.findings.n = 3;
    test_status("series", ww__points_series(&t.points, false, &t.series, NULL), WW_OK, NULL);
    trial_name(&t, false, "", true);
    assert_int_equal(t.curve.n_suspects, 3);
    assert_int_equal(t.notes.n, 4);
    TOLD(&t, 0, "step 4:", "1.39 is the mean of two", "1.25 and 1.53", "has 1.25");
    test_close("of the mean", t.curve.suspect[0].residual, 0.14, 1e-6);
    /* Not the mean but the one that is off is 1.67 with its point misplaced. */
    TOLD(&t, 1, "step 7:", "1.67 and 16.70");
    TOLD(&t, 2, "step 7:", "1.67 in place of 16.70");
    assert_int_equal(t.curve.suspect[1].cause, WW_CAUSE_DECIMAL_POINT);
    TOLD(&t, 3, "step 10:", "mean of 3", "0.364", "one of them");
    trial_release(&t);
}

static void exchanged_readings(void **state) {
    (void)state;
    trial t;
    trial_make(&t, false);
    const double density = t.points.point[4].density;
    t.points.point[4].density = t.points.point[6].density;
    t.points.point[6].density = density;
    t.points.point[5].density = 0.5; /* taken out before: the pair is the fifth and the seventh */
    test_status("series", ww__points_series(&t.points, false, &t.series, NULL), WW_OK, NULL);
    for (size_t i = 4; i <= 6; i++)
        t.series.weight[i] = 0.0;
    t.findings =
        (ww__findings){.n = 2, .item = {{WW_CAUSE_UNKNOWN, 0, 5, 5}, {WW_CAUSE_SWAPPED, 0, 4, 6}}};
    trial_name(&t, false, "", false);
    assert_int_equal(t.curve.n_suspects, 3);
    TOLD(&t, 0, "steps 5 and 7 ", "exchanged");
    assert_int_equal(t.curve.suspect[1].point, 4);
    assert_int_equal(t.curve.suspect[2].point, 6);
    test_close("residual", t.curve.suspect[1].residual, 0.28, 1e-6);
    test_close("residual", t.curve.suspect[2].residual, -0.28, 1e-6);
    assert_int_equal(t.curve.suspect[2].cause, WW_CAUSE_SWAPPED);
    trial_release(&t);
}

/* From the seventh on, all readings belong one step further; they are told first and stand there
 * when a slip among them is told. Rising and falling alike. */
static void a_skipped_step(void **state) {
    (void)state;
    for (int falling = 0; falling < 2; falling++) {
        trial t;
        const double sign = falling ? -1.0 : 1.0;
        trial_make(&t, falling);
        for (size_t i = 6; i < N; i++)
            t.points.point[i].density += 0.14;
        t.points.point[8].density += 0.2;
        test_status("series", ww__points_series(&t.points, falling, &t.series, NULL), WW_OK, NULL);
        for (size_t i = 6; i < N; i++)
            t.series.u[i] += 0.2;
        t.series.weight[8] = 0.0;
        t.findings = (ww__findings){
            .n = 2, .item = {{WW_CAUSE_UNKNOWN, 0, 8, 8}, {WW_CAUSE_SKIPPED, 1, 6, 6}}};
        trial_name(&t, falling, "", false);
        for (size_t i = 0; i < N; i++)
            test_close("moved on", t.points.point[i].log_h,
                       sign * (-2.1 + 0.2 * (double)(i < 6 ? i : i + 1)), 1e-12);
        assert_int_equal(t.curve.n_suspects, 2);
        TOLD(&t, 0, "step 7 and all after it", "0.20 log H", "near either end");
        assert_int_equal(t.curve.suspect[0].point, 6);
        assert_int_equal(t.curve.suspect[0].cause, WW_CAUSE_SKIPPED);
        test_close("from where it stood", t.curve.suspect[0].residual, 0.14, 1e-6);
        assert_int_equal(t.curve.suspect[1].point, 8);
        test_close("from where it stands", t.curve.suspect[1].residual, 0.2, 1e-6);
        trial_release(&t);
    }
}

/* The mirror: the seventh reading is the sixth step again, and the later ones follow it. */
static void a_step_read_twice(void **state) {
    (void)state;
    for (int falling = 0; falling < 2; falling++) {
        trial t;
        const double sign = falling ? -1.0 : 1.0;
        trial_make(&t, falling);
        for (size_t i = 6; i < N; i++)
            t.points.point[i].density -= 0.14;
        test_status("series", ww__points_series(&t.points, falling, &t.series, NULL), WW_OK, NULL);
        for (size_t i = 6; i < N; i++)
            t.series.u[i] -= 0.2;
        t.findings = (ww__findings){.n = 1, .item = {{WW_CAUSE_SLIP, -1, 6, 6}}};
        trial_name(&t, falling, " (green)", false);
        for (size_t i = 0; i < N; i++)
            test_close("moved back", t.points.point[i].log_h,
                       sign * (-2.1 + 0.2 * (double)(i < 6 ? i : i - 1)), 1e-12);
        assert_int_equal(t.curve.n_suspects, 1);
        assert_int_equal(t.notes.n, 1);
        TOLD(&t, 0, "step 7 (green) and all after it", "one step back", "read twice", "0.20 log H",
             "again from there");
        assert_int_equal(t.curve.suspect[0].point, 6);
        assert_int_equal(t.curve.suspect[0].cause, WW_CAUSE_SLIP);
        test_close("from where it stood", t.curve.suspect[0].residual, -0.14, 1e-6);
        trial_release(&t);
    }
}

/* Source: the header's limit (common practice). */
static void scatter_that_nobody_explains(void **state) {
    (void)state;
    trial t;
    trial_make(&t, false);
    t.scatter = 0.0299;
    trial_name(&t, false, " (red)", true);
    assert_int_equal(t.notes.n, 0);
    t.scatter = 0.2;
    trial_name(&t, false, " (red)", true);
    assert_int_equal(t.notes.n, 1);
    TOLD(&t, 0, "(red)", "by 0.20 D", "read the strip again");
    trial_release(&t);
}

static void nobody(void **state) {
    (void)state;
    trial t;
    trial_make(&t, false);
    trial_name(&t, false, "", false);
    test_true("nothing", t.curve.n_suspects == 0 && t.notes.n == 0);
    trial_release(&t);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(single_readings),
        cmocka_unit_test(means_of_repeats),
        cmocka_unit_test(exchanged_readings),
        cmocka_unit_test(a_skipped_step),
        cmocka_unit_test(a_step_read_twice),
        cmocka_unit_test(nobody),
        cmocka_unit_test(scatter_that_nobody_explains),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
