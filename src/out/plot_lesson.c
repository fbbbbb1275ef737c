/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include <math.h>
#include <wedgework/lesson.h>

/* Layout [px]: equal units on both axes, on the 0.30 grid. */
static const double left = 84, right = 24, top = 40, axis = 64, unit = 190;

static void set_axes(double x_low, double x_high, double y_high, const char *x_label,
                     ww__text *script, ww__plot_size *size) {
    double x_from, x_to, y_from, y_to;
    ww__plot_limits(x_low, x_high, &x_from, &x_to);
    ww__plot_limits(0.0, y_high, &y_from, &y_to);
    const double wide = unit * (x_to - x_from), high = unit * (y_to - y_from);
    *size = (ww__plot_size){left + wide + right, axis + high + top};
    ww__plot_set_panel(script, "main", (ww__plot_panel){left, left + wide, axis, axis + high},
                       *size);
    ww__plot_set_number(script, "x_from", x_from);
    ww__plot_set_number(script, "x_to", x_to);
    ww__plot_set_number(script, "y_from", y_from);
    ww__plot_set_number(script, "y_to", y_to);
    ww__plot_set_text(script, "x_label", x_label);
}

/* The readings as they are handed out: what a student's own graph should show. */
ww_status ww__plot_lesson_data(const ww_lesson *lesson, ww__text *script, ww__plot_size *size,
                               ww_error *err) {
    const ww_lesson_strip *strip = &lesson->strip;
    double most = 0.0;
    for (size_t i = 0; i < lesson->n; i++)
        most = fmax(most, lesson->given[i].density);
    set_axes(strip->row[WW_LESSON_STEPS].log_h, strip->row[1].log_h, most,
             ww__plot_log_h_label(strip->paper ? WW_UNIT_SECOND : WW_UNIT_LUX_SECOND), script,
             size);
    ww__plot_set_number(script, "base", lesson->given[0].density);
    ww__text_add(script, "$readings << END_OF_TABLE\n");
    for (size_t i = 1; i < lesson->n; i++)
        ww__plot_row(
            script, 3,
            (double[]){0.0, strip->log_h0 - lesson->given[i].wedge, lesson->given[i].density});
    ww__text_add(script, "END_OF_TABLE\n");
    return ww__text_status(script, err);
}
