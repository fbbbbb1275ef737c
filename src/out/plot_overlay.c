/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/plot_script.h"
#include "out/scan_words.h"
#include <assert.h>
#include <math.h>
#include <string.h>
#include <strings.h>
#include <wedgework/overlay.h>

/* A PNG has 1.5 px to each px of the layout; the copy is to come out pixel for pixel. */
static const double png_scale = 1.5;

/* Layout [px of the PNG]. */
static const double left = 84, right = 28, bottom = 84, top = 44;
static const double longest_least = 900; /* a smaller copy is enlarged to this */
static const double width_least = 620;   /* for the words below */
static const double letter_width = 10.8, line_height = 24, label_gap = 8;

enum { DISC_POINTS = 48 };

struct picture {
    const ww_overlay *overlay;
    ww__text *script;
    double zoom;   /* px of the PNG in one of the copy */
    double px;     /* px of the PNG in one of the scan */
    bool upright;  /* the patches follow each other downwards */
    size_t stride; /* every how many-th label is shown */
};

ww_status ww_overlay_check(const char *path, ww_error *err) {
    static const char ending[] = ".png";
    const size_t length = strlen(path), n = sizeof ending - 1;
    char shown[64];
    if (length > n && strcasecmp(path + length - n, ending) == 0)
        return WW_OK;
    return ww_error_set(err, WW_EUSAGE,
                        "an overlay cannot be written as '%s'; give a name that ends in .png",
                        ww__escape_message(path, shown, sizeof shown));
}

/* --------------------------------------------------------------------------------- the copy */

static bool is_marked(const ww_overlay *overlay, size_t x, size_t y) {
    const unsigned char *mask = overlay->rejected + y * overlay->width + x;
    return mask[0] || (x > 0 && mask[-1]) || (x + 1 < overlay->width && mask[1]) ||
           (y > 0 && *(mask - overlay->width)) || (y + 1 < overlay->height && mask[overlay->width]);
}

/* What was left out is shown one pixel wider, so that a speck is seen, in a colour that also
 * differs from what it stands on when printed in black. */
static void add_pixels(const ww_overlay *overlay, ww__text *tail, bool *any) {
    static const char red[3] = {(char)200, 0, 0}, yellow[3] = {(char)255, (char)240, 0};
    const unsigned char *rgb = overlay->rgb;
    *any = false;
    for (size_t y = 0; y < overlay->height; y++)
        for (size_t x = 0; x < overlay->width; x++, rgb += 3) {
            const int light = 2 * rgb[0] + 5 * rgb[1] + rgb[2];
            if (!is_marked(overlay, x, y)) {
                ww__text_add_bytes(tail, (const char *)rgb, 3);
                continue;
            }
            ww__text_add_bytes(tail, light > 8 * 110 ? red : yellow, 3);
            *any = true;
        }
}

/* ------------------------------------------------------------------------------------ patches */

static void add_outline(const struct picture *picture, const ww_patch *patch) {
    for (int k = 0; k <= 4 && !(patch->radius > 0.0); k++)
        ww__plot_row(picture->script, 2,
                     (double[]){patch->corner[k % 4][0], patch->corner[k % 4][1]});
    for (int k = 0; k <= DISC_POINTS && patch->radius > 0.0; k++) {
        const double angle = 2.0 * 3.14159265358979323846 * k / DISC_POINTS;
        ww__plot_row(picture->script, 2,
                     (double[]){patch->centre_x + patch->radius * cos(angle),
                                patch->centre_y + patch->radius * sin(angle)});
    }
    ww__text_add(picture->script, "\n");
}

static size_t letters_of(const ww_patch *patch) {
    char shown[64];
    size_t n = 0;
    for (const char *at = ww__escape_message(patch->step, shown, sizeof shown); *at; at++)
        n += ((unsigned char)*at & 0xC0) != 0x80;
    return n;
}

/* Labels of a strip stand in a row; those of spots stand each by its own. */
static void find_stride(struct picture *picture) {
    const ww_measured *measured = picture->overlay->measured;
    double need = 0.0, pitch;
    picture->stride = 1;
    if (measured->is_spots || measured->n < 2)
        return;
    for (size_t i = 0; i < measured->n; i++)
        need = fmax(need, picture->upright
                              ? line_height
                              : letter_width * (double)letters_of(&measured->patch[i]) + label_gap);
    pitch = picture->px *
            hypot(measured->patch[measured->n - 1].centre_x - measured->patch[0].centre_x,
                  measured->patch[measured->n - 1].centre_y - measured->patch[0].centre_y) /
            (double)(measured->n - 1);
    while ((double)picture->stride * pitch < need && picture->stride < measured->n)
        picture->stride++;
}

/* Beside an upright strip and spots, above a lying strip; on the other side where it is the edge of
 * the scan. */
