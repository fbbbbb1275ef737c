/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_parts.h"
#include "image/order.h"
#include "image/profile.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

/* A fall of light that counts whole as an edge of a flight, and the least one; log10. */
static const double whole_fall = 0.03;
static const double least_fall = 0.006;
/* Widths of parts that follow each other differ by less than this ratio. */
static const double most_uneven = 3.0;
/* What is narrower than this share of both its neighbours may be passed over. */
static const double narrow = 0.34;
/* A slope is cut into parts as well, but those are tilted, by 0.36 of the fall; at 0.1 a staircase
 * is beyond doubt, at 0.3 out of the question. */
static const double slope_tilt = 5.0;

/* Running sums: those of the places a .. b - 1 are differences. */
typedef struct sums {
    double *w, *wy, *wyy;
} sums;

static double cost(const sums *s, size_t a, size_t b) {
    const double w = s->w[b] - s->w[a], wy = s->wy[b] - s->wy[a];
    const double left = w > 0.0 ? s->wyy[b] - s->wyy[a] - wy * wy / w : 0.0;
    return left > 0.0 ? left : 0.0;
}

static double level(const sums *s, size_t a, size_t b) {
    const double w = s->w[b] - s->w[a];
    return w > 0.0 ? (s->wy[b] - s->wy[a]) / w : 0.0;
}

static void add_up(const double value[], const double weight[], size_t n, const sums *s) {
    s->w[0] = s->wy[0] = s->wyy[0] = 0.0;
    for (size_t i = 0; i < n; i++) {
        s->w[i + 1] = s->w[i] + weight[i];
        s->wy[i + 1] = s->wy[i] + weight[i] * value[i];
        s->wyy[i + 1] = s->wyy[i] + weight[i] * value[i] * value[i];
    }
}

/*
 * best[t] is the least cost of the places before t. A beginning s that is dearer than best[t] even
 * without another part never becomes the best later on and is dropped.
 */
static void cut(const sums *s, const bool may[], size_t n, double penalty, double best[],
                double sofar[], size_t before[], size_t open[]) {
    size_t n_open = 0;
    best[0] = -penalty;
    for (size_t t = 1; t <= n; t++) {
        double least = HUGE_VAL;
        if (t == 1 || !may || may[t - 1])
            open[n_open++] = t - 1;
        for (size_t i = 0; i < n_open; i++) {
            sofar[i] = best[open[i]] + cost(s, open[i], t);
            if (sofar[i] < least)
                least = sofar[i], before[t] = open[i];
        }
        best[t] = least + penalty;
        size_t kept = 0;
        for (size_t i = 0; i < n_open; i++)
            if (sofar[i] <= best[t])
                open[kept++] = open[i];
        n_open = kept;
    }
}

/* Levels of the two halves, the blurred edges left out. */
static void measure_tilt(const sums *s, ww__part *part) {
    const size_t from = part->from, to = part->to, n = to - from, rim = n / 7, half = n / 2;
    part->tilt = part->doubt = 0.0;
    if (half <= rim)
        return;
    const double w1 = s->w[from + half] - s->w[from + rim];
    const double w2 = s->w[to - rim] - s->w[to - half];
    if (!(w1 > 0.0 && w2 > 0.0))
        return;
    part->tilt = level(s, from + rim, from + half) - level(s, to - half, to - rim);
    part->doubt = sqrt(1.0 / w1 + 1.0 / w2);
}

static size_t collect(const sums *s, const size_t before[], size_t n, ww__part part[]) {
    size_t count = 0, at = n;
    for (size_t t = n; t > 0; t = before[t])
        count++;
    for (size_t i = count; i-- > 0; at = before[at]) {
        part[i] = (ww__part){.from = before[at], .to = at, .level = level(s, before[at], at)};
        measure_tilt(s, &part[i]);
    }
    return count;
}

