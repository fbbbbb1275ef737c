/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/working.h"
#include <math.h>

/* The channel whose figures are put in: one shows how, for all. */
static const ww_channel_curve *find_channel(const ww_curve *curve) {
    static const ww_channel order[] = {WW_VISUAL, WW_GREEN, WW_RED, WW_BLUE};
    for (size_t i = 0; i < sizeof order / sizeof *order; i++)
        if (curve->channel[order[i]].fitted)
            return &curve->channel[order[i]];
    return NULL;
}

static void add_exposures(const ww_curve *curve, ww__report *report) {
    static const char *const formula[] = {[WW_EXPOSURE_NONE] = "as the readings give it",
                                          [WW_EXPOSURE_WEDGE] =
                                              "log H = log h0 - density of the wedge step",
                                          [WW_EXPOSURE_LOG_H] = "as the readings give it",
                                          [WW_EXPOSURE_STOP] = "log H = log h0 + stops x log10 2",
                                          [WW_EXPOSURE_TIME] = "log H = log h0 + log10 seconds"};
    const ww_meta *meta = &curve->meta;
    const bool counts = curve->exposure != WW_EXPOSURE_NONE && curve->exposure != WW_EXPOSURE_LOG_H;
    ww__text numbers = WW__TEXT_INIT;
    if (counts && meta->log_h0.set)
        ww__text_add_format(&numbers, "log h0 = %.3f", meta->log_h0.value);
    else if (curve->exposure == WW_EXPOSURE_WEDGE && meta->exposure_time_s.set)
        ww__text_add_format(&numbers, "log h0 = log10 %.3g s = %.3f", meta->exposure_time_s.value,
                            log10(meta->exposure_time_s.value));
    else if (counts)
        ww__text_add(&numbers, "log h0 = 0, as none is given");
    ww__working_step(report, "log exposure of a step", formula[curve->exposure], &numbers,
                     ww__working_definition);
}

static void add_model(const ww_channel_curve *channel, ww__report *report) {
    static const char *const formula[] = {
        [WW_MODEL_LOGISTIC] = "D = base_fog + range / (1 + e^(-slope (x - middle)))^asymmetry",
        [WW_MODEL_TOE_LINE_SHOULDER] =
            ("u = a ln(1 + e^((x - x_t) / a)); "
             "D = base_fog + gamma [b ln(1 + e^(-L/b)) - b ln(e^(-u/b) + e^(-L/b))]"),
        [WW_MODEL_TOE_LINE] = "u = a ln(1 + e^((x - x_t) / a)); D = base_fog + gamma u",
        [WW_MODEL_SPLINE] = "D = base_fog + sum of rise_j I_j(x), every rise > 0"};
    const ww_shape *shape = &channel->shape;
    ww__text numbers = WW__TEXT_INIT;
    for (size_t i = 0; i < shape->n; i++) {
        char name[32];
        ww__text_add_format(&numbers, "%s%s = %.4g", i > 0 ? ", " : "",
                            ww_model_parameter_name(shape, i, name), shape->parameter[i]);
    }
    ww__text_add_format(&numbers, "; x = %slog H, from %.2f to %.2f", shape->falling ? "-" : "",
                        channel->domain_low, channel->domain_high);
    ww__working_step(report, "the curve, by weighted least squares", formula[shape->model],
                     &numbers,
                     "textbook (logistic, softplus; integrated splines: Ramsay, Statistical "
                     "Science 3, 1988)");
}

/* (D2 - D1) / (x2 - x1), the densities by the curve itself. */
static void add_slope(const ww_channel_curve *channel, double from, double to, double value,
                      ww__text *numbers) {
    ww__text_add_format(numbers, "(%.3f - %.3f) / (%.3f - %.3f) = %.3f",
                        ww_model_density(&channel->shape, to, NULL),
                        ww_model_density(&channel->shape, from, NULL), to, from, value);
}

