/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_lattice.h"
#include "image/order.h"
#include "image/profile.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { MANY = 6 };

static const double pi = 3.14159265358979323846;
static const double least_fall = 0.005; /* log10 */
/* Widths looked at, times the pitch of the flight, in this ratio. */
static const double narrowest = 0.42, widest = 2.4, ratio = 1.004;
/* An edge further from its line than this share of a step does not belong to it. */
static const double reach = 0.22;

void ww__edges_of(const ww__part part[], size_t n_parts, const ww__flight *flight,
                  ww__edges *edges) {
    edges->n = 0;
    if (flight->n < 2)
        return;
    const size_t last = flight->part[flight->n - 1];
    double falls[WW__LATTICE_MOST];
    for (size_t i = flight->part[0]; i < last && i + 1 < n_parts; i++) {
        const double fall = part[i].level - part[i + 1].level;
        if (fall < least_fall || edges->n == WW__LATTICE_MOST)
            continue;
        edges->at[edges->n] = (double)part[i].to;
        edges->fall[edges->n] = falls[edges->n] = fall;
        edges->n++;
    }
    /* One great fall says no more about the lattice than two usual ones; the outermost of many says
     * nothing, for it is that into a mask or a sheet, and pulls at the end of the longest lever. */
    const double usual = edges->n > 0 ? ww__order_median(falls, edges->n) : 0.0;
    for (size_t i = 0; i < edges->n; i++) {
        const bool outermost = edges->n >= MANY && (i == 0 || i + 1 == edges->n);
        edges->fall[i] =
            outermost && edges->fall[i] > 3.0 * usual ? 0.0 : fmin(edges->fall[i], 2.0 * usual);
    }
}

void ww__edges_drop_first(ww__edges *edges) {
    assert(edges->n > 0);
    edges->n--;
    memmove(&edges->at[0], &edges->at[1], edges->n * sizeof edges->at[0]);
    memmove(&edges->fall[0], &edges->fall[1], edges->n * sizeof edges->fall[0]);
}

/* Length of the mean of unit vectors that turn once a pitch: 1 where all edges lie on lines. */
static double order_at(const ww__edges *e, double pitch, double *first) {
    double c = 0.0, s = 0.0, sum = 0.0;
    for (size_t i = 0; i < e->n; i++) {
        const double turn = 2.0 * pi * e->at[i] / pitch;
        c += e->fall[i] * cos(turn), s += e->fall[i] * sin(turn), sum += e->fall[i];
    }
    *first = atan2(s, c) / (2.0 * pi) * pitch;
    return sum > 0.0 ? hypot(c, s) / sum : 0.0;
}

/* The widest pitch that is nearly as good as the best: halves and thirds of it are as good. */
static double best_pitch(const ww__edges *e, double about) {
    double first, best = 0.0, chosen = about, top = 0.0;
    for (double p = narrowest * about; p <= widest * about; p *= ratio)
        best = fmax(best, order_at(e, p, &first));
    for (double p = widest * about; p >= narrowest * about; p /= ratio) {
        const double order = order_at(e, p, &first);
        if (order > top)
            top = order, chosen = p;
        else if (top >= 0.92 * best)
            break;
        else
            top = order;
    }
    return chosen;
}

/* Straight line through the edges near lines: at = first + k * pitch. */
static void regress(const ww__edges *e, double *first, double *pitch) {
    double w = 0.0, wk = 0.0, wkk = 0.0, wx = 0.0, wkx = 0.0;
    for (size_t i = 0; i < e->n; i++) {
        const double k = floor((e->at[i] - *first) / *pitch + 0.5);
        if (fabs(e->at[i] - *first - k * *pitch) > reach * *pitch)
            continue;
        const double x = e->at[i], f = e->fall[i];
        w += f, wk += f * k, wkk += f * k * k, wx += f * x, wkx += f * k * x;
    }
    const double determinant = w * wkk - wk * wk;
    if (determinant <= 1e-9 * w * wkk)
        return;
    *pitch = (w * wkx - wk * wx) / determinant;
    *first = (wx - *pitch * wk) / w;
}

void ww__lattice_even(const ww__edges *edges, double pitch, double length, ww__lattice *lattice) {
    double first = 0.0, p = best_pitch(edges, pitch);
    lattice->order = order_at(edges, p, &first);
    for (int round = 0; round < 3; round++)
        regress(edges, &first, &p);
    lattice->pitch = p;
    lattice->n = 0;
    for (double k = ceil(-first / p - 0.1); lattice->n < WW__LATTICE_MOST; k += 1.0) {
        const double at = first + k * p;
        if (at > length + 0.1 * p)
            break;
        lattice->at[lattice->n++] = at;
    }
}

