/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_OUT_BLOCKS_H
#define WEDGEWORK_TESTS_OUT_BLOCKS_H

#include "out/report.h"
#include "results.h"

/* Looks into a report. */

/* NULL where it is not there, or has no rows. */
static inline const ww__block *find_block(const ww__report *report, const char *title) {
    for (size_t i = 0; i < report->n; i++)
        if (strcmp(report->block[i].title, title) == 0 &&
            report->block[i].n > 2 * report->block[i].columns)
            return &report->block[i];
    return NULL;
}

/* A row of a table, 0 its headings, 1 its units, with '|' between cells; of a list one item. */
static inline void expect_row(const char *row, const ww__report *report, const char *title,
                              size_t number, const char *want) {
    const ww__block *block = find_block(report, title);
    const size_t columns = block && block->columns > 0 ? block->columns : 1;
    ww__text text = WW__TEXT_INIT;
    if (!block || (number + 1) * columns > block->n)
        fail_msg("%s: no row %zu in a block '%s'", row, number, title);
    for (size_t i = 0; block && i < columns; i++) {
        ww__text_add(&text, i > 0 ? "|" : "");
        ww__text_add(&text, block->item[number * columns + i]);
    }
    test_text(row, ww__text_string(&text), want);
    ww__text_release(&text);
}

#endif
