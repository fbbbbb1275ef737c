/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/series_made.h"
#include "core/suspect.h"
#include <math.h>
#include <string.h>
#include <wedgework/start.h>

/*
 * Simulated slips in readings of simulated emulsions, whose curves are none of the models; 21 steps
 * 0.15 apart, noise 0.006. Source of what is asked for: the project's issue (false alarms under 2 %
 * of clean sets; a slip of 0.09 D always named, one of 0.06 mostly).
 */
static const double noise = 0.006, gap = 0.15;

/* What to do to a set, at a place; the seed of each row is its own. */
typedef enum harm { CLEAN, SLIP, SWAP, SKIP, SKIP_FIRST, REPEAT } harm;
typedef struct tally {
    size_t sets, silent, right, alone; /* `alone`: right, and nothing else named */
} tally;

static size_t steepest(const emulsion *e, const ww__series *s) {
    size_t at = 0;
    double most = 0.0;
    for (size_t i = 0; i + 1 < s->n; i++) {
        const double rise = emulsion_density(e, s->u[i + 1]) - emulsion_density(e, s->u[i]);
        if (rise > most) {
            most = rise;
            at = i;
        }
    }
    return at;
}

static size_t harm_set(harm what, double size, const emulsion *e, dice *d, ww__series *s) {
    size_t at = (size_t)dice_even(d, 0.0, (double)s->n);
    const double sign = dice_even(d, -1.0, 1.0) < 0.0 ? -1.0 : 1.0;
    if (what == SLIP) {
        s->density[at] += sign * size;
    } else if (what == SWAP) {
        at = steepest(e, s);
        const double density = s->density[at];
        s->density[at] = s->density[at + 1];
        s->density[at + 1] = density;
    } else if (what == SKIP || what == SKIP_FIRST) {
        at = what == SKIP ? (size_t)dice_even(d, 6.0, 16.0) : 0;
        for (size_t i = at; i < s->n; i++)
            s->density[i] = emulsion_density(e, s->u[i] + gap) + dice_normal(d, noise);
    }
    if (what == REPEAT) {
        at = (size_t)dice_even(d, 6.0, 16.0);
        for (size_t i = at; i < s->n; i++)
            s->density[i] = emulsion_density(e, s->u[i] - gap) + dice_normal(d, noise);
    }
    return at;
}

static bool names(harm what, const ww__finding *f, size_t at) {
    switch (what) {
    case SLIP:
        return f->cause == WW_CAUSE_UNKNOWN && f->point == at && f->other == at;
    case REPEAT:
        return f->moved == -1 && f->cause == WW_CAUSE_SLIP && f->point + 1 >= at &&
               f->point <= at + 1;
    case SWAP:
        return f->cause == WW_CAUSE_SWAPPED && f->point == at && f->other == at + 1;
    default: /* with its step within one */
        return f->moved == 1 && f->cause == WW_CAUSE_SKIPPED && f->point + 1 >= at &&
               f->point <= at + 1;
    }
}

static tally count(harm what, double size, size_t sets, uint64_t seed) {
    dice d = {seed};
    tally t = {.sets = sets};
    for (size_t k = 0; k < sets; k++) {
        const emulsion e = emulsion_draw(&d, (emulsion_kind)(k % EMULSION_KINDS), false);
        ww__series s = made_of_emulsion(&e, &d, noise);
        ww__choice choice;
        ww__findings findings;
        const size_t at = harm_set(what, size, &e, &d, &s);
        bool right = false;
        test_status("choice", ww__choice_make(&s, false, NULL, &choice, NULL), WW_OK, NULL);
        test_status("find", ww__suspect_find(&s, false, NULL, true, &choice, &findings, NULL),
                    WW_OK, NULL);
        for (size_t i = 0; i < findings.n; i++)
            right = right || names(what, &findings.item[i], at);
        t.silent += findings.n == 0;
        t.right += right;
        t.alone += right && findings.n == 1;
        ww__series_release(&s);
    }
    return t;
}

typedef struct row {
    const char *name;
    harm what;
    double size;
    size_t sets;
    uint64_t seed;
    double silent_most, silent_least; /* shares of the sets */
    double right_least, alone_least;
} row;

/*
 * The demands, and for what it gives no number: swapped neighbours on the steepest part are
 * named as such; of steps skipped or read twice in the middle most are (the rest are seen as a slip
 * next to the place, or not at all where the curve is straight for long); one skipped at the very
 * start cannot be told from another emulsion, so it alarms no more than a clean set.
 */
