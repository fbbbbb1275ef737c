/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/strip_parts.h"
#include <assert.h>
#include <math.h>

enum { PARTS = 64, HALVINGS = 60 };

typedef struct search {
    const ww__strip_line *line;
    double density;
} search;

static double at_part(const ww__strip_line *line, size_t i, int k) {
    return k == PARTS ? line->point[i + 1].log_t
                      : line->point[i].log_t + ww__strip_line_gap(line, i) * k / PARTS;
}

/* Whatever its shape, the line does not leave the two readings either side. */
static bool meets(const search *s, double log_t) {
    const size_t i = ww__strip_line_part(s->line, log_t), next = s->line->n < 2 ? i : i + 1;
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
    const double part =
        ww__strip_line_gap(line, found->before + 1 < line->n ? found->before : 0) / PARTS;
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

ww__strip_found ww__strip_find(const ww__strip_line *line, double density) {
    const search s = {line, density};
    ww__strip_found found = {.crossed = false};
    assert(line->n > 0);
    find_met(&s, &found);
    find_crossing(&s, &found);
    if (found.crossed && line->n > 1) {
        const size_t i = found.before + 1 < line->n ? found.before : line->n - 2;
        const double slope = ww__strip_line_secant(line, i);
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
bool ww__strip_find_black(const ww__strip_line *line, double *black, double *error, size_t *first) {
    const ww__strip_point *top = &line->point[line->n - 1];
    double unused, scatter, rise;
    size_t i = line->n - 1, half;
    bool lasts;
    while (i > 0 && top->density - line->point[i - 1].density <=
                        fmax(WW_STRIP_CHANGE, 2.0 * hypot(top->error, line->point[i - 1].error)))
        i--;
    lasts = line->reversed || top->log_t - line->point[i].log_t >=
                                  WW__STRIP_PLATEAU_STOPS * WW__STRIP_LOG_STOP - 1e-6;
    if (top->density < WW__STRIP_BLACK_LEAST || !lasts)
        return false;
    half = i + (line->n - i + 1) / 2;
    rise = half < line->n ? mean_of(line, half, line->n, &unused) - mean_of(line, i, half, &unused)
                          : 0.0;
    *black = mean_of(line, i, line->n, &scatter);
    *error = hypot(scatter, rise);
    *first = i;
    return true;
}
