/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <wedgework/overlay.h>

#include <assert.h>
#include <math.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>

enum {
    TONES = 65536,
    FACTOR_MAX = 4096 /* 255 FACTOR_MAX^2 fits the 32 bits of a sum */
};

static const double display_gamma = 2.2;

/* Blocks come in any order to any thread, and one pixel of the copy may lie in several: sums of
 * whole numbers do not mind. */
typedef struct canvas {
    const ww_measured *measured;
    size_t width, height, factor, channels;
    double white;
    unsigned char tone[TONES]; /* for the eye, by code; by the 65535th of white for floats */
    atomic_uint_least32_t *sum;
    atomic_uchar *rejected;
} canvas;

/* -------------------------------------------------------------------------------- the tones */

static void set_tones(canvas *c, double top, double gamma) {
    for (size_t i = 0; i < TONES; i++)
        c->tone[i] =
            (unsigned char)lround(255.0 * pow(fmin(1.0, (double)i / top), gamma / display_gamma));
}

static uint_least32_t tone_at(const canvas *c, const ww_block *block, ptrdiff_t at) {
    switch (block->kind) {
    case WW_SAMPLE_8:
        return c->tone[((const uint8_t *)block->sample)[at]];
    case WW_SAMPLE_16:
        return c->tone[((const uint16_t *)block->sample)[at]];
    case WW_SAMPLE_FLOAT:
        break;
    }
    const double share = ww_block_code(block, at) / c->white;
    return share > 0.0 ? c->tone[(size_t)(fmin(share, 1.0) * (TONES - 1) + 0.5)] : 0;
}

/* A run of pixels that fall into one of the copy is added up first: few threads meet in a sum. */
static void add_row(canvas *c, const ww_block *block, size_t channel, size_t j) {
    const size_t row = (block->y + j) / c->factor * c->width;
    size_t i = 0;
    while (i < block->width) {
        const size_t column = (block->x + i) / c->factor;
        const size_t next = (column + 1) * c->factor - block->x;
        const size_t end = next < block->width ? next : block->width;
        uint_least32_t sum = 0;
        for (; i < end; i++)
            sum += tone_at(c, block,
                           (ptrdiff_t)i * block->next_x + (ptrdiff_t)j * block->next_y +
                               (ptrdiff_t)channel);
        atomic_fetch_add_explicit(&c->sum[(row + column) * c->channels + block->channel + channel],
                                  sum, memory_order_relaxed);
    }
}

/* ----------------------------------------------------------------------------- what was left */

/* As src/image/area.c has it: what lies on the first edge of an extent belongs to it, what lies on
 * the second does not. */
static bool inside_disc(const ww_patch *patch, double x, double y) {
    const double dx = x - patch->centre_x, dy = y - patch->centre_y;
    const double rest = patch->radius * patch->radius - dy * dy;
    return rest > 0.0 && dx >= -sqrt(rest) && dx < sqrt(rest);
}

/* On the same side of all four edges, whichever way round the corners go. */
static bool inside_corners(const ww_patch *patch, double x, double y) {
    static const bool first[4] = {true, false, false, true};
    const double *at = patch->corner[0], *next = patch->corner[1], *last = patch->corner[3];
    const double turn =
        (next[0] - at[0]) * (last[1] - at[1]) - (next[1] - at[1]) * (last[0] - at[0]);
    for (int k = 0; k < 4; k++) {
        const double *a = patch->corner[k], *b = patch->corner[(k + 1) % 4];
        const double side = (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]);
        const double within = turn > 0.0 ? side : -side;
        if (!(first[k] ? within >= 0.0 : within > 0.0))
            return false;
    }
    return turn != 0.0;
}

static bool inside(const ww_patch *patch, double x, double y) {
    return patch->radius > 0.0 ? inside_disc(patch, x, y) : inside_corners(patch, x, y);
}

/* First and last pixel of a block, along one axis, that a stretch may touch; false for none. */
static bool overlap(double from, double length, size_t start, size_t n, size_t *first,
                    size_t *last) {
    const double low = floor(from) - (double)start, high = ceil(from + length) - (double)start;
    if (!(high > 0.0) || !(low < (double)n) || n == 0)
        return false;
    *first = low > 0.0 ? (size_t)low : 0;
    *last = high < (double)n ? (size_t)high : n - 1;
    return *first <= *last;
}

static bool is_rejected(const canvas *c, const ww_block *block, const ww_patch *patch, size_t i,
                        size_t j) {
    for (size_t k = 0; k < block->channels; k++) {
        const size_t name = c->channels == 1 ? (size_t)WW_VISUAL : block->channel + k;
        const ww_patch_channel *channel = &patch->channel[name];
        const double code = ww_block_code(block, (ptrdiff_t)i * block->next_x +
                                                     (ptrdiff_t)j * block->next_y + (ptrdiff_t)k);
        if (!(code >= channel->low && code <= channel->high))
            return true;
    }
    return false;
}

static void mark_patch(canvas *c, const ww_block *block, const ww_patch *patch) {
    size_t left, right, top, bottom;
    if (!overlap(patch->x, patch->width, block->x, block->width, &left, &right) ||
        !overlap(patch->y, patch->height, block->y, block->height, &top, &bottom))
        return;
    for (size_t j = top; j <= bottom; j++)
        for (size_t i = left; i <= right; i++) {
            const size_t x = block->x + i, y = block->y + j;
            if (inside(patch, (double)x + 0.5, (double)y + 0.5) &&
                is_rejected(c, block, patch, i, j))
                atomic_store_explicit(&c->rejected[y / c->factor * c->width + x / c->factor], 1,
                                      memory_order_relaxed);
        }
}

