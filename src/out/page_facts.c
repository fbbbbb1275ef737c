/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"

void ww__page_fact(ww__report *report, const char *key, const char *value) {
    if (!value || !*value)
        return;
    ww__report_item(report, key);
    ww__report_item(report, value);
}

void ww__page_number(ww__report *report, const char *key, ww_optional number, const char *unit) {
    ww__text value = WW__TEXT_INIT;
    if (!number.set)
        return;
    ww__text_add_exact(&value, number.value);
    ww__text_add_format(&value, "%s%s", *unit ? " " : "", unit);
    ww__report_item(report, key);
    ww__report_take(report, &value);
}

/* Enumerator 0 is always "not said". */
static void add_word(ww__report *report, const char *key, unsigned of, const char *word) {
    if (of != 0)
        ww__page_fact(report, key, word);
}

void ww__page_meta(const ww_meta *meta, const char *title, ww__report *report) {
    static const ww__heading heading[] = {{"key", ""}, {"value", ""}};
    ww__report_table(report, title, 2, "ll");
    ww__report_headings(report, heading);
    ww__page_fact(report, "name", meta->name);
    add_word(report, "material", meta->material, ww_material_name(meta->material));
    add_word(report, "process", meta->process, ww_process_name(meta->process));
    add_word(report, "density", meta->density, ww_density_kind_name(meta->density));
    add_word(report, "status", meta->status, ww_density_status_name(meta->status));
    add_word(report, "relative to", meta->relative, ww_relative_name(meta->relative));
    add_word(report, "emulsion", meta->emulsion, ww_emulsion_name(meta->emulsion));
    add_word(report, "grain", meta->grain, ww_grain_name(meta->grain));
    add_word(report, "exposure unit", meta->exposure_unit,
             ww_exposure_unit_name(meta->exposure_unit));
    ww__page_number(report, "log h0", meta->log_h0, "");
    ww__page_number(report, "log h0 sd", meta->log_h0_sd, "");
    ww__page_number(report, "exposure time", meta->exposure_time_s, "s");
    add_word(report, "wedge", meta->wedge, ww_wedge_kind_name(meta->wedge));
    ww__page_number(report, "wedge sd", meta->wedge_sd, "D");
    add_word(report, "exposed by", meta->exposed_by, ww_exposed_by_name(meta->exposed_by));
    ww__page_number(report, "development time", meta->development_time_min, "min");
    ww__page_number(report, "temperature", meta->temperature_c, "deg C");
    ww__page_fact(report, "contrast", meta->contrast);
    ww__page_fact(report, "pack", meta->pack);
    ww__page_number(report, "aperture", meta->aperture, "");
    ww__page_number(report, "scale", meta->scale, "");
    add_word(report, "read", meta->read, ww_read_state_name(meta->read));
    ww__page_fact(report, "lot", meta->lot);
    ww__page_fact(report, "date", meta->date);
}

/* What exposed it; readings of pictures have no such column, and say "tone" for the step. */
static void add_exposure(const ww_readings *readings, const ww_row *row, ww__report *report) {
    ww__text text = WW__TEXT_INIT;
    if (readings->exposure == WW_EXPOSURE_NONE)
        return;
    if (row->exposure.set)
        ww__text_add_exact(&text, row->exposure.value);
    ww__report_take(report, &text);
}

static bool has_packs(const ww_readings *readings) {
    for (size_t i = 0; i < readings->n; i++)
        if (readings->row[i].pack && *readings->row[i].pack)
            return true;
    return false;
}

void ww__page_readings(const ww_readings *readings, const char *title, ww__report *report) {
    static const char *const unit[] = {[WW_EXPOSURE_WEDGE] = "D",
                                       [WW_EXPOSURE_LOG_H] = "log H",
                                       [WW_EXPOSURE_STOP] = "stop",
                                       [WW_EXPOSURE_TIME] = "s"};
    const bool exposed = readings->exposure != WW_EXPOSURE_NONE;
    const bool packs = has_packs(readings);
    const char *const alignment = exposed ? "lllrrrl" : "lllrrl";
    ww__heading heading[7] = {{exposed ? "step" : "tone", ""}, {"part", ""}, {"channel", ""}};
    size_t n = 3;
    if (exposed)
        heading[n++] =
            (ww__heading){ww_exposure_column_name(readings->exposure), unit[readings->exposure]};
    heading[n++] = (ww__heading){"density", "D"};
    heading[n++] = (ww__heading){"sd", "D"};
    if (packs)
        heading[n++] = (ww__heading){"pack", ""};
    ww__report_table(report, title, n, alignment);
    ww__report_headings(report, heading);
    for (size_t i = 0; i < readings->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const ww_row *row = &readings->row[i];
            const ww_cell *cell = &row->cell[c];
            ww__text text = WW__TEXT_INIT;
            if (cell->state == WW_CELL_MISSING)
                continue;
            ww__report_item(report, row->is_base ? "base" : *row->tone ? row->tone : row->step);
            ww__report_item(report, row->part == WW_PART_WHOLE ? "" : ww_part_name(row->part));
            ww__report_item(report, ww_channel_name((ww_channel)c));
            add_exposure(readings, row, report);
            if (cell->state == WW_CELL_VALUE)
                ww__text_add_number(&text, cell->value, 3);
            else
                ww__text_add(&text, "over");
            ww__report_take(report, &text);
            if (cell->sd.set)
                ww__text_add_number(&text, cell->sd.value, 3);
            ww__report_take(report, &text);
            if (packs)
                ww__report_item(report, row->pack);
        }
}
