/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/readings_write.h"
#include "base/escape.h"
#include "core/readings.h"
#include "io/lines.h"
#include "io/readings_meta.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/output.h>
#include <wedgework/readings_file.h>

/* ---- which columns ---- */

static size_t count_of(const ww_cell *cell) {
    if (cell->state == WW_CELL_MISSING)
        return 0;
    return cell->n > 0 ? cell->n : 1;
}

size_t ww__write_count(const ww_readings *readings, const ww_row *row) {
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++)
        if (readings->has[c] && !ww__readings_is_control((ww_column)c) &&
            count_of(&row->cell[c]) > 0)
            return count_of(&row->cell[c]);
    return 0;
}

/* Looks at one row: whether one number says it all, and which columns need their own. */
static void plan_counts(const ww_readings *readings, const ww_row *row, ww__write_plan *plan,
                        bool *alike) {
    size_t shared = ww__write_count(readings, row);
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++) {
        size_t n = readings->has[c] ? count_of(&row->cell[c]) : 0;
        bool control = ww__readings_is_control((ww_column)c);
        if (n == 0)
            continue;
        if (n != (control ? 1 : shared))
            *alike = false;
        if (n > 1)
            plan->n[c] = true;
    }
}

ww__write_plan ww__write_plan_for(const ww_readings *readings) {
    ww__write_plan plan = {.step = false};
    bool alike = true, repeated = false;
    for (size_t i = 0; i < readings->n; i++) {
        const ww_row *row = &readings->row[i];
        plan.step = plan.step || row->step[0] != '\0';
        plan.tone = plan.tone || row->tone[0] != '\0';
        plan.pack = plan.pack || row->pack[0] != '\0';
        plan.part = plan.part || row->part != WW_PART_WHOLE;
        plan.width = plan.width || row->width.set;
        for (unsigned c = 0; c < WW_COLUMN_COUNT; c++)
            if (readings->has[c] && row->cell[c].state == WW_CELL_VALUE && row->cell[c].sd.set)
                plan.sd[c] = true;
        plan_counts(readings, row, &plan, &alike);
    }
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++)
        repeated = repeated || plan.n[c];
    plan.n_all = alike && repeated;
    if (alike)
        memset(plan.n, 0, sizeof plan.n);
    return plan;
}

/* ---- cells ---- */

void ww__write_cell(ww__text *text, const ww_cell *cell) {
    if (cell->state == WW_CELL_VALUE)
        ww__text_add_exact(text, cell->value);
    else
        ww__text_add(text, cell->state == WW_CELL_OVER ? "over" : "-");
}

void ww__write_optional(ww__text *text, ww_optional optional) {
    if (optional.set)
        ww__text_add_exact(text, optional.value);
    else
        ww__text_add(text, "-");
}

void ww__write_size(ww__text *text, size_t n) {
    if (n > 0)
        ww__text_add_format(text, "%zu", n);
    else
        ww__text_add(text, "-");
}

/* ---- checks ---- */

static ww_status check_number(const ww_readings *readings, const ww_row *row, double value,
                              ww_error *err) {
    if (isfinite(value))
        return WW_OK;
    return ww_error_set_at(err, WW_EDOMAIN, readings->file, row->line,
                           "a number in row '%.40s' is not finite; leave the cell missing",
                           row->step);
}

static ww_status check_text(const ww_readings *readings, const ww_row *row, const char *label,
                            ww_error *err) {
    char shown[64];
    const char *problem = ww__lines_text_problem(label);
    if (!problem)
        return WW_OK;
    ww__escape_message(label, shown, sizeof shown);
    return ww_error_set_at(err, WW_EDOMAIN, readings->file, row->line, "label '%s' %s", shown,
                           problem);
}

