/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find_steps.h"
#include "core/picture.h"
#include "image/order.h"
#include "image/profile.h"
#include "image/sharpened.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

static const double ln10 = 2.302585092994045684;
static const double bins_of_step = 40.0;
static const double pixels_of_cell = 5.0; /* each way, at least */
static const double smooth_reach = 0.12;  /* of a step: lines up to a tenth of one vanish */
static const double read_across = 0.7;    /* share of the width that the profile is read from */
static const double least_floor = 5e-5;   /* share of full scale */
static const double most_uneven = 0.5;    /* scatter across steps, as a share of the falls */
static const double least_half = 2.5, least_half_steps = 0.2; /* px, steps */
static const double least_length = 0.06; /* of few steps, as a share of the picture's longer side */
static const double most_slant = 0.22;
static const double same_dark = 1.25;     /* times the light, 0.1 D */
static const double far_lighter = 1.0;    /* log10 */
static const double least_uneven = 0.012; /* log10 that may always be */

/* A window along the strip, and what was read in it. */
typedef struct window {
    ww__grid grid;
    double from;      /* px along from the band's point to bin 0 */
    double middle;    /* rows: v of the middle line */
    size_t inside[2]; /* rows first, end */
    size_t beside[2][2];
    double *light, *error; /* nu each */
    size_t first;          /* bins before it lie outside the picture */
    ww__profile profile;
    double *numbers;
} window;

static void window_release(window *w) {
    ww__grid_release(&w->grid);
    free(w->light);
    free(w->numbers);
}

static void lay_rows(window *w, const ww__band *band) {
    const double step = w->grid.step_v, gap = 0.15 * band->half + 1.5;
    const double away = band->half + gap, wide = fmax(0.3 * band->half, 2.0 * step);
    const double reach = away + wide;
    w->grid.nv = 2 * (size_t)ceil(reach / step);
    w->middle = 0.5 * (double)w->grid.nv;
    w->inside[0] = (size_t)floor(w->middle - read_across * band->half / step);
    w->inside[1] = w->grid.nv - w->inside[0];
    w->beside[0][0] = 0;
    w->beside[0][1] = (size_t)fmax(1.0, floor(w->middle - away / step));
    w->beside[1][0] = w->grid.nv - w->beside[0][1];
    w->beside[1][1] = w->grid.nv;
}

/* From end to end of the picture, but no further than twice the strip asked for. */
static void lay(window *w, const ww_region *where, const ww__band *band, size_t steps) {
    const double cx = (double)where->x + 0.5 * (double)where->width;
    const double cy = (double)where->y + 0.5 * (double)where->height;
    const double around = 0.5 * hypot((double)where->width, (double)where->height) + 2.0;
    ww__grid *g = &w->grid;
    ww__place_axes(band->angle, band->upright, g->along, g->across);
    const double centre = (cx - band->x) * g->along[0] + (cy - band->y) * g->along[1];
    const double more = ((double)steps + 6.0) * band->pitch;
    w->from = fmax(band->from - more, centre - around);
    const double to = fmin(band->to + more, centre + around);
    g->step_u = fmax(1.0, band->pitch / bins_of_step);
    g->step_v = fmax(1.0, band->half / 16.0);
    g->nu = (size_t)ceil(fmax(to - w->from, 1.0) / g->step_u);
    lay_rows(w, band);
    const double v = w->middle * g->step_v;
    g->x = band->x + w->from * g->along[0] - v * g->across[0];
    g->y = band->y + w->from * g->along[1] - v * g->across[1];
}

/* Light below its own noise has no logarithm worth having. */
static double floor_of(const window *w, size_t n, double quantum, double room[]) {
    const double *light = w->light + w->first, *error = w->error + w->first;
    size_t dark = 0;
    for (size_t i = 0; i < n; i++)
        room[i] = light[i];
    const double limit = ww__order_nth(room, n, n / 10);
    for (size_t i = 0; i < n; i++)
        if (light[i] <= limit)
            room[dark++] = error[i];
    const double noise = dark > 0 ? ww__order_median(room, dark) : 0.0;
    return fmin(fmax(fmax(3.0 * noise, 0.5 * quantum), least_floor), 0.01);
}

/* Bins of the picture; what lies beyond its ends is cut off. False where nothing is left. */
static bool trim(window *w, size_t *n) {
    size_t first = 0, end = w->grid.nu;
    while (first < end && w->light[first] < 0.0)
        first++;
    while (end > first && w->light[end - 1] < 0.0)
        end--;
    w->first = first;
    *n = end - first;
    w->profile.open[0] = first > 0;
    w->profile.open[1] = end < w->grid.nu;
    return *n >= 12;
}

