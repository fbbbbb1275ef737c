/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "choice.h"
#include "points.h"
#include "shape_fit.h"
#include "suspect.h"
#include "tone_response_fall.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/number.h>
#include <wedgework/tone_response.h>

enum { READINGS_MOST = 1000, END_READINGS = 2 };
static const double end_reach = 0.02;       /* of the scale, within which an end was read */
static const double plateau_density = 0.01; /* D: what readings repeat to */
static const double stiffness = 1.25; /* times the scatter: what a stiff curve leaves besides */
static const double light_power = 2.2, light_veil = 0.005;
static const double plateau_least = 0.02; /* of the scale, that a plateau spares */
static const double move_lead = 10.0; /* AICc: a table says what was sent, and is seldom wrong */

/* -------------------------------------------------------------------------------------- reading */

/* One channel of a table on its way to a response. */
typedef struct source {
    const ww_readings *readings;
    ww_ramp ramp;
    ww_column density;
    const double *sent;
    const char *of;
    ww_notes *notes;
} source;

static ww_status drive_of(const source *s, size_t row, double *drive, ww_error *err) {
    const double read = *drive;
    if (!(read >= 0.0 && read <= 1.0))
        return ww_error_set_at(err, WW_EDOMAIN, s->readings->file, s->readings->row[row].line,
                               "%s is %g here; %s", ww_ramp_name(s->ramp),
                               ww_ramp_control(s->ramp, read),
                               ww_ramp_unit(s->ramp)[0] ? "colourants run from 0 to 100 %"
                                                        : "values run from 0 (black) to 1 (white)");
    *drive = s->sent ? ww_tone_response_at(s->sent, read) : read;
    return WW_OK;
}

/* The rows of the scale, as points of a curve along drive. */
static ww_status take(const source *s, ww__points *points, ww_error *err) {
    points->point = calloc(s->readings->n + 1, sizeof *points->point);
    if (!points->point)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu readings", s->readings->n);
    for (size_t i = 0; i < s->readings->n; i++) {
        const ww_cell *cell = &s->readings->row[i].cell[s->density];
        const ww_optional drive = ww_ramp_drive(s->readings, s->ramp, i);
        ww_curve_point *to = &points->point[points->n];
        if (!drive.set || cell->state != WW_CELL_VALUE)
            continue;
        *to = (ww_curve_point){.log_h = drive.value,
                               .density = cell->value,
                               .sd = cell->sd,
                               .n = cell->n ? cell->n : 1,
                               .state = WW_CELL_VALUE};
        const ww_status status = drive_of(s, i, &to->log_h, err);
        if (status != WW_OK)
            return status;
        points->n++;
    }
    return WW_OK;
}

static void ends_of(const ww__points *points, const ww_curve_point **light,
                    const ww_curve_point **dark) {
    *light = *dark = &points->point[0];
    for (size_t i = 1; i < points->n; i++) {
        const ww_curve_point *p = &points->point[i];
        *light = p->log_h < (*light)->log_h ? p : *light;
        *dark = p->log_h > (*dark)->log_h ? p : *dark;
    }
}

static bool is_flat(const ww__points *points) {
    double least = HUGE_VAL, most = -HUGE_VAL;
    for (size_t i = 0; i < points->n; i++) {
        least = fmin(least, points->point[i].density);
        most = fmax(most, points->point[i].density);
    }
    return most - least < plateau_density;
}

/* Nothing is extrapolated: both ends of the scale must have been read. */
static ww_status check(const source *s, const ww__points *points, ww_error *err) {
    const char *file = s->readings->file;
    const ww_curve_point *light, *dark;
    const double end = s->sent ? s->sent[WW_TONE_RESPONSE_POINTS - 1] : 1.0;
    const size_t least = ww__shape_fit_minimum(WW_MODEL_SPLINE);
    if (points->n < least)
        return ww_error_set_at(err, WW_ENODATA, file, 0,
                               "%zu readings of greys%s (column %s) are too few; print and read "
                               "%zu at least, better 11 and more",
                               points->n, s->of, ww_ramp_name(s->ramp), least);
    if (points->n > READINGS_MOST)
        return ww_error_set_at(err, WW_EDOMAIN, file, 0,
                               "%zu different greys%s are too many; give %d at most", points->n,
                               s->of, READINGS_MOST);
    ends_of(points, &light, &dark);
    const bool white = light->log_h <= end_reach, black = dark->log_h >= end - end_reach;
    if (!white || !black)
        return ww_error_set_at(
            err, WW_ENODATA, file, 0,
            "the scale%s is read from %g to %g%s only, and nothing is guessed beyond; read %s%s%s",
            s->of, ww_ramp_control(s->ramp, light->log_h), ww_ramp_control(s->ramp, dark->log_h),
            ww_ramp_unit(s->ramp), white ? "" : "bare paper (a row `base`)",
            white || black ? "" : " and ", black ? "" : "the black that it prints");
    if (is_flat(points))
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "density%s is %.2f D in every grey: a flat column is no scale; look "
                               "whether it is the right one, or read the greys again",
                               s->of, light->density);
    if (dark->density <= light->density)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "density%s falls with what is sent (%.2f at %g%s, %.2f at %g%s); "
                               "value 1 is white, 100 %% of a colourant its full tone: turn the "
                               "column round",
                               s->of, light->density, ww_ramp_control(s->ramp, light->log_h),
                               ww_ramp_unit(s->ramp), dark->density,
                               ww_ramp_control(s->ramp, dark->log_h), ww_ramp_unit(s->ramp));
    return WW_OK;
}

