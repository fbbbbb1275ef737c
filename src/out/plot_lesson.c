/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "out/scan_words.h"
#include <math.h>
#include <wedgework/lesson_class.h>

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

/* --- a class ---------------------------------------------------------------------------------- */

static bool departs(const ww_lesson_member *member) {
    bool any = false;
    for (int f = 0; f < WW_LESSON_FIGURES; f++)
        any |= member->departs[f];
    return any;
}

static void add_member(ww__text *script, size_t i, const ww_lesson_member *member) {
    for (size_t k = 0; k < member->n; k++)
        ww__plot_row(script, 3, (double[]){(double)i, member->log_h[k], member->density[k]});
    ww__text_add(script, "\n"); /* no line from one student to the next */
}

/* Those that depart have their names in the key; the others are one grey. */
ww_status ww__plot_lesson_class_data(const ww_lesson_class *made, ww__text *script,
                                     ww__plot_size *size, ww_error *err) {
    double low = HUGE_VAL, high = -HUGE_VAL, most = 0.0;
    size_t n = 0;
    for (size_t i = 0; i < made->n; i++) {
        const ww_lesson_member *member = &made->member[i];
        low = fmin(low, member->log_h[0]);
        high = fmax(high, member->log_h[member->n - 1]);
        for (size_t k = 0; k < member->n; k++)
            most = fmax(most, member->density[k]);
    }
    set_axes(low, high, most, ww__plot_log_h_label(made->exposure_unit), script, size);
    ww__text_add(script, "$class << END_OF_TABLE\n");
    for (size_t i = 0; i < made->n; i++)
        if (!departs(&made->member[i]))
            add_member(script, 0, &made->member[i]);
    ww__text_add(script, "END_OF_TABLE\n$departs << END_OF_TABLE\n");
    for (size_t i = 0; i < made->n; i++)
        if (departs(&made->member[i]))
            add_member(script, ++n, &made->member[i]);
    ww__text_add_format(script, "END_OF_TABLE\nn_class = %zu\nn_departs = %zu\narray name[%zu]\n",
                        made->n - n, n, n + 1);
    n = 0;
    for (size_t i = 0; i < made->n; i++) {
        ww__text name = WW__TEXT_INIT;
        if (!departs(&made->member[i]))
            continue;
        ww__words_file(&name, made->member[i].file, "a file");
        ww__plot_set_item(script, "name", ++n, ww__text_string(&name));
        script->failed |= name.failed;
        ww__text_release(&name);
    }
    return ww__text_status(script, err);
}
