/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/plot_labels.h"
#include "out/plot_script.h"
#include "out/scan_words.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <wedgework/overlay.h>

/* A PNG has 1.5 px to each px of the layout; the copy is to come out pixel for pixel. */
static const double png_scale = 1.5;

/* Layout [px of the PNG]. */
static const double left = 84, right = 28, bottom = 84, top = 44;
static const double longest_least = 900; /* a smaller copy is enlarged to this */
static const double width_least = 620;   /* for the words below */
static const double letter_width = 10.8, line_height = 24, label_gap = 8, line_gap = 3;

static const double frame_lw = 3.0, inner_lw = 1.2; /* black, and white upon it */
static const double thin_least = 0.3;               /* share of both, on the narrowest steps */

enum { DISC_POINTS = 48 };

struct picture {
    const ww_overlay *overlay;
    size_t steps; /* of the patches, the first so many; the others are spots */
    ww__text *script;
    double zoom;   /* px of the PNG in one of the copy */
    double px;     /* px of the PNG in one of the scan */
    double thin;   /* lines are so many times as wide as they would be */
    bool upright;  /* steps follow each other downwards */
    bool other;    /* labels stand on the other side: there is no room on the one */
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

/* ------------------------------------------------------------------------------------- frames */

/* How far a pixel reaches from its centre in a direction, px. */
static double pixel_reach(const double direction[2]) {
    return 0.5 * (fabs(direction[0]) + fabs(direction[1]));
}

/*
 * A frame lies just outside of the pixels that were read, which stand out of the area by up to half
 * of their own extent: its inner edge touches the outermost of them.
 */
static double half_line_px(const struct picture *picture) {
    return 0.5 * png_scale * frame_lw * picture->thin / picture->px;
}

static void add_frame(const struct picture *picture, const ww_patch *patch) {
    const double(*c)[2] = patch->corner;
    double along[2] = {c[1][0] - c[0][0], c[1][1] - c[0][1]};
    double across[2] = {c[3][0] - c[0][0], c[3][1] - c[0][1]};
    const double length = hypot(along[0], along[1]), breadth = hypot(across[0], across[1]);
    static const double corner_side[4][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
    for (int k = 0; k < 2 && length > 0.0 && breadth > 0.0; k++) {
        along[k] /= length;
        across[k] /= breadth;
    }
    const double out = pixel_reach(along) + half_line_px(picture);
    for (int k = 0; k <= 4; k++) {
        const double *side = corner_side[k % 4];
        ww__plot_row(picture->script, 2,
                     (double[]){c[k % 4][0] + out * (side[0] * along[0] + side[1] * across[0]),
                                c[k % 4][1] + out * (side[0] * along[1] + side[1] * across[1])});
    }
}

static void add_circle(const struct picture *picture, const ww_patch *patch) {
    const double radius = patch->radius + sqrt(0.5) + half_line_px(picture);
    for (int k = 0; k <= DISC_POINTS; k++) {
        const double angle = 2.0 * 3.14159265358979323846 * k / DISC_POINTS;
        ww__plot_row(picture->script, 2,
                     (double[]){patch->centre_x + radius * cos(angle),
                                patch->centre_y + radius * sin(angle)});
    }
}

static void add_outline(const struct picture *picture, const ww_patch *patch) {
    if (patch->radius > 0.0)
        add_circle(picture, patch);
    else
        add_frame(picture, patch);
    ww__text_add(picture->script, "\n");
}

/* Px of the scan between the areas of two steps side by side, less what their pixels stand out. */
static double gap_between(const ww_patch *a, const ww_patch *b) {
    double along[2] = {a->corner[1][0] - a->corner[0][0], a->corner[1][1] - a->corner[0][1]};
    const double length_a = hypot(along[0], along[1]);
    const double length_b =
        hypot(b->corner[1][0] - b->corner[0][0], b->corner[1][1] - b->corner[0][1]);
    const double apart = hypot(b->centre_x - a->centre_x, b->centre_y - a->centre_y);
    for (int k = 0; k < 2 && length_a > 0.0; k++)
        along[k] /= length_a;
    return apart - 0.5 * (length_a + length_b) - 2.0 * pixel_reach(along);
}

/* Lines are thinner where the frames of narrow steps would run into each other. */
static void find_thinness(struct picture *picture) {
    const ww_measured *measured = picture->overlay->measured;
    picture->thin = 1.0;
    for (size_t i = 1; i < picture->steps; i++) {
        const double gap = gap_between(&measured->patch[i - 1], &measured->patch[i]);
        picture->thin = fmin(picture->thin, gap * picture->px / (2.0 * png_scale * frame_lw));
    }
    picture->thin = fmax(picture->thin, thin_least);
}

static size_t letters_of(const ww_patch *patch) {
    char shown[64];
    size_t n = 0;
    for (const char *at = ww__escape_message(patch->step, shown, sizeof shown); *at; at++)
        n += ((unsigned char)*at & 0xC0) != 0x80;
    return n;
}

/* ------------------------------------------------------------------------------------- labels */

/* Whether no two labels of a strip touch when every stride-th is shown. */
static bool fits(const struct picture *picture, size_t stride) {
    const ww_measured *measured = picture->overlay->measured;
    for (size_t i = 0; i + stride < picture->steps; i += stride) {
        const ww_patch *a = &measured->patch[i], *b = &measured->patch[i + stride];
        const double letters = 0.5 * (double)(letters_of(a) + letters_of(b));
        const double need = picture->upright ? line_height : letter_width * letters + label_gap;
        if (picture->px * hypot(b->centre_x - a->centre_x, b->centre_y - a->centre_y) < need)
            return false;
    }
    return true;
}

/* Labels of a strip stand in a row. */
static void find_stride(struct picture *picture) {
    picture->stride = 1;
    while (picture->stride < picture->steps && !fits(picture, picture->stride))
        picture->stride++;
}

/* Labels stand at the right of an upright strip, above a lying one; no room: the scan ends. */
static bool lacks_room(const struct picture *picture, const ww_patch *patch) {
    const ww_overlay *overlay = picture->overlay;
    const double room = letter_width * (double)letters_of(patch) + 2 * label_gap;
    const double end = (double)(overlay->width * overlay->factor);
    if (picture->upright)
        return (end - patch->x - patch->width) * picture->px < room;
    return patch->y * picture->px < 2 * line_height;
}

/* All labels of a strip are on one side. */
static void find_side(struct picture *picture) {
    const ww_measured *measured = picture->overlay->measured;
    picture->other = false;
    for (size_t i = 0; i < picture->steps; i++)
        picture->other |= lacks_room(picture, &measured->patch[i]);
}

/* Side of the place: 0 above, 1 below, 2 at the right, 3 at the left, 4 in its middle. */
static void add_label(const struct picture *picture, size_t number, const ww_patch *patch, double x,
                      double y, int side) {
    char shown[64];
    ww__plot_set_item(picture->script, "label_name", number,
                      ww__escape_message(patch->step, shown, sizeof shown));
    ww__text_add_format(picture->script,
                        "label_x[%zu] = %.3f\nlabel_y[%zu] = %.3f\n"
                        "label_side[%zu] = %d\n",
                        number, x, number, y, number, side);
}

/* An empty table too is one that gnuplot must know. */
static void add_leaders(const struct picture *picture, const ww__plot_label label[], size_t n) {
    bool any = false;
    ww__text_add(picture->script, "$leader << END_OF_TABLE\n");
    for (size_t i = 0; i < n; i++) {
        const ww__plot_label *l = &label[i];
        const double x = l->at_x - l->x, y = l->at_y - l->y,
                     share = (l->radius - line_gap) / hypot(x, y);
        if (!l->led)
            continue;
        any = true;
        ww__plot_row(
            picture->script, 2,
            (double[]){(l->x + share * x) / picture->px, (l->y + share * y) / picture->px});
        ww__plot_row(picture->script, 2, (double[]){l->at_x / picture->px, l->at_y / picture->px});
        ww__text_add(picture->script, "\n");
    }
    ww__text_add_format(picture->script, "END_OF_TABLE\nn_leader = %d\n", any);
}

static size_t add_strip_labels(struct picture *picture) {
    const ww_measured *measured = picture->overlay->measured;
    const double out = half_line_px(picture);
    size_t n = 0;
    find_stride(picture);
    find_side(picture);
    for (size_t i = 0; i < picture->steps; i += picture->stride) {
        const ww_patch *patch = &measured->patch[i];
        if (picture->upright)
            add_label(picture, ++n, patch,
                      picture->other ? patch->x - out : patch->x + patch->width + out,
                      patch->centre_y, 2 + picture->other);
        else
            add_label(picture, ++n, patch, patch->centre_x,
                      picture->other ? patch->y + patch->height + out : patch->y - out,
                      picture->other);
    }
    return n;
}

/* In px of the PNG, with the line around it. */
static ww__plot_label label_of(const struct picture *picture, const ww_patch *patch) {
    return (ww__plot_label){
        .x = patch->centre_x * picture->px,
        .y = patch->centre_y * picture->px,
        .radius =
            (patch->radius + sqrt(0.5) + 2.0 * half_line_px(picture)) * picture->px + line_gap,
        .width = letter_width * (double)letters_of(patch) + label_gap,
        .height = line_height};
}

/* What a step takes up with its line and its label, in px of the PNG. */
static ww__plot_label box_of(const struct picture *picture, const ww_patch *patch) {
    const double line = 2.0 * half_line_px(picture) * picture->px;
    const double wide = letter_width * (double)letters_of(patch) + label_gap;
    double x[2] = {patch->x * picture->px - line, (patch->x + patch->width) * picture->px + line};
    double y[2] = {patch->y * picture->px - line, (patch->y + patch->height) * picture->px + line};
    if (picture->upright)
        x[!picture->other] += picture->other ? -wide : wide;
    else
        y[picture->other] += picture->other ? line_height : -line_height;
    return (ww__plot_label){.at_x = 0.5 * (x[0] + x[1]),
                            .at_y = 0.5 * (y[0] + y[1]),
                            .width = x[1] - x[0],
                            .height = y[1] - y[0],
                            .shown = true};
}

/* Behind n labels of a strip; returns how many there are then. They may stand beside a picture that
 * is narrower than the words around it. */
static size_t add_spot_labels(const struct picture *picture, size_t n) {
    const ww_overlay *overlay = picture->overlay;
    const ww_patch *spot = overlay->measured->patch + picture->steps;
    const size_t n_spots = overlay->measured->n_spots;
    const double width = picture->zoom * (double)overlay->width;
    ww__plot_label *label = calloc(overlay->measured->n + 1, sizeof *label);
    if (!label) {
        picture->script->failed = true;
        return 0;
    }
    for (size_t i = 0; i < n_spots; i++)
        label[i] = label_of(picture, &spot[i]);
    for (size_t i = 0; i < picture->steps; i++)
        label[n_spots + i] = box_of(picture, &overlay->measured->patch[i]);
    ww__plot_labels_place(label, n_spots, picture->steps, fmax(width, width_least),
                          picture->zoom * (double)overlay->height);
    for (size_t i = 0; i < n_spots; i++)
        if (label[i].shown)
            add_label(picture, ++n, &spot[i], label[i].at_x / picture->px,
                      label[i].at_y / picture->px, 4);
    add_leaders(picture, label, n_spots);
    free(label);
    return n;
}

static void add_patches(struct picture *picture) {
    static const char *const arrays[] = {"name", "x", "y", "side"};
    const ww_measured *measured = picture->overlay->measured;
    size_t n;
    find_thinness(picture);
    ww__plot_set_number(picture->script, "frame_lw", frame_lw * picture->thin);
    ww__plot_set_number(picture->script, "inner_lw", inner_lw * picture->thin);
    for (size_t i = 0; i < sizeof arrays / sizeof arrays[0]; i++)
        ww__text_add_format(picture->script, "array label_%s[%zu]\n", arrays[i], measured->n + 1);
    n = add_spot_labels(picture, add_strip_labels(picture));
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
    ww__text_add(&title, ": ");
    ww__words_found(&title, measured);
    ww__plot_set_text(picture->script, "title_text", ww__text_string(&title));
    picture->script->failed |= title.failed;
    ww__text_release(&title);
    ww__plot_set_text(
        picture->script, "legend_text",
        any_rejected ? "outlined: what was read; red or yellow: left out (dust, hairs); axes in px"
                     : "outlined: what was read; nothing in it was left out; axes in px");
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
    struct picture picture = {.overlay = overlay,
                              .steps = overlay->measured->n - overlay->measured->n_spots,
                              .script = script,
                              .upright = overlay->measured->upright};
    bool any_rejected;
    ww_status status;
    add_pixels(overlay, tail, &any_rejected);
    add_layout(&picture, size);
    add_words(&picture, any_rejected);
    add_patches(&picture);
    status = ww__text_status(tail, err);
    return status == WW_OK ? ww__text_status(script, err) : status;
}

ww_status ww_overlay_draw(const ww_overlay *overlay, char **png, size_t *n, ww_error *err) {
    ww__text script = WW__TEXT_INIT, tail = WW__TEXT_INIT, picture = WW__TEXT_INIT;
    ww__plot_size size;
    ww_status status;
    assert(overlay && overlay->measured && png && n);
    status = ww__plot_overlay_data(overlay, &script, &tail, &size, err);
    if (status == WW_OK)
        status = ww__plot_png("overlay", &script, size, &tail, &picture, err);
    if (status == WW_OK) {
        *png = picture.bytes;
        *n = picture.n;
    }
    ww__text_release(&script);
    ww__text_release(&tail);
    return status;
}
