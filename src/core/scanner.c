/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/number.h>

static const double exports_least = 1.8, exports_most = 2.4;
static const double nearly = 0.05; /* of a power, by curves that are not quite one */
static const double reach = 0.1;   /* D that a base may be thinner than the thinnest step */

/* sRGB, IEC 61966-2-1 */
static const double foot_light = 0.0031308, foot_slope = 12.92, lift = 1.055, srgb_power = 2.4;

void ww_scanner_release(ww_scanner *scanner) {
    if (!scanner)
        return;
    free(scanner->name);
    free(scanner->profile);
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        ww_scanner_channel *channel = &scanner->channel[c];
        for (size_t i = 0; i < channel->n_steps; i++)
            free(channel->step[i].step);
        free(channel->step);
        free(channel->point);
    }
    ww_notes_release(&scanner->notes);
    *scanner = (ww_scanner)WW_SCANNER_INIT;
}

const char *ww_encoding_name(ww_encoding encoding) {
    static const char *const names[WW_ENCODING_COUNT] = {"power", "sRGB"};
    assert(encoding < WW_ENCODING_COUNT);
    return names[encoding];
}

bool ww__scanner_is_encoded(const ww_scanner *scanner) {
    return scanner->encoding == WW_ENCODING_SRGB || scanner->gamma.value >= WW__SCANNER_ENCODED;
}

double ww__scanner_scale_off(const ww_scanner *scanner, double density) {
    return ww__scanner_is_encoded(scanner) ? 0.0
                                           : fabs(density * (1.0 - 1.0 / scanner->gamma.value));
}

bool ww__scanner_is_strange(const ww_scanner *scanner) {
    const ww_quantity g = scanner->gamma;
    if (scanner->encoding == WW_ENCODING_SRGB || !ww__scanner_is_encoded(scanner))
        return false;
    const double width = fmax(WW__SCANNER_SURELY * (g.high - g.value), nearly * g.value);
    return g.value + width < exports_least || g.value - width > exports_most;
}

double ww__scanner_end(const ww_scanner *scanner, ww_channel channel) {
    const ww_optional clips = scanner->channel[channel].clips;
    return clips.set ? clips.value : scanner->white;
}

bool ww__scanner_ends_black(const ww_scanner *scanner, ww_channel channel) {
    const ww_scanner_channel *c = &scanner->channel[channel];
    for (size_t i = 0; i < c->n_steps && c->n_points > 0; i++)
        if (c->step[i].clipped && c->step[i].density > c->point[0].density)
            return true;
    return false;
}

double ww__scanner_encode(const ww__scanner_light *light, double value, double *slope) {
    double share = 0.0, steep = 0.0;
    if (value > 0.0 && light->encoding == WW_ENCODING_POWER) {
        share = pow(value, 1.0 / light->gamma);
        steep = share / (light->gamma * value);
    } else if (value > foot_light) {
        share = lift * pow(value, 1.0 / srgb_power) - (lift - 1.0);
        steep = (share + lift - 1.0) / (srgb_power * value);
    } else if (value > 0.0) {
        share = foot_slope * value;
        steep = foot_slope;
    }
    if (slope)
        *slope = steep;
    return share;
}

double ww__scanner_decode(const ww__scanner_light *light, double share) {
    if (!(share > 0.0))
        return 0.0;
    if (light->encoding == WW_ENCODING_POWER)
        return pow(share, light->gamma);
    return share > foot_slope * foot_light ? pow((share + lift - 1.0) / lift, srgb_power)
                                           : share / foot_slope;
}

double ww__scanner_share(const ww__scanner_light *light, double density, double *slope) {
    const double open = light->k * pow(10.0, -density);
    double steep;
    const double share = ww__scanner_encode(light, open + light->constant, &steep);
    if (slope)
        *slope = -WW__SCANNER_LN10 * open * steep;
    return share;
}

double ww__scanner_dense(const ww__scanner_light *light, double share, double near) {
    const double open = (ww__scanner_decode(light, share) - light->constant) / light->k;
    if (open > 0.0)
        return -log10(open);
    double slope;
    const double expected = ww__scanner_share(light, near, &slope);
    return slope < 0.0 ? near + (share - expected) / slope : near;
}

ww__scanner_light ww__scanner_light_of(const ww_scanner *scanner, ww_channel channel) {
    const ww_scanner_channel *c = &scanner->channel[channel];
    return (ww__scanner_light){scanner->encoding, scanner->gamma.value, c->k,
                               c->k * c->flare.value + c->dark.value};
}

