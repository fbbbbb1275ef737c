/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/strip_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

enum { PARTS = 64, HALVINGS = 60, SHOWN = 12 };

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

static double gap(const ww__strip_line *line, size_t i) {
    return line->point[i + 1].log_t - line->point[i].log_t;
}

static double secant(const ww__strip_line *line, size_t i) {
    return (line->point[i + 1].density - line->point[i].density) / gap(line, i);
}

static void set_slopes(ww__strip_line *line) {
    const size_t n = line->n;
    if (n == 2)
        line->point[0].slope = line->point[1].slope = secant(line, 0);
    if (n < 3)
        return;
    line->point[0].slope = end_slope(gap(line, 0), gap(line, 1), secant(line, 0), secant(line, 1));
    line->point[n - 1].slope =
        end_slope(gap(line, n - 2), gap(line, n - 3), secant(line, n - 2), secant(line, n - 3));
    for (size_t i = 1; i + 1 < n; i++) {
        const double h0 = gap(line, i - 1), h1 = gap(line, i);
        const double s0 = secant(line, i - 1), s1 = secant(line, i);
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
        status = note_evened(strip, evened, err);
    }
    free(order);
    free(weight);
    return status;
}

/* --- on the line ------------------------------------------------------------------------------ */

static size_t part_of(const ww__strip_line *line, double log_t) {
    size_t i = 0;
    while (i + 2 < line->n && log_t > line->point[i + 1].log_t)
        i++;
    return i;
}

static double straight(const ww__strip_line *line, size_t i, double share) {
    return line->point[i].density + share * (line->point[i + 1].density - line->point[i].density);
}

double ww__strip_line_density(const ww__strip_line *line, double log_t) {
    const size_t i = part_of(line, log_t);
    const ww__strip_point *a = &line->point[i];
    double h, u, v;
    if (line->n < 2)
        return a->density;
    h = gap(line, i);
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
    const double stops = gap(line, i) / WW__STRIP_LOG_STOP;
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
    const size_t i = part_of(line, log_t);
    const double share = line->n < 2 ? 0.0 : (log_t - line->point[i].log_t) / gap(line, i);
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
        const double at = line->point[i].log_t + (k > 0 ? gap(line, i) * (double)k / SHOWN : 0.0);
        strip->line[strip->n_line] = (ww_strip_point){
            pow(10.0, at), ww__strip_line_density(line, at), ww__strip_line_half(line, at, NULL)};
    }
    return WW_OK;
}

/* --- a density on the line -------------------------------------------------------------------- */

typedef struct search {
    const ww__strip_line *line;
    double density;
} search;

static double at_part(const ww__strip_line *line, size_t i, int k) {
    return k == PARTS ? line->point[i + 1].log_t : line->point[i].log_t + gap(line, i) * k / PARTS;
}

/* Whatever its shape, the line does not leave the two readings either side. */
static bool meets(const search *s, double log_t) {
    const size_t i = part_of(s->line, log_t), next = s->line->n < 2 ? i : i + 1;
    double reading;
    const double half = ww__strip_line_half(s->line, log_t, &reading);
    return fabs(ww__strip_line_density(s->line, log_t) - s->density) <= half &&
           s->density >= s->line->point[i].density - reading &&
           s->density <= s->line->point[next].density + reading;
}

/* Between a place that meets the density and one that does not. */
static double edge(const search *s, double in, double out) {
    for (int k = 0; k < HALVINGS; k++) {
        const double middle = 0.5 * (in + out);
        if (meets(s, middle))
            in = middle;
        else
            out = middle;
    }
    return in;
}

static void find_met(const search *s, ww__strip_found *found) {
    const ww__strip_line *line = s->line;
    double before = line->point[0].log_t, last = before;
    found->low_open = meets(s, before);
    found->met = found->low_open;
    found->low = found->high = before;
    for (size_t i = 0; i + 1 < line->n; i++)
        for (int k = 1; k <= PARTS; k++) {
            const double at = at_part(line, i, k);
            const bool in = meets(s, at);
            if (in && !found->met)
                found->low = edge(s, at, before);
            found->met |= in;
            if (in)
                found->high = last = at;
            else if (last == before && found->met)
                found->high = edge(s, before, at);
            before = at;
        }
    found->high_open = found->met && last == line->point[line->n - 1].log_t;
}

