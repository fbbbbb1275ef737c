/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings.h"
#include "plan/print_parts.h"
#include "plan/tones_parts.h"
#include <math.h>

double ww__tones_base_error(const ww_channel_curve *curve) {
    const ww_quantity base = curve->figure[WW_FIGURE_BASE_FOG];
    return base.how == WW_MEASURED ? fmax(0.5 * (base.high - base.low) / WW__TONES_95, 0.0) : 0.0;
}

double ww__tones_white(const ww_curve *paper, ww_channel channel, double *sd) {
    const ww_channel_curve *curve = &paper->channel[channel];
    const ww_quantity base = curve->figure[WW_FIGURE_BASE_FOG];
    *sd = 0.0;
    if (paper->meta.relative == WW_RELATIVE_WHITE)
        return 0.0;
    if (!ww_quantity_present(base))
        return curve->shape.parameter[0]; /* the shape's own density of no exposure */
    *sd = ww__tones_base_error(curve);
    return base.value;
}

/* The darkest tone lies on the speed point without flare; of a reversal film, white does. */
static ww_status expose_film(const ww__tones_setting *setting, const ww_channel_curve *film,
                             ww_tone_chain *chain, ww_error *err) {
    const ww_channel_curve *metered = setting->metered == film ? chain->film : setting->metered;
    const bool falling = metered->shape.falling;
    double at = falling ? metered->domain_high : metered->domain_low;
    if (setting->by_speed_point) {
        const ww_status status = ww_curve_log_h(metered, setting->film_level, &at, err);
        if (status != WW_OK)
            return status;
    }
    chain->white_log_h = at + (falling ? 0.0 : setting->request->subject_range) +
                         setting->request->film_stops * WW__TONES_STOP;
    return WW_OK;
}

ww_status ww__tones_set(const ww__tones_setting *setting, const ww_channel_curve *film,
                        ww_tone_chain *chain, ww_error *err) {
    const ww_tones_request *r = setting->request;
    const ww_status status = expose_film(setting, film, chain, err);
    return status == WW_OK
               ? ww_tone_chain_place(chain, -r->place_stops * WW__TONES_STOP,
                                     setting->white + r->place_density, &chain->print_log_h, err)
               : status;
}

/* Where a layer's speed point lies, and its density there; its first step where it has none. */
static bool find_speed(const ww_channel_curve *layer, double *log_h, double *level) {
    const ww_quantity speed = layer->figure[WW_FIGURE_SPEED_POINT];
    *log_h = layer->shape.falling ? layer->domain_high : layer->domain_low;
    if (!ww_quantity_present(speed) ||
        ww_curve_density(layer, speed.value, level, NULL, NULL) != WW_OK)
        return false;
    *log_h = speed.value;
    return true;
}

/* The layer that is slowest, so that all of them have their speed point; of slides the fastest,
 * which white would burn out first. */
static void meter(const ww_curve *film, const ww__tones_pair *pair, ww__tones_setting *setting) {
    double best = 0.0;
    for (size_t k = 0; k < pair->n; k++) {
        const ww_channel_curve *layer = &film->channel[pair->film[k]];
        double log_h, level = 0.0;
        const bool known = find_speed(layer, &log_h, &level);
        if (setting->metered && (layer->shape.falling ? log_h >= best : log_h <= best))
            continue;
        best = log_h;
        setting->metered = layer;
        setting->film_level = level;
        setting->by_speed_point = known;
    }
}

/* "Heron 100, 8 min"; "Heron gloss, 3" */
ww_status ww__tones_name(const ww_curve *curve, const char *file, const char *otherwise,
                         char **name, ww_error *err) {
    const ww_meta *meta = &curve->meta;
    const bool named = meta->name && meta->name[0];
    char shown[WW__PRINT_TEXT_SIZE];
    ww__print_format(shown, sizeof shown, "%s",
                     named  ? ww__print_show(meta->name).text
                     : file ? ww__print_show(file).text
                            : otherwise);
    char whole[2 * WW__PRINT_TEXT_SIZE];
    if (meta->material == WW_MATERIAL_FILM && meta->development_time_min.set)
        ww__print_format(whole, sizeof whole, "%s, %g min", shown,
                         meta->development_time_min.value);
    else if (meta->material != WW_MATERIAL_FILM && meta->contrast && meta->contrast[0])
        ww__print_format(whole, sizeof whole, "%s, %s", shown, ww__print_show(meta->contrast).text);
    else
        ww__print_format(whole, sizeof whole, "%s", shown);
    return ww__readings_text_copy(whole, name, err);
}

/* Says which file it is about where that says nothing yet. */
static ww_status of_file(ww_status status, const char *file, const ww_error *why, ww_error *err) {
    return status == WW_OK ? WW_OK : ww_error_set_at(err, status, file, 0, "%s", why->msg);
}

/* Whether the tone that is placed falls on what was measured of the film. */
static bool reaches_film(const ww_tones_request *r, const ww_tone_chain *chain) {
    ww_tone_point placed;
    ww_tone_chain_follow(chain, -r->place_stops * WW__TONES_STOP, &placed);
    return placed.negative.set;
}

static ww_status take_curves(const ww_tones_request *r, const ww__tones_pair *pair,
                             ww__tones_setting *setting, ww_tones_chain *chain, ww_error *err) {
    const ww_curve *film = r->film[chain->film_at], *paper = r->paper[chain->paper_at];
    const ww_channel_curve *f = &film->channel[chain->film_channel];
    ww_error why = WW_ERROR_INIT;
    double sd;
    chain->chain = (ww_tone_chain){.film = f,
                                   .paper = &paper->channel[chain->paper_channel],
                                   .flare = r->flare,
                                   .callier = r->callier,
                                   .enlarger_flare = r->enlarger_flare,
                                   .viewing_flare = r->viewing_flare};
    *setting = (ww__tones_setting){.request = r};
    meter(film, pair, setting);
    setting->white = ww__tones_white(paper, chain->paper_channel, &sd);
    chain->by_speed_point = setting->by_speed_point;
    chain->paper_white = setting->white;
    ww_tone_chain_steepest(f, &chain->film_best, &chain->film_middle);
    ww_tone_chain_steepest(chain->chain.paper, &chain->paper_best, &chain->paper_middle);
    const ww_status status = ww__tones_set(setting, f, &chain->chain, &why);
    return of_file(status,
                   reaches_film(r, &chain->chain) ? ww__tones_file(r->paper_file, chain->paper_at)
                                                  : ww__tones_file(r->film_file, chain->film_at),
                   &why, err);
}

ww_status ww__tones_begin(const ww_tones_request *r, size_t film, size_t paper,
                          const ww__tones_pair *pair, size_t k, ww__tones_setting *setting,
                          ww_tones_chain *chain, ww_error *err) {
    ww_status status;
    *chain = (ww_tones_chain){.film_at = film,
                              .paper_at = paper,
                              .film_channel = pair->film[k],
                              .paper_channel = pair->paper[k]};
    status = ww__tones_name(r->film[film], ww__tones_file(r->film_file, film), "film", &chain->film,
                            err);
    if (status == WW_OK)
        status = ww__tones_name(r->paper[paper], ww__tones_file(r->paper_file, paper), "paper",
                                &chain->paper, err);
    return status == WW_OK ? take_curves(r, pair, setting, chain, err) : status;
}
