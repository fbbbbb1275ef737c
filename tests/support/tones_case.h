/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_TONES_CASE_H
#define WEDGEWORK_TESTS_TONES_CASE_H

#include "support/support.h"
#include <math.h>
#include <stdio.h>
#include <wedgework/tones.h>

/*
 * A film and a paper of closed form for tests of tones. Everything lies in the struct itself or is
 * a constant, so there is nothing to release but the tones.
 *
 * The film is a straight line of slope 0.56 that lies at 0.40 where the scene's darkest tone falls
 * on it through a veil of 10^-2.2 of white; the paper is D = 0.05 + 2 / (1 + e^(-s x)), s 5.799090,
 * so that net 0.04 and 90 % of net D-max lie 1.05 apart; the scene's white prints at net 0.04.
 * Worked out elsewhere in closed form for six luminances: tones_case_rows.
 */
typedef struct tones_case {
    ww_curve film[4], paper[4];
    const ww_curve *films[4], *papers[4];
    double film_covariance[16], paper_covariance[25];
    ww_tones_request request;
} tones_case;

#define TONES_CASE_VEIL 0.00630957344480193 /* 10^-2.2 */
#define TONES_CASE_SPEED (-2.0)             /* log H of the film's speed point */

static const struct tones_case_row {
    double scene, negative, print;
} tones_case_rows[] = {{0.0, 1.4650, 0.0900},  {-0.5, 1.1882, 0.2344}, {-0.745, 1.0546, 0.4112},
                       {-1.0, 0.9183, 0.7040}, {-1.6, 0.6219, 1.5109}, {-2.2, 0.4000, 1.8651}};
enum { TONES_CASE_ROWS = sizeof tones_case_rows / sizeof tones_case_rows[0] };

static inline ww_quantity tones_case_given(double value) {
    return (ww_quantity){value, value, value, WW_GIVEN};
}

/* A curve in one channel; names are constants, which nothing releases. */
static inline void tones_case_curve(ww_curve *curve, ww_material material, ww_channel channel,
                                    ww_shape shape, double low, double high, double base) {
    static char film[] = "Heron film", paper[] = "Heron paper";
    ww_channel_curve *c = &curve->channel[channel];
    curve->meta.material = material;
    curve->meta.name = material == WW_MATERIAL_FILM ? film : paper;
    c->present = c->fitted = true;
    c->shape = shape;
    c->domain_low = low;
    c->domain_high = high;
    c->figure[WW_FIGURE_BASE_FOG] = tones_case_given(base);
}

/* Far above its toe the film's curve is its straight part, to 1e-10. */
static inline ww_shape tones_case_line(double slope, double at, double density) {
    const double base = 0.10, softness = 0.01;
    return (ww_shape){.model = WW_MODEL_TOE_LINE,
                      .n = 4,
                      .parameter = {base, slope, at - (density - base) / slope, softness}};
}

static inline ww_shape tones_case_paper_shape(double steepness, double middle) {
    return (ww_shape){
        .model = WW_MODEL_LOGISTIC, .n = 5, .parameter = {0.05, 2.0, steepness, middle, 1.0}};
}

static inline void tones_case_start(tones_case *c) {
    const double darkest =
        TONES_CASE_SPEED + 2.2 + log10(2.0 * TONES_CASE_VEIL / (1.0 + TONES_CASE_VEIL));
    *c = (tones_case){.request = WW_TONES_REQUEST_INIT};
    tones_case_curve(&c->film[0], WW_MATERIAL_FILM, WW_VISUAL, tones_case_line(0.56, darkest, 0.40),
                     -4.0, 2.0, 0.10);
    c->film[0].channel[WW_VISUAL].figure[WW_FIGURE_SPEED_POINT] =
        tones_case_given(TONES_CASE_SPEED);
    tones_case_curve(&c->paper[0], WW_MATERIAL_PAPER, WW_VISUAL,
                     tones_case_paper_shape(5.799090, 0.0), -1.6, 1.6, 0.05);
    for (size_t i = 0; i < 4; i++) {
        c->films[i] = &c->film[i];
        c->papers[i] = &c->paper[i];
    }
    c->request.film = c->films;
    c->request.paper = c->papers;
    c->request.n_films = c->request.n_papers = 1;
    c->request.flare = TONES_CASE_VEIL;
}

/* Independent errors of these sizes in base and gamma, and in paper white and steepness. */
static inline void tones_case_doubt(tones_case *c, double base, double gamma, double white,
                                    double steepness) {
    c->film_covariance[0] = base * base;
    c->film_covariance[5] = gamma * gamma;
    c->paper_covariance[0] = white * white;
    c->paper_covariance[12] = steepness * steepness;
    c->film[0].channel[WW_VISUAL].covariance = c->film_covariance;
    c->paper[0].channel[WW_VISUAL].covariance = c->paper_covariance;
}

static inline void tones_case_make(const char *row, const tones_case *c, ww_tones *tones) {
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_tones_make(&c->request, tones, &err), WW_OK, &err);
}

static inline void tones_case_refuses(const char *row, const tones_case *c, ww_status status,
                                      const char *words) {
    ww_tones tones = WW_TONES_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_tones_make(&c->request, &tones, &err), status, &err);
    test_holds(row, err.msg, words);
    test_true(row, tones.chain == NULL && tones.notes.n == 0);
}

/* Makes it and looks whether a note holds these words. */
static inline void tones_case_says(const char *row, const tones_case *c, const char *words,
                                   bool said) {
    ww_tones tones = WW_TONES_INIT;
    tones_case_make(row, c, &tones);
    if (test_noted(&tones.notes, words) != said) {
        for (size_t k = 0; k < tones.notes.n; k++)
            print_message("* %s\n", tones.notes.text[k]);
        fail_msg("%s: '%s' %s", row, words, said ? "was not said" : "was said");
    }
    ww_tones_release(&tones);
}

#endif