ww_status ww__parts_find(const double value[], const double weight[], const bool may[], size_t n,
                         double penalty, ww__part part[], size_t *n_parts, ww_error *err) {
    double *room = malloc(5 * (n + 1) * sizeof *room);
    size_t *places = malloc(2 * (n + 1) * sizeof *places);
    if (room && places) {
        const sums s = {room, room + (n + 1), room + 2 * (n + 1)};
        add_up(value, weight, n, &s);
        cut(&s, may, n, penalty, room + 3 * (n + 1), room + 4 * (n + 1), places, places + n + 1);
        *n_parts = collect(&s, places, n, part);
    }
    const bool done = room && places;
    free(room);
    free(places);
    return done ? WW_OK : ww_error_set(err, WW_EMEMORY, "no memory for a profile");
}

static double width(const ww__part *part) {
    return (double)(part->to - part->from);
}

/* What the edge between two parts adds to a flight; 0 where it does not belong to one. */
static double edge_score(const ww__part *a, const ww__part *b, double sign) {
    const double fall = sign * (a->level - b->level);
    const double narrower = fmin(width(a), width(b)), wider = fmax(width(a), width(b));
    if (fall < least_fall || wider > most_uneven * narrower)
        return 0.0;
    const double tilt = fmax(fabs(a->tilt) - 2.0 * a->doubt, fabs(b->tilt) - 2.0 * b->doubt);
    const double flat = 1.5 - slope_tilt * tilt / fall;
    return fmin(1.0, fall / whole_fall) * sqrt(narrower / wider) * fmin(1.0, fmax(0.0, flat));
}

typedef struct step_back {
    double score;
    size_t from; /* itself: begins here */
} step_back;

static void follow(const ww__part part[], size_t n, double sign, double least, step_back back[]) {
    for (size_t j = 0; j < n; j++) {
        back[j] = (step_back){0.0, j};
        double passed = 0.0;
        if (width(&part[j]) < least)
            continue;
        for (size_t i = j; i-- > 0; passed += width(&part[i])) {
            if (passed > narrow * width(&part[j]))
                break;
            if (width(&part[i]) < least || passed > narrow * width(&part[i]))
                continue;
            const double score = edge_score(&part[i], &part[j], sign);
            if (score > 0.0 && back[i].score + score > back[j].score)
                back[j] = (step_back){back[i].score + score, i};
        }
    }
}

/* Median of the parts' tilts, each as a share of the falls beside it. */
static double usual_tilt(const ww__part part[], const ww__flight *flight) {
    double share[WW__FLIGHT_MOST];
    size_t n = 0;
    for (size_t k = 1; k + 1 < flight->n; k++) {
        const double fall = part[flight->part[k - 1]].level - part[flight->part[k + 1]].level;
        share[n++] = 2.0 * part[flight->part[k]].tilt / fall;
    }
    return n > 0 ? ww__order_median(share, n) : 0.0;
}

static void walk_back(const ww__part part[], const step_back back[], size_t end,
                      ww__flight *flight) {
    double widths[WW__FLIGHT_MOST];
    size_t n = 1;
    for (size_t i = end; back[i].from != i && n < WW__FLIGHT_MOST; i = back[i].from)
        n++;
    flight->n = n;
    for (size_t k = n, i = end; k-- > 0; i = back[i].from) {
        flight->part[k] = i;
        widths[k] = width(&part[i]);
    }
    flight->pitch = ww__order_median(widths, n);
    flight->score =
        back[end].score * fmin(1.0, fmax(0.05, 1.5 - slope_tilt * usual_tilt(part, flight)));
}

ww_status ww__parts_flight(const ww__part part[], size_t n_parts, double sign, size_t least,
                           ww__flight *flight, ww_error *err) {
    flight->n = 0, flight->score = 0.0, flight->pitch = 0.0;
    step_back *back = malloc((n_parts + 1) * sizeof *back);
    if (!back)
        return ww_error_set(err, WW_EMEMORY, "no memory for a profile");
    follow(part, n_parts, sign, (double)least, back);
    for (size_t i = 0; i < n_parts; i++) {
        ww__flight other;
        if (back[i].score <= flight->score)
            continue;
        walk_back(part, back, i, &other);
        if (other.score > flight->score)
            *flight = other;
    }
    free(back);
    return WW_OK;
}
