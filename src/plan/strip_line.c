/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/strip_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

enum { SHOWN = 12 };

void ww__strip_line_release(ww__strip_line *line) {
    if (!line)
        return;
    free(line->point);
    *line = (ww__strip_line)WW__STRIP_LINE_INIT;
}

/* --- steps in order of time ------------------------------------------------------------------- */

/* Indices of the steps with a density, in order of time; equal times stay as they stood. */
static size_t find_order(const ww_strip *strip, size_t order[]) {
    size_t n = 0;
    for (size_t i = 0; i < strip->n_steps; i++) {
        size_t k = n;
        if (strip->step[i].state != WW_CELL_VALUE)
            continue;
        for (; k > 0 && strip->step[order[k - 1]].time_s > strip->step[i].time_s; k--)
            order[k] = order[k - 1];
        order[k] = i;
        n++;
    }
    return n;
}

/* One point a time: steps of the same time are readings of one exposure. */
static void make_points(const ww_strip *strip, const size_t order[], size_t n,
                        ww__strip_line *line) {
    size_t same = 0;
    for (size_t i = 0; i < n; i++) {
        const ww_strip_step *step = &strip->step[order[i]];
        const double log_t = log10(step->time_s);
        ww__strip_point *last = line->n > 0 ? &line->point[line->n - 1] : NULL;
        if (step->out_of_order)
            continue;
        if (last && last->log_t == log_t) {
            const double rows = (double)++same;
            last->density += (step->density - last->density) / rows;
            last->error = hypot(last->error * (rows - 1.0), step->error) / rows;
        } else {
            line->point[line->n++] =
                (ww__strip_point){log_t, step->density, step->error, 0.0, order[i]};
            same = 1;
        }
    }
}

/* --- what falls within its error is level ----------------------------------------------------- */

/* Pool adjacent violators: blocks of weight, mean and length, merged while they fall. */
static size_t even_out(ww__strip_line *line, double weight[], size_t length[]) {
    size_t blocks = 0, evened = 0;
    double *mean = weight + line->n;
    for (size_t i = 0; i < line->n; i++) {
        weight[blocks] = 1.0 / (line->point[i].error * line->point[i].error);
        mean[blocks] = line->point[i].density;
        length[blocks++] = 1;
        while (blocks > 1 && mean[blocks - 1] < mean[blocks - 2]) {
            const double sum = weight[blocks - 2] + weight[blocks - 1];
            mean[blocks - 2] += (mean[blocks - 1] - mean[blocks - 2]) * weight[blocks - 1] / sum;
            weight[blocks - 2] = sum;
            length[blocks - 2] += length[blocks - 1];
            blocks--;
        }
    }
    for (size_t b = 0, i = 0; b < blocks; b++)
        for (size_t k = 0; k < length[b]; k++, i++) {
            evened += length[b] > 1;
            line->point[i].density = mean[b];
        }
    return evened;
}

/* Marks steps whose point has moved. */
static void mark_evened(ww_strip *strip, const ww__strip_line *line) {
    for (size_t i = 0; i < strip->n_steps; i++) {
        ww_strip_step *step = &strip->step[i];
        for (size_t k = 0; k < line->n && step->state == WW_CELL_VALUE && !step->out_of_order; k++)
            if (line->point[k].log_t == log10(step->time_s))
                step->evened = fabs(line->point[k].density - step->density) > 1e-12;
    }
}

/* Slopes of Fritsch and Butland: no overshoot. One-sided at the ends, and there three times the
 * secant at most. */
static double end_slope(double h0, double h1, double s0, double s1) {
    const double slope = ((2.0 * h0 + h1) * s0 - h0 * s1) / (h0 + h1);
    if (slope * s0 <= 0.0)
        return 0.0;
    return s0 * s1 <= 0.0 && fabs(slope) > 3.0 * fabs(s0) ? 3.0 * s0 : slope;
}

double ww__strip_line_gap(const ww__strip_line *line, size_t i) {
    return line->point[i + 1].log_t - line->point[i].log_t;
}

double ww__strip_line_secant(const ww__strip_line *line, size_t i) {
    return (line->point[i + 1].density - line->point[i].density) / ww__strip_line_gap(line, i);
}

static void set_slopes(ww__strip_line *line) {
    const size_t n = line->n;
    if (n == 2)
        line->point[0].slope = line->point[1].slope = ww__strip_line_secant(line, 0);
    if (n < 3)
        return;
    line->point[0].slope =
        end_slope(ww__strip_line_gap(line, 0), ww__strip_line_gap(line, 1),
                  ww__strip_line_secant(line, 0), ww__strip_line_secant(line, 1));
    line->point[n - 1].slope =
        end_slope(ww__strip_line_gap(line, n - 2), ww__strip_line_gap(line, n - 3),
                  ww__strip_line_secant(line, n - 2), ww__strip_line_secant(line, n - 3));
    for (size_t i = 1; i + 1 < n; i++) {
        const double h0 = ww__strip_line_gap(line, i - 1), h1 = ww__strip_line_gap(line, i);
        const double s0 = ww__strip_line_secant(line, i - 1), s1 = ww__strip_line_secant(line, i);
        const double w0 = 2.0 * h1 + h0, w1 = h1 + 2.0 * h0;
        line->point[i].slope = s0 * s1 > 0.0 ? (w0 + w1) / (w0 / s0 + w1 / s1) : 0.0;
    }
}

static ww_status note_evened(ww_strip *strip, size_t evened, ww_error *err) {
    if (evened == 0)
        return WW_OK;
    return ww_notes_add(&strip->notes, err,
                        "%zu steps fall or stand level by less than their error, and were evened "
                        "out with their neighbours.",
                        evened);
}

