/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_fields.h"
#include "io/readings_meta.h"
#include "io/readings_write.h"
#include <string.h>

/* A string of CGATS, quotes inside doubled. */
static void add_string(ww__text *text, const char *string) {
    ww__text_add(text, "\"");
    for (; *string != '\0'; string++) {
        ww__text_add_bytes(text, string, 1);
        if (*string == '"')
            ww__text_add(text, "\"");
    }
    ww__text_add(text, "\"");
}

static void add_keyword(ww__text *text, const char *keyword, const char *value) {
    ww__text_add(text, keyword);
    ww__text_add(text, "\t");
    add_string(text, value != NULL ? value : "");
    ww__text_add(text, "\n");
}

/* Our name in capitals, as fields are written; Y, x and y are told apart by case and stay. */
static void add_capitals(ww__text *text, const char *name) {
    bool stays = strcmp(name, "x") == 0 || strcmp(name, "y") == 0;
    for (; *name != '\0'; name++) {
        char c = *name;
        if (!stays && c >= 'a' && c <= 'z')
            c = (char)(c - 'a' + 'A');
        ww__text_add_bytes(text, &c, 1);
    }
}

/* A list of fields is written twice: declared where it is not of the standard, and as the format.
 */
typedef struct fields {
    ww__text *text;
    bool declare;
    size_t n;
} fields;

static void add_standard(fields *list, const char *name) {
    if (!list->declare) {
        ww__text_add(list->text, list->n > 0 ? "\t" : "");
        ww__text_add(list->text, name);
    }
    list->n++;
}

static void add_own(fields *list, const char *prefix, const char *name) {
    ww__text_add(list->text, list->declare ? "KEYWORD\t\"" : list->n > 0 ? "\t" : "");
    ww__text_add(list->text, prefix);
    add_capitals(list->text, name);
    if (list->declare)
        ww__text_add(list->text, "\"\n");
    list->n++;
}

static void add_fields(fields *list, const ww_readings *readings, const ww__write_plan *plan) {
    add_standard(list, "SAMPLE_ID");
    if (plan->tone)
        add_standard(list, "SAMPLE_NAME");
    if (plan->part)
        add_own(list, "", "part");
    if (plan->pack)
        add_own(list, "", "pack");
    if (plan->width)
        add_own(list, "", "width");
    if (readings->exposure != WW_EXPOSURE_NONE)
        add_own(list, "", ww_exposure_column_name(readings->exposure));
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++) {
        const char *standard = ww__cgats_field_name((ww_column)c);
        if (readings->has[c] && standard != NULL)
            add_standard(list, standard);
        else if (readings->has[c])
            add_own(list, "", ww_column_name((ww_column)c));
    }
    if (plan->n_all)
        add_own(list, "", "n");
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++) {
        if (plan->n[c])
            add_own(list, "N_", ww_column_name((ww_column)c));
        if (plan->sd[c])
            add_own(list, "SD_", ww_column_name((ww_column)c));
    }
}

static void add_row(ww__text *text, const ww_readings *readings, const ww__write_plan *plan,
                    const ww_row *row) {
    static const ww_optional none = {false, 0.0};
    add_string(text, row->step);
    if (plan->tone) {
        ww__text_add(text, "\t");
        add_string(text, row->tone);
    }
    if (plan->part) {
        ww__text_add(text, "\t");
        add_string(text, ww_part_name(row->part));
    }
    if (plan->pack) {
        ww__text_add(text, "\t");
        add_string(text, row->pack);
    }
    if (plan->width) {
        ww__text_add(text, "\t");
        ww__write_optional(text, row->width);
    }
    if (readings->exposure != WW_EXPOSURE_NONE) {
        ww__text_add(text, "\t");
        ww__write_optional(text, row->exposure);
    }
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++) {
        if (readings->has[c]) {
            ww__text_add(text, "\t");
            ww__write_cell(text, &row->cell[c]);
        }
    }
    if (plan->n_all) {
        ww__text_add(text, "\t");
        ww__write_size(text, ww__write_count(readings, row));
    }
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++) {
        const ww_cell *cell = &row->cell[c];
        if (plan->n[c]) {
            ww__text_add(text, "\t");
            ww__write_size(text, cell->state == WW_CELL_MISSING ? 0 : cell->n);
        }
        if (plan->sd[c]) {
            ww__text_add(text, "\t");
            ww__write_optional(text, cell->state == WW_CELL_VALUE ? cell->sd : none);
        }
    }
    ww__text_add(text, "\n");
}

/* Every key of ours stands in a comment; what the standard has a keyword for stands there too. */
static void add_preamble(ww__text *text, const ww_meta *meta) {
    ww__text_add(text, "CGATS.17\n");
    ww__readings_meta_write(text, meta);
    ww__text_add(text,
                 "# In the data, - is a missing reading and over one beyond the instrument.\n");
    add_keyword(text, "ORIGINATOR", "wedgework");
    add_keyword(text, "FILE_DESCRIPTOR", meta->name);
    add_keyword(text, "DESCRIPTOR", meta->name);
    add_keyword(text, "CREATED", meta->date);
    if (meta->status >= WW_STATUS_A && meta->status <= WW_STATUS_VISUAL) {
        ww__text_add(text, "WEIGHTING_FUNCTION\t\"name,density;value,Status ");
        ww__text_add(text, ww_density_status_name(meta->status));
        ww__text_add(text, "\"\n");
    }
}

void ww__write_cgats(ww__text *text, const ww_readings *readings) {
    ww__write_plan plan = ww__write_plan_for(readings);
    fields declared = {text, true, 0};
    fields named = {text, false, 0};
    add_preamble(text, &readings->meta);
    add_fields(&declared, readings, &plan);
    ww__text_add_format(text, "NUMBER_OF_FIELDS\t%zu\nBEGIN_DATA_FORMAT\n", declared.n);
    add_fields(&named, readings, &plan);
    ww__text_add_format(text, "\nEND_DATA_FORMAT\nNUMBER_OF_SETS\t%zu\nBEGIN_DATA\n", readings->n);
    for (size_t i = 0; i < readings->n; i++)
        add_row(text, readings, &plan, &readings->row[i]);
    ww__text_add(text, "END_DATA\n");
}
