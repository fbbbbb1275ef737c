/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_REPORT_H
#define WEDGEWORK_OUT_REPORT_H

#include "base/text.h"
#include <stdbool.h>
#include <wedgework/balance.h>
#include <wedgework/compare.h>
#include <wedgework/control.h>
#include <wedgework/curve.h>
#include <wedgework/develop.h>
#include <wedgework/lesson.h>
#include <wedgework/lesson_class.h>
#include <wedgework/match.h>
#include <wedgework/measure.h>
#include <wedgework/print.h>
#include <wedgework/scan.h>
#include <wedgework/scan_densities.h>
#include <wedgework/scan_merge.h>
#include <wedgework/scanner.h>
#include <wedgework/strip.h>
#include <wedgework/text_style.h>
#include <wedgework/texture_scan.h>
#include <wedgework/tones.h>

/*
 * A result in the order in which people read it: the act, why, then tables and lists. It is made
 * once (curve_report.c, print_report.c, ...) and set twice: as text for a terminal
 * (report_text.c), as HTML for the page (report_html.c). Running out of memory is remembered, as in
 * ww__text.
 */
typedef enum ww__block_kind { WW__TABLE, WW__LIST, WW__STEPS } ww__block_kind;

/* Items own their text. A table's are its headings, then its units, then the cells, row by row. */
enum { WW__COLUMNS_MAX = 12 };

typedef struct ww__block {
    ww__block_kind kind;
    const char *title; /* constant */
    bool warning;
    size_t columns; /* 0 for lists */
    char align[WW__COLUMNS_MAX +
               1]; /* a letter a column: 'l' left, 'r' right, 'e' right and kept beside the last */
    char **item;
    size_t n;
} ww__block;

typedef struct ww__report {
    ww__text act;
    ww__text why;
    ww__block *block;
    size_t n;
    bool failed;
} ww__report;

#define WW__REPORT_INIT                                                                            \
    { WW__TEXT_INIT, WW__TEXT_INIT, NULL, 0, false }

/* Begin a block; items then go to it. A block without rows or items is not shown. */
void ww__report_table(ww__report *report, const char *title, size_t columns, const char *align);
void ww__report_list(ww__report *report, const char *title, bool warning);
/* Four items a step: what, formula, numbers put in ("" for none), source. */
void ww__report_steps(ww__report *report, const char *title);

/* The next cell or item; _take empties `text` into it, so that one text serves for many. */
void ww__report_item(ww__report *report, const char *string);
void ww__report_take(ww__report *report, ww__text *text);
void ww__report_number(ww__report *report, double value, int decimals);
/* A name at a length that a table bears; NULL is an empty cell. */
void ww__report_name(ww__report *report, const char *name);
/* Cuts the unit from the end of a cell: it stands in the heading. */
void ww__report_cut_unit(ww__text *cell);

/* A column's heading and unit ("" for none); a table's come before any of its cells. */
typedef struct ww__heading {
    const char *name;
    const char *unit;
} ww__heading;
void ww__report_headings(ww__report *report, const ww__heading heading[]);

void ww__report_notes(ww__report *report, const ww_notes *notes);

/* What goes with every plan for the darkroom. */
void ww__report_cautions(ww__report *report);

/* What goes with every word on a bath. */
void ww__report_bath_cautions(ww__report *report);

ww_status ww__report_status(const ww__report *report, ww_error *err);
void ww__report_release(ww__report *report);

/* What is to be said before the act, where there is something, goes before what `text` holds. */
void ww__report_first(ww__text *text, const ww_notes *first);

/* Empties `text` into the act, or into the reason why, with a capital at its beginning. */
void ww__report_act(ww__report *report, ww__text *text);
void ww__report_why(ww__report *report, ww__text *text);

/* The two settings. Text from outside is made harmless in each. */
void ww__report_set_text(const ww__report *report, const ww_text_style *style, ww__text *text);
void ww__report_set_html(const ww__report *report, ww__text *html);
/* Text as its caller's own, and the report released. */
ww_status ww__report_make_text(ww__report *report, const ww_text_style *style, char **text,
                               ww_error *err);
/* A block as HTML, of which the page makes its own. */
void ww__report_block_html(const ww__block *block, ww__text *html);

/* The results. */
void ww__balance_report(const ww_balance *balance, ww__report *report);
void ww__control_report(const ww_control *control, ww__report *report);
void ww__curve_report(const ww_curve *curve, ww__report *report);
void ww__print_report(const ww_print_plan *plan, double timer_step_s, ww__report *report);
void ww__match_report(const ww_match *match, ww__report *report);
void ww__measured_report(const ww_measured *measured, ww__report *report);
void ww__whole_report(const ww_whole *whole, ww__report *report);
void ww__strip_report(const ww_strip *strip, ww__report *report);
void ww__develop_report(const ww_development *development, ww__report *report);
void ww__scan_plan_report(const ww_scan_plan *plan, ww__report *report);
void ww__scan_merge_report(const ww_scan_merge *merge, ww__report *report);
void ww__scan_densities_report(const ww_scan_densities *densities, ww__report *report);
void ww__scanner_report(const ww_scanner *scanner, ww__report *report);
void ww__lesson_report(const ww_lesson *lesson, ww__report *report);
void ww__lesson_class_report(const ww_lesson_class *made, ww__report *report);
void ww__lesson_answers_report(const ww_lesson *lesson, ww__report *report);
void ww__compare_report(const ww_comparison *comparison, ww__report *report);
void ww__tones_report(const ww_tones *tones, ww__report *report);
void ww__texture_report(const ww_texture_scan scan[], size_t n, ww__report *report);

#endif
