/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/channel.h"
#include "core/readings_made.h"
#include "support/emulsion.h"
#include <math.h>
#include <stdio.h>
#include <wedgework/start.h>

enum { RESAMPLES = 60 };

/* One channel fitted, with all that belongs to it. */
typedef struct trial {
    ww_readings readings;
    ww_channel channel;
    ww_figure_rules rules;
    ww_fit_options options;
    ww_channel_curve curve;
    ww_notes notes;
    ww__resampled sample[RESAMPLES];
} trial;

static trial *trial_new(void) {
    trial *t = calloc(1, sizeof *t);
    assert_non_null(t);
    t->channel = WW_VISUAL;
    t->options = (ww_fit_options){.resamples = RESAMPLES, .seed = 1, .threads = 1};
    t->readings.exposure = WW_EXPOSURE_LOG_H;
    return t;
}

static ww_status trial_run(trial *t, ww_error *err) {
    const ww__channel_job job = {.readings = &t->readings,
                                 .channel = t->channel,
                                 .rules = &t->rules,
                                 .options = &t->options,
                                 .curve = &t->curve,
                                 .sample = t->sample,
                                 .notes = &t->notes};
    return ww__channel_fit(&job, err);
}

static void trial_fit(const char *row, trial *t) {
    ww_error err = WW_ERROR_INIT;
    test_status(row, trial_run(t, &err), WW_OK, &err);
}

static void trial_free(trial *t) {
    for (size_t i = 0; i < t->curve.n_points; i++)
        free(t->curve.point[i].step);
    free(t->curve.point);
    free(t->curve.suspect);
    free(t->curve.covariance);
    ww_notes_release(&t->notes);
    ww_readings_release(&t->readings);
    free(t);
}

static bool noted(const trial *t, const char *words) {
    for (size_t i = 0; i < t->notes.n; i++)
        if (strstr(t->notes.text[i], words))
            return true;
    return false;
}

static void add(trial *t, const char *step, double log_h, double density) {
    made_step(&t->readings, step, WW_COLUMN_VISUAL, density)->exposure = (ww_optional){true, log_h};
}

/* n steps 0.15 log H apart from -3.05 on, with densities by a straight line. */
static trial *line_of(size_t n, double gap, double rise) {
    trial *t = trial_new();
    for (size_t i = 0; i < n; i++) {
        char step[24];
        snprintf(step, sizeof step, "%zu", i + 1);
        add(t, step, -3.05 + gap * (double)i, 0.3 + rise * (double)i);
    }
    return t;
}

static emulsion film(uint64_t seed, emulsion_kind kind) {
    dice d = {seed};
    return emulsion_draw(&d, kind, false);
}

static trial *film_read(const emulsion *e, uint64_t seed) {
    trial *t = trial_new();
    dice d = {seed};
    emulsion_read(e, &d, 21, -3.05, 0.15, 0.006, false, &t->readings);
    return t;
}

/* --------------------------------------------------------------------- what cannot be had */

