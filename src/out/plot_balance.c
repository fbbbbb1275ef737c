/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/balance_words.h"
#include "out/plot_script.h"
#include <math.h>

enum { COLOURS = WW_BALANCE_COLOURS };

/* Layout [px]: one panel, the greys' numbers beside it, the legend below, and their names there. */
static const double left = 84, right = 40, top = 62, wide = 660, high = 460, axis = 64, legend = 84;
static const double line_high = 20, number_high = 18, names_gap = 16;

enum {
    GREYS_MOST = 8, /* of a plan */
    NAME_MOST = 60  /* letters of a name that fit in its line, wide ones too */
};

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

static void add_mark(ww__text *script, const ww_curve *paper, int colour, double density) {
    double log_h;
    if (ww_curve_log_h(&paper->channel[colour], density, &log_h, NULL) == WW_OK)
        ww__plot_row(script, 3, (double[]){(double)colour, log_h, density});
}

/* At most so many letters of a name, which may take several bytes each. */
static void add_name(const char *name, size_t grey, ww__text *script) {
    ww__text shown = WW__TEXT_INIT;
    size_t letters = 0, bytes = 0;
    for (; name[bytes] && letters < NAME_MOST;
         letters += ((unsigned char)name[bytes] & 0xc0) != 0x80)
        bytes++;
    ww__text_add_format(&shown, "%zu  %.*s%s", grey, (int)bytes, name, name[bytes] ? "..." : "");
    ww__plot_set_item(script, "grey", grey, ww__text_string(&shown));
    script->failed |= shown.failed;
    ww__text_release(&shown);
}
/* Heights of the greys' numbers beside the panel: each where its green mark is, but none on
 * another. `gap` is what they need, `to` the top. */
static void spread(const ww_balance *balance, double gap, double to, double height[]) {
    size_t order[GREYS_MOST];
    const size_t n = balance->n_tones;
    for (size_t i = 0; i < n; i++) {
        size_t at = i;
        height[i] = balance->tone[i].print[WW_GREEN];
        for (; at > 0 && height[order[at - 1]] > height[i]; at--)
            order[at] = order[at - 1];
        order[at] = i;
    }
    for (size_t i = 1; i < n; i++)
        height[order[i]] = fmax(height[order[i]], height[order[i - 1]] + gap);
    for (size_t i = n; i-- > 0; to = height[order[i]] - gap)
        height[order[i]] = fmin(height[order[i]], to);
}

/* A line along the marks of each grey to its number, a block a grey: log H, density, number at the
 * last point, else 0. */
static void add_threads(const ww_balance *balance, const ww_curve *paper, double x_to,
                        const double height[], ww__text *script) {
    ww__text_add(script, "$thread << END_OF_TABLE\n");
    for (size_t i = 0; i < balance->n_tones && balance->n_tones > 1; i++) {
        static const int by_height[] = {WW_BLUE, WW_GREEN, WW_RED}; /* as curves lie, mostly */
        for (int k = 0; k < COLOURS; k++) {
            const double density = balance->tone[i].print[by_height[k]];
            double log_h;
            if (ww_curve_log_h(&paper->channel[by_height[k]], density, &log_h, NULL) == WW_OK)
                ww__plot_row(script, 3, (double[]){log_h, density, 0.0});
        }
        ww__plot_row(script, 3, (double[]){x_to, height[i], (double)(i + 1)});
        ww__text_add(script, "\n");
    }
    ww__text_add(script, "END_OF_TABLE\n");
}

/* Channel, log H, density. */
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
                                 : tone->predicted[c]);
        }
    ww__text_add(script, "END_OF_TABLE\n");
}

ww_status ww__plot_balance_data(const ww_balance *balance, const ww_curve *paper, ww__text *script,
                                ww__plot_size *size, ww_error *err) {
    const size_t names = balance->n_tones > 1 ? balance->n_tones : 0; /* a single one needs none */
    const double below = legend + (names > 0 ? names_gap : 0.0) + line_high * (double)names;
    const ww__plot_panel main = {left, left + wide, below + axis, below + axis + high};
    double height[GREYS_MOST], x_from, x_to, y_to, y_from;
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
    ww__plot_set_number(script, "legend_top", (below - 6.0) / size->height);
    ww__plot_set_number(script, "names_top", (line_high * ((double)names + 0.5)) / size->height);
    ww__plot_set_number(script, "line_high", line_high / size->height);
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
    ww__text_add_format(script, "names = %zu\narray grey[%zu]\n", names, names + 1);
    for (size_t i = 0; i < names; i++)
        add_name(balance->tone[i].tone, i + 1, script);
    spread(balance, number_high * (y_to - y_from) / high, y_to, height);
    add_threads(balance, paper, x_to, height, script);
    add_marks(balance, paper, "print", 0, script);
    add_marks(balance, paper, "aim", 1, script);
    add_marks(balance, paper, "next", 2, script);
    ww__text_add_format(script, "has_next = %d\n",
                        balance->tone[balance->solved_for].foretold ? 1 : 0);
    return ww__text_status(script, err);
}
