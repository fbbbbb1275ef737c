/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/tones_parts.h"
#include <math.h>

enum { PLACES = 400, HALVINGS = 40 };

/* Share of the best that each link could do. */
static void find_shares(const ww_tones_chain *chain, const ww_tone_point *point,
                        double share[WW_TONE_LINKS]) {
    for (int k = 0; k < WW_TONE_LINKS; k++)
        share[k] = fabs(point->slope[k].value);
    share[WW_TONE_FILM] /= chain->film_best;
    share[WW_TONE_ENLARGER] /= chain->chain.callier;
    share[WW_TONE_PAPER] /= chain->paper_best;
}

static ww_tones_fate weakest(const ww_tones_chain *chain, const ww_tone_point *point) {
    double share[WW_TONE_LINKS];
    int least = 0;
    find_shares(chain, point, share);
    for (int k = 1; k < WW_TONE_LINKS; k++)
        if (share[k] < share[least])
            least = k;
    switch ((ww_tone_link)least) {
    case WW_TONE_CAMERA:
        return WW_TONES_CAMERA_FLARE;
    case WW_TONE_FILM:
        return point->negative.value < chain->film_middle ? WW_TONES_FILM_TOE
                                                          : WW_TONES_FILM_SHOULDER;
    case WW_TONE_ENLARGER:
        return WW_TONES_ENLARGER_FLARE;
    case WW_TONE_PAPER:
        return point->print.value < chain->paper_middle ? WW_TONES_PAPER_TOE
                                                        : WW_TONES_PAPER_SHOULDER;
    default:
        return WW_TONES_VIEWING_FLARE;
    }
}

ww_tones_fate ww__tones_fate(const ww_tones_chain *chain, const ww_tone_point *point,
                             double detail) {
    if (!point->negative.set)
        return WW_TONES_BEYOND_FILM;
    if (!point->print.set)
        return WW_TONES_BEYOND_PAPER;
    if (point->gradient.value >= detail)
        return WW_TONES_KEPT;
    return chain->film_best * chain->paper_best * chain->chain.callier < detail
               ? WW_TONES_CONTRAST
               : weakest(chain, point);
}

static ww_tones_fate fate_at(const ww_tones_chain *chain, double scene, double detail) {
    ww_tone_point point;
    ww_tone_chain_follow(&chain->chain, scene, &point);
    return ww__tones_fate(chain, &point, detail);
}

/* Where fates change between two places of unlike ones. */
static double change(const ww_tones_chain *chain, double a, double b, double detail) {
    const ww_tones_fate fate = fate_at(chain, a, detail);
    for (int i = 0; i < HALVINGS; i++) {
        const double middle = a + 0.5 * (b - a);
        if (fate_at(chain, middle, detail) == fate)
            a = middle;
        else
            b = middle;
    }
    return a + 0.5 * (b - a);
}

void ww__tones_runs(ww_tones_chain *chain, double range, double detail) {
    double before = 0.0;
    chain->n_runs = 1;
    chain->run[0] = (ww_tones_run){0.0, -range, fate_at(chain, 0.0, detail)};
    for (int i = 1; i <= PLACES; i++) {
        const double scene = -range * i / PLACES;
        const ww_tones_fate fate = fate_at(chain, scene, detail);
        ww_tones_run *last = &chain->run[chain->n_runs - 1];
        if (fate != last->fate && chain->n_runs < WW_TONES_RUNS_MOST) {
            last->to = change(chain, before, scene, detail);
            chain->run[chain->n_runs++] = (ww_tones_run){last->to, -range, fate};
        }
        before = scene;
    }
}

/* Gradient less what detail needs; below that where there is none. */
static double spare(const ww_tone_chain *chain, double scene, double detail) {
    ww_tone_point point;
    ww_tone_chain_follow(chain, scene, &point);
    return point.gradient.set ? point.gradient.value - detail : -detail;
}

static double edge(const ww_tone_chain *chain, double kept, double lost, double detail) {
    for (int i = 0; i < HALVINGS; i++) {
        const double middle = kept + 0.5 * (lost - kept);
        if (spare(chain, middle, detail) >= 0.0)
            kept = middle;
        else
            lost = middle;
    }
    return kept;
}

double ww__tones_kept(const ww_tone_chain *chain, double range, double detail) {
    double kept = 0.0, before = 0.0;
    bool was = spare(chain, 0.0, detail) >= 0.0;
    for (int i = 1; i <= PLACES; i++) {
        const double scene = -range * i / PLACES;
        const bool is = spare(chain, scene, detail) >= 0.0;
        if (was && is)
            kept += before - scene;
        else if (was)
            kept += before - edge(chain, before, scene, detail);
        else if (is)
            kept += edge(chain, scene, before, detail) - scene;
        was = is;
        before = scene;
    }
    return kept / WW__TONES_STOP;
}
