/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/emulsion.h"
#include "support/support.h"

#include <math.h>
#include <wedgework/fit.h>
#include <wedgework/start.h>

/* Resamples are seen through whole fits: what counts of them is whether intervals
 * hold the truth. */

static const ww_figure figure_of[EMULSION_FIGURES] = {
    [EMULSION_BASE_FOG] = WW_FIGURE_BASE_FOG,
    [EMULSION_DMAX] = WW_FIGURE_DMAX,
    [EMULSION_GAMMA] = WW_FIGURE_GAMMA,
    [EMULSION_AVERAGE_GRADIENT] = WW_FIGURE_AVERAGE_GRADIENT,
    [EMULSION_CONTRAST_INDEX] = WW_FIGURE_CONTRAST_INDEX,
    [EMULSION_DENSITY_RANGE] = WW_FIGURE_DENSITY_RANGE,
    [EMULSION_EXPOSURE_RANGE] = WW_FIGURE_EXPOSURE_RANGE,
    [EMULSION_SPEED_POINT] = WW_FIGURE_SPEED_POINT,
    [EMULSION_ISO_RANGE] = WW_FIGURE_ISO_RANGE,
    [EMULSION_TOE] = WW_FIGURE_TOE,
    [EMULSION_SHOULDER] = WW_FIGURE_SHOULDER,
};

typedef struct tally {
    size_t asked[EMULSION_FIGURES], held[EMULSION_FIGURES], suspects;
} tally;

static void count_film(const ww_channel_curve *c, const emulsion_truth *truth, tally *t) {
    for (size_t i = 0; i < EMULSION_FIGURES; i++) {
        const ww_quantity q = c->figure[figure_of[i]];
        const bool range = i == EMULSION_EXPOSURE_RANGE || i == EMULSION_DENSITY_RANGE;
        if (!ww_quantity_present(q) || !truth->has[i])
            continue;
        if (range && (q.how == WW_MEASURED) == truth->shoulder_ends)
            continue; /* another definition: to the last step, or to the shoulder */
        t->asked[i]++;
        t->held[i] += truth->value[i] >= q.low && truth->value[i] <= q.high;
    }
    t->suspects += c->n_suspects > 0;
}

static void count_set(size_t sets, double sd, bool paper, tally *t) {
    dice d = {77};
    for (size_t i = 0; i < sets; i++) {
        const emulsion_kind kind =
            paper ? (i % 2 ? EMULSION_RAMP : EMULSION_NORMAL) : (emulsion_kind)(i % EMULSION_KINDS);
        const emulsion e = emulsion_draw(&d, kind, paper);
        emulsion_truth truth;
        ww_readings readings;
        ww_curve curve = WW_CURVE_INIT;
        ww_error err = WW_ERROR_INIT;
        const ww_fit_options options = {.resamples = 300, .seed = 1};
        emulsion_figures(&e, -3.05, -0.05, paper, &truth);
        emulsion_read(&e, &d, 21, -3.05, 0.15, sd, paper, &readings);
        test_status("film", ww_fit_readings(&readings, &options, &curve, &err), WW_OK, &err);
        count_film(&curve.channel[WW_VISUAL], &truth, t);
        ww_curve_release(&curve);
        ww_readings_release(&readings);
    }
}

/*
 * Source: the issue's own demand. 95 % intervals of 400 films hold the truth in 92 to 98 % of
 * cases, figure by figure; the films' curves are none of the models (tests/support/emulsion.h).
 */
static void intervals_are_honest(void **state) {
    (void)state;
    const size_t films = test_quick() ? 3 : 400;
    tally t = {{0}, {0}, 0};
    count_set(films, 0.006, false, &t);
    if (test_quick())
        return;
    for (size_t i = 0; i < EMULSION_FIGURES; i++) {
        if (i == EMULSION_ISO_RANGE)
            continue;
        const char *key = ww_figure_key(figure_of[i]);
        const double held = (double)t.held[i] / (double)t.asked[i];
        print_message("%-18s %zu of %zu hold the truth: %.1f %%\n", key, t.held[i], t.asked[i],
                      100.0 * held);
        test_true(key, t.asked[i] >= films / 2);
        test_true(key, held >= 0.92 && held <= 0.98);
    }
    /* False alarms on clean sets: under 2 % (the issue). */
    print_message("suspects named in %zu of %zu clean sets\n", t.suspects, films);
    test_true("false alarms", (double)t.suspects < 0.02 * (double)films);
}

/* The figure that a printer chooses a paper by, on invented papers read at the same 21 steps. */
static void paper_ranges_are_honest(void **state) {
    (void)state;
    const size_t papers = test_quick() ? 2 : 200;
    tally t = {{0}, {0}, 0};
    count_set(papers, 0.006, true, &t);
    if (test_quick())
        return;
    static const emulsion_figure checked[] = {EMULSION_ISO_RANGE, EMULSION_SPEED_POINT,
                                              EMULSION_BASE_FOG};
    for (size_t i = 0; i < sizeof checked / sizeof *checked; i++) {
        const emulsion_figure f = checked[i];
        const double held = (double)t.held[f] / (double)t.asked[f];
        print_message("%-18s %zu of %zu hold the truth: %.1f %%\n", ww_figure_key(figure_of[f]),
                      t.held[f], t.asked[f], 100.0 * held);
        test_true(ww_figure_key(figure_of[f]), held >= 0.92 && held <= 0.99);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(intervals_are_honest),
        cmocka_unit_test(paper_ranges_are_honest),
    };
    if (ww_start() != WW_OK)
        return 1;
    return cmocka_run_group_tests(tests, NULL, NULL);
}
