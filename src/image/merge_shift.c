/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_shift.h"

#include "base/sizes.h"
#include "image/bands.h"
#include <assert.h>
#include <stdlib.h>

enum { SIDE = 128, SIDE_LEAST = 32 };
enum { ROW = 3 }; /* places side by side, and one below the other */

/* Around a place, as far as the picture goes. */
static ww_region around(const ww_picture *picture, const ww__merge_place *place, size_t half_x,
                        size_t half_y) {
    const size_t left = place->x > half_x ? place->x - half_x : 0;
    const size_t top = place->y > half_y ? place->y - half_y : 0;
    return (ww_region){left, top, ww__least(place->x + half_x, picture->width) - left,
                       ww__least(place->y + half_y, picture->height) - top};
}

/* One picture's windows: a file that has to be decoded down to them is, once. */
static ww_status read_windows(const ww_picture *picture, const ww_region region[], size_t n,
                              size_t channel, ww__merge_end end, ww__merge_window *w[],
                              ww_error *err) {
    void *pixel[WW__MERGE_SHIFT_PAIRS] = {NULL};
    bool room = true;
    ww_status status = WW_OK;
    for (size_t i = 0; i < n; i++) {
        pixel[i] = malloc(region[i].width * region[i].height * ww__bands_pixel(picture));
        room = pixel[i] && room;
    }
    if (room)
        status = ww__bands_read_several(picture, region, n, pixel, err);
    for (size_t i = 0; i < n; i++) {
        room = room && (status != WW_OK ||
                        ww__merge_window_fill(picture, region[i], channel, end, pixel[i], w[i]));
        free(pixel[i]);
    }
    return room ? status : ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
}

ww_status ww__merge_shift_read(const ww_picture *a, const ww_picture *b, size_t channel,
                               const ww__merge_end end[2], const ww__merge_place place[], size_t n,
                               size_t half_x, size_t half_y, ww__merge_pair pair[], ww_error *err) {
    assert(n > 0 && n <= WW__MERGE_SHIFT_PAIRS);
    ww_region in_a[WW__MERGE_SHIFT_PAIRS], in_b[WW__MERGE_SHIFT_PAIRS];
    ww__merge_window *of_a[WW__MERGE_SHIFT_PAIRS], *of_b[WW__MERGE_SHIFT_PAIRS];
    for (size_t i = 0; i < n; i++) {
        in_a[i] = around(a, &place[i], half_x, half_y);
        in_b[i] = around(b, &place[i], half_x + WW__MERGE_REACH, half_y + WW__MERGE_REACH);
        pair[i] = (ww__merge_pair){.left = (ptrdiff_t)(in_a[i].x - in_b[i].x),
                                   .top = (ptrdiff_t)(in_a[i].y - in_b[i].y)};
        of_a[i] = &pair[i].a;
        of_b[i] = &pair[i].b;
    }
    ww_status status = read_windows(a, in_a, n, channel, end[0], of_a, err);
    if (status == WW_OK)
        status = read_windows(b, in_b, n, channel, end[1], of_b, err);
    return status;
}

void ww__merge_shift_free(ww__merge_pair pair[], size_t n) {
    for (size_t i = 0; i < n; i++) {
        free(pair[i].a.value);
        free(pair[i].b.value);
    }
}

/* Places that lie in one row. */
static ww_status find_row(const ww_picture *a, const ww_picture *b, size_t channel, double clips,
                          ww__merge_place place[ROW], ww_error *err) {
    const size_t half_x = ww__least(SIDE, a->width / 3) / 2,
                 half_y = ww__least(SIDE, a->height / 3) / 2;
    const ww__merge_end end[2] = {{clips, false}, {clips, false}};
    ww__merge_pair pair[ROW];
    ww_status status =
        ww__merge_shift_read(a, b, channel, end, place, ROW, half_x, half_y, pair, err);
    for (size_t i = 0; i < ROW && status == WW_OK; i++)
        if (!ww__merge_match_find(&pair[i], &place[i]))
            status = ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
    ww__merge_shift_free(pair, ROW);
    return status;
}

ww_status ww__merge_shift_find(const ww_picture *a, const ww_picture *b, size_t channel,
                               double clips, ww__merge_place place[WW__MERGE_PLACES],
                               ww_error *err) {
    assert(a->width == b->width && a->height == b->height && channel < a->channels);
    ww_status status = WW_OK;
    for (size_t i = 0; i < WW__MERGE_PLACES; i++)
        place[i] = (ww__merge_place){.x = (2 * (i % ROW) + 1) * a->width / (2 * ROW),
                                     .y = (2 * (i / ROW) + 1) * a->height / (2 * ROW)};
    if (a->width < ROW * SIDE_LEAST || a->height < ROW * SIDE_LEAST)
        return WW_OK;
    for (size_t i = 0; i < WW__MERGE_PLACES && status == WW_OK; i += ROW)
        status = find_row(a, b, channel, clips, &place[i], err);
    return status;
}