double ww_scanner_light(const ww_scanner *scanner, double code) {
    assert(scanner && scanner->white > 0.0);
    const ww__scanner_light light = {scanner->encoding, scanner->gamma.value, 1.0, 0.0};
    return ww__scanner_decode(&light, code / scanner->white);
}

double ww_scanner_code(const ww_scanner *scanner, double light) {
    assert(scanner && scanner->white > 0.0);
    const ww__scanner_light curve = {scanner->encoding, scanner->gamma.value, 1.0, 0.0};
    return scanner->white * ww__scanner_encode(&curve, light, NULL);
}

static void set(ww_quantity *density, double value, double doubt, ww_how how) {
    *density = (ww_quantity){value, value - doubt, value + doubt, how};
}

/* The last point whose code is not above `code`; points[0] has the greatest density. */
static size_t below(const ww_scanner_channel *channel, double code) {
    size_t low = 0, high = channel->n_points - 1;
    while (high - low > 1) {
        const size_t middle = low + (high - low) / 2;
        if (channel->point[middle].code <= code)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* Density is nearly a straight line in the logarithm of the code. */
static void between(const ww_scanner_channel *channel, double code, ww_quantity *density) {
    const size_t i = below(channel, code);
    const ww_scanner_point *a = &channel->point[i], *b = &channel->point[i + 1];
    const double part = a->code > 0.0 ? log(code / a->code) / log(b->code / a->code)
                                      : (code - a->code) / (b->code - a->code);
    set(density, a->density + part * (b->density - a->density),
        a->doubt + part * (b->doubt - a->doubt), WW_MEASURED);
}

static ww_status refuse(const ww_scanner *scanner, ww_channel channel, double code, ww_error *err) {
    const ww_scanner_channel *c = &scanner->channel[channel];
    const ww_scanner_point *dense = &c->point[0], *thin = &c->point[c->n_points - 1];
    char given[32], name[32];
    ww_number_format(code, scanner->white > 1.0 ? 0 : 5, given, sizeof given);
    if (code >= ww__scanner_end(scanner, channel))
        return ww_error_set(err, WW_EDOMAIN,
                            "code %s (%s) is the greatest there is: the place is clipped; scan it "
                            "with less exposure",
                            given, ww_channel_name(channel));
    const bool darker = code < dense->code;
    ww_number_format(darker ? dense->density : thin->density, 2, name, sizeof name);
    return ww_error_set(err, WW_EDOMAIN,
                        "code %s (%s) lies beyond the wedge that the scanner was calibrated with, "
                        "which ends at density %s; take a wedge that reaches further",
                        given, ww_channel_name(channel), name);
}

/* D from an end of the wedge to a code beyond it, by the model. */
static double beyond(const ww_scanner *scanner, ww_channel channel, const ww_scanner_point *end,
                     double code) {
    const ww__scanner_light light = ww__scanner_light_of(scanner, channel);
    return fabs(ww__scanner_dense(&light, end->code / scanner->white, end->density) -
                ww__scanner_dense(&light, code / scanner->white, end->density));
}

ww_status ww_scanner_density(const ww_scanner *scanner, ww_channel channel, double code,
                             ww_quantity *density, ww_error *err) {
    assert(scanner && density && channel < WW_CHANNEL_COUNT);
    const ww_scanner_channel *c = &scanner->channel[channel];
    if (!c->present || c->n_points < 2)
        return ww_error_set(err, WW_ENODATA,
                            "the scanner file has no calibration for %s; calibrate with a scan "
                            "that has this channel",
                            ww_channel_name(channel));
    const ww_scanner_point *dense = &c->point[0], *thin = &c->point[c->n_points - 1];
    if (!(code >= 0.0) || code >= scanner->white)
        return refuse(scanner, channel, code, err);
    if (code >= dense->code && code <= thin->code) {
        between(c, code, density);
        return WW_OK;
    }
    const bool darker = code < dense->code;
    const ww_scanner_point *end = darker ? dense : thin;
    const double further = beyond(scanner, channel, end, code);
    const ww_how how = further < end->doubt ? WW_MEASURED : WW_EXTRAPOLATED;
    if (!(further < (darker ? WW__SCANNER_SURELY * dense->doubt : reach)))
        return refuse(scanner, channel, code, err);
    if (darker)
        set(density, dense->density + further, dense->doubt + further, how);
    else
        set(density, thin->density - further, thin->doubt * (1.0 + further / reach), how);
    return WW_OK;
}
