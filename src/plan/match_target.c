/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/match_parts.h"
#include <math.h>

static const double kept_share = 2.0 / 3.0; /* of the smaller range */
static const double lead_wide = 4.0;        /* times what paper is darker, to lead it away */
static const double same = 1e-9;            /* D */
static const double common_least = 0.1;     /* D */

/*
 * From (x0, y0), where its slope is 1, to (x1, y1): a hyperbola, which neither falls nor turns.
 *
 *   y = y0 + (y1 - y0) t / (s + (1 - s) t),  t = (x - x0) / (x1 - x0),  s = (y1 - y0) / (x1 - x0)
 *
 * Its slope at x1 is s^2.
 */
static double hyperbola(double x, double x0, double y0, double x1, double y1) {
    const double t = fmin(fmax((x - x0) / (x1 - x0), 0.0), 1.0), s = (y1 - y0) / (x1 - x0);
    return y0 + (y1 - y0) * t / (s + (1.0 - s) * t);
}

/* Where the aim's densities leave those of this paper, and where they lead to. */
typedef struct lead {
    bool light, dark;
    double light_from, light_to; /* wanted, from its least; led to `white` */
    double dark_from, dark_to;
    double white, black;
} lead;

/* Densities that both have. */
static double common_range(const ww_match_channel *c) {
    const double least = c->wanted[0], most = c->wanted[WW_TONE_RESPONSE_POINTS - 1];
    return fmin(most, c->black) - fmax(least, c->white);
}

static lead find_lead(const ww_match *match, const ww_match_channel *c) {
    const double least = c->wanted[0], most = c->wanted[WW_TONE_RESPONSE_POINTS - 1];
    lead l = {.white = c->white, .black = c->black, .dark_to = most};
    l.dark_from = c->white + fmin(WW_MATCH_KEPT, kept_share * common_range(c));
    l.dark =
        match->absolute || match->display ? most > c->black + same : fabs(most - c->black) > same;
    l.light = match->absolute && least < c->white - same;
    l.light_from = least;
    l.light_to = fmin(least + lead_wide * (c->white - least), l.dark_from);
    return l;
}

static double led(const lead *l, double wanted) {
    if (l->dark && wanted > l->dark_from)
        return hyperbola(wanted, l->dark_from, l->dark_from, l->dark_to, l->black);
    if (l->light && wanted < l->light_to) /* from its other end */
        return -hyperbola(-wanted, -l->light_to, -l->light_to, -l->light_from, -l->white);
    return wanted;
}

/* Drives of the aim between which nothing is led. */
static void find_kept(const lead *l, ww_match_channel *c) {
    c->kept_from = 0.0;
    c->kept = 1.0;
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double drive = (double)i / (WW_TONE_RESPONSE_POINTS - 1);
        if (l->light && c->wanted[i] < l->light_to)
            c->kept_from = drive;
        if (!l->dark || c->wanted[i] <= l->dark_from)
            c->kept = drive;
    }
    c->kept_density = ww_tone_response_at(c->wanted, c->kept) - c->white;
}

ww_status ww__match_target(const ww_match *match, ww_match_channel *c, ww_error *err) {
    c->white = c->print.density[0];
    c->black = ww_tone_response_density(&c->print, c->print.to);
    const double shift = match->absolute || match->lightness ? 0.0 : c->white - c->aim.density[0];
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++)
        c->wanted[i] = c->aim.density[i] + shift;
    if (common_range(c) < common_least)
        return ww_error_set(
            err, WW_EMISMATCH,
            "the aim runs from %.2f to %.2f D, this output from %.2f to %.2f D: too "
            "little that both can print; look whether the right files are given",
            c->aim.density[0], ww_tone_response_density(&c->aim, c->aim.to), c->white, c->black);
    const lead l = find_lead(match, c);
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++)
        c->target[i] = led(&l, c->wanted[i]);
    for (size_t i = 0; i < WW_MATCH_POINTS; i++)
        c->out[i] = ww_tone_response_drive(
            &c->print, ww_tone_response_at(c->target, (double)i / (WW_MATCH_POINTS - 1)));
    find_kept(&l, c);
    return WW_OK;
}