static void add_label(const struct picture *picture, size_t number, const ww_patch *patch) {
    const ww_overlay *overlay = picture->overlay;
    const bool beside = picture->upright || overlay->measured->is_spots;
    const double room = letter_width * (double)letters_of(patch) + 2 * label_gap;
    const double end = (double)(overlay->width * overlay->factor);
    char shown[64];
    bool other;
    double x = patch->centre_x, y = patch->centre_y;
    if (beside) {
        other = (end - patch->x - patch->width) * picture->px < room;
        x = other ? patch->x : patch->x + patch->width;
    } else {
        other = patch->y * picture->px < 2 * line_height;
        y = other ? patch->y + patch->height : patch->y;
    }
    ww__plot_set_item(picture->script, "label_name", number,
                      ww__escape_message(patch->step, shown, sizeof shown));
    ww__text_add_format(picture->script,
                        "label_x[%zu] = %.3f\nlabel_y[%zu] = %.3f\n"
                        "label_side[%zu] = %d\n",
                        number, x, number, y, number, (beside ? 2 : 0) + other);
}

static void add_patches(struct picture *picture) {
    static const char *const arrays[] = {"name", "x", "y", "side"};
    const ww_measured *measured = picture->overlay->measured;
    size_t n = 0;
    find_stride(picture);
    for (size_t i = 0; i < sizeof arrays / sizeof arrays[0]; i++)
        ww__text_add_format(picture->script, "array label_%s[%zu]\n", arrays[i], measured->n + 1);
    for (size_t i = 0; i < measured->n; i += picture->stride)
        add_label(picture, ++n, &measured->patch[i]);
    ww__text_add_format(picture->script, "n_labels = %zu\n$outline << END_OF_TABLE\n", n);
    for (size_t i = 0; i < measured->n; i++)
        add_outline(picture, &measured->patch[i]);
    ww__text_add_format(picture->script, "END_OF_TABLE\nn_outline = %d\n", measured->n > 0);
}

/* ------------------------------------------------------------------------------------- words */

static void add_words(const struct picture *picture, bool any_rejected) {
    const ww_overlay *overlay = picture->overlay;
    const ww_measured *measured = overlay->measured;
    ww__text title = WW__TEXT_INIT;
    ww__words_file(&title, measured->file, "Scan");
    ww__text_add_format(&title, ": %zu %s", measured->n,
                        measured->is_spots ? (measured->n == 1 ? "spot" : "spots") : "steps");
    if (!measured->is_spots)
        ww__text_add_format(&title, ", turned %.1f degrees %s", fabs(measured->angle_deg),
                            measured->angle_deg < 0 ? "anticlockwise" : "clockwise");
    ww__plot_set_text(picture->script, "title_text", ww__text_string(&title));
    picture->script->failed |= title.failed;
    ww__text_release(&title);
    ww__plot_set_text(picture->script, "legend_text",
                      any_rejected
                          ? "outlined: what was read; red or yellow: left out (dust, hairs); in px"
                          : "outlined: what was read; nothing in it was left out; in px");
}

static void add_layout(struct picture *picture, ww__plot_size *size) {
    const ww_overlay *overlay = picture->overlay;
    const double longest = fmax((double)overlay->width, (double)overlay->height);
    const double span_x = (double)(overlay->width * overlay->factor);
    const double span_y = (double)(overlay->height * overlay->factor);
    double width, height;
    picture->zoom = longest < longest_least ? ceil(longest_least / longest) : 1.0;
    picture->px = picture->zoom / (double)overlay->factor;
    width = picture->zoom * (double)overlay->width;
    height = picture->zoom * (double)overlay->height;
    *size = (ww__plot_size){(left + fmax(width, width_least) + right) / png_scale,
                            (bottom + height + top) / png_scale};
    ww__plot_set_panel(picture->script, "main",
                       (ww__plot_panel){left / png_scale, (left + width) / png_scale,
                                        bottom / png_scale, (bottom + height) / png_scale},
                       *size);
    ww__plot_set_number(picture->script, "x_to", span_x);
    ww__plot_set_number(picture->script, "y_to", span_y);
    ww__text_add_format(picture->script, "columns = %zu\nrows = %zu\nfactor = %zu\n",
                        overlay->width, overlay->height, overlay->factor);
}

ww_status ww__plot_overlay_data(const ww_overlay *overlay, ww__text *script, ww__text *tail,
                                ww__plot_size *size, ww_error *err) {
    struct picture picture = {
        .overlay = overlay, .script = script, .upright = overlay->measured->upright};
    bool any_rejected;
    ww_status status;
    add_pixels(overlay, tail, &any_rejected);
    add_layout(&picture, size);
    add_words(&picture, any_rejected);
    add_patches(&picture);
    status = ww__text_status(tail, err);
    return status == WW_OK ? ww__text_status(script, err) : status;
}

ww_status ww_overlay_draw(const ww_overlay *overlay, const char *path, ww_error *err) {
    ww__text script = WW__TEXT_INIT, tail = WW__TEXT_INIT;
    ww__plot_size size;
    ww_status status;
    assert(overlay && overlay->measured && path);
    status = ww_overlay_check(path, err);
    if (status == WW_OK)
        status = ww__plot_overlay_data(overlay, &script, &tail, &size, err);
    if (status == WW_OK)
        status = ww__plot_write_png("overlay", &script, size, &tail, path, err);
    ww__text_release(&script);
    ww__text_release(&tail);
    return status;
}
