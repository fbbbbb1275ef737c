/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "choice.h"
#include "points.h"
#include "shape_fit.h"
#include "story.h"
#include "suspect.h"
#include "tone_response_end.h"
#include "tone_response_fall.h"
#include "tone_response_read.h"
#include "tone_response_slip.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/number.h>
#include <wedgework/tone_response.h>

enum { END_READINGS = 2 };
static const double stiffness = 1.25; /* times the scatter: what a stiff curve leaves besides */
static const double light_power = 2.2, light_veil = 0.005, spread_power = 0.6;
/* AICc by which a slip must be likelier: to be told, and to be believed. Of 768 honest scales of 11
 * to 51 greys, read with an error of 0.003 to 0.02 D, 18 reached the first and none the second. */
static const double slip_told = 10.0, slip_sure = 24.0;
static const double normal_95 = 1.96; /* sd of a normal distribution */

/* -------------------------------------------------------------------------------------- fitting */

static ww_status note_cut(const ww__tone_source *s, const ww__points *points, ww_error *err) {
    double from = HUGE_VAL, most = -HUGE_VAL;
    for (size_t i = 0; i < points->n; i++)
        if (points->point[i].cut) {
            from = fmin(from, points->point[i].log_h);
        } else {
            most = fmax(most, points->point[i].density);
        }
    return ww_notes_add(s->notes, err,
                        "Density%s falls again from %.3g%s on: readings there are left out, and no "
                        "more is sent than gives its most, %.2f D.",
                        s->of, ww_ramp_control(s->ramp, from), ww_ramp_unit(s->ramp), most);
}

/* Where the table has it: drives of a second pass are those that were really sent. */
static double control_of(const ww__tone_source *s, double drive) {
    size_t i = 0;
    while (s->sent && i < WW_TONE_RESPONSE_POINTS - 1 && s->sent[i] < drive)
        i++;
    return ww_ramp_control(s->ramp, s->sent ? (double)i / (WW_TONE_RESPONSE_POINTS - 1) : drive);
}

static ww_status note_finding(const ww__tone_source *s, const ww__points *points,
                              const ww__series *series, const ww__finding *f,
                              const ww__shape_fit *fit, ww_error *err) {
    const ww_curve_point *p = &points->point[ww__points_index(points, f->point)];
    const char *unit = ww_ramp_unit(s->ramp);
    const double control = control_of(s, p->log_h);
    const double departure =
        series->density[f->point] - ww_model_density(&fit->shape, series->u[f->point], NULL);
    char off[32];
    if (f->point != f->other)
        return ww_notes_add(s->notes, err,
                            "The readings%s at %.3g%s and %.3g%s stand as if exchanged, and are "
                            "left out; read both again.",
                            s->of, control, unit,
                            control_of(s, points->point[ww__points_index(points, f->other)].log_h),
                            unit);
    return ww_notes_add(s->notes, err,
                        "The reading%s at %.3g%s is %s D off what the others say, and is left out; "
                        "read it again.",
                        s->of, control, unit, ww_number_format(departure, 2, off, sizeof off));
}

static ww_status note_slip(const ww__tone_source *s, const ww_tone_slip *slip, ww_error *err) {
    const char *unit = ww_ramp_unit(s->ramp), *what = slip->moved > 0 ? "skipped" : "read twice";
    const double control = slip->control;
    if (!slip->taken)
        return ww_notes_add(
            s->notes, err,
            "A step may have been %s near %.3g%s in the readings%s, which are taken "
            "as they stand; the doubt holds both. Look at the rows there.",
            what, control, unit, s->of);
    return ww_notes_add(s->notes, err,
                        "From %.3g%s on readings%s stand as if one step had been %s, and are taken "
                        "a step %s; the doubt holds both. Look at the rows there.",
                        control, unit, s->of, what, slip->moved > 0 ? "on" : "back");
}

