/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "core/readings.h"
#include "plan/compare_parts.h"
#include "plan/print_parts.h"
#include <math.h>

static const double every = 0.10; /* [log H] a third of a stop */

static double error_of(ww_quantity figure) {
    return fmax((figure.high - figure.low) / (2.0 * WW__COMPARE_95), 0.0);
}

/* Log H that curves are laid over each other at. */
static bool anchor_of(const ww_channel_curve *channel, double *log_h) {
    const ww_quantity speed = channel->figure[WW_FIGURE_SPEED_POINT];
    double light, dark;
    if (ww_quantity_present(speed)) {
        *log_h = speed.value;
        return true;
    }
    return ww_curve_density(channel, channel->domain_low, &light, NULL, NULL) == WW_OK &&
           ww_curve_density(channel, channel->domain_high, &dark, NULL, NULL) == WW_OK &&
           ww_curve_log_h(channel, light + (dark - light) / 2.0, log_h, NULL) == WW_OK;
}

/* The steps' dense end stands in for a black that was not reached. */
static ww_status take_black(const ww_channel_curve *channel, ww_compare_print *print,
                            ww_notes *notes, ww_error *err) {
    const double end = channel->shape.falling ? channel->domain_low : channel->domain_high;
    char shown[200];
    double density, sd = 0.0;
    print->black = channel->figure[WW_FIGURE_DMAX];
    if (ww_quantity_present(print->black) ||
        ww_curve_density(channel, end, &density, NULL, NULL) != WW_OK)
        return WW_OK;
    (void)ww_curve_density_sd(channel, end, &sd, NULL);
    print->black = (ww_quantity){density, density - WW__COMPARE_95 * sd,
                                 density + WW__COMPARE_95 * sd, WW_FITTED};
    return ww_notes_add(
        notes, err,
        "The curve of '%s' still rises at its last step, which stands for black: the "
        "material may print darker.",
        ww__escape_message(print->name, shown, sizeof shown));
}

static void take_tone(const ww_curve *curve, const double anchor[], double control,
                      ww_compare_print *print, ww_compare_tone *tone) {
    tone->neutral = true;
    tone->sent = (ww_optional){true, control};
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *channel = &curve->channel[c];
        double density, sd = 0.0;
        if (!print->has[c] ||
            ww_curve_density(channel, anchor[c] + control, &density, NULL, NULL) != WW_OK)
            continue;
        if (ww_curve_density_sd(channel, anchor[c] + control, &sd, NULL) != WW_OK)
            sd = channel->residual_sd;
        tone->density[c] = (ww_optional){true, density};
        tone->error[c] = fmax(sd, WW_ROUNDING_SD);
    }
}

static char *label_of(double control, char label[], size_t size) {
    return ww__print_format(label, size, fabs(control) < every / 2.0 ? "0.0" : "%+.1f", control);
}

static ww_status take_tones(const ww_curve *curve, const double anchor[], ww_compare_print *print,
                            ww_error *err) {
    const ww_channel_curve *main = &curve->channel[print->main];
    const long first = lround(ceil((main->domain_low - anchor[print->main]) / every - 1e-9));
    const long last = lround(floor((main->domain_high - anchor[print->main]) / every + 1e-9));
    const size_t n = last >= first ? (size_t)(last - first + 1) : 0;
    ww_status status = ww__compare_reserve(print, n, err);
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        ww_compare_tone *tone = &print->tone[print->n];
        const double control = every * (double)(first + (long)i);
        char label[32];
        take_tone(curve, anchor, control, print, tone);
        status = ww__readings_text_copy(label_of(control, label, sizeof label), &tone->label, err);
        if (status == WW_OK)
            print->n++;
    }
    return status;
}

static ww_status find_main(const ww_curve *curve, const char *file, double anchor[],
                           ww_compare_print *print, ww_error *err) {
    bool any = false;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *channel = &curve->channel[c];
        const ww_quantity base = channel->figure[WW_FIGURE_BASE_FOG];
        if (!channel->present || !channel->fitted || !anchor_of(channel, &anchor[c]))
            continue;
        if (!any || c == WW_VISUAL || (c == WW_GREEN && print->main != WW_VISUAL))
            print->main = (ww_channel)c;
        any = print->has[c] = true;
        if (ww_quantity_present(base)) {
            print->white_of[c] = (ww_optional){true, base.value};
            print->white_error[c] = error_of(base);
        }
    }
    return any ? WW_OK
               : ww_error_set_at(err, WW_ENODATA, file, 0,
                                 "this curve has no fitted channel, so that nothing can be laid "
                                 "over it; read more steps and `fit` them");
}

ww_status ww__compare_curve(const ww_compare_input *input, ww_compare_print *print, ww_notes *notes,
                            ww_error *err) {
    const ww_curve *curve = input->curve;
    double anchor[WW_CHANNEL_COUNT] = {0.0};
    ww_status status = ww__compare_name(curve->meta.name, input->file, print, err);
    print->curve = true;
    print->control = WW_COMPARE_LOG_H;
    print->status = curve->meta.status;
    print->density = curve->meta.density;
    print->above_white =
        curve->meta.relative == WW_RELATIVE_WHITE || curve->meta.relative == WW_RELATIVE_BASE;
    if (status == WW_OK)
        status = find_main(curve, input->file, anchor, print, err);
    if (status != WW_OK)
        return status;
    print->white = curve->channel[print->main].figure[WW_FIGURE_BASE_FOG];
    print->gradient = curve->channel[print->main].figure[WW_FIGURE_AVERAGE_GRADIENT];
    status = take_black(&curve->channel[print->main], print, notes, err);
    return status == WW_OK ? take_tones(curve, anchor, print, err) : status;
}