static void fill_profile(window *w, size_t n) {
    ww__profile *p = &w->profile;
    for (size_t i = 0; i < n; i++) {
        const double light = w->light[w->first + i];
        p->value[i] = light >= 0.0 ? log10(light + p->floor) : i > 0 ? p->value[i - 1] : 0.0;
        const double noise = w->error[w->first + i] / (ln10 * (fmax(light, 0.0) + p->floor));
        p->weight[i] = light >= 0.0 ? 1.0 / (noise * noise + 1e-6) : 0.0;
    }
}

static ww_status fill_beside(window *w, size_t n, ww_error *err) {
    double *room = malloc(2 * w->grid.nu * sizeof *room);
    ww_status status = room ? WW_OK : ww_error_set(err, WW_EMEMORY, "no memory for a profile");
    for (int side = 0; side < 2 && status == WW_OK; side++) {
        status = ww__profile_mean(&w->grid, w->beside[side][0], w->beside[side][1], room,
                                  room + w->grid.nu, err);
        for (size_t i = 0; status == WW_OK && i < n; i++) {
            const double light = room[w->first + i];
            w->profile.beside[side][i] =
                light >= 0.0 ? log10(light + w->profile.floor) : (double)NAN;
        }
    }
    free(room);
    return status;
}

static void swap(double *a, double *b) {
    const double was = *a;
    *a = *b, *b = was;
}

static void turn(double x[], size_t n) {
    for (size_t i = 0; i < n / 2; i++)
        swap(&x[i], &x[n - 1 - i]);
}

static void turn_profile(ww__profile *p) {
    const bool open = p->open[0];
    p->open[0] = p->open[1], p->open[1] = open;
    turn(p->value, p->n), turn(p->weight, p->n), turn(p->smooth, p->n);
    turn(p->beside[0], p->n), turn(p->beside[1], p->n);
}

static ww_status read_window(const ww_picture *picture, const ww_region *where, size_t threads,
                             window *w, ww_error *err) {
    /* Some pixels of a large cell say as much as all. */
    const double shorter = fmin(w->grid.step_u, w->grid.step_v);
    const size_t skip = (size_t)fmax(1.0, shorter / pixels_of_cell);
    const ww_status status = ww__grid_read(picture, where, skip, threads, &w->grid, err);
    if (status != WW_OK)
        return status == WW_EDOMAIN ? WW_ENODATA : status;
    const size_t nu = w->grid.nu;
    w->light = malloc(2 * nu * sizeof *w->light);
    w->numbers = malloc(6 * nu * sizeof *w->numbers);
    if (!w->light || !w->numbers)
        return ww_error_set(err, WW_EMEMORY, "no memory for a profile");
    w->error = w->light + nu;
    return ww__profile_mean(&w->grid, w->inside[0], w->inside[1], w->light, w->error, err);
}

/* The profile in the order in which light falls. */
static ww_status make_profile(const ww_picture *picture, const ww__band *band, window *w,
                              ww_error *err) {
    size_t n = 0;
    ww__profile *p = &w->profile;
    if (!trim(w, &n))
        return WW_ENODATA;
    p->n = n;
    p->value = w->numbers, p->smooth = p->value + n, p->weight = p->smooth + n;
    p->beside[0] = p->weight + n, p->beside[1] = p->beside[0] + n;
    p->floor = floor_of(w, n, ww__picture_quantum(picture), p->beside[1] + n);
    fill_profile(w, n);
    ww_status status = ww__profile_smooth(
        p->value, n, (size_t)(smooth_reach * band->pitch / w->grid.step_u), p->smooth, err);
    if (status == WW_OK)
        status = fill_beside(w, n, err);
    if (status == WW_OK && !band->falling)
        turn_profile(p);
    return status;
}

/* Width of a step in places, by the edges seen. */
static double pitch_of(const ww__stairs *stairs) {
    return (stairs->to - stairs->from) / (double)(stairs->seen > 1 ? stairs->seen - 1 : 1);
}

static size_t bin_of(const window *w, const ww__band *band, size_t place) {
    return w->first + (band->falling ? place : w->profile.n - 1 - place);
}

/*
 * How much the two halves of the width differ between the first edge and the last, as a share of
 * the falls: edges that run straight across leave next to nothing. Hills and clouds do not.
 */