/*
 * Splines follow a scale best along an axis on which it bends little: drive itself where ink covers
 * paper; a root of it where a little ink spreads far and density leaves the white steeply; where
 * values stand for light, as on screens and in files made for them, the density of that light.
 */
static double along_drive(double drive) {
    return drive;
}

static double along_spread(double drive) {
    return pow(fmax(drive, 0.0), spread_power);
}

static double along_light(double drive) {
    return log10(light_veil + (1.0 - light_veil) * pow(fmax(1.0 - drive, 0.0), light_power)) /
           log10(light_veil);
}

typedef double axis(double drive);

/* Readings as one story tells them, along the axis that suits them. */
typedef struct scale {
    ww__series series;
    ww__choice choice;
    axis *along;
    ww__findings findings;
} scale;

static void free_scale(scale *s) {
    if (s)
        ww__series_release(&s->series);
    free(s);
}

static const ww__shape_fit *fit_of(const scale *s) {
    return &s->choice.candidate[s->choice.best].fit;
}

/* The next point with weight in the order of drives, from place `at` on. */
static size_t seen_from(const ww__series *series, size_t at) {
    while (at < series->n && !(series->weight[series->order[at]] > 0.0))
        at++;
    return at;
}

/* What readings are off by, on straight lines between them. */
static void find_missed(const scale *s, ww_tone_response *r) {
    const ww__series *given = &s->series;
    const ww_shape *shape = &fit_of(s)->shape;
    double from = -HUGE_VAL, to = -HUGE_VAL, off = 0.0, next_off = 0.0;
    size_t next = 0;
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double at = s->along((double)i / (WW_TONE_RESPONSE_POINTS - 1));
        while (to <= at && (next = seen_from(given, next)) < given->n) {
            const size_t point = given->order[next++];
            from = to;
            off = next_off;
            to = given->u[point];
            next_off = given->density[point] - ww_model_density(shape, to, NULL);
        }
        const bool between = from > -HUGE_VAL && to > at;
        r->missed[i] = between ? off + (at - from) / (to - from) * (next_off - off) : next_off;
    }
}

/* As the spline has it at every drive that was read; held at the ends. */
static void tabulate(const scale *s, ww_tone_response *r) {
    const ww__shape_fit *fit = fit_of(s);
    double low = HUGE_VAL, high = -HUGE_VAL, gradient[WW_MODEL_PARAMETERS_MAX];
    const size_t n = fit->shape.n;
    *r = (ww_tone_response){.n = ww__series_rows(&s->series),
                            .noise = fmax(fit->residual_sd, WW_ROUNDING_SD)};
    for (size_t i = 0; i < s->series.n; i++) {
        if (!(s->series.weight[i] > 0.0))
            continue;
        low = fmin(low, s->series.u[i]);
        high = fmax(high, s->series.u[i]);
    }
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double drive = (double)i / (WW_TONE_RESPONSE_POINTS - 1);
        const double at = fmin(fmax(s->along(drive), low), high);
        double variance = 0.0;
        r->density[i] = ww__shape_fit_gradient(&fit->shape, at, gradient);
        for (size_t a = 0; a < n; a++)
            for (size_t b = 0; b < n; b++)
                variance += gradient[a] * fit->unscaled[a * n + b] * gradient[b];
        r->error[i] = stiffness * r->noise * sqrt(fmax(variance, 0.0));
    }
    find_missed(s, r);
    ww__tone_response_end(r);
}

/* Beyond the last readings at either end nothing says how the scale goes on, and paper and black
 * come with a bend: no reading is accused there. */
static bool is_at_end(const ww__series *series, size_t point) {
    const size_t n = series->n;
    for (size_t i = 0; i < END_READINGS && i < n; i++)
        if (series->order[i] == point || series->order[n - 1 - i] == point)
            return true;
    return false;
}

static const ww_model_kind only_spline = WW_MODEL_SPLINE;

