/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find_other.h"

#include <math.h>

static const double same_end = 0.02; /* of the length: rows of one strip end alike */
static const double most_gap = 0.5;  /* of the width: so near lie rows of one strip */
static const double margin = 0.25;   /* of the width, around a strip */

static ww__area area_between(const double origin[2], const double along[2], const double across[2],
                             double half, double from, double to) {
    const double middle = 0.5 * (from + to);
    return (ww__area){.centre = {origin[0] + middle * along[0], origin[1] + middle * along[1]},
                      .along = {along[0], along[1]},
                      .across = {across[0], across[1]},
                      .half_u = 0.5 * (to - from),
                      .half_v = half};
}

ww__area ww__other_area(const ww__strip_found *found) {
    return area_between(found->origin, found->along, found->across, found->half, found->edge[0],
                        found->edge[found->n]);
}

ww__area ww__other_area_seen(const ww__band *band, const ww__steps *there) {
    const double origin[2] = {band->x, band->y};
    double along[2], across[2];
    ww__place_axes(band->angle, band->upright, along, across);
    return area_between(origin, along, across, band->half, there->from, there->to);
}

static double dot(const double a[2], const double b[2]) {
    return a[0] * b[0] + a[1] * b[1];
}

bool ww__other_apart(const ww__area *a, const ww__area *b) {
    const double way[2] = {b->centre[0] - a->centre[0], b->centre[1] - a->centre[1]};
    const double u = fabs(dot(way, a->along)), v = fabs(dot(way, a->across));
    /* How far b reaches along the axes of a. */
    const double reach_u =
        b->half_u * fabs(dot(b->along, a->along)) + b->half_v * fabs(dot(b->across, a->along));
    const double reach_v =
        b->half_u * fabs(dot(b->along, a->across)) + b->half_v * fabs(dot(b->across, a->across));
    if (u < a->half_u + reach_u && v < a->half_v + reach_v)
        return false;
    const bool ends_alike = u + fabs(a->half_u - reach_u) < 2.0 * same_end * a->half_u;
    const double wider = 2.0 * fmax(a->half_v, b->half_v);
    return !ends_alike || v - a->half_v - b->half_v > most_gap * wider;
}

ww_region ww__other_strip(const ww__area *area, const ww_picture *picture) {
    ww__area around = *area;
    around.half_u += 2.0 * margin * area->half_v;
    around.half_v += 2.0 * margin * area->half_v;
    return ww__area_box(&around, picture->width, picture->height);
}
