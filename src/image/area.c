/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/area.h"

#include <assert.h>
#include <math.h>
#include <string.h>

ww__area ww__area_disc(double x, double y, double radius) {
    return (ww__area){.centre = {x, y},
                      .along = {1.0, 0.0},
                      .across = {0.0, 1.0},
                      .half_u = radius,
                      .half_v = radius,
                      .disc = true};
}

ww_region ww__area_common(ww_region a, ww_region b) {
    const size_t left = a.x > b.x ? a.x : b.x, top = a.y > b.y ? a.y : b.y;
    const size_t right = a.x + a.width < b.x + b.width ? a.x + a.width : b.x + b.width;
    const size_t bottom = a.y + a.height < b.y + b.height ? a.y + a.height : b.y + b.height;
    if (left >= right || top >= bottom)
        return (ww_region){0, 0, 0, 0};
    return (ww_region){left, top, right - left, bottom - top};
}

static double reach(const ww__area *area, int axis) {
    if (area->disc)
        return area->half_u;
    return area->half_u * fabs(area->along[axis]) + area->half_v * fabs(area->across[axis]);
}

/* Whole pixels from floor(low) to ceil(high), of a picture of `size`. */
static void cut(double low, double high, size_t size, size_t *from, size_t *n) {
    const double first = fmax(floor(low), 0.0), end = fmin(ceil(high), (double)size);
    *from = end > first ? (size_t)first : 0;
    *n = end > first ? (size_t)(end - first) : 0;
}

ww_region ww__area_box(const ww__area *area, size_t width, size_t height) {
    const double rx = reach(area, 0), ry = reach(area, 1);
    ww_region box;
    cut(area->centre[0] - rx, area->centre[0] + rx, width, &box.x, &box.width);
    cut(area->centre[1] - ry, area->centre[1] + ry, height, &box.y, &box.height);
    if (box.width == 0 || box.height == 0)
        return (ww_region){0, 0, 0, 0};
    return box;
}

/* --------------------------------------------------------------------------------- one row */

/* Places x along a row, px from the centre: from low up to, but not with, high. */
typedef struct span {
    double low, high;
} span;

static span both(span a, span b) {
    return (span){fmax(a.low, b.low), fmin(a.high, b.high)};
}

/* Where -half <= x a[0] + dy a[1] < half. */
static span slab(const double a[2], double half, double dy) {
    const double from = -half - dy * a[1], to = half - dy * a[1];
    if (fabs(a[0]) < 1e-12)
        return from <= 0.0 && 0.0 < to ? (span){-HUGE_VAL, HUGE_VAL} : (span){0.0, 0.0};
    return a[0] > 0.0 ? (span){from / a[0], to / a[0]} : (span){to / a[0], from / a[0]};
}

static span across_row(const ww__area *area, double dy) {
    if (!area->disc)
        return both(slab(area->along, area->half_u, dy), slab(area->across, area->half_v, dy));
    const double rest = area->half_u * area->half_u - dy * dy;
    return rest > 0.0 ? (span){-sqrt(rest), sqrt(rest)} : (span){0.0, 0.0};
}

/* The first pixel of the box whose middle is not left of a place. */
static size_t pixel_at(double place, const ww__area *area, const ww_region *box) {
    const double at = ceil(place + area->centre[0] - 0.5) - (double)box->x;
    return box->x + (at > 0.0 ? at < (double)box->width ? (size_t)at : box->width : 0);
}

/* Where the sign of x a[0] + dy a[1] changes: `none` where it does not. */
static size_t turn_at(const double a[2], double dy, const ww__area *area, const ww_region *box,
                      size_t none) {
    return fabs(a[0]) < 1e-12 ? none : pixel_at(-dy * a[1] / a[0], area, box);
}

static unsigned quarter_of(const ww__area *area, double dx, double dy) {
    const double u = dx * area->along[0] + dy * area->along[1];
    const double v = dx * area->across[0] + dy * area->across[1];
    return (u > 0.0 ? 1u : 0u) + (v > 0.0 ? 2u : 0u);
}

size_t ww__area_runs(const ww__area *area, const ww_region *box, size_t y,
                     ww__area_run run[WW__AREA_RUNS]) {
    const double dy = (double)y + 0.5 - area->centre[1];
    const span row = across_row(area, dy);
    const size_t from = pixel_at(row.low, area, box), to = pixel_at(row.high, area, box);
    const size_t a = turn_at(area->along, dy, area, box, from);
    const size_t b = turn_at(area->across, dy, area, box, from);
    const size_t end[WW__AREA_RUNS] = {a < b ? a : b, a < b ? b : a, to};
    size_t n = 0, x = from;
    for (size_t i = 0; i < WW__AREA_RUNS; i++) {
        const size_t stop = end[i] < to ? end[i] : to;
        if (stop <= x)
            continue;
        const double middle = 0.5 * ((double)x + (double)stop) - area->centre[0];
        run[n++] = (ww__area_run){x, stop - x, quarter_of(area, middle, dy)};
        x = stop;
    }
    return n;
}

/* -------------------------------------------------------------------------------- quarters */

void ww__area_quarters(const ww__area *area, const ww_region *box,
                       ww__area_quarter quarter[WW__AREA_QUARTERS]) {
    double sum[WW__AREA_QUARTERS][2] = {{0.0}};
    memset(quarter, 0, WW__AREA_QUARTERS * sizeof *quarter);
    for (size_t y = box->y; y < box->y + box->height; y++) {
        ww__area_run run[WW__AREA_RUNS];
        const size_t n = ww__area_runs(area, box, y, run);
        for (size_t i = 0; i < n; i++) {
            const double many = (double)run[i].n;
            quarter[run[i].quarter].n += run[i].n;
            sum[run[i].quarter][0] += many * ((double)run[i].x + 0.5 * many - area->centre[0]);
            sum[run[i].quarter][1] += many * ((double)y + 0.5 - area->centre[1]);
        }
    }
    for (size_t i = 0; i < WW__AREA_QUARTERS; i++) {
        const double many = quarter[i].n > 0 ? (double)quarter[i].n : 1.0;
        const double dx = sum[i][0] / many, dy = sum[i][1] / many;
        quarter[i].u = dx * area->along[0] + dy * area->along[1];
        quarter[i].v = dx * area->across[0] + dy * area->across[1];
    }
}

uint64_t ww__area_pixels(const ww__area *area, size_t width, size_t height) {
    const ww_region box = ww__area_box(area, width, height);
    ww__area_quarter quarter[WW__AREA_QUARTERS];
    uint64_t n = 0;
    ww__area_quarters(area, &box, quarter);
    for (size_t i = 0; i < WW__AREA_QUARTERS; i++)
        n += quarter[i].n;
    return n;
}

void ww__area_corners(const ww__area *area, double corner[4][2]) {
    static const double side[4][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
    for (size_t i = 0; i < 4; i++)
        for (size_t k = 0; k < 2; k++)
            corner[i][k] = area->disc
                               ? 0.0
                               : area->centre[k] + side[i][0] * area->half_u * area->along[k] +
                                     side[i][1] * area->half_v * area->across[k];
}
