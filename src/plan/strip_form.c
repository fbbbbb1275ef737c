/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings.h"
#include <assert.h>
#include <stdio.h>
#include <wedgework/strip.h>

enum { LABEL_SIZE = 24 };

static ww_status add_row(const char *step, const ww_strip_piece *piece, ww_readings *form,
                         size_t *room, ww_error *err) {
    const ww_row row = {.step = (char *)step,
                        .tone = (char *)"",
                        .pack = (char *)"",
                        .is_base = !piece,
                        .exposure = {.set = piece != NULL, .value = piece ? piece->set_s : 0.0}};
    ww_status status = ww__readings_reserve(form, room, err);
    if (status == WW_OK)
        status = ww__readings_row_copy(&row, &form->row[form->n], err);
    if (status == WW_OK)
        form->n++;
    return status;
}

ww_status ww_strip_form(const ww_strip_series *series, ww_readings *form, ww_error *err) {
    assert(series && series->n > 0 && form);
    ww_readings made = WW_READINGS_INIT;
    size_t room = 0;
    made.meta.material = WW_MATERIAL_STRIP;
    made.meta.density = WW_DENSITY_REFLECTION;
    made.exposure = WW_EXPOSURE_TIME;
    made.has[WW_VISUAL] = true;
    ww_status status = add_row("base", NULL, &made, &room, err);
    for (size_t i = 0; i < series->n && status == WW_OK; i++) {
        char label[LABEL_SIZE];
        snprintf(label, sizeof label, "%zu", i + 1);
        status = add_row(label, &series->piece[i], &made, &room, err);
    }
    if (status == WW_OK)
        *form = made;
    else
        ww_readings_release(&made);
    return status;
}