/* Where the line reaches the density, and where it leaves it: the same, but on a level. */
static void find_crossing(const search *s, ww__strip_found *found) {
    const ww__strip_line *line = s->line;
    const ww__strip_point *point = line->point;
    double low, high;
    size_t first = 0, last = line->n - 1;
    if (point[0].density > s->density || point[last].density < s->density)
        return;
    while (point[first].density < s->density)
        first++;
    while (point[last].density > s->density)
        last--;
    found->crossed = true;
    found->before = first > 0 ? first - 1 : 0;
    if (first <= last) { /* on a step, or on several alike */
        found->log_t = 0.5 * (point[first].log_t + point[last].log_t);
        return;
    }
    for (low = point[last].log_t, high = point[first].log_t;;) {
        const double middle = 0.5 * (low + high);
        if (middle <= low || middle >= high)
            break;
        if (ww__strip_line_density(line, middle) < s->density)
            low = middle;
        else
            high = middle;
    }
    found->log_t = 0.5 * (low + high);
    found->before = last;
}

/* Parts are coarse beside a narrow band: it begins and ends around the crossing. */
static void widen(const search *s, ww__strip_found *found) {
    const ww__strip_line *line = s->line;
    const double part = gap(line, found->before + 1 < line->n ? found->before : 0) / PARTS;
    const double from = fmax(found->log_t - part, line->point[0].log_t);
    const double to = fmin(found->log_t + part, line->point[line->n - 1].log_t);
    if (!found->met)
        found->low = found->high = found->log_t;
    found->met = true;
    if (found->low >= found->log_t)
        found->low = edge(s, found->log_t, from);
    if (found->high <= found->log_t)
        found->high = edge(s, found->log_t, to);
}

ww__strip_found ww__strip_line_find(const ww__strip_line *line, double density) {
    const search s = {line, density};
    ww__strip_found found = {.crossed = false};
    assert(line->n > 0);
    find_met(&s, &found);
    find_crossing(&s, &found);
    if (found.crossed && line->n > 1) {
        const size_t i = found.before + 1 < line->n ? found.before : line->n - 2;
        const double slope = secant(line, i);
        double reading;
        (void)ww__strip_line_half(line, found.log_t, &reading);
        found.half = slope > 0.0 ? reading / slope : HUGE_VAL;
        widen(&s, &found);
    }
    return found;
}

static double mean_of(const ww__strip_line *line, size_t from, size_t to, double *error) {
    double weight = 0.0, sum = 0.0;
    for (size_t k = from; k < to; k++) {
        const double w = 1.0 / (line->point[k].error * line->point[k].error);
        weight += w;
        sum += w * line->point[k].density;
    }
    *error = 1.0 / sqrt(weight);
    return sum / weight;
}

/* A plateau that still rises has its black above the mean, by about as much as its second half
 * stands above its first: the shoulder dies away by half a stop. */
bool ww__strip_line_black(const ww__strip_line *line, double *black, double *error, size_t *first) {
    const ww__strip_point *top = &line->point[line->n - 1];
    double unused, scatter, rise;
    size_t i = line->n - 1, half;
    while (i > 0 && top->density - line->point[i - 1].density <=
                        fmax(WW_STRIP_CHANGE, 2.0 * hypot(top->error, line->point[i - 1].error)))
        i--;
    if (top->density < WW__STRIP_BLACK_LEAST ||
        top->log_t - line->point[i].log_t < WW__STRIP_PLATEAU_STOPS * WW__STRIP_LOG_STOP - 1e-6)
        return false;
    half = i + (line->n - i + 1) / 2;
    rise = mean_of(line, half, line->n, &unused) - mean_of(line, i, half, &unused);
    *black = mean_of(line, i, line->n, &scatter);
    *error = hypot(scatter, rise);
    *first = i;
    return true;
}
