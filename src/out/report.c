/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include "base/escape.h"
#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static ww__block *add_block(ww__report *report) {
    ww__block *grown = report->failed || report->n >= SIZE_MAX / sizeof *grown - 1
                           ? NULL
                           : realloc(report->block, (report->n + 1) * sizeof *grown);
    if (!grown) {
        report->failed = true;
        return NULL;
    }
    report->block = grown;
    grown[report->n] = (ww__block){.title = ""};
    return &grown[report->n++];
}

void ww__report_table(ww__report *report, const char *title, size_t columns, const char *align) {
    ww__block *block = add_block(report);
    assert(columns >= 2 && columns <= WW__COLUMNS_MAX && strlen(align) >= columns);
    if (!block)
        return;
    block->kind = WW__TABLE;
    block->title = title;
    memcpy(block->align, align, columns);
    block->columns = columns;
}

void ww__report_list(ww__report *report, const char *title, bool warning) {
    ww__block *block = add_block(report);
    if (!block)
        return;
    block->kind = WW__LIST;
    block->title = title;
    block->warning = warning;
}

void ww__report_steps(ww__report *report, const char *title) {
    ww__block *block = add_block(report);
    if (!block)
        return;
    block->kind = WW__STEPS;
    block->title = title;
}

/* Room is made by doubling: whenever n is a power of two. */
static bool make_room(ww__block *block) {
    char **grown;
    if (block->n > 0 && (block->n & (block->n - 1)) != 0)
        return true;
    if (block->n > SIZE_MAX / sizeof *grown / 4)
        return false;
    grown = realloc(block->item, (block->n > 0 ? 2 * block->n : 1) * sizeof *grown);
    if (!grown)
        return false;
    block->item = grown;
    return true;
}

void ww__report_item(ww__report *report, const char *string) {
    ww__block *block;
    const size_t length = strlen(string);
    char *copy;
    if (report->failed)
        return;
    assert(report->n > 0);
    block = &report->block[report->n - 1];
    copy = malloc(length + 1);
    if (!copy || !make_room(block)) {
        free(copy);
        report->failed = true;
        return;
    }
    memcpy(copy, string, length + 1);
    block->item[block->n++] = copy;
}

void ww__report_take(ww__report *report, ww__text *text) {
    if (text->failed)
        report->failed = true;
    ww__report_item(report, ww__text_string(text));
    ww__text_release(text);
}

void ww__report_number(ww__report *report, double value, int decimals) {
    ww__text text = WW__TEXT_INIT;
    ww__text_add_number(&text, value, decimals);
    ww__report_take(report, &text);
}

void ww__report_name(ww__report *report, const char *name) {
    char shown[64];
    ww__report_item(report, name ? ww__escape_message(name, shown, sizeof shown) : "");
}

void ww__report_cut_unit(ww__text *cell) {
    for (size_t i = cell->n; i > 0; i--)
        if (cell->bytes[i - 1] == ' ') {
            cell->n = i - 1;
            cell->bytes[cell->n] = '\0';
            return;
        }
}

void ww__report_headings(ww__report *report, const ww__heading heading[]) {
    const size_t columns = report->failed ? 0 : report->block[report->n - 1].columns;
    for (size_t i = 0; i < columns; i++)
        ww__report_item(report, heading[i].name);
    for (size_t i = 0; i < columns; i++)
        ww__report_item(report, heading[i].unit);
}

static void take_sentence(ww__text *to, ww__text *text) {
    if (text->n > 0 && text->bytes[0] >= 'a' && text->bytes[0] <= 'z')
        text->bytes[0] = (char)(text->bytes[0] - 'a' + 'A');
    ww__text_release(to);
    *to = *text;
    *text = (ww__text)WW__TEXT_INIT;
}

void ww__report_first(ww__text *text, const ww_notes *first) {
    ww__text made = WW__TEXT_INIT;
    if (first->n == 0)
        return;
    for (size_t i = 0; i < first->n; i++) {
        ww__text_add(&made, first->text[i]);
        ww__text_add(&made, " ");
    }
    ww__text_add(&made, ww__text_string(text));
    made.failed |= text->failed;
    ww__text_release(text);
    *text = made;
}

void ww__report_act(ww__report *report, ww__text *text) {
    take_sentence(&report->act, text);
}

void ww__report_why(ww__report *report, ww__text *text) {
    take_sentence(&report->why, text);
}

void ww__report_cautions(ww__report *report) {
    ww__report_list(report, "Cautions", false);
    ww__report_item(report,
                    "This is exposure arithmetic, not process or safety advice: the data "
                    "sheet and label of each chemical say how to handle it, and your safety "
                    "officer or local authority says how to ventilate and where waste goes.");
    ww__report_item(report, "Lamp housings get hot; keep mains away from wet hands and benches.");
}

void ww__report_bath_cautions(ww__report *report) {
    ww__report_list(report, "Cautions", false);
    ww__report_item(report,
                    "This is arithmetic on your own strips, not advice on a process or on safety: "
                    "developers irritate skin and eyes, and some sensitise. The data sheet and "
                    "label of each chemical say how to handle it, and your safety officer or local "
                    "authority says how to ventilate and where waste goes.");
    ww__report_item(report, "Keep mains away from wet hands and benches.");
}

void ww__report_notes(ww__report *report, const ww_notes *notes) {
    ww__report_list(report, "Notes", false);
    for (size_t i = 0; i < notes->n; i++)
        ww__report_item(report, notes->text[i]);
}

ww_status ww__report_status(const ww__report *report, ww_error *err) {
    if (report->failed || report->act.failed || report->why.failed)
        return ww_error_set(err, WW_EMEMORY, "no memory for a report");
    return WW_OK;
}

void ww__report_release(ww__report *report) {
    if (!report)
        return;
    for (size_t i = 0; i < report->n; i++) {
        for (size_t k = 0; k < report->block[i].n; k++)
            free(report->block[i].item[k]);
        free(report->block[i].item);
    }
    free(report->block);
    ww__text_release(&report->act);
    ww__text_release(&report->why);
    *report = (ww__report)WW__REPORT_INIT;
}
