/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings.h"
#include "scanner.h"
#include "scanner_noise.h"
#include "scanner_notes.h"
#include "scanner_settle.h"
#include "scanner_wedge.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double grid = 0.02;      /* D between points of the calibration */
static const double slope_kept = 0.2; /* of the model's, by the correction */
static const double dark_apart = 3.0; /* standard errors */

enum { THINNED = 5 }; /* ways to take less than the whole correction */

typedef struct fit {
    ww__scanner_settled settled;
    ww__scanner_story story;
} fit;

/* ----------------------------------------------------------------------------------- points */

typedef struct range {
    double thin, dense;
} range;

static range range_of(const ww__scanner_strip *strip) {
    range r = {HUGE_VAL, -HUGE_VAL};
    for (size_t i = 0; i < strip->n; i++) {
        const ww__scanner_row *row = &strip->row[i];
        if (row->clipped || row->suspect)
            continue;
        r.thin = fmin(r.thin, row->density);
        r.dense = fmax(r.dense, row->density);
    }
    return r;
}

/* Point i of n: share with `part` of the correction, density and doubt. */
typedef struct calibration {
    const fit *f;
    size_t strip;
    ww__scanner_light light;
    range range;
    size_t n;
    double part;
} calibration;

static double density_at(const calibration *c, size_t i) {
    return c->range.dense - (c->range.dense - c->range.thin) * (double)i / (double)(c->n - 1);
}

static double share_at(const calibration *c, double density, double *sd, double *correction) {
    double rest, rest_sd;
    ww__scanner_rest_at(c->f->settled.rest[c->strip], density, &rest, &rest_sd);
    *correction = c->part * rest;
    *sd = rest_sd + (1.0 - c->part) * fabs(rest);
    return ww__scanner_share(&c->light, density, NULL) + *correction;
}

/* Whether codes rise at every point, by no less than a fifth of what the model's do. */
static bool rises(const calibration *c) {
    double before = 0.0, model_before = 0.0;
    for (size_t i = 0; i < c->n; i++) {
        double sd, correction;
        const double density = density_at(c, i), share = share_at(c, density, &sd, &correction);
        const double model = ww__scanner_share(&c->light, density, NULL);
        if (!(share > 0.0))
            return false;
        if (i > 0 && !(share - before > slope_kept * (model - model_before)))
            return false;
        before = share;
        model_before = model;
    }
    return true;
}

/* A certificate's steps are off each on its own, as the fit has it, and all together besides; a
 * tolerance is the most that a step is off by in all. */
static double with_wedge(const ww__scanner_wedge *wedge, double density, double fitted) {
    const double off = ww__scanner_wedge_off(wedge, density);
    return wedge->nominal ? fmax(fitted, off) : hypot(fitted, off);
}

static ww_status fill_points(fit *f, size_t strip, const ww_scanner *scanner, double lamp,
                             ww_scanner_channel *channel, ww_error *err) {
    const ww__scanner_strip *rows = &f->settled.strips.strip[strip];
    calibration c = {f, strip, ww__scanner_model_light(&f->settled.model, strip), range_of(rows),
                     0, 1.0};
    c.n = (size_t)ceil((c.range.dense - c.range.thin) / grid) + 1;
    if (c.n < 2)
        return ww_error_set(err, WW_EMISMATCH,
                            "all steps of the wedge (%s) have the same density; give the wedge's "
                            "own densities",
                            ww_channel_name(rows->channel));
    channel->point = calloc(c.n, sizeof *channel->point);
    if (!channel->point)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu points", c.n);
    channel->n_points = c.n;
    for (int i = THINNED; i > 0 && !rises(&c); i--)
        c.part = (double)(i - 1) / THINNED;
    for (size_t i = 0; i < c.n; i++) {
        const double density = density_at(&c, i);
        double sd, correction, slope;
        const double share = share_at(&c, density, &sd, &correction);
        (void)ww__scanner_share(&c.light, density, &slope);
        const double apart = ww__scanner_model_apart(&f->settled.model, strip, density);
        const double fitted = WW__SCANNER_95 * hypot(sd / slope, lamp) + apart +
                              ww__scanner_scale_off(scanner, density);
        f->story.apart = fmax(f->story.apart, apart);
        channel->point[i] =
            (ww_scanner_point){.code = scanner->white * share,
                               .density = density,
                               .doubt = with_wedge(&f->settled.strips.wedge, density, fitted)};
        if (ww__scanner_rest_amplitude(f->settled.rest[strip]) > 0.0 &&
            fabs(correction / slope) > fabs(f->story.correction[rows->channel]))
            f->story.correction[rows->channel] = -correction / slope;
    }
    return WW_OK;
}

