/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "base/escape.h"
#include <math.h>

/* Enough for a smooth line at any size a plot is printed at. */
enum { CURVE_POINTS = 241 };

static const double grid = 0.30; /* one stop [log H], one halving of light [D] */

void ww__plot_set_number(ww__text *script, const char *name, double value) {
    ww__text_add_format(script, "%s = ", name);
    ww__text_add_number(script, value, 9);
    ww__text_add(script, "\n");
}

void ww__plot_set_text(ww__text *script, const char *name, const char *string) {
    ww__text_add_format(script, "%s = ", name);
    ww__escape_gnuplot(script, string);
    ww__text_add(script, "\n");
}

void ww__plot_set_item(ww__text *script, const char *name, size_t i, const char *string) {
    ww__text_add_format(script, "%s[%zu] = ", name, i);
    ww__escape_gnuplot(script, string);
    ww__text_add(script, "\n");
}

static void set_edge(ww__text *script, const char *panel, const char *edge, double fraction) {
    ww__text_add_format(script, "%s_%s = ", panel, edge);
    ww__text_add_number(script, fraction, 9);
    ww__text_add(script, "\n");
}

void ww__plot_set_panel(ww__text *script, const char *name, ww__plot_panel panel,
                        ww__plot_size size) {
    set_edge(script, name, "left", panel.left / size.width);
    set_edge(script, name, "right", panel.right / size.width);
    set_edge(script, name, "bottom", panel.bottom / size.height);
    set_edge(script, name, "top", panel.top / size.height);
}

void ww__plot_row(ww__text *script, size_t n, const double value[]) {
    for (size_t i = 0; i < n; i++) {
        if (i > 0)
            ww__text_add(script, " ");
        ww__text_add_number(script, value[i], 9);
    }
    ww__text_add(script, "\n");
}

void ww__plot_limits(double low, double high, double *from, double *to) {
    const double slack = 1e-9; /* a limit that is a whole step but for rounding is one */
    double first = floor(low / grid + slack), last = ceil(high / grid - slack);
    if (last <= first)
        last = first + 1;
    *from = first * grid;
    *to = last * grid;
}

void ww__plot_curve_rows(ww__text *script, double channel, const ww_channel_curve *curve) {
    if (!curve->fitted)
        return;
    for (int i = 0; i < CURVE_POINTS; i++) {
        const double part = (double)i / (CURVE_POINTS - 1);
        const double log_h = curve->domain_low + part * (curve->domain_high - curve->domain_low);
        double slope;
        const double density = ww_model_density(&curve->shape, log_h, &slope);
        ww__plot_row(script, 4, (double[]){channel, log_h, density, slope});
    }
    ww__text_add(script, "\n"); /* a line ends where its channel does */
}

const char *ww__plot_log_h_label(ww_exposure_unit unit) {
    switch (unit) {
    case WW_UNIT_LUX_SECOND:
        return "log H (lux seconds)";
    case WW_UNIT_SECOND:
        return "log H (seconds)";
    case WW_UNIT_UNKNOWN:
    case WW_UNIT_RELATIVE:
        break;
    }
    return "log H (relative)";
}
