/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/plot_script.h"
#include "out/scan_words.h"
#include <float.h>
#include <math.h>

/* Layout [px]: values over the shares that were left out. */
static const double left = 88, right = 24, bottom = 112, gap = 30, top = 46;
static const double plot_width = 640, main_height = 380, out_height = 90;
static const double letter_width = 7.2, name_gap = 8;

struct picture {
    const ww_measured *measured;
    ww__text *script;
    double y_from, y_to;
    double out_limit; /* % */
};

/* A code has its place on a logarithmic axis: one log unit is one of density where codes are light.
 */
static bool find_value(const struct picture *picture, const ww_patch_channel *channel,
                       double *value, double *doubt) {
    *doubt = picture->measured->calibrated ? ww__scan_trust(&channel->density) : 0.0;
    if (picture->measured->calibrated) {
        *value = channel->density.value;
        return channel->density.state == WW_CELL_VALUE;
    }
    if (!(channel->code > 0.0) || !(picture->measured->white > 0.0))
        return false;
    *value = log10(channel->code / picture->measured->white);
    return true;
}

static bool find_limits(struct picture *picture) {
    const ww_measured *measured = picture->measured;
    double low = DBL_MAX, high = -DBL_MAX, most = 0.0;
    for (size_t i = 0; i < measured->n; i++) {
        most = fmax(most, 100.0 * measured->patch[i].rejected);
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            double value, doubt;
            if (!measured->has[c] ||
                !find_value(picture, &measured->patch[i].channel[c], &value, &doubt))
                continue;
            low = fmin(low, value - doubt);
            high = fmax(high, value + doubt);
        }
    }
    if (low > high)
        return false;
    if (measured->calibrated)
        ww__plot_limits(fmin(low, 0.0), high + 0.06, &picture->y_from, &picture->y_to);
    else
        ww__plot_limits(low - 0.06, 0.0, &picture->y_from, &picture->y_to);
    picture->out_limit = most <= 1.0 ? 1.0 : most <= 5.0 ? 5.0 : most <= 20.0 ? 20.0 : 100.0;
    return true;
}

/* ----------------------------------------------------------------------------------- tables */

/* Channel, number of the step, value, doubt. */
static void add_values(const struct picture *picture) {
    const ww_measured *measured = picture->measured;
    ww__text_add(picture->script, "$values << END_OF_TABLE\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        for (size_t i = 0; measured->has[c] && i < measured->n; i++) {
            double value, doubt;
            if (find_value(picture, &measured->patch[i].channel[c], &value, &doubt))
                ww__plot_row(picture->script, 4, (double[]){c, (double)i + 1, value, doubt});
        }
        ww__text_add(picture->script, "\n");
    }
    ww__text_add(picture->script, "END_OF_TABLE\n");
}

/* Number of the step: beyond the scanner in some channel. */
static void add_over(const struct picture *picture) {
    const ww_measured *measured = picture->measured;
    bool any = false;
    ww__text_add(picture->script, "$over << END_OF_TABLE\n");
    for (size_t i = 0; i < measured->n; i++) {
        bool over = false;
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            over |= measured->calibrated && measured->has[c] &&
                    measured->patch[i].channel[c].density.state == WW_CELL_OVER;
        if (over)
            ww__plot_row(picture->script, 2, (double[]){(double)i + 1, picture->y_to});
        any |= over;
    }
    ww__text_add_format(picture->script, "END_OF_TABLE\nn_over = %d\n", any);
}

/* Number of the step, % left out. */
static void add_left_out(const struct picture *picture) {
    ww__text_add(picture->script, "$out << END_OF_TABLE\n");
    for (size_t i = 0; i < picture->measured->n; i++)
        ww__plot_row(picture->script, 2,
                     (double[]){(double)i + 1, 100.0 * picture->measured->patch[i].rejected});
    ww__text_add(picture->script, "END_OF_TABLE\n");
}

/* Names along the axis as far as they have room: each, or every second, third ... */
static void add_names(const struct picture *picture) {
    const ww_measured *measured = picture->measured;
    size_t longest = 1, stride = 1;
    char shown[64];
    for (size_t i = 0; i < measured->n; i++) {
        size_t n = 0;
        for (const char *at = ww__escape_message(measured->patch[i].step, shown, sizeof shown); *at;
             at++)
            n += ((unsigned char)*at & 0xC0) != 0x80;
        longest = n > longest ? n : longest;
    }
    while ((double)stride * plot_width / (double)(measured->n + 1) <
               (double)longest * letter_width + name_gap &&
           stride < measured->n)
        stride++;
    ww__text_add_format(picture->script, "n_names = %zu\narray name[%zu]\narray name_at[%zu]\n",
                        (measured->n - 1) / stride + 1, measured->n, measured->n);
    for (size_t i = 0, n = 1; i < measured->n; i += stride, n++) {
        ww__plot_set_item(picture->script, "name", n,
                          ww__escape_message(measured->patch[i].step, shown, sizeof shown));
        ww__text_add_format(picture->script, "name_at[%zu] = %zu\n", n, i + 1);
    }
}

static void add_words(const struct picture *picture) {
    const ww_measured *measured = picture->measured;
    ww__text title = WW__TEXT_INIT;
    ww__words_file(&title, measured->file, "Scan");
    ww__plot_set_text(picture->script, "title_text", ww__text_string(&title));
    picture->script->failed |= title.failed;
    ww__text_release(&title);
    ww__plot_set_text(picture->script, "y_label",
                      measured->calibrated ? "density (scanner)" : "log10 (code / greatest code)");
    ww__plot_set_text(picture->script, "x_label", measured->is_spots ? "spot" : "step");
    ww__plot_set_number(picture->script, "y_from", picture->y_from);
    ww__plot_set_number(picture->script, "y_to", picture->y_to);
    ww__plot_set_number(picture->script, "out_limit", picture->out_limit);
    ww__text_add_format(picture->script, "n_steps = %zu\njoined = %d\ncalibrated = %d\n",
                        measured->n, !measured->is_spots, measured->calibrated);
    ww__text_add(picture->script, "array has[4]\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        ww__text_add_format(picture->script, "has[%d] = %d\n", c + 1, measured->has[c]);
}

ww_status ww__plot_measured_data(const ww_measured *measured, ww__text *script, ww__plot_size *size,
                                 ww_error *err) {
    struct picture picture = {.measured = measured, .script = script};
    const double main_bottom = bottom + out_height + gap;
    if (measured->n == 0 || !find_limits(&picture))
        return ww_error_set(err, WW_ENODATA, "no plot: there is no value to draw");
    *size = (ww__plot_size){left + plot_width + right, main_bottom + main_height + top};
    ww__plot_set_panel(
        script, "main",
        (ww__plot_panel){left, left + plot_width, main_bottom, main_bottom + main_height}, *size);
    ww__plot_set_panel(script, "out",
                       (ww__plot_panel){left, left + plot_width, bottom, bottom + out_height},
                       *size);
    add_words(&picture);
    add_names(&picture);
    add_values(&picture);
    add_over(&picture);
    add_left_out(&picture);
    return ww__text_status(script, err);
}
