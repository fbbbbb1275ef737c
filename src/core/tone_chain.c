/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <wedgework/exposure.h>
#include <wedgework/tone_chain.h>

enum { PLACES = 2000 }; /* that the steepest is looked for in */

const char *ww_tone_link_name(ww_tone_link link) {
    static const char *const name[] = {"camera", "film", "enlarger", "paper", "viewing"};
    assert(link < WW_TONE_LINKS);
    return name[link];
}

static ww_optional set(double value) {
    return (ww_optional){true, value};
}

/* Density through flare, and its slope. Whoever gives flares has checked them. */
static double through(double density, double flare, ww_optional *slope) {
    double seen = density;
    (void)ww_exposure_flare(density, flare, &seen, NULL);
    *slope = set(ww_exposure_flare_slope(density, flare));
    return seen;
}

static bool through_film(const ww_tone_chain *chain, ww_tone_point *point) {
    double density, slope;
    point->film_log_h =
        chain->white_log_h - through(-point->scene, chain->flare, &point->slope[WW_TONE_CAMERA]);
    if (ww_curve_density(chain->film, point->film_log_h, &density, &slope, NULL) != WW_OK)
        return false;
    point->negative = set(density);
    point->slope[WW_TONE_FILM] = set(slope);
    point->seen = set(
        through(chain->callier * density, chain->enlarger_flare, &point->slope[WW_TONE_ENLARGER]));
    point->slope[WW_TONE_ENLARGER].value *= chain->callier;
    return true;
}

void ww_tone_chain_follow(const ww_tone_chain *chain, double scene, ww_tone_point *point) {
    double density, slope;
    assert(chain && chain->film && chain->paper && point);
    *point = (ww_tone_point){.scene = scene};
    if (!through_film(chain, point))
        return;
    point->paper_log_h = set(chain->print_log_h - point->seen.value);
    if (ww_curve_density(chain->paper, point->paper_log_h.value, &density, &slope, NULL) != WW_OK)
        return;
    point->print = set(density);
    point->slope[WW_TONE_PAPER] = set(slope);
    point->viewed = set(through(density, chain->viewing_flare, &point->slope[WW_TONE_VIEWING]));
    point->gradient = set(1.0);
    for (int k = 0; k < WW_TONE_LINKS; k++)
        point->gradient.value *= point->slope[k].value;
}

ww_status ww_tone_chain_place(const ww_tone_chain *chain, double scene, double density,
                              double *print_log_h, ww_error *err) {
    ww_tone_point point = {.scene = scene};
    double log_h;
    ww_status status;
    assert(chain && print_log_h);
    if (!through_film(chain, &point))
        return ww_error_set(err, WW_ENODATA,
                            "the tone that sets the print's exposure, %.2f log H below the scene's "
                            "white, falls on the film at log H %.2f, outside its measured range, "
                            "%.2f to %.2f; expose the film otherwise, or read more steps",
                            -scene, point.film_log_h, chain->film->domain_low,
                            chain->film->domain_high);
    status = ww_curve_log_h(chain->paper, density, &log_h, err);
    if (status == WW_OK)
        *print_log_h = log_h + point.seen.value;
    return status;
}

ww_status ww_tone_chain_expose(const ww_tone_chain *chain, double viewed, double *paper_log_h,
                               ww_error *err) {
    double print;
    const ww_status status = ww_exposure_unflare(viewed, chain->viewing_flare, &print, err);
    assert(paper_log_h);
    return status == WW_OK ? ww_curve_log_h(chain->paper, print, paper_log_h, err) : status;
}

ww_status ww_tone_chain_unseen(const ww_tone_chain *chain, double seen, double *negative,
                               ww_error *err) {
    double density;
    const ww_status status = ww_exposure_unflare(seen, chain->enlarger_flare, &density, err);
    assert(negative);
    if (status == WW_OK)
        *negative = density / chain->callier;
    return status;
}

void ww_tone_chain_steepest(const ww_channel_curve *curve, double *slope, double *density) {
    const double wide = curve->domain_high - curve->domain_low;
    *slope = 0.0;
    *density = 0.0;
    for (int i = 0; i <= PLACES; i++) {
        const double log_h = curve->domain_low + wide * i / PLACES;
        double at, steep;
        at = ww_model_density(&curve->shape, log_h, &steep);
        if (fabs(steep) > *slope || i == 0) {
            *slope = fabs(steep);
            *density = at;
        }
    }
}