/* -------------------------------------------------------------------------------------- fitting */

static ww_status note_cut(const source *s, const ww__points *points, ww_error *err) {
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

static ww_status note_finding(const source *s, const ww__points *points, const ww__series *series,
                              const ww__finding *f, const ww__shape_fit *fit, ww_error *err) {
    const ww_curve_point *p = &points->point[ww__points_index(points, f->point)];
    const char *unit = ww_ramp_unit(s->ramp);
    const double control = ww_ramp_control(s->ramp, p->log_h);
    const double departure =
        series->density[f->point] - ww_model_density(&fit->shape, series->u[f->point], NULL);
    char off[32];
    if (f->moved != 0)
        return ww_notes_add(s->notes, err,
                            "From %.3g%s on readings%s stand as if one step had been %s, and are "
                            "taken a step %s; look at the row there.",
                            control, unit, s->of, f->moved > 0 ? "skipped" : "read twice",
                            f->moved > 0 ? "on" : "back");
    if (f->point != f->other)
        return ww_notes_add(
            s->notes, err,
            "The readings%s at %.3g%s and %.3g%s stand as if exchanged, and are "
            "left out; read both again.",
            s->of, control, unit,
            ww_ramp_control(s->ramp, points->point[ww__points_index(points, f->other)].log_h),
            unit);
    return ww_notes_add(s->notes, err,
                        "The reading%s at %.3g%s is %s D off what the others say, and is left out; "
                        "read it again.",
                        s->of, control, unit, ww_number_format(departure, 2, off, sizeof off));
}

/*
 * Splines follow a scale best along an axis on which it bends little: drive itself where ink covers
 * paper; where values stand for light, as on screens and in files made for them, the density of
 * that light.
 */
static double along_drive(double drive) {
    return drive;
}

static double along_light(double drive) {
    return log10(light_veil + (1.0 - light_veil) * pow(fmax(1.0 - drive, 0.0), light_power)) /
           log10(light_veil);
}

typedef double axis(double drive);

/* As the spline has it at every drive that was read; held at the ends. */
static void tabulate(const ww__shape_fit *fit, const ww__series *series, axis *along,
                     ww_tone_response *r) {
    double low = HUGE_VAL, high = -HUGE_VAL, gradient[WW_MODEL_PARAMETERS_MAX];
    const size_t n = fit->shape.n;
    for (size_t i = 0; i < series->n; i++) {
        if (!(series->weight[i] > 0.0))
            continue;
        low = fmin(low, series->u[i]);
        high = fmax(high, series->u[i]);
    }
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double drive = (double)i / (WW_TONE_RESPONSE_POINTS - 1);
        const double at = fmin(fmax(along(drive), low), high);
        double variance = 0.0;
        r->density[i] = ww__shape_fit_gradient(&fit->shape, at, gradient);
        for (size_t a = 0; a < n; a++)
            for (size_t b = 0; b < n; b++)
                variance += gradient[a] * fit->unscaled[a * n + b] * gradient[b];
        r->error[i] = stiffness * r->noise * sqrt(fmax(variance, 0.0));
    }
}

