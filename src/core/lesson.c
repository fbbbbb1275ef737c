/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/draws.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/lesson.h>

/* A product and a sum must not be joined into one rounding: the last digit would then depend on
 * the machine. Other compilers don't join them in C17. */
#ifdef __clang__
#pragma STDC FP_CONTRACT OFF
#endif

enum { OF_CURVE = 1, OF_STUDENT = 1000 }; /* streams of draws; students count from OF_STUDENT on */
static const double most = 4294967295.0;  /* what the generator's seed holds */

/* --- the hidden curve ------------------------------------------------------------------------- */

static double ramp(double u, double w, double *slope) {
    const double s = (u + w) / (2.0 * w);
    *slope = u <= -w ? 0.0 : u >= w ? 1.0 : s * s * (3.0 - 2.0 * s);
    return u <= -w ? 0.0 : u >= w ? u : 2.0 * w * (s * s * s - s * s * s * s / 2.0);
}

double ww_lesson_density(const ww_lesson_curve *curve, double log_h, double *slope) {
    double up, down;
    const double rise = ramp(log_h - curve->toe, curve->toe_half, &up) -
                        ramp(log_h - curve->shoulder, curve->shoulder_half, &down);
    if (slope)
        *slope = curve->gamma * (up - down);
    return curve->base_fog + curve->gamma * rise;
}

static double hundredths(long n) {
    return (double)n / 100.0;
}

/* At least three steps stay below net 0.10; the shoulder begins late, on many films beyond the
 * last step. */
static void draw_film(ww__draws *draws, ww_lesson_strip *strip) {
    const long log_h0 = ww__draws_between(draws, 0, 60);
    const long first = log_h0 - 5 - 15 * (WW_LESSON_STEPS - 1);
    const long toe = first + ww__draws_between(draws, 70, 100);
    strip->log_h0 = hundredths(log_h0);
    strip->wedge_step = hundredths(15);
    strip->curve.base_fog = hundredths(ww__draws_between(draws, 14, 38));
    strip->curve.gamma = hundredths(ww__draws_between(draws, 48, 84));
    strip->curve.toe = hundredths(toe);
    strip->curve.toe_half = hundredths(ww__draws_between(draws, 35, 60));
    strip->curve.shoulder = hundredths(log_h0 - 5 + ww__draws_between(draws, -30, 50));
    strip->curve.shoulder_half = hundredths(ww__draws_between(draws, 40, 70));
}

/* White and black lie inside the wedge, with steps to spare at both ends. */
static void draw_paper(ww__draws *draws, ww_lesson_strip *strip) {
    const long log_h0 = ww__draws_between(draws, 60, 140);
    const long first = log_h0 - 5 - 10 * (WW_LESSON_STEPS - 1);
    const long range = ww__draws_between(draws, 50, 95); /* between the ends of the straight line */
    const long net = ww__draws_between(draws, 155, 210);
    const long toe_half = range * ww__draws_between(draws, 18, 30) / 100;
    const long toe = first + 22 + toe_half + ww__draws_between(draws, 0, 6);
    strip->log_h0 = hundredths(log_h0);
    strip->wedge_step = hundredths(10);
    strip->curve.base_fog = hundredths(ww__draws_between(draws, 4, 9));
    strip->curve.gamma = (double)net / (double)range;
    strip->curve.toe = hundredths(toe);
    strip->curve.toe_half = hundredths(toe_half);
    strip->curve.shoulder = hundredths(toe + range);
    strip->curve.shoulder_half = hundredths(range * ww__draws_between(draws, 25, 38) / 100);
}

/* --- readings --------------------------------------------------------------------------------- */

static double read_once(ww__draws *draws, double density, double sd) {
    return floor(100.0 * (density + sd * ww__draws_normal(draws)) + 0.5) / 100.0;
}

static ww_status read_strip(ww_lesson_strip *strip, ww_error *err) {
    ww__draws *draws = NULL;
    const uint32_t stream = (uint32_t)strip->student + OF_STUDENT;
    ww_status status = ww__draws_new(ww__draws_stream((uint32_t)strip->seed, stream), &draws, err);
    if (status != WW_OK)
        return status;
    strip->sd = (double)ww__draws_between(draws, 10, 20) / 1000.0;
    const long step = strip->paper ? 10 : 15, log_h0 = lround(100.0 * strip->log_h0);
    for (size_t i = 0; i <= WW_LESSON_STEPS; i++) {
        ww_lesson_row *row = &strip->row[i];
        const long wedge = i > 0 ? 5 + step * (long)(i - 1) : 0;
        row->wedge = hundredths(wedge);
        row->log_h = hundredths(log_h0 - wedge);
        row->hidden =
            i > 0 ? ww_lesson_density(&strip->curve, row->log_h, NULL) : strip->curve.base_fog;
        row->read = read_once(draws, row->hidden, strip->sd);
    }
    ww__draws_free(draws);
    return WW_OK;
}

static ww_status check(const char *what, unsigned long number, ww_error *err) {
    if (number >= 1 && (double)number <= most)
        return WW_OK;
    return ww_error_set(err, WW_EDOMAIN, "%s %lu is not one of 1 to 4294967295; give another", what,
                        number);
}

ww_status ww_lesson_draw(unsigned long seed, unsigned long student, int kind,
                         ww_lesson_strip *strip, ww_error *err) {
    ww_lesson_strip made = {.seed = seed, .student = student};
    ww__draws *draws = NULL;
    assert(strip);
    ww_status status = check("seed", seed, err);
    if (status == WW_OK)
        status = check("student", student, err);
    if (status == WW_OK)
        status = ww__draws_new(ww__draws_stream((uint32_t)seed, OF_CURVE), &draws, err);
    if (status != WW_OK)
        return status;
    const bool toss = ww__draws_between(draws, 0, 1) == 1;
    made.paper = kind == WW_LESSON_EITHER ? toss : kind == WW_LESSON_PAPER;
    if (made.paper)
        draw_paper(draws, &made);
    else
        draw_film(draws, &made);
    ww__draws_free(draws);
    status = read_strip(&made, err);
    if (status == WW_OK)
        *strip = made;
    return status;
}