static ww_status check_row(const ww_readings *readings, const ww_row *row, ww_error *err) {
    bool base = ww__readings_is_base_word(row->step) || ww__readings_is_base_word(row->tone);
    ww_status status = check_text(readings, row, row->step, err);
    if (status == WW_OK)
        status = check_text(readings, row, row->tone, err);
    if (status == WW_OK)
        status = check_text(readings, row, row->pack, err);
    if (status == WW_OK && row->exposure.set)
        status = check_number(readings, row, row->exposure.value, err);
    if (status == WW_OK && row->width.set)
        status = check_number(readings, row, row->width.value, err);
    for (unsigned c = 0; c < WW_COLUMN_COUNT && status == WW_OK; c++) {
        if (row->cell[c].state == WW_CELL_VALUE)
            status = check_number(readings, row, row->cell[c].value, err);
        if (status == WW_OK && row->cell[c].sd.set)
            status = check_number(readings, row, row->cell[c].sd.value, err);
    }
    if (status != WW_OK)
        return status;
    if (base != row->is_base)
        return ww_error_set_at(
            err, WW_EDOMAIN, readings->file, row->line,
            "row '%.40s' is%s the base by its label and%s by its mark; make them "
            "agree",
            row->step, base ? "" : " not", base ? " not" : "");
    if (!base && ww__readings_is_dark(row))
        return ww_error_set_at(err, WW_EDOMAIN, readings->file, row->line,
                               "row '%.40s' has 0 s both soft and hard; give one, or call it base",
                               row->step);
    if (readings->exposure == WW_EXPOSURE_TIME && !base && ww__readings_is_covered(row))
        return WW_OK;
    if (readings->exposure != WW_EXPOSURE_NONE && base == row->exposure.set)
        return ww_error_set_at(err, WW_EDOMAIN, readings->file, row->line,
                               base ? "base row '%.40s' has an exposure; take it out"
                                    : "row '%.40s' has no exposure; give it",
                               row->step);
    return WW_OK;
}

static ww_status check_widths(const ww_readings *readings, ww_error *err) {
    double *width = NULL;
    size_t n;
    const ww_status status = ww_readings_widths(readings, &width, &n, err);
    free(width);
    if (status != WW_EMISMATCH)
        return status;
    if (err)
        err->code = WW_EDOMAIN;
    return WW_EDOMAIN;
}

ww_status ww__write_check(const ww_readings *readings, ww_error *err) {
    bool any = false;
    ww_status status = ww__readings_meta_check(&readings->meta, readings->file, err);
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++)
        any = any || readings->has[c];
    if (status == WW_OK && (!any || readings->n == 0))
        status = ww_error_set_at(err, WW_EDOMAIN, readings->file, 0,
                                 "a table without %s is not written; add some",
                                 any ? "rows" : "columns of readings");
    for (size_t i = 0; i < readings->n && status == WW_OK; i++)
        status = check_row(readings, &readings->row[i], err);
    return status == WW_OK ? check_widths(readings, err) : status;
}

/* ---- CSV ---- */

/* Quoted wherever a separator, a comment or white space at an end would be misread. */
static void add_label(ww__text *text, const char *label) {
    size_t n = strlen(label);
    if (n == 0 || (strpbrk(label, "\",;#") == NULL && label[0] != ' ' && label[n - 1] != ' ')) {
        ww__text_add(text, label);
        return;
    }
    ww__text_add(text, "\"");
    for (const char *at = label; *at != '\0'; at++) {
        ww__text_add_bytes(text, at, 1);
        if (*at == '"')
            ww__text_add(text, "\"");
    }
    ww__text_add(text, "\"");
}

/* Commas between, none before the first. */
static void add_gap(ww__text *text, bool *first) {
    if (!*first)
        ww__text_add(text, ",");
    *first = false;
}

static void add_heading(ww__text *text, bool *first, const char *prefix, const char *name) {
    add_gap(text, first);
    ww__text_add(text, prefix);
    ww__text_add(text, name);
}

static void write_header(ww__text *text, const ww_readings *readings, const ww__write_plan *plan) {
    bool first = true;
    if (plan->step)
        add_heading(text, &first, "", "step");
    if (plan->tone)
        add_heading(text, &first, "", "tone");
    if (plan->part)
        add_heading(text, &first, "", "part");
    if (plan->pack)
        add_heading(text, &first, "", "pack");
    if (plan->width)
        add_heading(text, &first, "", "width");
    if (readings->exposure != WW_EXPOSURE_NONE)
        add_heading(text, &first, "", ww_exposure_column_name(readings->exposure));
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++)
        if (readings->has[c])
            add_heading(text, &first, "", ww_column_name((ww_column)c));
    if (plan->n_all)
        add_heading(text, &first, "", "n");
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++) {
        if (plan->n[c])
            add_heading(text, &first, "n_", ww_column_name((ww_column)c));
        if (plan->sd[c])
            add_heading(text, &first, "sd_", ww_column_name((ww_column)c));
    }
    ww__text_add(text, "\n");
}