static const row rows[] = {
    {"clean sets", CLEAN, 0.0, 200, 1001, 1.0, 0.98, 0.0, 0.0},
    {"slips of 0.09 D", SLIP, 0.09, 60, 1002, 0.0, 0.0, 0.98, 0.9},
    {"slips of 0.20 D", SLIP, 0.20, 20, 1004, 0.0, 0.0, 1.0, 0.9},
    {"slips of 0.06 D", SLIP, 0.06, 40, 1003, 0.2, 0.0, 0.8, 0.75},
    {"swapped neighbours", SWAP, 0.0, 30, 1005, 0.0, 0.0, 1.0, 0.9},
    {"a step skipped", SKIP, 0.0, 40, 1006, 0.2, 0.0, 0.75, 0.7},
    {"a step read twice", REPEAT, 0.0, 40, 1008, 0.2, 0.0, 0.75, 0.7},
    {"the first step skipped", SKIP_FIRST, 0.0, 60, 1007, 1.0, 0.95, 0.0, 0.0},
};

static void rates(void **state) {
    (void)state;
    if (test_quick()) { /* one slip goes the way of all */
        count(rows[1].what, rows[1].size, 1, rows[1].seed);
        return;
    }
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const row *r = &rows[i];
        const tally t = count(r->what, r->size, r->sets, r->seed);
        const double sets = (double)t.sets;
        print_message("%-24s %3zu sets: %zu named right (%zu with nothing else), %zu silent\n",
                      r->name, t.sets, t.right, t.alone, t.silent);
        test_true(r->name, (double)t.silent <= r->silent_most * sets);
        test_true(r->name, (double)t.silent > r->silent_least * sets || r->silent_least == 0.0);
        test_true(r->name, (double)t.right >= r->right_least * sets);
        test_true(r->name, (double)t.alone >= r->alone_least * sets);
    }
}

/* ------------------------------------------------------------ what the series becomes */

/*
 * Two readings far apart are off: each bends the curve under the other. Both are to be named where
 * one alone would always be (the 0.09 D), in most sets.
 */
static void hidden_by_another(void **state) {
    (void)state;
    dice d = {1009};
    const size_t sets = test_quick() ? 0 : 24;
    size_t both = 0, more = 0;
    for (size_t k = 0; k < sets; k++) {
        const emulsion e = emulsion_draw(&d, (emulsion_kind)(k % EMULSION_KINDS), false);
        ww__series s = made_of_emulsion(&e, &d, noise);
        ww__choice choice;
        ww__findings f;
        const size_t a = (size_t)dice_even(&d, 2.0, 9.0), b = (size_t)dice_even(&d, 11.0, 19.0);
        s.density[a] += dice_even(&d, -1.0, 1.0) < 0.0 ? -0.12 : 0.12;
        s.density[b] += dice_even(&d, -1.0, 1.0) < 0.0 ? -0.12 : 0.12;
        test_status("choice", ww__choice_make(&s, false, NULL, &choice, NULL), WW_OK, NULL);
        test_status("find", ww__suspect_find(&s, false, NULL, true, &choice, &f, NULL), WW_OK,
                    NULL);
        size_t right = 0;
        for (size_t i = 0; i < f.n; i++)
            right += f.item[i].point == a || f.item[i].point == b;
        both += right == 2;
        more += f.n > 2;
        ww__series_release(&s);
    }
    print_message("two slips of 0.12 D: both named in %zu of %zu\n", both, sets);
    test_true("both", 10 * both >= 8 * sets);
    test_true("nothing else", 10 * more <= 2 * sets);
}

static emulsion one_emulsion(void) {
    dice d = {77};
    return emulsion_draw(&d, EMULSION_NORMAL, false);
}

static void find(ww__series *s, bool falling, const ww_model_kind *only, ww__choice *choice,
                 ww__findings *findings) {
    test_status("choice", ww__choice_make(s, falling, only, choice, NULL), WW_OK, NULL);
    test_status("find", ww__suspect_find(s, falling, only, true, choice, findings, NULL), WW_OK,
                NULL);
}

/* Suspects lose their weight and nothing else is touched; the choice is that of the series left. */
static void what_is_left(void **state) {
    (void)state;
    const emulsion e = one_emulsion();
    dice d = {5};
    ww__series s = made_of_emulsion(&e, &d, noise);
    double density[21];
    ww__choice choice, again;
    ww__findings findings;
    s.density[4] += 0.15;
    s.density[13] -= 0.21;
    memcpy(density, s.density, sizeof density);
    find(&s, false, NULL, &choice, &findings);
    assert_int_equal(findings.n, 2);
    assert_int_equal(findings.item[0].point + findings.item[1].point, 17);
    assert_memory_equal(s.density, density, sizeof density);
    for (size_t i = 0; i < s.n; i++)
        test_close("weight", s.weight[i], i == 4 || i == 13 ? 0.0 : 1.0, 0.0);
    test_status("again", ww__choice_make(&s, false, NULL, &again, NULL), WW_OK, NULL);
    assert_int_equal(again.best, choice.best);
    test_close("rss", again.candidate[again.best].fit.rss, choice.candidate[choice.best].fit.rss,
               0.0);
    ww__series_release(&s);
}

