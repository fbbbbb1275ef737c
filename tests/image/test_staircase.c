/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase.h"
#include "made_profile.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

/* Source: the drawing: number and place of the steps. */
static void finds_the_steps_drawn(void **state) {
    static const struct {
        const char *name;
        made_strip strip;
        size_t asked;
        ww_status status;
        size_t found;
    } rows[] = {
        {"open light", {14, 0.15, 0.05, 93.0, 27.0, 0.0, 0.0, 0.0}, 14, WW_OK, 14},
        {"masked", {14, 0.15, 0.05, 93.0, 27.0, -4.0, -4.0, 0.0}, 14, WW_OK, 14},
        {"grey", {21, 0.1, 0.05, 55.0, 19.3, -0.5, -0.5, 3e-4}, 21, WW_OK, 21},
        {"noise", {14, 0.2, 0.05, 93.0, 27.0, 0.0, 0.0, 3e-4}, 14, WW_OK, 14},
        {"few", {3, 0.3, 0.1, 150.0, 90.0, 0.0, 0.0, 1e-4}, 3, WW_OK, 3},
        {"many", {60, 0.04, 0.05, 20.0, 10.0, 0.0, 0.0, 1e-5}, 60, WW_OK, 60},
        {"two too few", {19, 0.15, 0.05, 60.0, 27.0, 0.0, 0.0, 0.0}, 21, WW_EMISMATCH, 19},
        {"one too few", {20, 0.15, 0.05, 60.0, 27.0, 0.0, 0.0, 0.0}, 21, WW_EMISMATCH, 20},
        {"one too many", {21, 0.1, 0.05, 40.0, 27.0, -0.5, -0.5, 0.0}, 20, WW_EMISMATCH, 21},
        {"no fall", {14, 0.0, 0.05, 93.0, 27.0, 0.0, 0.0, 0.0}, 14, WW_ENODATA, 0},
    };
    static made_profile m;
    static ww__stairs s;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const made_strip *t = &rows[i].strip;
        made_profile_fill(t, &m);
        test_status(rows[i].name,
                    ww__stairs_fit(&m.profile, rows[i].asked, NULL, t->pitch * 1.1, &s, NULL),
                    rows[i].status, NULL);
        if (rows[i].status != WW_ENODATA)
            test_true(rows[i].name, s.n == rows[i].found);
        for (size_t k = 0; rows[i].status == WW_OK && k <= t->steps; k++)
            test_close(rows[i].name, s.edge[k], t->from + t->pitch * (double)k, 0.1 * t->pitch);
    }
}

static void slopes_and_noise_are_none(void **state) {
    static made_profile m;
    static ww__stairs s;
    dice d = {5};
    (void)state;
    made_profile_fill(&made_plain, &m);
    for (int noise = 0; noise < 2; noise++) {
        for (size_t i = 0; i < MADE; i++)
            m.value[i] = m.smooth[i] =
                -0.005 * (double)i + (noise == 1 ? dice_normal(&d, 0.01) : 0.0);
        test_status("slope", ww__stairs_fit(&m.profile, 14, NULL, 27.0, &s, NULL), WW_ENODATA,
                    NULL);
    }
    for (size_t i = 0; i < MADE; i++)
        m.value[i] = m.smooth[i] = dice_normal(&d, 0.1);
    test_status("noise", ww__stairs_fit(&m.profile, 14, NULL, 27.0, &s, NULL), WW_ENODATA, NULL);
}

/* Source: the drawing. */
static void known_and_unknown_widths(void **state) {
    static const double widths[] = {1.6, 1.0, 1.2, 2.4, 1.4, 2.0, 1.1, 1.5};
    static const double turned[] = {1.5, 1.1, 2.0, 1.4, 2.4, 1.2, 1.0, 1.6};
    static made_profile m;
    static ww__stairs s;
    double edge[9];
    (void)state;
    made_profile_fill(&made_plain, &m);
    edge[0] = 70.0;
    for (size_t k = 0; k < 8; k++)
        edge[k + 1] = edge[k] + 37.0 * widths[k];
    for (size_t i = 0; i < MADE; i++) {
        size_t k = 0;
        while (k < 8 && (double)i + 0.5 >= edge[k + 1])
            k++;
        m.value[i] = m.smooth[i] =
            (double)i + 0.5 < edge[0] || k == 8 ? -0.001 : -0.1 - 0.2 * (double)k;
    }
    for (int way = 0; way < 3; way++) {
        const double *given = way == 0 ? widths : way == 1 ? turned : NULL;
        test_status("widths", ww__stairs_fit(&m.profile, 8, given, 50.0, &s, NULL), WW_OK, NULL);
        for (size_t k = 0; k <= 8; k++)
            test_close(way == 2 ? "as they are" : "known", s.edge[k], edge[k], 3.7);
    }
    for (size_t k = 0; k < 8; k++) {
        double wrong[8];
        memcpy(wrong, widths, sizeof wrong);
        wrong[k] *= 1.9;
        test_status("wrong", ww__stairs_fit(&m.profile, 8, wrong, 50.0, &s, NULL), WW_EMISMATCH,
                    NULL);
        test_true("widths", s.contradicts && s.n == 8 && s.misfit.step == k);
        test_close("given", s.misfit.given, wrong[k], 1e-12);
        test_close("seen", s.misfit.seen, widths[k], 0.15);
    }
}

/* Source: the drawing: where the last five of 16 steps are alike, nothing shows their number. */
static void alike_steps_are_only_counted(void **state) {
    static made_profile m;
    static ww__stairs s;
    (void)state;
    made_profile_fill(&made_plain, &m);
    for (int alike = 0; alike < 2; alike++) {
        for (size_t i = 0; i < MADE; i++) {
            const double at = ((double)i + 0.5 - 60.0) / 25.0;
            const double last = alike == 1 ? 11.0 : 15.0;
            m.value[i] = m.smooth[i] =
                at < 0.0 || at >= 16.0 ? -0.001 : -0.1 - 0.15 * fmin(floor(at), last);
        }
        test_status("found", ww__stairs_fit(&m.profile, 16, NULL, 27.0, &s, NULL), WW_OK, NULL);
        test_true(alike == 1 ? "alike" : "all seen", s.n == 16 && s.certain == (alike == 0));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_the_steps_drawn),
        cmocka_unit_test(slopes_and_noise_are_none),
        cmocka_unit_test(known_and_unknown_widths),
        cmocka_unit_test(alike_steps_are_only_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