/* ------------------------------------------------------------------------------------ steps */

static ww_status fill_steps(const fit *f, size_t strip, double white, ww_scanner_channel *channel,
                            ww_error *err) {
    const ww__scanner_strip *rows = &f->settled.strips.strip[strip];
    const ww__scanner_light light = ww__scanner_model_light(&f->settled.model, strip);
    double sum = 0.0;
    size_t counted = 0;
    channel->step = calloc(rows->n, sizeof *channel->step);
    if (!channel->step)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu steps", rows->n);
    for (size_t i = 0; i < rows->n; i++) {
        const ww__scanner_row *row = &rows->row[i];
        ww_scanner_step *step = &channel->step[i];
        const ww_status status = ww__readings_text_copy(row->label, &step->step, err);
        if (status != WW_OK)
            return status;
        channel->n_steps = i + 1;
        step->density = row->density;
        step->code = white * row->share;
        step->sd = white * row->pixel_sd;
        step->clipped = row->clipped;
        step->suspect = row->suspect;
        step->fitted =
            row->clipped ? row->density : ww__scanner_dense(&light, row->share, row->density);
        const double open = light.k * pow(10.0, -row->density);
        step->compressed = !row->clipped && open < light.constant;
        if (row->clipped || row->suspect)
            continue;
        const double off = step->fitted - step->density;
        sum += off * off;
        counted++;
        if (fabs(off) > fabs(channel->worst_residual))
            channel->worst_residual = off;
    }
    const size_t used = f->settled.model.free_gamma ? 3 : 2;
    channel->residual_sd = sqrt(sum / (double)(counted - used));
    return WW_OK;
}

/* ------------------------------------------------------------------- dark, flare, noise, end */

static ww_quantity within(double value, double width, ww_how how) {
    return (ww_quantity){value, value - width, value + width, how};
}

/* Flare and dark from the one constant that the wedge knows; `dark` where a scan tells it. */
static void split_constant(const ww__scanner_model *model, size_t s, const ww_quantity *dark,
                           ww_scanner_channel *channel) {
    const double k = model->k[s], constant = model->constant[s];
    const double left = constant - (dark ? dark->value : 0.0), flare = left / k;
    const double dark_sd = dark ? (dark->high - dark->value) / WW__SCANNER_95 : 0.0;
    const double variance = model->variance_constant[s] + dark_sd * dark_sd -
                            2.0 * flare * k * model->covariance[s] +
                            flare * flare * k * k * model->variance_k[s];
    const double width = WW__SCANNER_95 * sqrt(fmax(variance, 0.0)) / k;
    const double constant_width = WW__SCANNER_95 * sqrt(fmax(model->variance_constant[s], 0.0));
    channel->k = k;
    channel->flare = within(fmax(flare, 0.0), width, WW_FITTED);
    channel->flare.low = dark ? fmax(flare - width, 0.0) : 0.0;
    channel->flare.high = fmax(flare + width, 0.0);
    if (dark)
        channel->dark = *dark;
    else if (constant < 0.0)
        channel->dark = within(constant, constant_width, WW_FITTED);
    else
        channel->dark = (ww_quantity){0.0, 0.0, constant + constant_width, WW_FITTED};
}

static ww_quantity dark_of(const fit *f, ww_channel channel, const ww_measured *dark) {
    const ww_patch *spot = &dark->patch[0];
    const ww_patch_channel *p = &spot->channel[channel];
    const ww__scanner_light curve = ww__scanner_model_light(&f->settled.model, 0);
    const double share = fmax(p->code, 0.0) / dark->white;
    const double sd = ww__scanner_steps_mean_sd(p->code, p->sd, spot->n, p->step, dark->white);
    return (ww_quantity){ww__scanner_decode(&curve, share),
                         ww__scanner_decode(&curve, share - WW__SCANNER_95 * sd),
                         ww__scanner_decode(&curve, share + WW__SCANNER_95 * sd), WW_MEASURED};
}

