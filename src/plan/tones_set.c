/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings.h"
#include "plan/print_parts.h"
#include "plan/tones_parts.h"
#include <math.h>

double ww__tones_white(const ww_curve *paper, ww_channel channel, double *sd) {
    const ww_channel_curve *curve = &paper->channel[channel];
    const ww_quantity base = curve->figure[WW_FIGURE_BASE_FOG];
    *sd = 0.0;
    if (paper->meta.relative == WW_RELATIVE_WHITE)
        return 0.0;
    if (!ww_quantity_present(base))
        return curve->shape.parameter[0]; /* the shape's own density of no exposure */
    if (base.how == WW_MEASURED)
        *sd = fmax(0.5 * (base.high - base.low) / WW__TONES_95, 0.0);
    return base.value;
}

/* The darkest tone lies on the speed point without flare; of a reversal film, white does. */
static ww_status expose_film(const ww__tones_setting *setting, ww_tone_chain *chain,
                             ww_error *err) {
    const ww_channel_curve *film = chain->film;
    const bool falling = film->shape.falling;
    double at = falling ? film->domain_high : film->domain_low;
    if (setting->by_speed_point) {
        const ww_status status = ww_curve_log_h(film, setting->film_level, &at, err);
        if (status != WW_OK)
            return status;
    }
    chain->white_log_h = at + (falling ? 0.0 : setting->request->subject_range) +
                         setting->request->film_stops * WW__TONES_STOP;
    return WW_OK;
}

ww_status ww__tones_set(const ww__tones_setting *setting, ww_tone_chain *chain, ww_error *err) {
    const ww_tones_request *r = setting->request;
    const ww_status status = expose_film(setting, chain, err);
    return status == WW_OK
               ? ww_tone_chain_place(chain, -r->place_stops * WW__TONES_STOP,
                                     setting->white + r->place_density, &chain->print_log_h, err)
               : status;
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

static ww_status take_curves(const ww_tones_request *r, ww__tones_setting *setting,
                             ww_tones_chain *chain, ww_error *err) {
    const ww_curve *film = r->film[chain->film_at], *paper = r->paper[chain->paper_at];
    const ww_channel_curve *f = &film->channel[chain->film_channel];
    const ww_quantity speed = f->figure[WW_FIGURE_SPEED_POINT];
    ww_error why = WW_ERROR_INIT;
    double sd;
    chain->chain = (ww_tone_chain){.film = f,
                                   .paper = &paper->channel[chain->paper_channel],
                                   .flare = r->flare,
                                   .callier = r->callier,
                                   .enlarger_flare = r->enlarger_flare,
                                   .viewing_flare = r->viewing_flare};
    *setting = (ww__tones_setting){.request = r};
    setting->by_speed_point =
        ww_quantity_present(speed) &&
        ww_curve_density(f, speed.value, &setting->film_level, NULL, NULL) == WW_OK;
    setting->white = ww__tones_white(paper, chain->paper_channel, &sd);
    chain->by_speed_point = setting->by_speed_point;
    chain->paper_white = setting->white;
    ww_tone_chain_steepest(f, &chain->film_best, &chain->film_middle);
    ww_tone_chain_steepest(chain->chain.paper, &chain->paper_best, &chain->paper_middle);
    return of_file(ww__tones_set(setting, &chain->chain, &why),
                   ww__tones_file(r->paper_file, chain->paper_at), &why, err);
}

ww_status ww__tones_begin(const ww_tones_request *r, size_t film, size_t paper,
                          ww_channel film_channel, ww_channel paper_channel,
                          ww__tones_setting *setting, ww_tones_chain *chain, ww_error *err) {
    ww_status status;
    *chain = (ww_tones_chain){.film_at = film,
                              .paper_at = paper,
                              .film_channel = film_channel,
                              .paper_channel = paper_channel};
    status = ww__tones_name(r->film[film], ww__tones_file(r->film_file, film), "film", &chain->film,
                            err);
    if (status == WW_OK)
        status = ww__tones_name(r->paper[paper], ww__tones_file(r->paper_file, paper), "paper",
                                &chain->paper, err);
    return status == WW_OK ? take_curves(r, setting, chain, err) : status;
}
