/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_light.h"

#include "core/picture.h"
#include "core/scanner.h"
#include "image/density.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

/* Where the codes of the first channel that clips end. */
static double end_of(const ww_picture *picture, const ww_scanner *scanner) {
    double end = picture->white;
    for (int c = 0; scanner && c < WW_CHANNEL_COUNT; c++)
        if (scanner->channel[c].present)
            end = fmin(end, ww__scanner_end(scanner, (ww_channel)c));
    return end;
}

ww_status ww__merge_light_new(const ww_picture *picture, const ww_scanner *scanner,
                              ww__merge_light *light, ww_error *err) {
    assert(picture && light);
    ww__merge_light made = {.scanner = scanner, .kind = picture->sample, .white = picture->white};
    made.clips = WW__MERGED_CLIPPED * end_of(picture, scanner);
    made.codes = ww__picture_codes(made.kind);
    if (made.codes > 0) {
        made.light = malloc(made.codes * sizeof *made.light);
        if (!made.light)
            return ww_error_set(err, WW_EMEMORY, "no memory for a table of codes");
        for (size_t i = 0; i < made.codes; i++)
            made.light[i] = (float)ww__merge_light_of(&made, (double)i);
    }
    *light = made;
    return WW_OK;
}

void ww__merge_light_release(ww__merge_light *light) {
    if (!light)
        return;
    free(light->light);
    *light = (ww__merge_light)WW__MERGE_LIGHT_INIT;
}

double ww__merge_light_of(const ww__merge_light *light, double code) {
    return ww__density_light(light->scanner, light->white, code);
}

double ww__merge_light_share(const ww__merge_light *light, double value) {
    if (!(value > 0.0))
        return 0.0;
    return light->scanner ? ww_scanner_code(light->scanner, value) / light->white : value;
}

double ww__merge_light_step(const ww__merge_light *light, double value) {
    const double code = light->white * ww__merge_light_share(light, value);
    if (light->kind == WW_SAMPLE_FLOAT)
        return 0.0;
    return ww__merge_light_of(light, code + 0.5) - ww__merge_light_of(light, fmax(code - 0.5, 0.0));
}

double ww__merge_light_code(const ww__merge_light *light, const void *sample, size_t at) {
    const ww_block block = {.kind = light->kind, .sample = sample};
    return ww_block_code(&block, (ptrdiff_t)at);
}

bool ww__merge_light_holds(const ww__merge_light *light, double code) {
    return code > 0.0 && code < light->clips;
}
