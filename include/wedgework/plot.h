/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLOT_H
#define WEDGEWORK_PLOT_H

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
#include <wedgework/scan_merge.h>
#include <wedgework/scanner.h>
#include <wedgework/strip.h>
#include <wedgework/texture_scan.h>
#include <wedgework/tones.h>

/*
 * Plots are drawn by gnuplot, started without a shell and found on PATH. The format follows from
 * the end of the file's name: .svg, .png or .pdf, in either case. The file is written whole or not
 * at all. What is told apart is told apart by line style and mark, so that a plot prints in black.
 */

/*
 * ww_plot_check - whether a file name has an ending that plots can be written as.
 *
 * Status    WW_OK; WW_EUSAGE it has not; the message lists them
 */
ww_status ww_plot_check(const char *path, ww_error *err);

/*
 * ww_plot_curve - density against log H on equal axes with a 0.30 grid, the readings with their
 *                 standard deviation, the construction behind each figure, suspects, and the
 *                 residuals beneath. With several channels the slopes' construction is drawn for
 *                 one of them, green where it is there.
 * ww_plot_curve_svg - the same as text of an SVG document.
 *
 * Given     curve
 *           path
 * Returned  *svg    to be freed by the caller
 * Status    WW_OK; WW_EUSAGE ending of path; WW_ENODATA no channel has a reading; WW_ETOOL gnuplot
 *           is not installed, failed, or took longer than 60 s; WW_ESYSTEM; WW_EMEMORY
 */
ww_status ww_plot_curve(const ww_curve *curve, const char *path, ww_error *err);
ww_status ww_plot_curve_svg(const ww_curve *curve, char **svg, ww_error *err);

/*
 * ww_plot_print - the plan's best paper: its curve with the negative's tones dropped onto it, the
 *                 toe enlarged, the local slope beneath.
 * ww_plot_print_svg - the same as text of an SVG document.
 *
 * Given     plan
 *           paper, n_papers   curves that the plan was made from; the best paper's is found by name
 *                             and contrast, a nominal paper's is in the plan
 * Status    as ww_plot_curve; WW_ENODATA the best paper's curve is in neither
 */
ww_status ww_plot_print(const ww_print_plan *plan, const ww_curve *const paper[], size_t n_papers,
                        const char *path, ww_error *err);
ww_status ww_plot_print_svg(const ww_print_plan *plan, const ww_curve *const paper[],
                            size_t n_papers, char **svg, ww_error *err);

/*
 * ww_plot_strip - density against log time: the steps with their 95 % error, the line through those
 *                 that were used, the aim, the time found with its interval; beneath, the strip to
 *                 expose, piece by piece. Of a plan, that alone.
 * ww_plot_strip_svg - the same as text of an SVG document.
 *
 * Status    as ww_plot_curve; WW_ENODATA there is neither a step nor a piece
 */
ww_status ww_plot_strip(const ww_strip *strip, const char *path, ww_error *err);
ww_status ww_plot_strip_svg(const ww_strip *strip, char **svg, ww_error *err);

/*
 * ww_plot_develop - the curves of all times with the one foretold for the time that was found;
 *                   beneath, contrast against time with its 95 % band, the aim and the time, then
 *                   speed and base+fog. Without a contrast that was asked for, the curves alone.
 * ww_plot_develop_svg - the same as text of an SVG document.
 *
 * Given     development
 *           input, n  curves that it was made of
 * Status    as ww_plot_curve; WW_ENODATA no curve was fitted
 */
ww_status ww_plot_develop(const ww_development *development, const ww_develop_input input[],
                          size_t n, const char *path, ww_error *err);
ww_status ww_plot_develop_svg(const ww_development *development, const ww_develop_input input[],
                              size_t n, char **svg, ww_error *err);

/*
 * ww_plot_balance - a filter plan: the paper's three curves with each grey of the print, its aim,
 *                   and the next print as set.
 * ww_plot_balance_svg - the same as text of an SVG document.
 *
 * Given     balance
 *           paper    that it was made with, NULL for none
 * Status    as ww_plot_curve; WW_ENODATA the plan was not made from a print
 */
ww_status ww_plot_balance(const ww_balance *balance, const ww_curve *paper, const char *path,
                          ww_error *err);
ww_status ww_plot_balance_svg(const ww_balance *balance, const ww_curve *paper, char **svg,
                              ww_error *err);

/*
 * ww_plot_scanner - a calibration: density against the logarithm of the code, with the model that
 *                   was fitted; what it leaves of each step, beside the doubt of the result; noise
 *                   of a pixel against density, with the density where it drowns the signal.
 * ww_plot_scanner_svg - the same as text of an SVG document.
 *
 * Status    as ww_plot_curve; WW_ENODATA no channel has a step
 */
ww_status ww_plot_scanner(const ww_scanner *scanner, const char *path, ww_error *err);
ww_status ww_plot_scanner_svg(const ww_scanner *scanner, char **svg, ww_error *err);

/*
 * ww_plot_measured - densities (without a scanner file: logarithms of codes) by step or spot, with
 *                    their 95 % doubt; the share of pixels left out beneath.
 * ww_plot_measured_svg - the same as text of an SVG document.
 *
 * Status    as ww_plot_curve; WW_ENODATA nothing was read
 */
