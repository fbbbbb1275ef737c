/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/report.h"

/* The first cell of a row says what the row is of, where it is a word. */
static void add_cell(const ww__block *block, size_t column, const char *string, ww__text *html) {
    const bool names = column == 0 && block->align[0] == 'l' && *string;
    ww__text_add(html, names                         ? "<th scope=\"row\">"
                       : block->align[column] == 'l' ? "<td>"
                                                     : "<td class=\"r\">");
    ww__escape_html(html, string);
    ww__text_add(html, names ? "</th>" : "</td>");
}

static void add_table(const ww__block *block, ww__text *html) {
    const size_t columns = block->columns;
    ww__text_add(html, "<table>\n<thead><tr>");
    for (size_t i = 0; i < columns; i++) {
        const char *unit = block->item[columns + i];
        ww__text_add_format(html, "<th scope=\"col\"%s>",
                            block->align[i] != 'l' ? " class=\"r\"" : "");
        ww__escape_html(html, block->item[i]);
        if (*unit) {
            ww__text_add(html, "<br><span class=\"unit\">");
            ww__escape_html(html, unit);
            ww__text_add(html, "</span>");
        }
        ww__text_add(html, "</th>");
    }
    ww__text_add(html, "</tr></thead>\n<tbody>\n");
    for (size_t i = 2 * columns; i + columns <= block->n; i += columns) {
        ww__text_add(html, "<tr>");
        for (size_t k = 0; k < columns; k++)
            add_cell(block, k, block->item[i + k], html);
        ww__text_add(html, "</tr>\n");
    }
    ww__text_add(html, "</tbody>\n</table>\n");
}

static void add_list(const ww__block *block, ww__text *html) {
    ww__text_add_format(html, "<ul%s>\n", block->warning ? " class=\"warning\"" : "");
    for (size_t i = 0; i < block->n; i++) {
        ww__text_add(html, "<li>");
        ww__escape_html(html, block->item[i]);
        ww__text_add(html, "</li>\n");
    }
    ww__text_add(html, "</ul>\n");
}

static void add_line(const char *open, const char *string, const char *close, ww__text *html) {
    if (!*string)
        return;
    ww__text_add(html, open);
    ww__escape_html(html, string);
    ww__text_add(html, close);
}

static void add_steps(const ww__block *block, ww__text *html) {
    ww__text_add(html, "<dl>\n");
    for (size_t i = 0; i + 4 <= block->n; i += 4) {
        add_line("<dt>", block->item[i], "</dt>\n", html);
        add_line("<dd>", block->item[i + 1], "</dd>\n", html);
        add_line("<dd class=\"numbers\">", block->item[i + 2], "</dd>\n", html);
        add_line("<dd class=\"source\">Source: ", block->item[i + 3], "</dd>\n", html);
    }
    ww__text_add(html, "</dl>\n");
}

void ww__report_block_html(const ww__block *block, ww__text *html) {
    if (block->n <= 2 * block->columns)
        return;
    ww__text_add(html, "<section>\n<h2>");
    ww__escape_html(html, block->title);
    ww__text_add(html, "</h2>\n");
    if (block->kind == WW__TABLE)
        add_table(block, html);
    else if (block->kind == WW__STEPS)
        add_steps(block, html);
    else
        add_list(block, html);
    ww__text_add(html, "</section>\n");
}

void ww__report_set_html(const ww__report *report, ww__text *html) {
    for (size_t i = 0; i < report->n; i++)
        ww__report_block_html(&report->block[i], html);
}
