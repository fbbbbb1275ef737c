/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include <math.h>

/* Layout [px]: densities above, the curve beneath, then the name of its axis and a row of the key
 * for each line and channel. */
static const double left = 84, right = 24, name = 88, row = 20, wide = 560, high = 380,
                    low_high = 220, gap = 64, top = 24;

enum { CURVE_POINTS = 200 };

/* Channel, control, aim, print as it is, print then, what to send. */
static void add_rows(const ww_match *match, ww__text *script) {
    ww__text_add(script, "$scale << END_OF_TABLE\n");
    for (size_t k = 0; k < match->n; k++) {
        const ww_match_channel *c = &match->channel[k];
        const double style = match->n == 1 ? WW_VISUAL : (double)k;
        for (int i = 0; i <= CURVE_POINTS; i++) {
            const double drive = (double)i / CURVE_POINTS, send = ww_match_out(c, drive);
            ww__plot_row(script, 6,
                         (double[]){style, ww_ramp_control(match->ramp, drive),
                                    ww_tone_response_at(c->wanted, drive),
                                    ww_tone_response_density(&c->print, drive),
                                    ww_tone_response_density(&c->print, send),
                                    ww_ramp_control(match->ramp, send)});
        }
        ww__text_add(script, "\n");
    }
    ww__text_add(script, "END_OF_TABLE\n");
}

static double densest(const ww_match *match) {
    double most = 0.0;
    for (size_t k = 0; k < match->n; k++) {
        const ww_match_channel *c = &match->channel[k];
        most = fmax(most, fmax(c->wanted[WW_TONE_RESPONSE_POINTS - 1], c->black));
    }
    return most;
}

static void add_words(const ww_match *match, ww__text *script) {
    const bool percent = ww_ramp_unit(match->ramp)[0] != '\0';
    double from, to;
    ww__plot_limits(0.0, densest(match) + 0.02, &from, &to);
    ww__plot_set_number(script, "y_from", from);
    ww__plot_set_number(script, "y_to", to);
    ww__plot_set_number(script, "white_at", ww_ramp_control(match->ramp, 0.0));
    ww__plot_set_number(script, "black_at", ww_ramp_control(match->ramp, 1.0));
    ww__plot_set_number(script, "step", percent ? 20.0 : 0.2);
    ww__plot_set_text(script, "in_text",
                      percent ? "in the picture (%)" : "in the picture (1 is white)");
    ww__plot_set_text(script, "send_text", percent ? "to send (%)" : "to send");
    ww__plot_set_text(script, "number", percent ? "%.0f" : "%.1f");
    ww__plot_set_text(script, "aim_text",
                      match->lightness  ? "aim: equal steps of L*"
                      : match->absolute ? "aim"
                                        : "aim, on this output's white");
    ww__plot_set_number(script, "colours", match->n > 1);
}

ww_status ww__plot_match_data(const ww_match *match, ww__text *script, ww__plot_size *size,
                              ww_error *err) {
    const size_t lines = 3;
    const double bottom = name + row * (double)(lines + (match->n > 1 ? match->n : 0));
    const double upper = bottom + low_high + gap;
    *size = (ww__plot_size){left + wide + right, upper + high + top};
    ww__plot_set_panel(script, "main", (ww__plot_panel){left, left + wide, upper, upper + high},
                       *size);
    ww__plot_set_panel(script, "low",
                       (ww__plot_panel){left, left + wide, bottom, bottom + low_high}, *size);
    add_words(match, script);
    add_rows(match, script);
    return ww__text_status(script, err);
}
