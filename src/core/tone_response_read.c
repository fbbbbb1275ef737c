/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tone_response_read.h"
#include "shape_fit.h"
#include "tone_response_end.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/tone_response.h>

enum { READINGS_MOST = 1000 };
static const double end_reach = 0.02; /* of the scale, within which an end was read */

static ww_status drive_of(const ww__tone_source *s, size_t row, double *drive, ww_error *err) {
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
ww_status ww__tone_response_take(const ww__tone_source *s, ww__points *points, ww_error *err) {
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
    return most - least < WW__PLATEAU_DENSITY;
}

/* Nothing is extrapolated: both ends of the scale must have been read. */
ww_status ww__tone_response_check(const ww__tone_source *s, const ww__points *points,
                                  ww_error *err) {
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