/* A dark scan is believed where no channel of it is lighter than the wedge's constant light. */
static bool dark_fits(const fit *f, const ww_measured *dark) {
    for (size_t s = 0; s < f->settled.strips.n; s++) {
        const ww_quantity d = dark_of(f, f->settled.strips.strip[s].channel, dark);
        const double sd = hypot(sqrt(fmax(f->settled.model.variance_constant[s], 0.0)),
                                (d.high - d.value) / WW__SCANNER_95);
        if (d.value - f->settled.model.constant[s] > dark_apart * sd)
            return false;
    }
    return true;
}

static double doubt_at(const ww_scanner_channel *channel, double density) {
    size_t i = 0;
    while (i + 1 < channel->n_points && channel->point[i].density > density)
        i++;
    return channel->point[i].doubt;
}

/* Noise where `dark` is dark, and the density where it is as large as the light, 95 %. */
static ww_quantity end_with(const fit *f, size_t s, double step, double dark,
                            const ww_scanner_channel *channel, ww_scanner_noise *noise) {
    const ww__scanner_light light = ww__scanner_model_light(&f->settled.model, s);
    double relative_sd, way[2];
    ww__scanner_noise_fit(&f->settled.strips.strip[s], &light, dark, step, noise, &relative_sd);
    const ww__scanner_rounding rounding =
        ww__scanner_noise_rounding(&f->settled.strips.strip[s], step);
    const double end = ww__scanner_noise_end(noise, &light, dark, rounding);
    if (!(end < channel->point[0].density))
        return (ww_quantity){end, end, end, WW_EXTRAPOLATED};
    for (int i = 0; i < 2; i++) {
        const double factor = fmax(1.0 + (i ? -1.0 : 1.0) * WW__SCANNER_95 * relative_sd, 0.1);
        const ww_scanner_noise other = {factor * noise->read, factor * noise->shot,
                                        factor * noise->fixed};
        way[i] = fabs(ww__scanner_noise_end(&other, &light, dark, rounding) - end);
    }
    const double doubt = doubt_at(channel, end);
    return (ww_quantity){end, end - hypot(way[0], doubt), end + hypot(way[1], doubt), WW_FITTED};
}

/* What is called flare may be dark, which has no shot noise: the end's interval holds both. */
static void find_end(const fit *f, size_t s, double step, bool dark_known,
                     ww_scanner_channel *channel) {
    const double wedge_end = channel->point[0].density, constant = f->settled.model.constant[s];
    ww_quantity end = end_with(f, s, step, channel->dark.value, channel, &channel->noise);
    if (end.how != WW_FITTED) {
        channel->dmax = within(wedge_end, channel->point[0].doubt, WW_MEASURED);
        return;
    }
    if (!dark_known && constant > 0.0) {
        ww_scanner_noise other;
        const ww_quantity all_dark = end_with(f, s, step, constant, channel, &other);
        end.low = fmin(end.low, all_dark.low);
        end.high = fmax(end.high, fmin(all_dark.high, wedge_end + channel->point[0].doubt));
    }
    channel->dmax = end;
}

static ww_status fill_channel(fit *f, size_t s, const ww_measured *measured,
                              const ww_measured *dark, ww_scanner *scanner, ww_error *err) {
    const ww__scanner_strip *strip = &f->settled.strips.strip[s];
    ww_scanner_channel *channel = &scanner->channel[strip->channel];
    const ww_surround *beside = &measured->surround[strip->channel];
    channel->present = true;
    f->story.scatter[strip->channel] = f->settled.scatter[s];
    channel->surround = (ww_optional){beside->seen, beside->seen ? beside->code : 0.0};
    channel->clips = measured->clips[strip->channel];
    const ww_lamp *lamp = &measured->lamp[strip->channel];
    ww_status status = fill_points(
        f, s, scanner, hypot(lamp->along, lamp->across) * f->settled.model.gamma / sqrt(12.0),
        channel, err);
    if (status == WW_OK)
        status = fill_steps(f, s, measured->white, channel, err);
    if (status != WW_OK)
        return status;
    ww_quantity d;
    if (dark)
        d = dark_of(f, strip->channel, dark);
    split_constant(&f->settled.model, s, dark ? &d : NULL, channel);
    find_end(f, s, strip->step, dark != NULL, channel);
    scanner->step = fmax(scanner->step, strip->step * measured->white);
    return WW_OK;
}

