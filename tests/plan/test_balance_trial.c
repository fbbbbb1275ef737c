/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_trial.h"
#include "support/spectral_paper.h"
#include "support/support.h"

/*
 * Colour prints of two simulators: one of matrices (support/colour_paper.h), with whose spectra in
 * view what is thought of filters beforehand was revised, and one from wavelength to wavelength
 * (support/spectral_paper.h). Starts are up to 20 CC in each filter and half a stop off, as a
 * printer's are, or 40 CC and a stop.
 *
 * Source of the limits: the project's issue: neutral within 0.02 D in two prints with packs as
 * exact as they come and readings that are averages, in one with a ring-around; within 0.04 D as
 * set in 2.5 CC and read once with 0.01 D. Who knows the paper, reads and sets as coarsely, and
 * tries all settings, misses some of these, too: the oracle. Of exact packs it is one who knows
 * curves, dyes, and how filters bend, but learns how strong they are from the same readings.
 */
enum { MATRIX, SPECTRAL, SIMULATORS };
static const char *const simulator[SIMULATORS] = {"matrix", "spectral"};
static const unsigned kinds[SIMULATORS] = {COLOUR_PAPER_KINDS, SPECTRAL_KINDS};

enum { STARTS = 20 };
enum {
    EXACT,
    RING,
    HAND,
    AVERAGED,
    FAR,
    FAR_RING,
    FAR_START,
    FAR_HAND,
    RING_HAND,
    MEANS,
    MEANS_RING,
    MEANS_START,
    UNTOLD,
    WAYS
};
static const struct {
    const char *name;
    trial_way way;
} ways[WAYS] = {
    {"exact", {0.1, 0.001, 0.0, 9, NO_RING, 20, 0.5}},
    {"exact, ring", {0.1, 0.001, 0.0, 9, NEAR_RING, 20, 0.5}},
    {"by hand", {2.5, 0.1, 0.01, 1, NO_RING, 20, 0.5}},
    {"by hand, averages", {2.5, 0.1, 0.01 / 3.0, 9, NO_RING, 20, 0.5}},
    {"far, exact", {0.1, 0.001, 0.0, 9, NO_RING, 40, 1.0}},
    {"far, ring near the aim", {0.1, 0.001, 0.0, 9, NEAR_RING, 40, 1.0}},
    {"far, ring about the start", {0.1, 0.001, 0.0, 9, START_RING, 40, 1.0}},
    {"far, by hand", {2.5, 0.1, 0.01, 1, NO_RING, 40, 1.0}},
    {"by hand, ring", {2.5, 0.1, 0.01, 1, NEAR_RING, 20, 0.5}},
    {"means of four, exact", {0.1, 0.001, 0.005, 4, NO_RING, 20, 0.5}},
    {"means of four, ring near the aim", {0.1, 0.001, 0.005, 4, NEAR_RING, 20, 0.5}},
    {"means of four, ring about the start", {0.1, 0.001, 0.005, 4, START_RING, 20, 0.5}},
    {"prints that scatter by 0.01 D untold", {0.1, 0.001, 0.0112, 4, START_RING, 20, 0.5}},
};

static trial_count counted[SIMULATORS][WAYS];

static colour_maker draw(int which, unsigned kind, dice *d) {
    static colour_paper matrix;
    static spectral_paper spectral;
    if (which == MATRIX) {
        matrix = colour_paper_of_kind(kind, d);
        return colour_paper_maker(&matrix);
    }
    spectral_paper_draw(&spectral, (spectral_kind)kind, d, trial_negative, &trial_approved);
    return spectral_paper_maker(&spectral);
}

static int run_all(void **state) {
    const size_t starts = test_quick() ? 1 : STARTS;
    (void)state;
    for (int s = 0; s < SIMULATORS; s++) {
        for (unsigned kind = 0; kind < (test_quick() ? 1 : kinds[s]); kind++) {
            dice d = {20261130 + 100 * kind};
            const colour_maker maker = draw(s, kind, &d);
            ww_curve curve = WW_CURVE_INIT;
            colour_maker_fit(&maker, &d, 0.004, &curve);
            for (int w = 0; w < WAYS; w++)
                trial_run(&maker, &curve, &ways[w].way, starts, &d, &counted[s][w]);
            ww_curve_release(&curve);
        }
        for (int w = 0; w < WAYS; w++) {
            print_message("%s, ", simulator[s]);
            trial_show(ways[w].name, &counted[s][w]);
        }
    }
    return 0;
}