/* Lines of unit mean width, the first at 0. */
static void unit_lines(const double widths[], size_t n, bool turned, double line[]) {
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += widths[i];
    line[0] = 0.0;
    for (size_t i = 0; i < n; i++)
        line[i + 1] = line[i] + widths[turned ? n - 1 - i : i] * (double)n / sum;
}

/* The line nearest to x, all in units of the mean width; `near` falls from 1 on it to 0. */
static size_t nearest(const double line[], size_t n, double x, double *near) {
    size_t k = 0;
    while (k < n && fabs(line[k + 1] - x) <= fabs(line[k] - x))
        k++;
    const double before = k > 0 ? line[k] - line[k - 1] : line[1] - line[0];
    const double after = k < n ? line[k + 1] - line[k] : before;
    const double off = (x - line[k]) / (0.25 * fmin(before, after));
    *near = fmax(0.0, 1.0 - off * off);
    return k;
}

/* Share of the falls that lie on lines. */
static double fit_of(const ww__edges *e, const double line[], size_t n, double first,
                     double scale) {
    double on = 0.0, all = 0.0, near;
    for (size_t i = 0; i < e->n; i++) {
        (void)nearest(line, n, (e->at[i] - first) / scale, &near);
        on += near * e->fall[i], all += e->fall[i];
    }
    return all > 0.0 ? on / all : 0.0;
}

static void regress_given(const ww__edges *e, const double line[], size_t n, double *first,
                          double *scale) {
    double w = 0.0, wk = 0.0, wkk = 0.0, wx = 0.0, wkx = 0.0, near;
    for (size_t i = 0; i < e->n; i++) {
        const double k = line[nearest(line, n, (e->at[i] - *first) / *scale, &near)];
        const double f = near * e->fall[i], x = e->at[i];
        w += f, wk += f * k, wkk += f * k * k, wx += f * x, wkx += f * k * x;
    }
    const double determinant = w * wkk - wk * wk;
    if (determinant <= 1e-9 * w * wkk)
        return;
    *scale = (w * wkx - wk * wx) / determinant;
    *first = (wx - *scale * wk) / w;
}

/* Every edge is tried on every line, at scales around the pitch of the flight. */
static double search_given(const ww__edges *e, const double line[], size_t n, double pitch,
                           double *first, double *scale) {
    double best = -1.0;
    for (double s = 0.6 * pitch; s <= 1.7 * pitch; s *= 1.01)
        for (size_t k = 0; k <= n; k++) {
            const double f = e->at[e->n / 2] - line[k] * s;
            const double fit = fit_of(e, line, n, f, s);
            if (fit > best)
                best = fit, *first = f, *scale = s;
        }
    for (int round = 0; round < 4; round++)
        regress_given(e, line, n, first, scale);
    return fit_of(e, line, n, *first, *scale);
}

void ww__lattice_given(const ww__edges *edges, const double widths[], size_t n, double pitch,
                       ww__lattice *lattice) {
    double line[WW__LATTICE_MOST];
    assert(n < WW__LATTICE_MOST);
    lattice->order = -1.0;
    lattice->n = n + 1;
    for (int turned = 0; turned < 2; turned++) {
        double first = 0.0, scale = pitch;
        unit_lines(widths, n, turned == 1, line);
        const double fit = edges->n > 0 ? search_given(edges, line, n, pitch, &first, &scale) : 0.0;
        if (fit <= lattice->order)
            continue;
        lattice->order = fit;
        lattice->pitch = scale;
        for (size_t k = 0; k <= n; k++)
            lattice->at[k] = first + scale * line[k];
    }
}

void ww__lattice_free(const ww__part part[], const ww__flight *flight, ww__lattice *lattice) {
    lattice->n = flight->n + 1;
    lattice->order = 1.0;
    lattice->pitch = flight->pitch;
    lattice->at[0] = (double)part[flight->part[0]].from;
    for (size_t k = 1; k < flight->n; k++)
        lattice->at[k] = 0.5 * (double)(part[flight->part[k - 1]].to + part[flight->part[k]].from);
    lattice->at[flight->n] = (double)part[flight->part[flight->n - 1]].to;
}
