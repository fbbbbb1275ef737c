/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/strip_case.h"
#include "support/support.h"
#include <assert.h>
#include <math.h>
#include <string.h>

static char empty[] = "";

static ww_row *new_row(strip_case *c, double density) {
    ww_row *row = &c->row[c->readings.n++];
    assert(c->readings.n <= STRIP_CASE_ROWS);
    *row = (ww_row){.step = empty, .tone = empty, .pack = empty, .line = c->readings.n + 1};
    row->cell[WW_COLUMN_VISUAL] = (ww_cell){.state = WW_CELL_VALUE, .value = density, .n = 1};
    return row;
}

void strip_case_label(strip_case *c, ww_row *row, const char *label) {
    char *text = c->label[row - c->row];
    snprintf(text, sizeof c->label[0], "%s", label);
    row->step = text;
}

void strip_case_start(strip_case *c, bool based) {
    *c = (strip_case){.readings = WW_READINGS_INIT};
    c->readings.row = c->row;
    c->readings.has[WW_COLUMN_VISUAL] = true;
    c->readings.exposure = WW_EXPOSURE_TIME;
    c->readings.meta.material = WW_MATERIAL_STRIP;
    c->readings.meta.density = WW_DENSITY_REFLECTION;
    if (based) {
        ww_row *row = new_row(c, STRIP_CASE_WHITE);
        row->is_base = true;
        row->cell[WW_COLUMN_VISUAL].sd = (ww_optional){true, 0.0};
        row->cell[WW_COLUMN_VISUAL].n = 100;
        strip_case_label(c, row, "base");
    }
}

ww_row *strip_case_step(strip_case *c, double time_s, double density) {
    ww_row *row = new_row(c, density);
    char label[24];
    size_t n = 0;
    for (size_t i = 0; i < c->readings.n; i++)
        n += !c->row[i].is_base;
    snprintf(label, sizeof label, "%zu", n);
    strip_case_label(c, row, label);
    row->exposure = (ww_optional){true, time_s};
    return row;
}

double strip_case_net(double k, double middle_s, double time_s) {
    return 2.0 / (1.0 + pow(10.0, -k * log10(time_s / middle_s)));
}

double strip_case_time(double k, double middle_s, double net) {
    return middle_s * pow(10.0, -log10(2.0 / net - 1.0) / k);
}

void strip_case_paper(strip_case *c, double k, double middle_s, double from_s, double stops,
                      size_t n) {
    for (size_t i = 0; i < n; i++) {
        const double time_s = from_s * exp2(stops * (double)i);
        strip_case_step(c, time_s, STRIP_CASE_WHITE + strip_case_net(k, middle_s, time_s));
    }
}

bool strip_case_noted(const ww_strip *strip, const char *words) {
    return test_noted(&strip->notes, words);
}

void strip_case_next(const char *row, const ww_strip *strip, double from_s, double stops,
                     size_t n) {
    if (strip->series.n != n)
        fail_msg("%s: a next strip of %zu pieces, want %zu", row, strip->series.n, n);
    if (n == 0)
        return;
    test_close(row, strip->series.piece[0].time_s, from_s, 1e-6 * from_s);
    test_close(row, strip->series.step_stops, stops, 1e-9);
}

void strip_case_line(const double density[], size_t n, double error, ww_strip *strip,
                     ww__strip_line *line) {
    static ww_strip_step step[16];
    static char label[] = "x";
    *strip = (ww_strip){.kind = WW_STRIP_READ, .step = step, .n_steps = n};
    for (size_t i = 0; i < n; i++)
        step[i] = (ww_strip_step){.step = label,
                                  .time_s = pow(10.0, (double)i),
                                  .state = WW_CELL_VALUE,
                                  .density = density[i],
                                  .error = error,
                                  .n = 1};
    *line = (ww__strip_line)WW__STRIP_LINE_INIT;
    test_status("line", ww__strip_line_make(strip, line, NULL), WW_OK, NULL);
}

void strip_case_drop(ww_strip *strip, ww__strip_line *line) {
    ww__strip_line_release(line);
    ww_notes_release(&strip->notes);
    line->n = 0;
}