static ww_status measure_slant(window *w, const ww__band *band, const ww__stairs *stairs,
                               double *slant, ww_error *err) {
    const size_t nu = w->grid.nu, middle = (size_t)w->middle;
    const ww__profile *p = &w->profile;
    double *room = malloc(4 * nu * sizeof *room), sum = 0.0, n = 0.0;
    ww_status status = room ? WW_OK : ww_error_set(err, WW_EMEMORY, "no memory for a profile");
    if (status == WW_OK)
        status = ww__profile_mean(&w->grid, w->inside[0], middle, room, room + nu, err);
    if (status == WW_OK)
        status =
            ww__profile_mean(&w->grid, middle, w->inside[1], room + 2 * nu, room + 3 * nu, err);
    for (double at = fmax(stairs->from, 0.0);
         status == WW_OK && at < stairs->to && at < (double)p->n; at += 1.0) {
        const size_t i = (size_t)at;
        const size_t bin = bin_of(w, band, i);
        const double a = room[bin], b = room[2 * nu + bin];
        if (a < 0.0 || b < 0.0 || p->weight[i] * stairs->fall * stairs->fall < 30.0)
            continue;
        const double apart = fabs(log10(a + p->floor) - log10(b + p->floor));
        sum += fmin(apart, 2.0 * stairs->fall), n += 1.0;
    }
    *slant = n > 0.0 ? sum / (n * stairs->fall) : HUGE_VAL;
    free(room);
    return status;
}

/* Whether it is as wide across as a strip, and its edges run straight across. */
static ww_status check_shape(window *w, const ww_region *where, const ww__band *band,
                             const ww__stairs *stairs, ww_error *err) {
    const double wide = (stairs->to - stairs->from) * w->grid.step_u;
    const double pitch = pitch_of(stairs) * w->grid.step_u;
    double slant = 0.0;
    const double sides = fmax((double)where->width, (double)where->height);
    if (band->half < fmax(least_half, least_half_steps * pitch) || pitch < WW__STEP_PX_LEAST ||
        (stairs->n < 6 && wide < least_length * sides))
        return WW_ENODATA;
    const ww_status status = measure_slant(w, band, stairs, &slant, err);

    return status == WW_OK && slant > most_slant ? WW_ENODATA : status;
}

/* How many steps would find room beyond the last edge seen on a side (0: light, 1: dark) before
 * anything there has a code between the ends of the scale. */
static size_t count_hidden(const window *w, const ww__band *band, const ww__stairs *stairs,
                           int side, double quantum) {
    const double pitch = pitch_of(stairs), rim = 0.3 * pitch, n = (double)w->profile.n;
    const double step = side == 1 ? 1.0 : -1.0;
    double room = rim;
    for (double at = floor(side == 1 ? stairs->to + rim : stairs->from - rim); at >= 0.0 && at < n;
         at += step, room += 1.0) {
        const double light = w->light[bin_of(w, band, (size_t)at)];
        if (side == 1 ? light > 0.5 * quantum : light < 1.0 - 0.5 * quantum)
            break;
    }
    return (size_t)((room + rim) / pitch);
}

/* How many more steps would find room beyond the darkest before it grows lighter, where far more
 * light lies beside them; 0 where none does. */
static size_t count_veiled(const window *w, const ww__band *band, const ww__stairs *stairs) {
    const ww__profile *p = &w->profile;
    const double pitch = pitch_of(stairs), n = (double)p->n, first = stairs->to + 0.5 * pitch;
    if (first >= n)
        return 0;
    const size_t dark = (size_t)first;
    const double level = w->light[bin_of(w, band, dark)];
    const double beside = fmax(p->beside[0][dark], p->beside[1][dark]);
    double at = first;
    while (at < n && w->light[bin_of(w, band, (size_t)at)] <= level * same_dark)
        at += 1.0;
    const double steps = (at - stairs->to) / pitch;
    const bool is_lighter = beside > log10(fmax(level, 0.0) + p->floor) + far_lighter;
    return is_lighter && steps > 1.7 ? (size_t)(steps + 0.3) - 1 : 0;
}

static double px_along(const window *w, const ww__band *band, double place) {
    const double at = band->falling ? place : (double)w->profile.n - place;
    return w->from + ((double)w->first + at) * w->grid.step_u;
}

/* Rising along, whichever way light falls. */
static void place_edges(const window *w, const ww__band *band, const ww__stairs *stairs,
                        double edge[]) {
    for (size_t k = 0; k <= stairs->n; k++)
        edge[k] = px_along(w, band, stairs->edge[band->falling ? k : stairs->n - k]);
}

/* Bins of the middle 60 % of a step. */
static void middle_of(const window *w, const double edge[], size_t step, size_t *from, size_t *to) {
    const double wide = edge[step + 1] - edge[step], nu = (double)w->grid.nu;
    const double a = ceil((edge[step] + 0.2 * wide - w->from) / w->grid.step_u);
    const double b = floor((edge[step + 1] - 0.2 * wide - w->from) / w->grid.step_u);
    *from = (size_t)fmin(fmax(a, 0.0), nu - 1.0);
    *to = (size_t)fmin(fmax(b, (double)*from + 1.0), nu);
}