static bool is_share(size_t part, size_t whole, double share) {
    return (double)part >= share * (double)whole;
}

typedef struct limit {
    int way, print; /* after so many changes */
    bool hand;      /* within 0.04 D, not 0.02 */
    double share;
} limit;

static void prints_come_near(void **state) {
    static const limit limits[] = {
        {EXACT, 2, false, 0.95},       {RING, 1, false, 0.95},     {HAND, 2, true, 0.95},
        {AVERAGED, 2, true, 0.99},     {FAR, 2, false, 0.85},      {FAR, 3, false, 0.99},
        {FAR_RING, 1, false, 0.8},     {FAR_START, 2, false, 0.9}, {FAR_HAND, 2, true, 0.90},
        {RING_HAND, 1, true, 0.95},    {MEANS, 2, false, 0.95},    {MEANS_RING, 1, false, 0.93},
        {MEANS_START, 2, false, 0.98},
    };
    (void)state;
    if (test_quick())
        skip();
    for (int s = 0; s < SIMULATORS; s++)
        for (size_t i = 0; i < sizeof limits / sizeof *limits; i++) {
            const trial_print *p = &counted[s][limits[i].way].after[limits[i].print - 1];
            test_true(ways[limits[i].way].name,
                      is_share(limits[i].hand ? p->near_004 : p->near_002, p->n, limits[i].share));
        }
}

/* What who knows the paper reaches by the same readings and steps. */
static void little_is_lost_to_an_oracle(void **state) {
    (void)state;
    if (test_quick())
        skip();
    for (int s = 0; s < SIMULATORS; s++) {
        const trial_count *hand = &counted[s][HAND];
        test_true("by hand", is_share(hand->after[1].near_004, hand->oracle_004, 0.96));
        test_true("of 0.02", is_share(hand->after[1].near_002, hand->oracle_002, 0.80));
        for (int w = MEANS; w <= MEANS_START; w++) {
            const trial_count *c = &counted[s][w];
            test_true(ways[w].name, is_share(c->after[w == MEANS].near_002, c->oracle_002,
                                             w == MEANS_START ? 0.90 : 0.95));
        }
    }
}

/* 95 % intervals hold the truth in 85 to 99 of 100, or more where nothing scatters. How far prints
 * scatter few of them tell, where nobody did: when readings' errors were all, it was 72 to 74. */
static void doubts_hold(void **state) {
    (void)state;
    if (test_quick())
        skip();
    for (int s = 0; s < SIMULATORS; s++)
        for (int w = 0; w < WAYS; w++)
            for (int i = 0; i < TRIAL_PRINTS; i++) {
                const trial_print *p = &counted[s][w].after[i];
                const double least = w == UNTOLD ? 0.77 : 0.85;
                test_true(ways[w].name, is_share(p->packs_held, p->packs, least));
                test_true(ways[w].name, is_share(p->stops_held, p->n, least));
                test_true(ways[w].name, is_share(p->densities_held, p->densities, least));
                if (w != UNTOLD) /* by few prints */
                    test_true("within", 20 * p->said_wrong <= p->said);
            }
}

static void none_is_refused_on_the_way(void **state) {
    (void)state;
    for (int s = 0; s < SIMULATORS; s++)
        for (int w = 0; w < FAR; w++)
            test_close(ways[w].name, (double)counted[s][w].late, 0.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prints_come_near),
        cmocka_unit_test(little_is_lost_to_an_oracle),
        cmocka_unit_test(doubts_hold),
        cmocka_unit_test(none_is_refused_on_the_way),
    };
    return cmocka_run_group_tests(tests, run_all, NULL);
}
