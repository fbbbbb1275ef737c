/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/measure.h"
#include "image/measure_notes.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/number.h>

static ww_status check(const ww_picture *picture, const ww_spot *spot, ww_error *err) {
    const double r = spot->radius;
    if (r > 0.0 && spot->x - r >= 0.0 && spot->y - r >= 0.0 &&
        spot->x + r <= (double)picture->width && spot->y + r <= (double)picture->height)
        return WW_OK;
    char x[40], y[40], radius[40];
    ww_number_format(spot->x, 1, x, sizeof x);
    ww_number_format(spot->y, 1, y, sizeof y);
    ww_number_format(r, 1, radius, sizeof radius);
    if (!(r > 0.0))
        return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                               "the radius of spot '%.40s' is %s px; give one above 0", spot->name,
                               radius);
    return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                           "spot '%.40s' at %s,%s with radius %s reaches outside of the picture of "
                           "%zu x %zu px; move it or make it smaller",
                           spot->name, x, y, radius, picture->width, picture->height);
}

ww_status ww_measure_spots(const ww_picture *picture, const ww_spot spot[], size_t n,
                           const ww_measure_request *request, ww_measured *measured,
                           ww_error *err) {
    ww_measured made = WW_MEASURED_INIT;
    ww_status status = WW_OK;
    assert(picture && spot && n > 0 && request && measured);
    ww__area *area = calloc(n, sizeof *area);
    const char **name = calloc(n, sizeof *name);
    if (!area || !name)
        status = ww_error_set(err, WW_EMEMORY, "no memory for %zu spots", n);
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        assert(spot[i].name);
        status = check(picture, &spot[i], err);
        area[i] = ww__area_disc(spot[i].x, spot[i].y, spot[i].radius);
        name[i] = spot[i].name;
    }
    made.is_spots = true;
    if (status == WW_OK)
        status = ww__measure_patches(picture, request, area, name, n, "spot", &made, err);
    if (status == WW_OK)
        status = ww__measure_notes(&made, "spot", request->scanner, err);
    if (status == WW_OK)
        *measured = made;
    else
        ww_measured_release(&made);
    free((void *)name);
    free(area);
    return status;
}