/* Readings that no rising curve explains lose their weight. */
static ww_status accuse(scale *s, ww_error *err) {
    ww__series given = WW__SERIES_INIT;
    ww__findings found = {.n = 0};
    bool pardoned = false;
    ww_status status = ww__series_copy(&s->series, &given, err);
    if (status == WW_OK)
        status = ww__suspect_find(&s->series, false, &only_spline, false, &s->choice, &found, err);
    for (size_t i = 0; i < found.n && status == WW_OK; i++) {
        const ww__finding *f = &found.item[i];
        if (f->point == f->other && is_at_end(&given, f->point)) {
            s->series.weight[f->point] = given.weight[f->point];
            pardoned = true;
        } else {
            s->findings.item[s->findings.n++] = *f;
        }
    }
    ww__series_release(&given);
    return status == WW_OK && pardoned
               ? ww__choice_make(&s->series, false, &only_spline, &s->choice, err)
               : status;
}

/* How much the steps of a spline bend: squares of second differences of their logarithms. */
static double bends(const ww__shape_fit *fit) {
    double sum = 0.0;
    for (size_t k = 1; k + 2 < fit->shape.n; k++) {
        const double bend = fit->working[k] - 2.0 * fit->working[k + 1] + fit->working[k + 2];
        sum += bend * bend;
    }
    return sum;
}

/* By AICc; where both follow readings closer than those are rounded, the one that bends less is. */
static bool suits_better(const ww__shape_fit *a, const ww__shape_fit *b) {
    if (fmax(a->residual_sd, b->residual_sd) < WW_ROUNDING_SD)
        return bends(a) < bends(b);
    return a->aicc < b->aicc;
}

static ww_status fit_along(const ww__series *drives, axis *along, scale **made, ww_error *err) {
    scale *s = calloc(1, sizeof *s);
    if (!s)
        return ww_error_set(err, WW_EMEMORY, "no memory for a fit");
    s->along = along;
    ww_status status = ww__series_copy(drives, &s->series, err);
    for (size_t i = 0; i < s->series.n; i++)
        s->series.u[i] = along(s->series.u[i]);
    if (status == WW_OK)
        status = ww__choice_make(&s->series, false, &only_spline, &s->choice, err);
    if (status == WW_OK)
        *made = s;
    else
        free_scale(s);
    return status;
}

/* Along the axis that suits best. */
static ww_status fit_scale(const ww__series *drives, scale **made, ww_error *err) {
    static axis *const axes[] = {along_drive, along_spread, along_light};
    scale *best = NULL;
    ww_status status = WW_OK;
    for (size_t i = 0; i < sizeof axes / sizeof axes[0] && status == WW_OK; i++) {
        scale *trial = NULL;
        status = fit_along(drives, axes[i], &trial, err);
        if (trial && (!best || suits_better(fit_of(trial), fit_of(best)))) {
            scale *worse = best;
            best = trial;
            trial = worse;
        }
        free_scale(trial);
    }
    if (status == WW_OK)
        *made = best;
    else
        free_scale(best);
    return status;
}

/* AICc, as if readings were no better than they are rounded. */
static double unlikely(const scale *s) {
    const ww__shape_fit *fit = fit_of(s);
    const double n = (double)fit->rows, least = WW_ROUNDING_SD * WW_ROUNDING_SD;
    return fit->aicc + n * log(fmax(fit->rss / n, least) / fmax(fit->rss / n, 1e-12));
}

/* Whether one reading off, or two exchanged, tell as much as a slip does. */
static ww_status has_plain_story(const scale *as_given, const scale *moved, bool *plain,
                                 ww_error *err) {
    ww__story one;
    const ww_status status = ww__story_best(&as_given->series, &as_given->choice, true, &one, err);
    *plain = status == WW_OK && one.score < fit_of(moved)->aicc;
    return status;
}