ww_status ww__strip_line_make(ww_strip *strip, ww__strip_line *line, ww_error *err) {
    const size_t room = strip->n_steps + 1;
    size_t *order = calloc(2 * room, sizeof *order), n, evened = 0;
    double *weight = calloc(2 * room, sizeof *weight);
    ww_status status = WW_OK;
    assert(!line->point);
    line->point = calloc(room, sizeof *line->point);
    if (!order || !weight || !line->point)
        status = ww_error_set(err, WW_EMEMORY, "no memory for %zu steps", strip->n_steps);
    if (status == WW_OK) {
        n = find_order(strip, order);
        status = ww__strip_order_check(strip, order, n, err);
    }
    if (status == WW_OK) {
        make_points(strip, order, n, line);
        evened = even_out(line, weight, order + room);
        mark_evened(strip, line);
        set_slopes(line);
        line->level_error = strip->white_error;
        line->reversed = strip->reversed;
        status = note_evened(strip, evened, err);
    }
    free(order);
    free(weight);
    return status;
}

/* --- on the line ------------------------------------------------------------------------------ */

size_t ww__strip_line_part(const ww__strip_line *line, double log_t) {
    size_t i = 0;
    while (i + 2 < line->n && log_t > line->point[i + 1].log_t)
        i++;
    return i;
}

static double straight(const ww__strip_line *line, size_t i, double share) {
    return line->point[i].density + share * (line->point[i + 1].density - line->point[i].density);
}

double ww__strip_line_density(const ww__strip_line *line, double log_t) {
    const size_t i = ww__strip_line_part(line, log_t);
    const ww__strip_point *a = &line->point[i];
    double h, u, v;
    if (line->n < 2)
        return a->density;
    h = ww__strip_line_gap(line, i);
    u = (log_t - a->log_t) / h;
    v = 1.0 - u;
    return (1.0 + 2.0 * u) * v * v * a->density + u * v * v * h * a->slope +
           u * u * (3.0 - 2.0 * u) * a[1].density - u * u * v * h * a[1].slope;
}

/*
 * What is between two steps nobody read. A straight line misses it by the square of the gap, the
 * cubic by a power more: its own miss is what the two differ by, times the gap. The factor is that
 * of papers read in whole stops (tests/plan/test_strip_read.c).
 */
static double cubic_miss(const ww__strip_line *line, size_t i, double log_t, double share) {
    const double stops = ww__strip_line_gap(line, i) / WW__STRIP_LOG_STOP;
    return 1.5 * stops * fabs(ww__strip_line_density(line, log_t) - straight(line, i, share));
}

/* Neither is known to be less than its error. */
static double geometric(double a, double a_least, double b, double b_least, double share) {
    return pow(fmax(a, a_least), 1.0 - share) * pow(fmax(b, b_least), share);
}

/*
 * At either end of a strip a bend shows on one side only, and in two steps none. Of a paper, the
 * logarithms both of its density and of what it lacks of black bend down all along (logistic,
 * Gaussian integral and first hit alike): the curve runs no lower than the density that rises by
 * one factor between two steps, and no higher than where what is lacking falls by one. Black is no
 * less than any paper's, or than the darkest.
 */
static double shape_miss(const ww__strip_line *line, size_t i, double log_t, double share) {
    const ww__strip_point *a = &line->point[i], *b = a + 1, *top = &line->point[line->n - 1];
    const double black = fmax(WW__STRIP_BLACK_LEAST, top->density + top->error);
    const double here = ww__strip_line_density(line, log_t);
    const double low = geometric(a->density, a->error, b->density, b->error, share);
    const double high =
        black - geometric(black - a->density, a->error, black - b->density, b->error, share);
    return fmax(0.0, fmax(here - low, high - here));
}

static double between_half(const ww__strip_line *line, size_t i, double log_t, double share) {
    return i == 0 || i + 2 == line->n ? shape_miss(line, i, log_t, share)
                                      : cubic_miss(line, i, log_t, share);
}

double ww__strip_line_half(const ww__strip_line *line, double log_t, double *reading) {
    const size_t i = ww__strip_line_part(line, log_t);
    const double share =
        line->n < 2 ? 0.0 : (log_t - line->point[i].log_t) / ww__strip_line_gap(line, i);
    const double error =
        line->n < 2 ? line->point[i].error
                    : hypot(line->point[i].error * (1.0 - share), line->point[i + 1].error * share);
    const double part = WW__STRIP_95 * hypot(error, line->level_error);
    if (reading)
        *reading = part;
    return line->n < 2 ? part : part + between_half(line, i, log_t, share);
}

ww_status ww__strip_line_show(const ww__strip_line *line, ww_strip *strip, ww_error *err) {
    const size_t n = line->n == 0 ? 0 : 1 + SHOWN * (line->n - 1);
    assert(!strip->line);
    if (n == 0)
        return WW_OK;
    strip->line = calloc(n, sizeof *strip->line);
    if (!strip->line)
        return ww_error_set(err, WW_EMEMORY, "no memory for a line of %zu points", n);
    for (strip->n_line = 0; strip->n_line < n; strip->n_line++) {
        const size_t i = strip->n_line / SHOWN, k = strip->n_line % SHOWN;
        const double at =
            line->point[i].log_t + (k > 0 ? ww__strip_line_gap(line, i) * (double)k / SHOWN : 0.0);
        strip->line[strip->n_line] = (ww_strip_point){
            pow(10.0, at), ww__strip_line_density(line, at), ww__strip_line_half(line, at, NULL)};
    }
    return WW_OK;
}