static ww_status fill_scanner(fit *f, const ww_measured *measured, const ww_readings *wedge,
                              const ww_measured *dark, ww_scanner *scanner, ww_error *err) {
    ww_status status = WW_OK;
    if (dark)
        f->story.dark = dark_fits(f, dark) ? WW__SCANNER_DARK_TAKEN : WW__SCANNER_DARK_LIGHT;
    const ww_measured *taken = f->story.dark == WW__SCANNER_DARK_TAKEN ? dark : NULL;
    if (measured->file)
        status = ww__readings_text_copy(measured->file, &scanner->name, err);
    if (status == WW_OK && measured->profile)
        status = ww__readings_text_copy(measured->profile, &scanner->profile, err);
    scanner->bits = measured->bits;
    scanner->white = measured->white;
    scanner->encoding = f->settled.model.encoding;
    scanner->gamma = (ww_quantity){f->settled.model.gamma, f->settled.model.gamma_low,
                                   f->settled.model.gamma_high,
                                   scanner->encoding == WW_ENCODING_SRGB ? WW_GIVEN : WW_FITTED};
    scanner->wedge = wedge->meta.wedge;
    scanner->wedge_sd = wedge->meta.wedge_sd;
    scanner->density = wedge->meta.density;
    scanner->dark_scan = taken != NULL;
    for (size_t s = 0; s < f->settled.strips.n && status == WW_OK; s++)
        status = fill_channel(f, s, measured, taken, scanner, err);
    f->story.strips = &f->settled.strips;
    f->story.model = &f->settled.model;
    if (status == WW_OK)
        status = ww__scanner_notes_add(&f->story, wedge, scanner, err);
    return status == WW_OK ? ww_notes_copy(&measured->notes, &scanner->notes, err) : status;
}

static ww_status check_dark(const ww_measured *measured, const ww_measured *dark, ww_error *err) {
    if (!dark)
        return WW_OK;
    if (dark->n == 0)
        return ww_error_set_at(err, WW_ENODATA, dark->file, 0,
                               "the dark scan has no spot that was read; give one inside it");
    if (dark->bits != measured->bits || dark->white != measured->white)
        return ww_error_set_at(err, WW_EMISMATCH, dark->file, 0,
                               "the dark scan has %u bits where the wedge's has %u; scan both with "
                               "the same settings",
                               dark->bits, measured->bits);
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        if (measured->has[c] && !dark->has[c])
            return ww_error_set_at(err, WW_EMISMATCH, dark->file, 0,
                                   "the dark scan has no channel %s; scan both with the same "
                                   "settings",
                                   ww_channel_name((ww_channel)c));
    return WW_OK;
}

ww_status ww_scanner_fit(const ww_measured *measured, const ww_readings *wedge,
                         const ww_scanner_options *options, ww_scanner *scanner, ww_error *err) {
    assert(measured && wedge && scanner);
    const ww_measured *dark = options ? options->dark : NULL;
    fit f = {.settled = WW__SCANNER_SETTLED_INIT};
    ww_scanner made = WW_SCANNER_INIT;
    ww_status status = check_dark(measured, dark, err);
    if (status == WW_OK)
        status = ww__scanner_steps_match(measured, wedge, &f.settled.strips, err);
    if (status == WW_OK && f.settled.strips.n == 0)
        status = ww_error_set_at(err, WW_ENODATA, measured->file, 0,
                                 "the scan has no channel that was read");
    if (status == WW_OK)
        status = ww__scanner_settle(&f.settled, err);
    if (status == WW_OK)
        status = ww__scanner_slip_find(&f.settled.strips, &f.story.slip, err);
    if (status == WW_OK && !f.story.slip.label)
        status = ww__scanner_wedge_check(&f.settled.model, measured, wedge, err);
    if (status == WW_OK)
        status = fill_scanner(&f, measured, wedge, dark, &made, err);
    if (status == WW_OK)
        status = ww__scanner_wedge_end(&made, measured, wedge, err);
    ww__scanner_settled_release(&f.settled);
    if (status == WW_OK)
        *scanner = made;
    else
        ww_scanner_release(&made);
    return status;
}