/* No more is sent than adds to the density. */
static void find_end(ww_tone_response *r) {
    const double most = r->density[WW_TONE_RESPONSE_POINTS - 1];
    r->to = 1.0;
    const double near = ww_tone_response_drive(r, most - plateau_density);
    if (1.0 - near > plateau_least)
        r->to = near;
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
static ww_status accuse(ww__series *series, ww__choice *choice, ww__findings *findings,
                        ww_error *err) {
    ww__series given = WW__SERIES_INIT;
    ww__findings found = {.n = 0};
    bool pardoned = false;
    ww_status status = ww__series_copy(series, &given, err);
    if (status == WW_OK)
        status = ww__suspect_find(series, false, &only_spline, move_lead, choice, &found, err);
    for (size_t i = 0; i < found.n && status == WW_OK; i++) {
        const ww__finding *f = &found.item[i];
        if (f->moved == 0 && f->point == f->other && is_at_end(&given, f->point)) {
            series->weight[f->point] = given.weight[f->point];
            pardoned = true;
        } else {
            findings->item[findings->n++] = *f;
        }
    }
    ww__series_release(&given);
    return status == WW_OK && pardoned ? ww__choice_make(series, false, &only_spline, choice, err)
                                       : status;
}

static const ww__shape_fit *fit_of(const ww__choice *choice) {
    return &choice->candidate[choice->best].fit;
}

/* By AICc; where both follow readings closer than those are rounded, the stiffer one is. */
static bool suits_better(const ww__shape_fit *a, const ww__shape_fit *b) {
    if (fmax(a->residual_sd, b->residual_sd) < WW_ROUNDING_SD)
        return a->smoothing > b->smoothing;
    return a->aicc < b->aicc;
}

/* The series along the axis that suits it better. */
static ww_status choose_axis(ww__series *series, ww__choice *choice, axis **along, ww_error *err) {
    ww__choice *other = calloc(1, sizeof *other);
    ww__series light = WW__SERIES_INIT;
    ww_status status = other ? ww__series_copy(series, &light, err)
                             : ww_error_set(err, WW_EMEMORY, "no memory for a fit");
    for (size_t i = 0; i < light.n; i++)
        light.u[i] = along_light(series->u[i]);
    if (status == WW_OK)
        status = ww__choice_make(series, false, &only_spline, choice, err);
    if (status == WW_OK)
        status = ww__choice_make(&light, false, &only_spline, other, err);
    *along = along_drive;
    if (status == WW_OK && suits_better(fit_of(other), fit_of(choice))) {
        const ww__series drive = *series;
        *series = light;
        light = drive;
        *choice = *other;
        *along = along_light;
    }
    ww__series_release(&light);
    free(other);
    return status;
}

static ww_status fit_series(const source *s, const ww__points *points, ww__series *series,
                            ww_tone_response *response, ww_error *err) {
    ww__choice *choice = calloc(1, sizeof *choice);
    ww__findings findings = {.n = 0};
    axis *along = along_drive;
    if (!choice)
        return ww_error_set(err, WW_EMEMORY, "no memory for a fit");
    ww_status status = choose_axis(series, choice, &along, err);
    if (status == WW_OK)
        status = accuse(series, choice, &findings, err);
    if (status == WW_OK) {
        const ww__shape_fit *fit = fit_of(choice);
        ww_tone_response made = {.n = ww__series_rows(series),
                                 .noise = fmax(fit->residual_sd, WW_ROUNDING_SD)};
        tabulate(fit, series, along, &made);
        find_end(&made);
        for (size_t i = 0; i < findings.n && status == WW_OK; i++)
            status = note_finding(s, points, series, &findings.item[i], fit, err);
        if (status == WW_OK)
            *response = made;
    }
    free(choice);
    return status;
}

ww_status ww_tone_response_fit(const ww_readings *readings, ww_ramp ramp, ww_column density,
                               const double sent[], const char *of, ww_tone_response *response,
                               ww_notes *notes, ww_error *err) {
    assert(readings && of && response && notes && ramp != WW_RAMP_NONE);
    const source s = {readings, ramp, density, sent, of, notes};
    ww__points points = WW__POINTS_INIT;
    ww__series series = WW__SERIES_INIT;
    ww_status status = take(&s, &points, err);
    if (status == WW_OK)
        status = check(&s, &points, err);
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

/* --------------------------------------------------------------------------------------- asking */

double ww_tone_response_at(const double values[], double drive) {
    const double place = fmin(fmax(drive, 0.0), 1.0) * (WW_TONE_RESPONSE_POINTS - 1);
    const size_t i = (size_t)fmin(place, WW_TONE_RESPONSE_POINTS - 2);
    const double share = place - (double)i;
    return values[i] + share * (values[i + 1] - values[i]);
}

double ww_tone_response_density(const ww_tone_response *response, double drive) {
    assert(response);
    return ww_tone_response_at(response->density, drive);
}

double ww_tone_response_error(const ww_tone_response *response, double drive) {
    assert(response);
    return ww_tone_response_at(response->error, drive);
}

double ww_tone_response_drive(const ww_tone_response *response, double density) {
    assert(response);
    const double *d = response->density;
    size_t low = 0, high = WW_TONE_RESPONSE_POINTS - 1;
    if (density <= d[low])
        return 0.0;
    if (density >= d[high])
        return response->to;
    while (high - low > 1) { /* d[low] < density <= d[high] */
        const size_t middle = low + (high - low) / 2;
        if (d[middle] < density)
            low = middle;
        else
            high = middle;
    }
    const double share = (density - d[low]) / (d[high] - d[low]);
    return fmin(((double)low + share) / (WW_TONE_RESPONSE_POINTS - 1), response->to);
}

double ww_tone_response_learn(ww_tone_response *response, const ww_tone_response *later) {
    assert(response && later);
    double own = 0.0, others = 0.0, apart = 0.0;
    const double to = fmin(response->to, later->to);
    size_t n = 0;
    for (; n < WW_TONE_RESPONSE_POINTS && (double)n <= to * (WW_TONE_RESPONSE_POINTS - 1); n++) {
        own += response->error[n] * response->error[n];
        others += later->error[n] * later->error[n];
        apart += pow(later->density[n] - response->density[n], 2.0);
    }
    const double moved = fmax(0.0, apart - own - others);
    const double gain = (own + moved) / (own + moved + others);
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double stays = (1.0 - gain) * response->error[i], comes = gain * later->error[i];
        response->density[i] += gain * (later->density[i] - response->density[i]);
        response->error[i] = sqrt(stays * stays + comes * comes);
    }
    response->n += later->n;
    find_end(response);
    return gain;
}
