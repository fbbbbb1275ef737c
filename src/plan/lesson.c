/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/draws.h"
#include <assert.h>
#include <math.h>
#include <wedgework/lesson.h>

/* As in core/lesson.c: what is handed out must not depend on the machine. */
#ifdef __clang__
#pragma STDC FP_CONTRACT OFF
#endif

enum { OF_FAULT = 2, DEEPEST = 600 /* hundredths of D in the table */ };
static const double apart_film = 0.06, apart_paper = 0.08; /* neighbours that can be told [D] */
static const double hundredth = 0.97723722095581068;       /* 10^-0.01 */
static const double half_hundredth = 0.98855309465693886;  /* 10^-0.005 */
static const double reading_sd = 0.015;                    /* [D], of the readings to be expected */

/* --- faults ----------------------------------------------------------------------------------- */

/* A step that is far enough from the next one, by the hidden curve, so that all students of a strip
 * get the same; the step itself by lot. */
static size_t step_apart(const ww_lesson_strip *strip, ww__draws *draws) {
    const double least = strip->paper ? apart_paper : apart_film;
    size_t found[WW_LESSON_STEPS], n = 0;
    for (size_t i = 2; i + 2 < WW_LESSON_STEPS; i++)
        if (strip->row[i].hidden - strip->row[i + 1].hidden >= least &&
            strip->row[i - 1].hidden - strip->row[i].hidden >= least)
            found[n++] = i;
    assert(n > 0); /* every curve that is drawn rises by far more */
    return found[ww__draws_between(draws, 0, (long)n - 1)];
}

static void swap(ww_lesson *lesson, ww__draws *draws) {
    const size_t i = lesson->at = step_apart(&lesson->strip, draws);
    const double kept = lesson->given[i].density;
    lesson->given[i].density = lesson->given[i + 1].density;
    lesson->given[i + 1].density = kept;
}

static void miss(ww_lesson *lesson, ww__draws *draws) {
    lesson->at = step_apart(&lesson->strip, draws);
    for (size_t i = lesson->at; i < WW_LESSON_STEPS; i++)
        lesson->given[i].density = lesson->given[i + 1].density;
    lesson->n--;
}

/* The meter shows n hundredths where the light lies between 10^-((n + 1/2)/100) and 10^-((n -
 * 1/2)/100). */
static double through_flare(double density, double flare) {
    const long read = lround(100.0 * density);
    double light = 1.0, edge = half_hundredth;
    long shown = 0;
    if (read <= 0)
        return density;
    for (long i = 0; i < read; i++)
        light *= hundredth;
    light = (light + flare) / (1.0 + flare);
    for (; light < edge && shown < DEEPEST; shown++)
        edge *= hundredth;
    return (double)shown / 100.0;
}

static void add_flare(ww_lesson *lesson, ww__draws *draws) {
    lesson->size = (double)ww__draws_between(draws, 5, 20) / 1000.0;
    for (size_t i = 0; i < lesson->n; i++)
        lesson->given[i].density = through_flare(lesson->given[i].density, lesson->size);
}

/* Whoever reads it as the table stands finds the figure before the comma. */
static void part_in_two(ww_lesson *lesson, ww__draws *draws) {
    lesson->at = step_apart(&lesson->strip, draws);
    lesson->size = lesson->given[lesson->at].density;
    lesson->given[lesson->at].density = floor(lesson->size);
}

static void shift_zero(ww_lesson *lesson) {
    lesson->size = -lesson->strip.row[0].read;
    for (size_t i = 0; i < lesson->n; i++)
        lesson->given[i].density =
            (double)(lround(100.0 * lesson->given[i].density) + lround(100.0 * lesson->size)) /
            100.0;
}

static void reverse(ww_lesson *lesson) {
    for (size_t i = 1; i <= WW_LESSON_STEPS; i++)
        lesson->given[i].wedge = lesson->strip.row[WW_LESSON_STEPS + 1 - i].wedge;
}

static void spoil(ww_lesson *lesson, ww__draws *draws) {
    switch (lesson->fault) {
    case WW_LESSON_SWAPPED_ROWS:
        swap(lesson, draws);
        break;
    case WW_LESSON_MISSED_STEP:
        miss(lesson, draws);
        break;
    case WW_LESSON_FLARE:
        add_flare(lesson, draws);
        break;
    case WW_LESSON_DECIMAL_COMMA:
        part_in_two(lesson, draws);
        break;
    case WW_LESSON_WRONG_ZERO:
        shift_zero(lesson);
        break;
    case WW_LESSON_REVERSED_WEDGE:
        reverse(lesson);
        break;
    case WW_LESSON_SOUND:
    case WW_LESSON_FAULTS:
        break;
    }
}

/* --- the lesson ------------------------------------------------------------------------------- */

/* By hand, from the rows as they stand: sorted by exposure, as a graph sorts them. */
static void work(const ww_lesson *lesson, ww_lesson_working *working) {
    const ww_lesson_strip *strip = &lesson->strip;
    double log_h[WW_LESSON_STEPS], density[WW_LESSON_STEPS];
    const size_t n = lesson->n - 1, beside = strip->paper ? 1 : 2;
    const bool turned = lesson->given[1].wedge > lesson->given[2].wedge;
    for (size_t i = 0; i < n; i++) {
        const ww_lesson_given *row = &lesson->given[turned ? 1 + i : n - i];
        log_h[i] = strip->log_h0 - row->wedge;
        density[i] = row->density;
    }
    /* of a slope of 3 or 5 steps: sd / (step sqrt(2)) or sd / (step sqrt(10)) */
    const double doubt = reading_sd / strip->wedge_step / sqrt(beside == 1 ? 2.0 : 10.0);
    const ww_lesson_points points = {log_h, density, n, {true, lesson->given[0].density}};
    ww_lesson_work(&points, strip->paper, beside, doubt, working);
}

ww_status ww_lesson_make(const ww_lesson_request *request, ww_lesson *lesson, ww_error *err) {
    ww_lesson made = {.fault = request->fault, .n = WW_LESSON_STEPS + 1};
    ww__draws *draws = NULL;
    assert(lesson && request->fault < WW_LESSON_FAULTS);
    ww_status status =
        ww_lesson_draw(request->seed, request->student, request->kind, &made.strip, err);
    if (status == WW_OK)
        status = ww_lesson_work_hidden(&made.strip, &made.hidden, err);
    if (status == WW_OK)
        status = ww__draws_new(ww__draws_stream((uint32_t)request->seed, OF_FAULT), &draws, err);
    if (status != WW_OK)
        return status;
    for (size_t i = 0; i < made.n; i++)
        made.given[i] = (ww_lesson_given){i == 0, made.strip.row[i].wedge, made.strip.row[i].read};
    work(&made, &made.sound);
    const long drawn = ww__draws_between(draws, 1, WW_LESSON_FAULTS - 1);
    if (request->any_fault)
        made.fault = (ww_lesson_fault)drawn;
    spoil(&made, draws);
    ww__draws_free(draws);
    work(&made, &made.spoilt);
    *lesson = made;
    return WW_OK;
}