/* The likeliest slip; *moved stays NULL where there is none to speak of. */
static ww_status find_slip(const ww__series *drives, const scale *as_given, ww_tone_slip *slip,
                           scale **moved, ww_error *err) {
    ww__tone_slip place[WW__TONE_SLIPS];
    size_t n = 0;
    double most = slip_told;
    bool plain = false;
    ww_status status = ww__tone_response_slip_places(drives, place, &n, err);
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        ww__series told = WW__SERIES_INIT;
        scale *trial = NULL;
        status = ww__tone_response_slip_move(drives, place[i], &told, err);
        if (status == WW_OK)
            status = fit_scale(&told, &trial, err);
        ww__series_release(&told);
        const double gain = trial ? unlikely(as_given) - unlikely(trial) : 0.0;
        if (gain > most) {
            scale *less = *moved;
            *moved = trial;
            trial = less;
            most = gain;
            *slip = (ww_tone_slip){
                .moved = place[i].moved, .taken = gain > slip_sure, .drive = place[i].drive};
        }
        free_scale(trial);
    }
    if (status == WW_OK && *moved)
        status = has_plain_story(as_given, *moved, &plain, err);
    if (plain || status != WW_OK) {
        free_scale(*moved);
        *moved = NULL;
        *slip = (ww_tone_slip){.moved = 0};
    }
    return status;
}

/* Who knows of two stories that one is true doubts the one by what the other says. */
static void doubt_both(ww_tone_response *told, const ww_tone_response *other) {
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++)
        told->error[i] = hypot(told->error[i], (other->density[i] - told->density[i]) / normal_95);
}

/* Readings as given, and where a step may have slipped as they would stand then. */
static ww_status fit_stories(const ww__series *drives, ww_tone_slip *slip, scale **told,
                             scale **other, ww_error *err) {
    scale *as_given = NULL, *moved = NULL;
    ww_status status = fit_scale(drives, &as_given, err);
    if (status == WW_OK)
        status = find_slip(drives, as_given, slip, &moved, err);
    if (status == WW_OK)
        status = accuse(slip->taken ? moved : as_given, err);
    *told = slip->taken ? moved : as_given;
    *other = slip->taken ? as_given : moved;
    return status;
}

static ww_status fit_series(const ww__tone_source *s, const ww__points *points,
                            const ww__series *drives, ww_tone_response *response, ww_error *err) {
    ww_tone_response made, beside;
    ww_tone_slip slip = {.moved = 0};
    scale *told = NULL, *other = NULL;
    ww_status status = fit_stories(drives, &slip, &told, &other, err);
    if (status == WW_OK) {
        tabulate(told, &made);
        slip.control = control_of(s, slip.drive);
        made.slip = slip;
        for (size_t i = 0; i < told->findings.n && status == WW_OK; i++)
            status =
                note_finding(s, points, &told->series, &told->findings.item[i], fit_of(told), err);
    }
    if (status == WW_OK && other) {
        tabulate(other, &beside);
        doubt_both(&made, &beside);
        status = note_slip(s, &slip, err);
    }
    if (status == WW_OK)
        *response = made;
    free_scale(told);
    free_scale(other);
    return status;
}

ww_status ww_tone_response_fit(const ww_readings *readings, ww_ramp ramp, ww_column density,
                               const double sent[], const char *of, ww_tone_response *response,
                               ww_notes *notes, ww_error *err) {
    assert(readings && of && response && notes && ramp != WW_RAMP_NONE);
    const ww__tone_source s = {readings, ramp, density, sent, of, notes};
    ww__points points = WW__POINTS_INIT;
    ww__series series = WW__SERIES_INIT;
    ww_status status = ww__tone_response_take(&s, &points, err);
    if (status == WW_OK)
        status = ww__tone_response_check(&s, &points, err);
    if (status == WW_OK && ww__tone_response_fall_cut(&points) > 0)
        status = note_cut(&s, &points, err);
    if (status == WW_OK)
        status = ww__points_series(&points, false, &series, err);
    if (status == WW_OK)
        status = fit_series(&s, &points, &series, response, err);
    ww__series_release(&series);
    ww__points_release(&points);
    return status;
}
