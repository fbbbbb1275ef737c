/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/choice.h"
#include "core/departure.h"
#include "core/model.h"
#include "core/resample.h"
#include "core/rows.h"
#include "core/series_made.h"

#include <math.h>
#include <stdlib.h>
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

/* ------------------------------------------------------------------------ resamples as such */

/* Readings of a straight film with a base, and the candidates that they allow. */
typedef struct setup {
    ww__series series;
    ww__choice choice;
    ww_figure_rules rules;
    ww__resample_request request;
} setup;

static void setup_make(setup *s, const ww_model_kind *only, size_t resamples) {
    const ww_shape truth = {WW_MODEL_TOE_LINE, false, 4, {0.25, 0.7, -2.0, 0.2}, 0, 0};
    dice d = {3};
    *s = (setup){.series = made_series(21, -3.05, 0.15)};
    made_of_shape(&truth, &s->series);
    made_base(&s->series, 0.25);
    for (size_t i = 0; i < s->series.n; i++)
        s->series.density[i] += dice_normal(&d, 0.006);
    s->series.weight[3] = 0.0; /* as a suspect would be */
    s->series.weight[8] = 2.0;
    s->series.base_weight = 3.0;
    test_status("choice", ww__choice_make(&s->series, false, only, &s->choice, NULL), WW_OK, NULL);
    s->request = (ww__resample_request){.series = &s->series,
                                        .candidate = s->choice.candidate,
                                        .n_candidates = s->choice.n,
                                        .base_fog = s->series.base,
                                        .low = -3.05,
                                        .high = -0.05,
                                        .rules = &s->rules,
                                        .resamples = resamples,
                                        .threads = 1,
                                        .seed = 1};
}

static ww__resampled *run(const setup *s) {
    ww__resampled *sample = calloc(s->request.resamples, sizeof *sample);
    assert_non_null(sample);
    test_status("run", ww__resample_run(&s->request, sample, NULL), WW_OK, NULL);
    return sample;
}

static bool same(const ww__resampled *a, const ww__resampled *b) {
    bool all = a->good == b->good && a->base_fog == b->base_fog &&
               a->log_h_error == b->log_h_error && a->shape.n == b->shape.n;
    for (size_t i = 0; i < a->shape.n && all; i++)
        all = a->shape.parameter[i] == b->shape.parameter[i];
    for (size_t f = 0; f < WW_FIGURE_COUNT && all; f++)
        all = a->present[f] == b->present[f] && a->under[f] == b->under[f] &&
              (!a->present[f] || a->figure[f] == b->figure[f]);
    return all;
}

/* The same to the bit for any number of threads; another seed or channel scatters apart; channels
 * of one material share the error of their exposure scale, whose sd is as stated. */
static void repeatable(void **state) {
    (void)state;
    enum { N = 400 };
    setup s;
    setup_make(&s, NULL, N);
    s.request.log_h0_sd = (ww_optional){true, 0.05};
    s.request.wedge_sd = (ww_optional){true, 0.01};
    ww__resampled *one = run(&s);
    for (size_t threads = 2; threads <= 3; threads++) {
        s.request.threads = threads;
        ww__resampled *more = run(&s);
        for (size_t b = 0; b < N; b++)
            test_true("threads", same(&one[b], &more[b]));
        free(more);
    }
    s.request.seed = 2;
    ww__resampled *seed = run(&s);
    s.request.seed = 1;
    s.request.channel = 2;
    ww__resampled *channel = run(&s);
    double square = 0.0;
    for (size_t b = 0; b < N; b++) {
        test_true("good", one[b].good);
        test_true("seed", !same(&one[b], &seed[b]) && one[b].log_h_error != seed[b].log_h_error);
        test_true("channel", !same(&one[b], &channel[b]));
        test_close("exposures", channel[b].log_h_error, one[b].log_h_error, 0.0);
        square += one[b].log_h_error * one[b].log_h_error / N;
    }
    test_close("sd of the scale", sqrt(square), 0.05, 0.05 * 4.5 / sqrt(2.0 * N));
    free(one);
    free(seed);
    free(channel);
    ww__series_release(&s.series);
}

/* Each candidate gets its share of the resamples, to one. */
static void shares_are_met(void **state) {
    (void)state;
    enum { N = 333 };
    static const double share[WW_MODEL_COUNT] = {0.55, 0.0, 0.3, 0.15};
    setup s;
    setup_make(&s, NULL, N);
    for (size_t c = 0; c < WW_MODEL_COUNT; c++) {
        const ww_model_kind model = (ww_model_kind)c;
        test_status(
            "fit",
            ww__shape_fit_solve(&s.series, model, false, NULL, &s.choice.candidate[c].fit, NULL),
            WW_OK, NULL);
        s.choice.candidate[c].share = share[c];
    }
    s.request.n_candidates = WW_MODEL_COUNT;
    ww__resampled *sample = run(&s);
    for (size_t c = 0; c < WW_MODEL_COUNT; c++) {
        size_t have = 0;
        for (size_t b = 0; b < N; b++)
            have += sample[b].shape.model == (ww_model_kind)c;
        test_close("share", (double)have, share[c] * N, 1.0);
    }
    free(sample);
    ww__series_release(&s.series);
}