static void add_gradients(const ww_channel_curve *channel, ww__report *report) {
    const ww_figure_set *by = &channel->construction;
    const ww_quantity *figure = channel->figure;
    ww__text numbers = WW__TEXT_INIT;
    if (ww_quantity_present(figure[WW_FIGURE_GAMMA])) {
        add_slope(channel, by->run_from, by->run_to, figure[WW_FIGURE_GAMMA].value, &numbers);
        ww__working_step(report, "gamma",
                         "(D2 - D1) / (log H2 - log H1), the ends of the run whose slope is within "
                         "5 % of the steepest",
                         &numbers, ww__working_definition);
    }
    if (ww_quantity_present(figure[WW_FIGURE_AVERAGE_GRADIENT])) {
        add_slope(channel, by->gradient_from, by->gradient_to,
                  figure[WW_FIGURE_AVERAGE_GRADIENT].value, &numbers);
        ww__working_step(report, "average gradient",
                         "(D2 - D1) / (log H2 - log H1) between the end-points named with it",
                         &numbers, ww__working_definition);
    }
    if (ww_quantity_present(figure[WW_FIGURE_CONTRAST_INDEX])) {
        add_slope(channel, by->index_from, by->index_to, figure[WW_FIGURE_CONTRAST_INDEX].value,
                  &numbers);
        ww__working_step(report, "contrast index",
                         "the same, where arcs of 0.2 and 2.2 about a point on the base+fog line "
                         "meet the curve",
                         &numbers, "three-point rule of its maker, by secondary texts");
    }
    if (ww_quantity_present(figure[WW_FIGURE_ISO_RANGE])) {
        ww__text_add_format(&numbers, "100 x (%.3f - %.3f) = %.1f", by->iso_to, by->iso_from,
                            figure[WW_FIGURE_ISO_RANGE].value);
        ww__working_step(report, "ISO range R",
                         "100 x (log H at 90 % of net D-max - log H at net 0.04)", &numbers,
                         "ISO 6846:1992, by secondary texts");
    }
}

static void add_speed(const ww_curve *curve, const ww_channel_curve *channel, ww__report *report) {
    const ww_quantity point = channel->figure[WW_FIGURE_SPEED_POINT];
    const ww_speed *speed = &curve->speed;
    ww__text numbers = WW__TEXT_INIT;
    if (speed->standard == WW_SPEED_NONE)
        return;
    if (speed->standard == WW_SPEED_ISO_6 || speed->standard == WW_SPEED_EXPOSURE_INDEX) {
        ww__text_add_format(&numbers, "0.8 / 10^%.3f = %.1f", point.value, speed->exact.value);
        if (speed->density_difference.set)
            ww__text_add_format(&numbers,
                                "; over 1.30 log H from there %.2f D are won (0.80 +- 0.05 "
                                "is the standard's condition)",
                                speed->density_difference.value);
        ww__working_step(report, "speed", "S = 0.8 / Hm, Hm in lux seconds at net 0.10", &numbers,
                         "ISO 6:1993, by secondary texts");
        return;
    }
    ww__text_add_format(&numbers, "S = %.1f", speed->exact.value);
    if (speed->standard == WW_SPEED_ISO_5800)
        ww__working_step(
            report, "speed",
            "S = sqrt 2 / Hm, Hm the geometric mean of the exposures at net 0.15 of the "
            "green and of the least sensitive layer",
            &numbers, "ISO 5800:1987, from memory");
    else
        ww__working_step(
            report, "speed",
            "S = 10 / Hm, Hm the geometric mean of the exposures at 0.20 and 2.00 over "
            "D-min, or where a line from the first touches the shoulder",
            &numbers, "ISO 2240:2003, from memory");
}

void ww__working_curve(const ww_curve *curve, ww__report *report) {
    const ww_channel_curve *channel = find_channel(curve);
    ww__text numbers = WW__TEXT_INIT;
    ww__working_begin(report);
    add_exposures(curve, report);
    if (!channel)
        return;
    add_model(channel, report);
    add_gradients(channel, report);
    add_speed(curve, channel, report);
    ww__text_add_format(&numbers, "the readings leave %.3f D (1 sd)", channel->residual_sd);
    ww__working_step(report, "intervals",
                     "95 % of the figures of resampled readings, each drawn anew about the curve",
                     &numbers, "bootstrap of residuals (textbook)");
}
