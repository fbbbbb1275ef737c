/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/balance_words.h"
#include "out/plot_script.h"
#include <math.h>

enum { COLOURS = WW_BALANCE_COLOURS };

/* Layout [px]: one panel, the legend below it. */
static const double left = 84, right = 24, top = 62, wide = 660, high = 460, axis = 64, legend = 84;

/* The three curves where they were measured. */
static void find_limits(const ww_curve *paper, double *x_from, double *x_to, double *y_to) {
    *x_from = HUGE_VAL, *x_to = -HUGE_VAL, *y_to = 0.0;
    for (int c = 0; c < COLOURS; c++) {
        const ww_channel_curve *curve = &paper->channel[c];
        double a = 0.0, b = 0.0;
        (void)ww_curve_density(curve, curve->domain_low, &a, NULL, NULL);
        (void)ww_curve_density(curve, curve->domain_high, &b, NULL, NULL);
        *x_from = fmin(*x_from, curve->domain_low);
        *x_to = fmax(*x_to, curve->domain_high);
        *y_to = fmax(*y_to, fmax(a, b));
    }
}

static void add_mark(ww__text *script, const ww_curve *paper, int colour, double density,
                     size_t grey) {
    double log_h;
    if (ww_curve_log_h(&paper->channel[colour], density, &log_h, NULL) == WW_OK)
        ww__plot_row(script, 4, (double[]){(double)colour, log_h, density, (double)(grey + 1)});
}

/* Names of several greys, for their marks; a single one needs none. */
static void add_names(const ww_balance *balance, ww__text *script) {
    ww__text_add_format(script, "array grey[%zu]\n", balance->n_tones);
    for (size_t i = 0; i < balance->n_tones; i++)
        ww__plot_set_item(script, "grey", i + 1, balance->n_tones > 1 ? balance->tone[i].tone : "");
}

/* Channel, log H, density, number of the grey. */
static void add_marks(const ww_balance *balance, const ww_curve *paper, const char *name, int kind,
                      ww__text *script) {
    ww__text_add_format(script, "$%s << END_OF_TABLE\n", name);
    for (size_t i = 0; i < balance->n_tones; i++)
        for (int c = 0; c < COLOURS; c++) {
            const ww_balance_tone *tone = &balance->tone[i];
            if (kind == 2 && !tone->foretold)
                continue;
            add_mark(script, paper, c,
                     kind == 0   ? tone->print[c]
                     : kind == 1 ? tone->aim[c]
                                 : tone->predicted[c],
                     i);
        }
    ww__text_add(script, "END_OF_TABLE\n");
}

ww_status ww__plot_balance_data(const ww_balance *balance, const ww_curve *paper, ww__text *script,
                                ww__plot_size *size, ww_error *err) {
    const ww__plot_panel main = {left, left + wide, legend + axis, legend + axis + high};
    double x_from, x_to, y_to, y_from;
    ww__text title = WW__TEXT_INIT;
    if (balance->kind != WW_BALANCE_PRINT || !paper)
        return ww_error_set(err, WW_ENODATA,
                            "no plot: only of a print that was read does the paper's curve have "
                            "something to show; the text and --report tell all of this plan");
    *size = (ww__plot_size){left + wide + right, main.top + top};
    find_limits(paper, &x_from, &x_to, &y_to);
    ww__plot_limits(x_from, x_to, &x_from, &x_to);
    ww__plot_limits(0.0, y_to, &y_from, &y_to);
    ww__text_add(&title, "Print ");
    ww__words_cast(&title, balance);
    ww__text_add(&title, "; next ");
    ww__words_filter_setting(&title, &balance->settable, balance->timer_step_s);
    ww__plot_set_panel(script, "main", main, *size);
    ww__plot_set_number(script, "legend_top", (legend - 6.0) / size->height);
    ww__plot_set_number(script, "x_from", x_from);
    ww__plot_set_number(script, "x_to", x_to);
    ww__plot_set_number(script, "y_from", y_from);
    ww__plot_set_number(script, "y_to", y_to);
    ww__plot_set_text(script, "title_text", ww__text_string(&title));
    ww__plot_set_text(script, "x_label", ww__plot_log_h_label(paper->meta.exposure_unit));
    script->failed |= title.failed;
    ww__text_release(&title);
    ww__text_add(script, "$curve << END_OF_TABLE\n");
    for (int c = 0; c < COLOURS; c++)
        ww__plot_curve_rows(script, (double)c, &paper->channel[c]);
    ww__text_add(script, "END_OF_TABLE\n");
    add_names(balance, script);
    add_marks(balance, paper, "print", 0, script);
    add_marks(balance, paper, "aim", 1, script);
    add_marks(balance, paper, "next", 2, script);
    ww__text_add_format(script, "has_next = %d\n",
                        balance->tone[balance->solved_for].foretold ? 1 : 0);
    return ww__text_status(script, err);
}
