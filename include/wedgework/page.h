/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PAGE_H
#define WEDGEWORK_PAGE_H

#include <stddef.h>
#include <wedgework/balance.h>
#include <wedgework/compare.h>
#include <wedgework/control.h>
#include <wedgework/curve.h>
#include <wedgework/develop.h>
#include <wedgework/error.h>
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
 * One self-contained HTML page a result: the same sentences and tables as the text, the plot
 * inline, the readings echoed; no scripts, no links, black on white. The file is written whole or
 * not at all. Where the plot cannot be had, the page says why and everything else is there.
 */

/*
 * ww_page_curve - page of a curve.
 * ww_page_print - page of a print plan.
 *
 * Given     curve; or plan and the request that it was made from, whose timer step it goes by
 *           path
 * Returned  *no_plot   code WW_OK where the plot is in the page, else why it is not; NULL allowed
 * Status    WW_OK, also where there is no plot; WW_EDOMAIN the timer step is not > 0; WW_ESYSTEM;
 *           WW_EMEMORY
 */
ww_status ww_page_curve(const ww_curve *curve, const char *path, ww_error *no_plot, ww_error *err);
ww_status ww_page_print(const ww_print_plan *plan, const ww_print_request *request,
                        const char *path, ww_error *no_plot, ww_error *err);

/*
 * ww_page_strip - page of a strip planned or read.
 *
 * Given     strip
 *           readings  that it was read from; NULL for a plan
 * Status    as above
 */
ww_status ww_page_strip(const ww_strip *strip, const ww_readings *readings, const char *path,
                        ww_error *no_plot, ww_error *err);

/*
 * ww_page_develop - page of a development plan.
 *
 * Given     development
 *           input, n  curves that it was made of
 * Status    as above
 */
ww_status ww_page_develop(const ww_development *development, const ww_develop_input input[],
                          size_t n, const char *path, ww_error *no_plot, ww_error *err);

/*
 * ww_page_balance - page of a filter plan.
 *
 * Given     balance
 *           request  that it was made from; readings that it has none of are left away
 * Status    as above
 */
ww_status ww_page_balance(const ww_balance *balance, const ww_balance_request *request,
                          const char *path, ww_error *no_plot, ww_error *err);

/*
 * ww_page_scanner - page of a calibration, with every step of the wedge.
 * ww_page_measured - page of what was read from a scan, with where.
 * ww_page_whole - page of a whole scan.
 *
 * Status    as above
 */
ww_status ww_page_scanner(const ww_scanner *scanner, const char *path, ww_error *no_plot,
                          ww_error *err);
ww_status ww_page_measured(const ww_measured *measured, const char *path, ww_error *no_plot,
                           ww_error *err);
ww_status ww_page_whole(const ww_whole *whole, const char *path, ww_error *no_plot, ww_error *err);

/*
 * ww_page_scan_plan - page of a scan plan.
 *
 * Given     plan and the request that it was made from
 * Status    as above
 */
ww_status ww_page_scan_plan(const ww_scan_plan *plan, const ww_scan_request *request,
                            const char *path, ww_error *no_plot, ww_error *err);

/*
 * ww_page_scan_merge - page of two scans merged.
 * ww_page_scan_densities - page of a picture of densities, with the calibration that it came by.
 *
 * Status    as above
 */
ww_status ww_page_scan_merge(const ww_scan_merge *merge, const char *path, ww_error *no_plot,
                             ww_error *err);
ww_status ww_page_scan_densities(const ww_scan_densities *densities, const ww_scanner *scanner,
                                 const char *path, ww_error *no_plot, ww_error *err);

/*
 * ww_page_match - page of a correction and the request that it was made from.
 *
 * Status    as above
 */
ww_status ww_page_match(const ww_match *match, const ww_match_request *request, const char *path,
                        ww_error *no_plot, ww_error *err);

/*
 * ww_page_compare - page of a comparison, with the readings that it was made from.
 *
 * Given     comparison and the inputs that it was made from
 * Status    as above
 */
ww_status ww_page_compare(const ww_comparison *comparison, const ww_compare_input input[], size_t n,
                          const char *path, ww_error *no_plot, ww_error *err);

/*
 * ww_page_control - page of where a process stands, with the charts of the series that is worst
 *                   off and the reference that its last strip is compared with.
 *
 * Status    as above
 */
ww_status ww_page_control(const ww_control *control, const char *path, ww_error *no_plot,
                          ww_error *err);

/*
 * ww_page_texture - page of grain and edges of scans beside each other.
 *
 * Status    as above
 */
ww_status ww_page_texture(const ww_texture_scan scan[], size_t n, const char *path,
                          ww_error *no_plot, ww_error *err);

/*
 * ww_page_tones - page of tones and the request that they were made from.
 *
 * Status    as above
 */
ww_status ww_page_tones(const ww_tones *tones, const ww_tones_request *request, const char *path,
                        ww_error *no_plot, ww_error *err);

/*
 * ww_page_lesson - page of practice readings, to hand out: without their answers.
 *
 * Status    as above
 */
ww_status ww_page_lesson(const ww_lesson *lesson, const char *path, ww_error *no_plot,
                         ww_error *err);

/* ww_page_lesson_class - page of a class's readings. Status as above */
ww_status ww_page_lesson_class(const ww_lesson_class *made, const char *path, ww_error *no_plot,
                               ww_error *err);

#endif