/* Readings after a skipped step move on by one place, the last by the gap before it; those after
 * a step that was read twice move back by one. */
static void later_readings_move(void **state) {
    (void)state;
    const emulsion e = one_emulsion();
    for (int moved = -1; moved <= 1; moved += 2) {
        dice d = {6};
        ww__series s = made_of_emulsion(&e, &d, noise);
        ww__choice choice;
        ww__findings findings;
        for (size_t i = 10; i < s.n; i++)
            s.density[i] = emulsion_density(&e, s.u[i] + gap * moved) + dice_normal(&d, noise);
        find(&s, false, NULL, &choice, &findings);
        assert_int_equal(findings.n, 1);
        assert_int_equal(findings.item[0].moved, moved);
        assert_int_equal(findings.item[0].cause, moved > 0 ? WW_CAUSE_SKIPPED : WW_CAUSE_SLIP);
        const size_t at = findings.item[0].point;
        test_true("within one", at >= 9 && at <= 11);
        for (size_t i = 0; i < s.n; i++) {
            const double steps = (double)i + (i < at ? 0 : moved);
            test_close("place", s.u[i], -3.05 + gap * steps, 1e-12);
            test_close("weight", s.weight[i], 1.0, 0.0);
            assert_int_equal(s.order[i], i);
        }
        ww__series_release(&s);
    }
}

/* A reversal strip read from the dense end, with the exposure running down: seen the same. */
static void reversal_too(void **state) {
    (void)state;
    const emulsion e = one_emulsion();
    dice d = {8};
    ww__series s = made_of_emulsion(&e, &d, noise), back = made_series(21, 0.0, 0.0);
    ww__choice choice;
    ww__findings findings;
    s.density[12] += 0.12;
    made_base(&back, s.base);
    for (size_t i = 0; i < s.n; i++) {
        back.u[i] = s.u[s.n - 1 - i];
        back.density[i] = s.density[s.n - 1 - i];
    }
    test_status("sort", ww__series_sort(&back, NULL), WW_OK, NULL);
    find(&back, true, NULL, &choice, &findings);
    assert_int_equal(findings.n, 1);
    test_true("the slip", names(SLIP, &findings.item[0], 8));
    ww__series_release(&s);
    ww__series_release(&back);
}

/* The model that is asked for is kept to; a slip of a decimal point is found with any. */
static void only_one_model(void **state) {
    (void)state;
    const emulsion e = one_emulsion();
    for (int m = 0; m < WW_MODEL_COUNT; m++) {
        const ww_model_kind model = (ww_model_kind)m;
        dice d = {9};
        ww__series s = made_of_emulsion(&e, &d, noise);
        ww__choice choice;
        ww__findings findings;
        s.density[11] *= 0.1;
        find(&s, false, &model, &choice, &findings);
        bool right = false;
        for (size_t i = 0; i < findings.n; i++)
            right = right || names(SLIP, &findings.item[i], 11);
        if (model != WW_MODEL_TOE_LINE) /* which has no shoulder to follow this film with */
            test_true(ww_model_name(model), right);
        assert_int_equal(choice.n, 1);
        assert_int_equal(choice.candidate[0].fit.shape.model, model);
        ww__series_release(&s);
    }
}

/* Source: the issue. Under eight readings nobody can say which one is off, and not more than a
 * quarter of the readings is ever taken out. */
static void restraint(void **state) {
    (void)state;
    const emulsion e = one_emulsion();
    dice d = {10};
    ww__series s = made_series(7, -3.0, 0.45);
    ww__choice choice;
    ww__findings findings;
    for (size_t i = 0; i < s.n; i++)
        s.density[i] = emulsion_density(&e, s.u[i]) + dice_normal(&d, noise);
    s.density[3] += 0.5;
    find(&s, false, NULL, &choice, &findings);
    assert_int_equal(findings.n, 0);
    ww__series_release(&s);

    /* a search for hidden ones fits as often as there are readings */
    const size_t n = test_quick() ? 9 : 21;
    s = made_series(n, -3.05, gap);
    for (size_t i = 0; i < s.n; i++)
        s.density[i] = 0.2 + 2.0 * dice_even(&d, 0.0, 1.0); /* no curve at all */
    find(&s, false, NULL, &choice, &findings);
    test_true("a quarter at the most", findings.n <= n / 4);
    ww__series_release(&s);
}

int main(void) {
    ww_start();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rates),        cmocka_unit_test(hidden_by_another),
        cmocka_unit_test(what_is_left), cmocka_unit_test(later_readings_move),
        cmocka_unit_test(reversal_too), cmocka_unit_test(only_one_model),
        cmocka_unit_test(restraint),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
