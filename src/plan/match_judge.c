/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/match_parts.h"
#include <math.h>

enum { CODES = 256 };
/* sd that hold the greatest of eight independent normal deviates in 95 of 100 (Sidak): what is told
 * is the greatest miss of many tones, and responses bend in some eight places. */
static const double together_95 = 2.73;

/* Of a difference: both responses there, and both whites where they are taken off. */
static double doubt_at(const ww_match *match, const ww_match_channel *c, double drive) {
    const double print = ww_tone_response_error(&c->print, ww_match_out(c, drive));
    const double aim = ww_tone_response_error(&c->aim, drive);
    double variance = print * print + aim * aim;
    if (!match->absolute && !match->lightness && drive > 0.0)
        variance += c->print.error[0] * c->print.error[0] + c->aim.error[0] * c->aim.error[0];
    return together_95 * sqrt(variance);
}

/* What the last corrected print's readings show and the response does not follow. */
static double shown_at(const ww_match *match, const ww_match_channel *c, double drive) {
    const bool above_white = !match->absolute && !match->lightness;
    const double shown = ww_tone_response_at(c->print.missed, ww_match_out(c, drive)) -
                         (above_white ? c->print.missed[0] : 0.0);
    return match->passes > 0 && fabs(shown) > WW_MATCH_TOLD ? shown : 0.0;
}

static void see(ww_match_miss *miss, const ww_match_miss *here) {
    const double doubt = fmax(miss->doubt, here->doubt);
    if (!miss->any || fabs(here->density) > fabs(miss->density))
        *miss = *here;
    miss->doubt = doubt;
}

static void find_misses(const ww_match *match, ww_match_channel *c) {
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double drive = (double)i / (WW_TONE_RESPONSE_POINTS - 1);
        const ww_match_miss here = {
            .any = true,
            .density = ww_tone_response_density(&c->print, ww_match_out(c, drive)) - c->wanted[i] +
                       shown_at(match, c, drive),
            .doubt = doubt_at(match, c, drive),
            .drive = drive};
        see(&c->worst, &here);
        see(&c->region[ww_viewing_region(c->aim.density[i] - c->aim.density[0])], &here);
        if (drive >= c->kept_from && drive <= c->kept)
            see(&c->kept_miss, &here);
    }
}

/* Codes in and out are whole: what that leaves out, throws together, and spreads apart. */
static void find_codes(ww_match_channel *c) {
    double before = 0.0;
    int last = -1, distinct = 0, first = 0;
    for (int i = 0; i < CODES; i++) {
        const double drive = (double)i / (CODES - 1);
        const int code = (int)lround(ww_match_out(c, drive) * (CODES - 1));
        const double density = ww_tone_response_density(&c->print, (double)code / (CODES - 1));
        if (i == 0)
            first = code;
        c->codes.merged += i > 0 && code == last;
        distinct += i == 0 || code != last;
        const double step = ww_viewing_lightness(before) - ww_viewing_lightness(density);
        if (i > 0 && step > c->codes.lightness) {
            c->codes.lightness = step;
            c->codes.density = density - before;
            c->codes.drive = drive;
        }
        before = density;
        last = code;
    }
    c->codes.left_out = (size_t)(last - first + 1 - distinct);
}

void ww__match_judge(const ww_match *match, ww_match_channel *c) {
    find_misses(match, c);
    find_codes(c);
}