static void write_numbers(ww__text *text, const ww_readings *readings, const ww__write_plan *plan,
                          const ww_row *row, bool first) {
    if (plan->width) {
        add_gap(text, &first);
        ww__write_optional(text, row->width);
    }
    if (readings->exposure != WW_EXPOSURE_NONE) {
        add_gap(text, &first);
        ww__write_optional(text, row->exposure);
    }
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++) {
        if (readings->has[c]) {
            add_gap(text, &first);
            ww__write_cell(text, &row->cell[c]);
        }
    }
    if (plan->n_all) {
        add_gap(text, &first);
        ww__write_size(text, ww__write_count(readings, row));
    }
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++) {
        if (plan->n[c]) {
            add_gap(text, &first);
            ww__write_size(text, count_of(&row->cell[c]));
        }
        if (plan->sd[c]) {
            add_gap(text, &first);
            ww__write_optional(text, row->cell[c].state == WW_CELL_VALUE
                                         ? row->cell[c].sd
                                         : (ww_optional){false, 0.0});
        }
    }
    ww__text_add(text, "\n");
}

/* Whoever opens the table must see what is doubtful in it; a cell has no room for that. */
static void write_notes(ww__text *text, const ww_notes *notes) {
    for (size_t i = 0; i < notes->n; i++) {
        ww__text_add(text, "# note: ");
        ww__escape_terminal(text, notes->text[i]);
        ww__text_add(text, "\n");
    }
}

void ww__write_csv(ww__text *text, const ww_readings *readings) {
    ww__write_plan plan = ww__write_plan_for(readings);
    ww__readings_meta_write(text, &readings->meta);
    write_notes(text, &readings->notes);
    write_header(text, readings, &plan);
    for (size_t i = 0; i < readings->n; i++) {
        const ww_row *row = &readings->row[i];
        bool first = true;
        if (plan.step) {
            add_gap(text, &first);
            add_label(text, row->step);
        }
        if (plan.tone) {
            add_gap(text, &first);
            add_label(text, row->tone);
        }
        if (plan.part) {
            add_gap(text, &first);
            ww__text_add(text, row->part == WW_PART_WHOLE ? "" : ww_part_name(row->part));
        }
        if (plan.pack) {
            add_gap(text, &first);
            add_label(text, row->pack);
        }
        write_numbers(text, readings, &plan, row, first);
    }
}

/* ---- files ---- */

static ww_status write_file(const ww_readings *readings, const char *path,
                            void (*write)(ww__text *, const ww_readings *), ww_error *err) {
    ww__text text = WW__TEXT_INIT;
    ww_status status;
    assert(readings != NULL && path != NULL);
    status = ww__write_check(readings, err);
    if (status != WW_OK)
        return status;
    write(&text, readings);
    status = ww__text_status(&text, err);
    if (status == WW_OK)
        status = ww_output_write(path, ww__text_string(&text), text.n, err);
    ww__text_release(&text);
    return status;
}

ww_status ww_readings_file_text(const ww_readings *readings, char **text, size_t *n,
                                ww_error *err) {
    ww__text made = WW__TEXT_INIT;
    assert(readings != NULL && text != NULL && n != NULL);
    ww_status status = ww__write_check(readings, err);
    if (status != WW_OK)
        return status;
    ww__write_csv(&made, readings);
    status = ww__text_status(&made, err);
    char *copy = status == WW_OK ? malloc(made.n + 1) : NULL;
    if (status == WW_OK && !copy)
        status = ww_error_set(err, WW_EMEMORY, "no memory for the readings as text");
    if (status == WW_OK) {
        memcpy(copy, ww__text_string(&made), made.n + 1);
        *text = copy;
        *n = made.n;
    }
    ww__text_release(&made);
    return status;
}

ww_status ww_readings_file_write(const ww_readings *readings, const char *path, ww_error *err) {
    return write_file(readings, path, ww__write_csv, err);
}

ww_status ww_readings_file_write_cgats(const ww_readings *readings, const char *path,
                                       ww_error *err) {
    return write_file(readings, path, ww__write_cgats, err);
}
