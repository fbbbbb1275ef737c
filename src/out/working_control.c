/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/control_words.h"
#include "out/working.h"
#include <math.h>
#include <wedgework/control.h>

static void add_deviation(const ww_control_chart *chart, const ww_control_point *point,
                          ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    if (chart->kind != WW_CONTROL_SPREAD) {
        ww__text_add_format(&numbers, "%.3f - %.3f = %.3f D", point->value, chart->aim,
                            point->deviation);
        ww__working_step(report, "off its aim", "strip - (reference + correction)", &numbers,
                         ww__working_definition);
        return;
    }
    ww__text_add_format(&numbers, "%.3f D", point->value);
    ww__working_step(report, "spread", "greatest - least deviation of red, green and blue",
                     &numbers, ww__working_practice);
}

static void add_history(const ww_control_chart *chart, size_t strips, ww__report *report) {
    const ww_control_individuals *history = &chart->history;
    ww__text numbers = WW__TEXT_INIT;
    ww__text_add_format(&numbers, "mean of %zu strips %.4f D, of their %zu moving ranges %.4f D",
                        strips, history->centre, strips - 1, history->mean_range);
    ww__working_step(report, "what the process did", "moving range = |strip - the one before|",
                     &numbers, "NIST/SEMATECH e-Handbook 6.3.2.2");
    if (history->least)
        ww__text_add_format(&numbers, "less than can be read: taken as %.4f D", history->sigma);
    else
        ww__text_add_format(&numbers, "%.4f / 1.128 = %.4f D", history->mean_range, history->sigma);
    ww__working_step(report, "sigma", "mean moving range / 1.128, and no less than 0.003 D",
                     &numbers, "NIST/SEMATECH e-Handbook 6.3.2.2; the least: common practice");
    ww__text_add_format(&numbers, "%.4f - 3 x %.4f = %.4f D, %.4f + 3 x %.4f = %.4f D",
                        history->centre, history->sigma, history->lower, history->centre,
                        history->sigma, history->upper);
    ww__working_step(report, "limits of history", "mean -+ 3 sigma", &numbers,
                     "NIST/SEMATECH e-Handbook 6.3.2.2");
}

static void add_limit(double aim, ww_optional limit, ww__text *numbers) {
    if (limit.set)
        ww__text_add_format(numbers, "%s%.3f %c %.3f = %.3f D", numbers->n > 0 ? ", " : "", aim,
                            limit.value < 0.0 ? '-' : '+', fabs(limit.value), aim + limit.value);
}

static void add_user(const ww_control_chart *chart, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    add_limit(chart->aim, chart->below, &numbers);
    add_limit(chart->aim, chart->above, &numbers);
    ww__working_step(report, "your limits", "aim + limit, and they come before history's", &numbers,
                     "limits as given");
}

void ww__working_control(const ww_control *control, ww__report *report) {
    const ww_control_series *worst = ww_control_worst(control);
    size_t at = 0;
    const ww_control_lot *lot = worst ? ww_control_focus(worst, &at) : NULL;
    const ww_control_chart *chart = lot ? ww__words_control_first(lot, at) : NULL;
    ww__text numbers = WW__TEXT_INIT;
    if (!chart)
        return;
    ww__working_begin(report);
    ww__text_add_format(&numbers, "%s%s%s, the others go the same way", chart->measure,
                        chart->channel < WW_CHANNEL_COUNT ? " in " : "",
                        chart->channel < WW_CHANNEL_COUNT ? ww_channel_name(chart->channel) : "");
    ww__working_step(report, "what is worked here", "one measure in one channel", &numbers,
                     ww__working_definition);
    add_deviation(chart, &chart->point[at], report);
    if (chart->has_history)
        add_history(chart, lot->found, report);
    if (chart->below.set || chart->above.set)
        add_user(chart, report);
}