/* Median light of each step, and how its cells scatter about it (log10, median of all steps). */
static ww_status measure_levels(const window *w, const double edge[], size_t n, double level[],
                                double *scatter, ww_error *err) {
    const ww__grid *g = &w->grid;
    double *room = malloc((g->nu * (w->inside[1] - w->inside[0]) + n) * sizeof *room);
    if (!room)
        return ww_error_set(err, WW_EMEMORY, "no memory for a profile");
    double *steps = room + g->nu * (w->inside[1] - w->inside[0]);
    for (size_t k = 0; k < n; k++) {
        size_t from, to, count = 0;
        middle_of(w, edge, k, &from, &to);
        for (size_t v = w->inside[0]; v < w->inside[1]; v++)
            for (size_t u = from; u < to; u++)
                if (g->light[u + v * g->nu] >= 0.0)
                    room[count++] = g->light[u + v * g->nu];
        level[k] = count > 0 ? ww__order_median(room, count) : 0.0;
        const double own = log10(level[k] + w->profile.floor);
        for (size_t i = 0; i < count; i++)
            room[i] = fabs(log10(room[i] + w->profile.floor) - own);
        steps[k] = count > 0 ? ww__order_median(room, count) : HUGE_VAL;
    }
    *scatter = ww__order_median(steps, n);
    free(room);
    return WW_OK;
}

static ww_status take(const window *w, const ww__band *band, const ww__stairs *stairs,
                      ww__strip_found *found, ww_error *err) {
    ww__strip_found f = {.n = stairs->n,
                         .origin = {band->x, band->y},
                         .along = {w->grid.along[0], w->grid.along[1]},
                         .across = {w->grid.across[0], w->grid.across[1]},
                         .half = band->half,
                         .angle_deg = band->angle * 57.29577951308232,
                         .upright = band->upright,
                         .certain = stairs->certain};
    const ww__sharpened_profile along = {w->light, w->error, w->grid.nu, w->from, w->grid.step_u};
    double scatter = 0.0;
    f.edge = malloc((f.n + 1) * sizeof *f.edge);
    f.level = malloc(f.n * sizeof *f.level);
    ww_status status =
        f.edge && f.level ? WW_OK : ww_error_set(err, WW_EMEMORY, "no memory for %zu steps", f.n);
    if (status == WW_OK) {
        place_edges(w, band, stairs, f.edge);
        status = measure_levels(w, f.edge, f.n, f.level, &scatter, err);
    }
    if (status == WW_OK && scatter > fmax(least_uneven, most_uneven * stairs->fall))
        status = WW_ENODATA;
    if (status == WW_OK)
        status = ww__sharpened_by(&along, f.edge, f.level, f.n, &f.sharpened, err);
    if (status == WW_OK)
        *found = f;
    else
        ww__strip_found_release(&f);
    return status;
}

static ww__steps steps_of(const window *w, const ww__band *band, const ww__stairs *stairs,
                          double quantum) {
    const double a = px_along(w, band, stairs->from), b = px_along(w, band, stairs->to);
    return (ww__steps){.n = stairs->n,
                       .seen = stairs->seen,
                       .from = fmin(a, b),
                       .to = fmax(a, b),
                       .contradicts = stairs->contradicts,
                       .misfit = stairs->misfit,
                       .hidden = {count_hidden(w, band, stairs, 0, quantum),
                                  count_hidden(w, band, stairs, 1, quantum)},
                       .veiled = count_veiled(w, band, stairs)};
}

ww_status ww__steps_find(const ww_picture *picture, const ww_region *where, const ww__band *band,
                         size_t steps, const double *widths, size_t threads, ww__steps *there,
                         ww__strip_found *found, ww_error *err) {
    window w = {.from = 0.0};
    ww__stairs stairs;
    assert(picture && where && band && there && found);
    lay(&w, where, band, steps);
    ww_status status = read_window(picture, where, threads, &w, err);
    if (status == WW_OK)
        status = make_profile(picture, band, &w, err);
    if (status == WW_OK)
        status =
            ww__stairs_fit(&w.profile, steps, widths, band->pitch / w.grid.step_u, &stairs, err);
    if (status == WW_OK || status == WW_EMISMATCH) {
        const ww_status shape = check_shape(&w, where, band, &stairs, err);
        status = shape == WW_OK ? status : shape;
        *there = steps_of(&w, band, &stairs, ww__picture_quantum(picture));
    }
    if (status == WW_OK)
        status = take(&w, band, &stairs, found, err);
    window_release(&w);
    return status;
}