/* Mean squares of scale and scatter by the weights that were learned. */
static void mean_squares(const ww__departure *d, double *scale, double *scatter) {
    enum { CELLS = WW__DEPARTURE_SCALES * WW__DEPARTURE_SCATTERS };
    *scale = *scatter = 0.0;
    for (size_t i = 0; i < CELLS; i++) {
        const double share =
            (d->cumulative[i] - (i ? d->cumulative[i - 1] : 0.0)) / d->cumulative[CELLS - 1];
        *scale += share * pow(d->scale[i / WW__DEPARTURE_SCATTERS], 2.0);
        *scatter += share * pow(d->scatter[i % WW__DEPARTURE_SCATTERS], 2.0);
    }
}

/*
 * Source: propagation of errors. Variance of a fitted parameter = sum over readings of gain^2 times
 * what a reading scatters (and its exposure, through the slope), and over bumps of what each does
 * to it. The curve is nearly straight in its parameters; 4000 resamples know a variance to 2 %.
 */
static void scatter_of_parameters(void **state) {
    (void)state;
    enum { N = 4000 };
    static const ww_model_kind line = WW_MODEL_TOE_LINE;
    for (int wedge = 0; wedge < 2; wedge++) {
        setup s;
        setup_make(&s, &line, test_quick() ? 20 : N);
        s.request.wedge_sd = (ww_optional){wedge, 0.02};
        const ww__shape_fit *fit = &s.choice.candidate[0].fit;
        ww__rows rows = WW__ROWS_INIT;
        ww__departure d = {0};
        test_status("rows", ww__rows_new(&s.series, fit, &rows, NULL), WW_OK, NULL);
        ww__departure_layout(&rows, s.request.low, s.request.high, &d);
        double *bump = calloc(rows.n * d.n_bumps, sizeof *bump), scale, scatter;
        assert_non_null(bump);
        for (size_t i = 0; i < rows.n; i++)
            for (size_t k = 0; k < d.n_bumps; k++)
                bump[i * d.n_bumps + k] = rows.root_weight[i] * ww__departure_at(&d, k, rows.u[i]);
        test_status("learn",
                    ww__departure_learn(&d, rows.n, rows.residual, rows.hat, bump,
                                        ww__departure_typical(&rows, line), NULL),
                    WW_OK, NULL);
        mean_squares(&d, &scale, &scatter);
        ww__resampled *sample = run(&s);
        for (size_t a = 0; a < rows.p && !test_quick(); a++) {
            double want = 0.0, mean = 0.0, square = 0.0;
            for (size_t i = 0; i < rows.n; i++)
                want += pow(rows.gain[a * rows.n + i], 2.0) *
                        (scatter / pow(rows.root_weight[i], 2.0) +
                         (wedge ? pow(0.02 * rows.slope[i], 2.0) : 0.0));
            for (size_t k = 0; k < d.n_bumps; k++) {
                double by = 0.0;
                for (size_t i = 0; i < rows.n; i++)
                    by += rows.gain[a * rows.n + i] * ww__departure_at(&d, k, rows.u[i]);
                want += scale * by * by;
            }
            for (size_t b = 0; b < N; b++) {
                const double p = sample[b].shape.parameter[a];
                const double off =
                    (ww__model_positive(&fit->shape, a) ? log(p) : p) - fit->working[a];
                mean += off / N;
                square += off * off / N;
            }
            test_close("variance", (square - mean * mean) / want, 1.0, 0.15);
            test_close("no bias", mean / sqrt(want), 0.0, 0.15);
        }
        free(bump);
        free(sample);
        ww__rows_release(&rows);
        ww__series_release(&s.series);
    }
}

/* Source: definition. Only samples that have the figure count; the value is always inside. */
static void figures_of_samples(void **state) {
    (void)state;
    enum { N = 99 };
    static ww__resampled sample[N];
    const ww_figure f = WW_FIGURE_GAMMA;
    ww_quantity q = {50.0, -1.0, -1.0, WW_FITTED};
    ww_error err = WW_ERROR_INIT;
    for (size_t b = 0; b < N; b++) { /* ranks 1 to 99: their 2.5 and 97.5 % are 2.5 and 97.5 */
        sample[b].good = true;
        sample[b].present[f] = true;
        sample[b].figure[f] = (double)((b * 37) % N + 1);
        sample[b].under[f] = b % 2 || b == 0;
    }
    test_status("all", ww__resample_figure(sample, N, f, &q, &err), WW_OK, &err);
    test_close("low", q.low, 2.5, 0.3);
    test_close("high", q.high, 97.5, 0.3);
    q.value = 120.0;
    test_status("beyond", ww__resample_figure(sample, N, f, &q, &err), WW_OK, &err);
    test_close("the value is inside", q.high, 120.0, 0.0);
    for (size_t b = 0; b < N; b++) {
        sample[b].good = b % 3 != 0; /* 66 are, and 19 of them have it */
        sample[b].present[f] = b < 28;
    }
    q = (ww_quantity){50.0, -1.0, -1.0, WW_FITTED};
    test_status("few", ww__resample_figure(sample, N, f, &q, &err), WW_ENODATA, &err);
    test_true("untouched", q.low == -1.0 && q.high == -1.0);
    test_status("none", ww__resample_figure(sample, 0, f, &q, &err), WW_ENODATA, &err);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(repeatable),
        cmocka_unit_test(shares_are_met),
        cmocka_unit_test(scatter_of_parameters),
        cmocka_unit_test(figures_of_samples),
        cmocka_unit_test(intervals_are_honest),
        cmocka_unit_test(paper_ranges_are_honest),
    };
    if (ww_start() != WW_OK)
        return 1;
    return cmocka_run_group_tests(tests, NULL, NULL);
}