static ww_status see(const ww_block *block, size_t worker, void *context, ww_error *err) {
    canvas *c = context;
    (void)worker;
    (void)err;
    for (size_t k = 0; k < block->channels; k++)
        for (size_t j = 0; j < block->height; j++)
            add_row(c, block, k, j);
    for (size_t p = 0; p < c->measured->n; p++)
        mark_patch(c, block, &c->measured->patch[p]);
    return WW_OK;
}

/* --------------------------------------------------------------------------------- the copy */

static size_t ceil_of(size_t n, size_t by) {
    return n / by + (n % by != 0);
}

/* First sums and marks, the copy and its marks; then these two and the pixels that gnuplot is sent,
 * a text that doubles as it grows. */
uint64_t ww_overlay_memory(const ww_picture *picture, const ww_overlay_request *request) {
    enum { RGB = 3, MARK = 1, COPY = RGB + MARK, SENT = 2 * RGB };
    const size_t longest = picture->width > picture->height ? picture->width : picture->height;
    assert(picture->width > 0 && picture->height > 0 && request->longest_px > 0);
    const size_t factor = ceil_of(longest, request->longest_px);
    const size_t sums = picture->channels * sizeof(atomic_uint_least32_t) + MARK;
    const uint64_t a_pixel = COPY + (sums > SENT ? sums : SENT);
    return a_pixel * ceil_of(picture->width, factor) * ceil_of(picture->height, factor);
}

/* Pixels of the scan in a pixel of the copy, along one axis. */
static uint_least32_t extent(size_t at, size_t factor, size_t n) {
    const size_t left = n - at * factor;
    return (uint_least32_t)(left < factor ? left : factor);
}

static void set_colours(const canvas *c, const ww_picture *picture, ww_overlay *overlay) {
    for (size_t y = 0; y < c->height; y++)
        for (size_t x = 0; x < c->width; x++) {
            const size_t at = y * c->width + x;
            const uint_least32_t n =
                extent(x, c->factor, picture->width) * extent(y, c->factor, picture->height);
            for (size_t k = 0; k < 3; k++) {
                const size_t channel = c->channels == 3 ? k : 0;
                const uint_least32_t sum = atomic_load(&c->sum[at * c->channels + channel]);
                overlay->rgb[3 * at + k] = (unsigned char)(((uint64_t)sum + n / 2) / n);
            }
            overlay->rejected[at] = atomic_load(&c->rejected[at]);
        }
}

static ww_status make(canvas *c, const ww_picture *picture, size_t threads, ww_overlay *overlay,
                      ww_error *err) {
    const ww_region all = {0, 0, picture->width, picture->height};
    const size_t n = c->width * c->height;
    ww_overlay made = {c->width, c->height, c->factor, NULL, NULL, c->measured};
    ww_status status = WW_OK;
    c->sum = calloc(n * c->channels, sizeof *c->sum);
    c->rejected = calloc(n, sizeof *c->rejected);
    made.rgb = calloc(n, 3);
    made.rejected = calloc(n, 1);
    if (!c->sum || !c->rejected || !made.rgb || !made.rejected)
        status = ww_error_set_at(err, WW_EMEMORY, picture->file, 0,
                                 "no memory for an overlay of %zu x %zu px", c->width, c->height);
    if (status == WW_OK)
        status = ww_picture_visit(picture, &all, 1, threads, see, c, err);
    if (status == WW_OK) {
        set_colours(c, picture, &made);
        *overlay = made;
        made = (ww_overlay)WW_OVERLAY_INIT;
    }
    ww_overlay_release(&made);
    free(c->sum);
    free(c->rejected);
    return status;
}

ww_status ww_overlay_preview(const ww_picture *picture, const ww_measured *measured,
                             const ww_overlay_request *request, ww_overlay *overlay,
                             ww_error *err) {
    const size_t longest = picture->width > picture->height ? picture->width : picture->height;
    canvas *c;
    ww_status status;
    assert(measured && request && overlay && (picture->channels == 1 || picture->channels == 3));
    if (request->longest_px == 0 || longest / FACTOR_MAX >= request->longest_px)
        return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                               "a copy of %zu px is too small for a picture of %zu x %zu px; ask "
                               "for a larger one",
                               request->longest_px, picture->width, picture->height);
    if (!(request->gamma > 0.0) || !isfinite(request->gamma))
        return ww_error_set(err, WW_EDOMAIN, "%g is no gamma; give one above 0", request->gamma);
    c = malloc(sizeof *c);
    if (!c)
        return ww_error_set(err, WW_EMEMORY, "no memory for an overlay");
    *c = (canvas){.measured = measured,
                  .factor = ceil_of(longest, request->longest_px),
                  .channels = picture->channels,
                  .white = picture->white};
    c->width = ceil_of(picture->width, c->factor);
    c->height = ceil_of(picture->height, c->factor);
    set_tones(c, picture->sample == WW_SAMPLE_FLOAT ? TONES - 1 : picture->white, request->gamma);
    status = make(c, picture, request->threads, overlay, err);
    free(c);
    return status;
}

void ww_overlay_release(ww_overlay *overlay) {
    if (!overlay)
        return;
    free(overlay->rgb);
    free(overlay->rejected);
    *overlay = (ww_overlay)WW_OVERLAY_INIT;
}
