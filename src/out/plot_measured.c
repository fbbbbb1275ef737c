/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/plot_script.h"
#include "out/scan_words.h"
#include <float.h>
#include <math.h>

/* Layout [px]: values over the shares that were left out. */
static const double left = 88, right = 24, bottom = 112, gap = 30, top = 46;
static const double plot_width = 640, main_height = 380, out_height = 90;
static const double letter_width = 7.2, name_gap = 8, name_height = 16;
static const double over_room = 0.3; /* above the values, for the arrows of those beyond */

enum { NAME_ROWS_MOST = 3 };

struct picture {
    const ww_measured *measured;
    ww__text *script;
    double y_from, y_to;
    double out_limit; /* % */
    size_t name_rows; /* of names below each other along the axis */
    size_t stride;    /* every how many-th name is shown */
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

static bool is_over(const struct picture *picture, size_t i, int channel) {
    const ww_measured *measured = picture->measured;
    return measured->calibrated && measured->has[channel] &&
           measured->patch[i].channel[channel].density.state == WW_CELL_OVER;
}

static bool find_limits(struct picture *picture) {
    const ww_measured *measured = picture->measured;
    double low = DBL_MAX, high = -DBL_MAX, most = 0.0, room = 0.06;
    for (size_t i = 0; i < measured->n; i++) {
        most = fmax(most, 100.0 * measured->patch[i].rejected);
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            double value, doubt;
            if (is_over(picture, i, c))
                room = over_room;
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
        ww__plot_limits(fmin(low, 0.0), high + room, &picture->y_from, &picture->y_to);
    else
        ww__plot_limits(low - 0.06, 0.0, &picture->y_from, &picture->y_to);
    picture->out_limit = most <= 1.0 ? 1.0 : most <= 5.0 ? 5.0 : most <= 20.0 ? 20.0 : 100.0;
    return true;
}

/* ----------------------------------------------------------------------------------- tables */

/* Channel, number of the step, value, doubt. No line leads to a spot: it follows nothing. */
static void add_values(const struct picture *picture) {
    const ww_measured *measured = picture->measured;
    ww__text_add(picture->script, "$values << END_OF_TABLE\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        for (size_t i = 0; measured->has[c] && i < measured->n; i++) {
            double value, doubt;
            if (i >= measured->n - measured->n_spots)
                ww__text_add(picture->script, "\n");
            if (find_value(picture, &measured->patch[i].channel[c], &value, &doubt))
                ww__plot_row(picture->script, 4, (double[]){c, (double)i + 1, value, doubt});
        }
        ww__text_add(picture->script, "\n");
    }
    ww__text_add(picture->script, "END_OF_TABLE\n");
}

/* Channel, number of the step that is beyond the scanner in it; channels stand side by side. */
static void add_over(const struct picture *picture) {
    const ww_measured *measured = picture->measured;
    bool any = false;
    ww__text_add(picture->script, "$over << END_OF_TABLE\n");
    for (size_t i = 0; i < measured->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const double aside = c == WW_VISUAL ? 0.0 : 0.25 * (c - WW_GREEN);
            if (!is_over(picture, i, c))
                continue;
            ww__plot_row(picture->script, 2, (double[]){c, (double)i + 1 + aside});
            any = true;
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

/* Names along the axis as far as they have room: of spots, which are told by nothing else, in
 * several rows; then every second, third ... */
static void find_names(struct picture *picture) {
    const ww_measured *measured = picture->measured;
    const double room = plot_width / (double)(measured->n + 1);
    const size_t most = measured->n_spots > 0 ? NAME_ROWS_MOST : 1;
    size_t longest = 1;
    char shown[64];
    for (size_t i = 0; i < measured->n; i++) {
        size_t n = 0;
        for (const char *at = ww__escape_message(measured->patch[i].step, shown, sizeof shown); *at;
             at++)
            n += ((unsigned char)*at & 0xC0) != 0x80;
        longest = n > longest ? n : longest;
    }
    const double need = (double)longest * letter_width + name_gap;
    picture->name_rows = picture->stride = 1;
    while (picture->name_rows < most && (double)picture->name_rows * room < need)
        picture->name_rows++;
    while (picture->stride < measured->n &&
           (double)(picture->stride * picture->name_rows) * room < need)
        picture->stride++;
}

static void add_names(const struct picture *picture) {
    const ww_measured *measured = picture->measured;
    char shown[64];
    ww__text_add_format(picture->script,
                        "n_names = %zu\nname_rows = %zu\n"
                        "array name[%zu]\narray name_at[%zu]\n",
                        (measured->n - 1) / picture->stride + 1, picture->name_rows, measured->n,
                        measured->n);
    for (size_t i = 0, n = 1; i < measured->n; i += picture->stride, n++) {
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
                      measured->calibrated ? "density (D, scanner)"
                                           : "log10 (code / greatest code)");
    ww__plot_set_text(picture->script, "x_label", ww__words_patches(measured));
    ww__plot_set_number(picture->script, "y_from", picture->y_from);
    ww__plot_set_number(picture->script, "y_to", picture->y_to);
    ww__plot_set_number(picture->script, "out_limit", picture->out_limit);
    ww__text_add_format(picture->script, "n_steps = %zu\njoined = %d\ncalibrated = %d\n",
                        measured->n, measured->n_spots < measured->n, measured->calibrated);
    ww__text_add(picture->script, "array has[4]\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        ww__text_add_format(picture->script, "has[%d] = %d\n", c + 1, measured->has[c]);
}

ww_status ww__plot_measured_data(const ww_measured *measured, ww__text *script, ww__plot_size *size,
                                 ww_error *err) {
    struct picture picture = {.measured = measured, .script = script};
    if (measured->n == 0 || !find_limits(&picture))
        return ww_error_set(err, WW_ENODATA, "no plot: there is no value to draw");
    find_names(&picture);
    const double out_bottom = bottom + name_height * (double)(picture.name_rows - 1);
    const double main_bottom = out_bottom + out_height + gap;
    *size = (ww__plot_size){left + plot_width + right, main_bottom + main_height + top};
    ww__plot_set_panel(
        script, "main",
        (ww__plot_panel){left, left + plot_width, main_bottom, main_bottom + main_height}, *size);
    ww__plot_set_panel(
        script, "out",
        (ww__plot_panel){left, left + plot_width, out_bottom, out_bottom + out_height}, *size);
    add_words(&picture);
    add_names(&picture);
    add_values(&picture);
    add_over(&picture);
    add_left_out(&picture);
    return ww__text_status(script, err);
}
