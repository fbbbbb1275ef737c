/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings.h"
#include <assert.h>
#include <stdio.h>
#include <wedgework/lesson.h>

enum { LABEL_SIZE = 24 };

static ww_status add_row(const ww_lesson_given *given, const char *label, ww_readings *table,
                         size_t *room, ww_error *err) {
    ww_row row = {.step = (char *)label,
                  .tone = (char *)"",
                  .pack = (char *)"",
                  .is_base = given->base,
                  .exposure = {.set = !given->base, .value = given->wedge}};
    row.cell[WW_VISUAL] = (ww_cell){.state = WW_CELL_VALUE, .value = given->density, .n = 1};
    ww_status status = ww__readings_reserve(table, room, err);
    if (status == WW_OK)
        status = ww__readings_row_copy(&row, &table->row[table->n], err);
    if (status == WW_OK)
        table->n++;
    return status;
}

static void set_meta(const ww_lesson_strip *strip, ww_meta *meta) {
    meta->material = strip->paper ? WW_MATERIAL_PAPER : WW_MATERIAL_FILM;
    meta->process = WW_PROCESS_NEGATIVE;
    meta->density = strip->paper ? WW_DENSITY_REFLECTION : WW_DENSITY_TRANSMISSION;
    meta->status = WW_STATUS_VISUAL;
    meta->relative = WW_RELATIVE_ABSOLUTE;
    meta->emulsion = WW_EMULSION_BLACK_AND_WHITE;
    meta->exposure_unit = strip->paper ? WW_UNIT_SECOND : WW_UNIT_LUX_SECOND;
    meta->log_h0 = (ww_optional){true, strip->log_h0};
}

ww_status ww_lesson_table(const ww_lesson *lesson, ww_readings *table, ww_error *err) {
    ww_readings made = WW_READINGS_INIT;
    size_t room = 0;
    ww_status status = WW_OK;
    assert(lesson && table);
    set_meta(&lesson->strip, &made.meta);
    made.exposure = WW_EXPOSURE_WEDGE;
    made.has[WW_VISUAL] = true;
    for (size_t i = 0; i < lesson->n && status == WW_OK; i++) {
        char label[LABEL_SIZE] = "base";
        if (i > 0)
            snprintf(label, sizeof label, "%zu", i);
        status = add_row(&lesson->given[i], label, &made, &room, err);
    }
    if (status == WW_OK)
        *table = made;
    else
        ww_readings_release(&made);
    return status;
}