static void no_curve(void **state) {
    (void)state;
    static const struct {
        const char *name;
        size_t steps;
        double gap, rise;
        const char *note;
    } rows[] = {
        {"too few", 4, 0.15, 0.2, "at least 5"},
        {"none", 0, 0.15, 0.2, "0 exposed readings"},
        {"all alike", 11, 0.15, 0.0, "longer scale of steps"},
        {"one exposure", 11, 0.0, 0.1, "same exposure"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        trial *t = line_of(rows[i].steps, rows[i].gap, rows[i].rise);
        ww_row *base = made_step(&t->readings, "base", WW_COLUMN_VISUAL, 0.27);
        base->cell[WW_VISUAL].n = 4;
        base->cell[WW_VISUAL].sd = (ww_optional){true, 0.01};
        trial_fit(rows[i].name, t);
        test_true(rows[i].name, t->curve.present && !t->curve.fitted && !t->curve.covariance);
        test_true(rows[i].name, t->notes.n == 1 && noted(t, rows[i].note));
        assert_int_equal(t->curve.n_points, rows[i].steps);
        /* What is known is told: the base as read, +- 1.96 x 0.01 / sqrt 4. */
        const ww_quantity q = t->curve.figure[WW_FIGURE_BASE_FOG];
        test_true(rows[i].name, q.how == WW_MEASURED);
        test_close("base", q.value, 0.27, 0.0);
        test_close("base", q.low, 0.27 - 0.0098, 1e-12);
        test_close("base", q.high, 0.27 + 0.0098, 1e-12);
        trial_free(t);
    }
    trial *t = line_of(11, 0.15, 0.1);
    t->channel = WW_BLUE;
    t->readings.has[WW_BLUE] = true;
    trial_fit("no blue", t);
    test_true("no blue", !t->curve.present && noted(t, " (blue)"));
    trial_free(t);
}

static void refusals(void **state) {
    (void)state;
    ww_error err = WW_ERROR_INIT;
    trial *t = line_of(1001, 0.003, 0.002);
    test_status("too many", trial_run(t, &err), WW_EDOMAIN, &err);
    test_true("remedy", strstr(err.msg, "same label") != NULL);
    trial_free(t);

    t = line_of(11, 0.15, -0.02);
    test_status("falls", trial_run(t, &err), WW_EMISMATCH, &err);
    test_true("remedy", strstr(err.msg, "add '# process: reversal'") != NULL);
    t->rules.reversal = true;
    trial_fit("reversal", t);
    test_true("reversal", t->curve.fitted && t->curve.shape.falling);
    trial_free(t);

    t = line_of(11, 0.15, 0.02);
    t->rules.reversal = true;
    test_status("rises", trial_run(t, &err), WW_EMISMATCH, &err);
    test_true("remedy", strstr(err.msg, "take '# process: reversal' away") != NULL);
    trial_free(t);

    t = line_of(11, 0.15, 0.1);
    t->readings.exposure = WW_EXPOSURE_TIME;
    test_status("time", trial_run(t, &err), WW_EDOMAIN, &err);
    test_true("not there", !t->curve.present && t->curve.n_points == 0);
    t->readings.row[3].exposure.set = false;
    t->readings.exposure = WW_EXPOSURE_LOG_H;
    test_status("no exposure", trial_run(t, &err), WW_ENODATA, &err);
    trial_free(t);

    /* A model that the readings are too few for: a note with the number that it needs. */
    t = line_of(6, 0.3, 0.2);
    t->options.model_given = true;
    t->options.model = WW_MODEL_TOE_LINE_SHOULDER;
    trial_fit("six for seven", t);
    test_true("six for seven", !t->curve.fitted && noted(t, "toe-line-shoulder") && noted(t, "7"));
    trial_free(t);
}

/* -------------------------------------------------------------------- what the curve holds */

/* Source: definition; covariance by the identity p = e^w, standard error of density as the root of
 * g'Cg against residual scatter: an average fitted reading has sd^2 = residual_sd^2 p / n. */
static void a_curve(void **state) {
    (void)state;
    const emulsion e = film(3, EMULSION_NORMAL);
    trial *t = film_read(&e, 7);
    t->options.model_given = true;
    t->options.model = WW_MODEL_LOGISTIC;
    trial_fit("film", t);
    ww_channel_curve *c = &t->curve;
    test_true("fitted", c->present && c->fitted && c->n_points == 21 && c->n_suspects == 0);
    const ww_quantity base = c->figure[WW_FIGURE_BASE_FOG];
    test_true("base as read", base.how == WW_MEASURED);
    test_close("base as read", base.value, t->readings.row[0].cell[WW_VISUAL].value, 0.0);
    test_close("domain", c->domain_low, -3.05, 1e-12);
    test_close("domain", c->domain_high, -0.05, 1e-12);
    double squares = 0.0, variance = 0.0;
    for (size_t i = 0; i < c->n_points; i++) {
        double density, sd;
        test_status(
            "at",
            ww_curve_density(c, fmin(c->point[i].log_h, c->domain_high), &density, NULL, NULL),
            WW_OK, NULL);
        test_status("sd",
                    ww_curve_density_sd(c, fmin(c->point[i].log_h, c->domain_high), &sd, NULL),
                    WW_OK, NULL);
        squares += pow(c->point[i].density - density, 2.0);
        variance += sd * sd;
    }
    const double miss = t->readings.row[0].cell[WW_VISUAL].value - c->shape.parameter[0];
    test_close("rms", c->residual_rms, sqrt(squares / 21.0), 1e-12);
    test_close("sd", c->residual_sd, sqrt((squares + miss * miss) / (22.0 - 5.0)), 1e-9);
    variance += c->covariance[0]; /* the base, at the foot of the toe */
    test_close("sum of leverages", variance / (c->residual_sd * c->residual_sd), 5.0, 1e-6);
    for (size_t f = 0; f < WW_FIGURE_COUNT; f++) {
        const ww_quantity q = c->figure[f];
        if (ww_quantity_present(q))
            test_true(ww_figure_key((ww_figure)f),
                      q.low <= q.value && q.value <= q.high && q.low < q.high);
    }
    trial_free(t);
}

/* A base that was not read is the asymptote of a toe that shows, and extrapolated where it doesn't;
 * figures that stand without it say nothing of it. */
static void without_a_base(void **state) {
    (void)state;
    const emulsion e = film(3, EMULSION_NORMAL);
    trial *t = film_read(&e, 7);
    t->readings.row[0].cell[WW_VISUAL].state = WW_CELL_MISSING;
    trial_fit("toe seen", t);
    test_true("toe seen",
              t->curve.figure[WW_FIGURE_BASE_FOG].how == WW_FITTED && noted(t, "fitted asymptote"));
    trial_free(t);

    t = film_read(&e, 7);
    for (size_t i = 0; i < 9; i++) /* base and toe are gone */
        t->readings.row[i].cell[WW_VISUAL].state = WW_CELL_MISSING;
    trial_fit("no toe", t);
    test_true("no toe", noted(t, "is extrapolated"));
    test_true("no toe", t->curve.figure[WW_FIGURE_BASE_FOG].how == WW_EXTRAPOLATED);
    test_true("gamma", t->curve.figure[WW_FIGURE_GAMMA].how == WW_FITTED);
    trial_free(t);
}

/* ------------------------------------------------------------------- falls, over, suspects */

static void real_falls(void **state) {
    (void)state;
    const emulsion e = film(4, EMULSION_QUANTUM);
    trial *t = film_read(&e, 10);
    t->readings.row[19].cell[WW_VISUAL].value -= 0.05;
    t->readings.row[20].cell[WW_VISUAL].value -= 0.13;
    t->readings.row[21].cell[WW_VISUAL].value -= 0.25;
    trial_fit("fall", t);
    test_true("said", noted(t, "really falls again over the last 3 steps"));
    for (size_t i = 0; i < 21; i++)
        test_true("cut", t->curve.point[i].cut == (i >= 18));
    test_close("the curve ends there", t->curve.domain_high, -3.05 + 0.15 * 17.0, 1e-9);
    assert_int_equal(t->curve.n_suspects, 0);
    trial_free(t);

    t = film_read(&e, 10); /* a single low last reading is a slip, not a fall */
    t->readings.row[21].cell[WW_VISUAL].value -= 0.25;
    trial_fit("low last", t);
    test_true("not cut", !t->curve.point[20].cut && !noted(t, "really falls"));
    assert_int_equal(t->curve.n_suspects, 1);
    assert_int_equal(t->curve.suspect[0].point, 20);
    trial_free(t);
}

static void beyond_the_instrument(void **state) {
    (void)state;
    const emulsion e = film(4, EMULSION_QUANTUM);
    trial *t = film_read(&e, 9);
    t->readings.row[20].cell[WW_VISUAL] = t->readings.row[21].cell[WW_VISUAL] =
        (ww_cell){.state = WW_CELL_OVER};
    trial_fit("over", t);
    test_true("said", noted(t, "2 steps beyond the instrument"));
    assert_int_equal(t->curve.n_points, 21);
    test_close("the curve ends before", t->curve.domain_high, -3.05 + 0.15 * 18.0, 1e-9);
    trial_free(t);
}

/* Typing slips of a teacher's class: each is named with the reading that would fit. */
static void typing_slips(void **state) {
    (void)state;
    const emulsion e = film(3, EMULSION_NORMAL);
    trial *t = film_read(&e, 7);
    for (size_t i = 1; i < t->readings.n; i++) { /* as written down, to a hundredth */
        double *const density = &t->readings.row[i].cell[WW_VISUAL].value;
        *density = round(*density * 100.0) / 100.0;
    }
    double *const tenfold = &t->readings.row[8].cell[WW_VISUAL].value;
    double *const turned = &t->readings.row[14].cell[WW_VISUAL].value;
    const double was[2] = {*tenfold, *turned};
    const int number = (int)lround(*turned * 100.0), tens = number / 10 % 10, ones = number % 10;
    *tenfold *= 10.0;
    *turned = (number + 9 * (ones - tens)) / 100.0;
    test_true("digits differ", abs(ones - tens) > 1);
    trial_fit("slips", t);
    assert_int_equal(t->curve.n_suspects, 2);
    bool seen[2] = {false, false};
    for (size_t i = 0; i < 2; i++) {
        const ww_suspect *s = &t->curve.suspect[i];
        seen[0] = seen[0] || (s->point == 7 && s->cause == WW_CAUSE_DECIMAL_POINT);
        seen[1] = seen[1] || (s->point == 13 && s->cause == WW_CAUSE_SLIP);
    }
    test_true("decimal point", seen[0]);
    test_true("transposed digits", seen[1]);
    for (size_t i = 0; i < 2; i++) {
        char words[64];
        snprintf(words, sizeof words, "%.2f in place of", was[i]);
        test_true(words, noted(t, words));
    }
    trial_free(t);
}

/* Source: the issue: what is named does not move the result. Gamma and speed point of a set with a
 * slip lie within the clean set's 95 % interval. */
static void slips_move_nothing(void **state) {
    (void)state;
    const size_t sets = test_quick() ? 1 : 12;
    static const ww_figure figures[] = {WW_FIGURE_GAMMA, WW_FIGURE_SPEED_POINT};
    dice d = {55};
    for (size_t k = 0; k < sets; k++) {
        const emulsion e = film(100 + k, (emulsion_kind)(k % EMULSION_KINDS));
        trial *clean = film_read(&e, 200 + k), *slipped = film_read(&e, 200 + k);
        const size_t at = (size_t)dice_even(&d, 1.0, 21.0); /* not the last: see test_suspect.c */
        slipped->readings.row[at].cell[WW_VISUAL].value += k % 2 ? 0.12 : -0.12;
        trial_fit("clean", clean);
        trial_fit("slipped", slipped);
        for (size_t i = 0; i < 2; i++) {
            const ww_quantity a = clean->curve.figure[figures[i]];
            const ww_quantity b = slipped->curve.figure[figures[i]];
            test_true(ww_figure_key(figures[i]), ww_quantity_present(a) && ww_quantity_present(b) &&
                                                     b.value >= a.low && b.value <= a.high);
        }
        trial_free(clean);
        trial_free(slipped);
    }
}

int main(void) {
    ww_start();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_curve),     cmocka_unit_test(refusals),
        cmocka_unit_test(a_curve),      cmocka_unit_test(without_a_base),
        cmocka_unit_test(real_falls),   cmocka_unit_test(beyond_the_instrument),
        cmocka_unit_test(typing_slips), cmocka_unit_test(slips_move_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
