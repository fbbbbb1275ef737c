/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "points.h"
#include "readings.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

static const double real_fall = 0.05;      /* D */
static const double fall_of_others = 0.03; /* D: what is left of it without any one reading */
static const double prior_readings = 4.0;  /* behind the common spread */

static bool fitted(const ww_curve_point *point) {
    return point->state == WW_CELL_VALUE && !point->cut;
}

static ww_status take_row(const ww_readings *readings, size_t row, ww_channel channel,
                          ww__points *points, ww_error *err) {
    const ww_row *from = &readings->row[row];
    const ww_cell *cell = &from->cell[channel];
    if (cell->state == WW_CELL_MISSING)
        return WW_OK;
    if (from->is_base) {
        if (cell->state == WW_CELL_VALUE) {
            points->has_base = true;
            points->base = cell->value;
            points->base_n = cell->n ? cell->n : 1;
            points->base_sd = cell->sd;
        }
        return WW_OK;
    }
    double log_h;
    ww_status status = ww_readings_log_h(readings, row, &log_h, err);
    if (status != WW_OK)
        return status;
    ww_curve_point *to = &points->point[points->n];
    *to = (ww_curve_point){.log_h = log_h,
                           .density = cell->state == WW_CELL_VALUE ? cell->value : 0.0,
                           .sd = cell->sd,
                           .n = cell->n ? cell->n : 1,
                           .state = cell->state};
    status = ww__readings_text_copy(from->step, &to->step, err);
    if (status == WW_OK)
        points->n++;
    return status;
}

ww_status ww__points_take(const ww_readings *readings, ww_channel channel, ww__points *points,
                          ww_error *err) {
    assert(readings && points && channel < WW_CHANNEL_COUNT);
    ww__points made = WW__POINTS_INIT;
    made.point = calloc(readings->n ? readings->n : 1, sizeof *made.point);
    ww_status status =
        made.point ? WW_OK
                   : ww_error_set(err, WW_EMEMORY, "no memory for %zu readings", readings->n);
    for (size_t row = 0; row < readings->n && status == WW_OK; row++)
        status = take_row(readings, row, channel, &made, err);
    if (status != WW_OK) {
        ww__points_release(&made);
        return status;
    }
    *points = made;
    return WW_OK;
}

void ww__points_release(ww__points *points) {
    if (!points)
        return;
    for (size_t i = 0; i < points->n; i++)
        free(points->point[i].step);
    free(points->point);
    *points = (ww__points)WW__POINTS_INIT;
}

/* The next point by rising exposure towards the dense end, SIZE_MAX after the last. */
static size_t next_denser(const ww__points *points, bool falling, size_t after) {
    const double sign = falling ? -1.0 : 1.0;
    size_t next = SIZE_MAX;
    for (size_t i = 0; i < points->n; i++) {
        const ww_curve_point *p = &points->point[i];
        if (!fitted(p) || sign * p->log_h <= sign * points->point[after].log_h)
            continue;
        if (next == SIZE_MAX || sign * p->log_h < sign * points->point[next].log_h)
            next = i;
    }
    return next;
}

/* Beyond the top: a step off the instrument's scale, or repeats of one exposure that disagree on
 * the fall, speak against it. */
static bool rises_again(const ww__points *points, bool falling, size_t top) {
    const double sign = falling ? -1.0 : 1.0;
    const ww_curve_point *p = points->point;
    for (size_t i = 0; i < points->n; i++) {
        if (!(sign * p[i].log_h > sign * p[top].log_h))
            continue;
        if (p[i].state == WW_CELL_OVER)
            return true;
        for (size_t k = 0; k < points->n; k++)
            if (fitted(&p[k]) && fitted(&p[i]) && p[k].log_h == p[i].log_h &&
                fabs(p[k].density - p[i].density) > fall_of_others)
                return true;
    }
    return false;
}