ww_status ww_plot_measured(const ww_measured *measured, const char *path, ww_error *err);
ww_status ww_plot_measured_svg(const ww_measured *measured, char **svg, ww_error *err);

/*
 * ww_plot_whole - share of the pixels that are no denser (without a scanner file: no lighter), on a
 *                 scale that spreads both ends.
 * ww_plot_whole_svg - the same as text of an SVG document.
 *
 * Status    as ww_plot_curve; WW_ENODATA nothing was counted
 */
ww_status ww_plot_whole(const ww_whole *whole, const char *path, ww_error *err);
ww_status ww_plot_whole_svg(const ww_whole *whole, char **svg, ww_error *err);

/*
 * ww_plot_scan_plan - noise of a pixel in density against density, at the plan's exposures, with
 *                     the tones of the negative and the noise that would do.
 * ww_plot_scan_plan_svg - the same as text of an SVG document.
 *
 * Given     plan and the scanner that it was made for
 * Status    as ww_plot_curve
 */
ww_status ww_plot_scan_plan(const ww_scan_plan *plan, const ww_scanner *scanner, const char *path,
                            ww_error *err);
ww_status ww_plot_scan_plan_svg(const ww_scan_plan *plan, const ww_scanner *scanner, char **svg,
                                ww_error *err);

/*
 * ww_plot_scan_merge - noise of a pixel in density against density below full scale, of the shorter
 *                      scan and of the merged one.
 * ww_plot_scan_merge_svg - the same as text of an SVG document.
 *
 * Status    as ww_plot_curve
 */
ww_status ww_plot_scan_merge(const ww_scan_merge *merge, const char *path, ww_error *err);
ww_status ww_plot_scan_merge_svg(const ww_scan_merge *merge, char **svg, ww_error *err);

/*
 * ww_plot_match - density against what is sent: the aim, the print as it is, and through the
 *                 correction, which is drawn beneath.
 * ww_plot_match_svg - the same as text of an SVG document.
 *
 * Status    as ww_plot_curve
 */
ww_status ww_plot_match(const ww_match *match, const char *path, ww_error *err);
ww_status ww_plot_match_svg(const ww_match *match, char **svg, ww_error *err);

/*
 * ww_plot_compare - density of each print against what was sent, the scales over each other;
 *                   beneath, a strip of greys a print as it will look with 1 % of white from the
 *                   room upon it.
 * ww_plot_compare_svg - the same as text of an SVG document.
 *
 * Status    as ww_plot_curve; WW_ENODATA no grey was read
 */
ww_status ww_plot_compare(const ww_comparison *comparison, const char *path, ww_error *err);
ww_status ww_plot_compare_svg(const ww_comparison *comparison, char **svg, ww_error *err);

/*
 * ww_plot_control - control charts of the series that is worst off: a panel a measure, deviations
 *                   from the aim by date, with limits, lots and baselines; what is beyond a limit
 *                   is ringed and named. Of more than eight measures the first eight are drawn.
 * ww_plot_control_svg - the same as text of an SVG document.
 *
 * Status    as ww_plot_curve; WW_ENODATA no strip counts
 */
ww_status ww_plot_control(const ww_control *control, const char *path, ww_error *err);
ww_status ww_plot_control_svg(const ww_control *control, char **svg, ww_error *err);

/*
 * ww_plot_texture - the contrast that each scan's edge leaves at each frequency, with MTF50 marked,
 *                   and beneath it the grain of each place.
 * ww_plot_texture_svg - the same as text of an SVG document.
 *
 * Status    as ww_plot_curve
 */
ww_status ww_plot_texture(const ww_texture_scan scan[], size_t n, const char *path, ww_error *err);
ww_status ww_plot_texture_svg(const ww_texture_scan scan[], size_t n, char **svg, ww_error *err);

/*
 * ww_plot_tones - the four quadrants: film and camera beneath the scene, enlarger beside it, paper
 *                 above that, and above the scene what comes of it; the stops of the scene are led
 *                 through. Of a wanted print the film that it takes.
 * ww_plot_tones_svg - the same as text of an SVG document.
 *
 * Status    as ww_plot_curve; WW_ENODATA no tone of the scene reaches the print
 */
ww_status ww_plot_tones(const ww_tones *tones, const char *path, ww_error *err);
ww_status ww_plot_tones_svg(const ww_tones *tones, char **svg, ww_error *err);

/*
 * ww_plot_lesson - practice readings as they are handed out, on equal axes, without a curve.
 * ww_plot_lesson_svg - the same as text of an SVG document.
 *
 * Status    as ww_plot_curve
 */
ww_status ww_plot_lesson(const ww_lesson *lesson, const char *path, ww_error *err);
ww_status ww_plot_lesson_svg(const ww_lesson *lesson, char **svg, ww_error *err);

/*
 * ww_plot_lesson_class - a class's readings over each other, those that depart marked.
 * ww_plot_lesson_class_svg - the same as text of an SVG document.
 *
 * Status    as ww_plot_curve
 */
ww_status ww_plot_lesson_class(const ww_lesson_class *made, const char *path, ww_error *err);
ww_status ww_plot_lesson_class_svg(const ww_lesson_class *made, char **svg, ww_error *err);

#endif