size_t ww__points_cut_fall(ww__points *points, bool falling) {
    size_t top = SIZE_MAX;
    for (size_t i = 0; i < points->n; i++)
        if (fitted(&points->point[i]) &&
            (top == SIZE_MAX || points->point[i].density > points->point[top].density))
            top = i;
    if (top == SIZE_MAX)
        return 0;

    size_t beyond = 0, first = top, before = top, last = top;
    for (size_t i = next_denser(points, falling, top); i != SIZE_MAX;
         i = next_denser(points, falling, i)) {
        if (!(points->point[i].density < points->point[last].density))
            return 0;
        before = last;
        last = i;
        if (beyond++ == 0)
            first = i;
    }
    /* A fall over most of the readings is the wrong exposure column or process, not solarisation;
     * one that hangs on its first or its last reading may be a slip. */
    const ww_curve_point *p = points->point;
    if (beyond < 2 || 3 * beyond > points->n || p[top].density - p[last].density < real_fall ||
        p[top].density - p[before].density < fall_of_others ||
        p[first].density - p[last].density < fall_of_others)
        return 0;
    if (rises_again(points, falling, top))
        return 0;
    const double sign = falling ? -1.0 : 1.0;
    size_t cut = 0;
    for (size_t i = 0; i < points->n; i++) {
        if (sign * points->point[i].log_h > sign * points->point[top].log_h) {
            points->point[i].cut = true;
            cut++;
        }
    }
    return cut;
}

/* Common variance of the points that state a spread; how many do. */
static size_t common_variance(const ww__points *points, double *variance) {
    double sum = 0.0, freedom = 0.0;
    size_t have = 0;
    for (size_t i = 0; i < points->n; i++) {
        const ww_curve_point *p = &points->point[i];
        if (!fitted(p) || !p->sd.set)
            continue;
        const double f = p->n > 1 ? (double)(p->n - 1) : 1.0;
        sum += f * p->sd.value * p->sd.value;
        freedom += f;
        have++;
    }
    *variance = freedom > 0.0 ? sum / freedom : 0.0;
    return have;
}

static double weight_of(size_t n, ww_optional sd, double common) {
    const double repeats = (double)(n ? n : 1);
    if (!sd.set || !(common > 0.0))
        return repeats;
    const double f = n > 1 ? (double)(n - 1) : 1.0;
    const double own = (f * sd.value * sd.value + prior_readings * common) / (f + prior_readings);
    return repeats * common / own;
}

ww_status ww__points_series(const ww__points *points, bool falling, ww__series *series,
                            ww_error *err) {
    assert(points && series);
    size_t n = 0;
    for (size_t i = 0; i < points->n; i++)
        n += fitted(&points->point[i]);
    ww__series made = WW__SERIES_INIT;
    ww_status status = ww__series_new(n, &made, err);
    if (status != WW_OK)
        return status;
    double common;
    if (common_variance(points, &common) < 3)
        common = 0.0;
    size_t at = 0;
    for (size_t i = 0; i < points->n; i++) {
        const ww_curve_point *p = &points->point[i];
        if (!fitted(p))
            continue;
        made.u[at] = falling ? -p->log_h : p->log_h;
        made.density[at] = p->density;
        made.weight[at] = weight_of(p->n, p->sd, common);
        at++;
    }
    made.has_base = points->has_base;
    made.base = points->base;
    made.base_weight = points->has_base ? weight_of(points->base_n, points->base_sd, common) : 0.0;
    status = ww__series_sort(&made, err);
    if (status != WW_OK) {
        ww__series_release(&made);
        return status;
    }
    *series = made;
    return WW_OK;
}

size_t ww__points_index(const ww__points *points, size_t i) {
    for (size_t k = 0; k < points->n; k++)
        if (fitted(&points->point[k]) && i-- == 0)
            return k;
    assert(false && "no such point");
    return 0;
}

ww_status ww__points_mark_moved(const ww_readings *readings, ww_channel channel,
                                ww_curve_point point[], ww_error *err) {
    size_t at = 0;
    for (size_t row = 0; row < readings->n; row++) {
        double log_h;
        const ww_row *from = &readings->row[row];
        if (from->is_base || from->cell[channel].state == WW_CELL_MISSING)
            continue;
        const ww_status status = ww_readings_log_h(readings, row, &log_h, err);
        if (status != WW_OK)
            return status;
        point[at].moved = point[at].log_h - log_h;
        at++;
    }
    return WW_OK;
}

double ww__points_departure(const ww__points *points, size_t index, const ww_shape *shape) {
    const ww_curve_point *p = &points->point[index];
    return p->density - ww_model_density(shape, p->log_h, NULL);
}
