/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "out/plot_draw.h"
#include "out/plot_script.h"
#include <assert.h>
#include <string.h>
#include <wedgework/plot.h>

static ww_status draw_curve(const void *curve, const ww__plot_format *format, ww__text *picture,
                            ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_curve_data(curve, &data, &size, err);
    return ww__plot_finish("curve", status, format, &data, &size, picture, err);
}

struct print_plot {
    const ww_print_plan *plan;
    const ww_curve *const *paper;
    size_t n_papers;
};

static ww_status draw_print(const void *of, const ww__plot_format *format, ww__text *picture,
                            ww_error *err) {
    const struct print_plot *plot = of;
    const ww_curve *best = ww__plot_print_paper(plot->plan, plot->paper, plot->n_papers);
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    if (!best)
        return ww_error_set(err, WW_ENODATA,
                            "no plot: there is no measured curve of the paper chosen; give the "
                            "paper's own curve with --paper");
    const ww_status status = ww__plot_print_data(plot->plan, best, &data, &size, err);
    return ww__plot_finish("print", status, format, &data, &size, picture, err);
}

static ww_status draw_strip(const void *strip, const ww__plot_format *format, ww__text *picture,
                            ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_strip_data(strip, &data, &size, err);
    return ww__plot_finish("strip", status, format, &data, &size, picture, err);
}

struct develop_plot {
    const ww_development *development;
    const ww_develop_input *input;
    size_t n;
};

static ww_status draw_develop(const void *of, const ww__plot_format *format, ww__text *picture,
                              ww_error *err) {
    const struct develop_plot *plot = of;
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status =
        ww__plot_develop_data(plot->development, plot->input, plot->n, &data, &size, err);
    return ww__plot_finish("develop", status, format, &data, &size, picture, err);
}

struct balance_plot {
    const ww_balance *balance;
    const ww_curve *paper;
};

static ww_status draw_balance(const void *of, const ww__plot_format *format, ww__text *picture,
                              ww_error *err) {
    const struct balance_plot *plot = of;
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_balance_data(plot->balance, plot->paper, &data, &size, err);
    return ww__plot_finish("balance", status, format, &data, &size, picture, err);
}

static ww_status draw_scanner(const void *scanner, const ww__plot_format *format, ww__text *picture,
                              ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_scanner_data(scanner, &data, &size, err);
    return ww__plot_finish("scanner", status, format, &data, &size, picture, err);
}

static ww_status draw_measured(const void *measured, const ww__plot_format *format,
                               ww__text *picture, ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_measured_data(measured, &data, &size, err);
    return ww__plot_finish("measure", status, format, &data, &size, picture, err);
}

static ww_status draw_whole(const void *whole, const ww__plot_format *format, ww__text *picture,
                            ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_whole_data(whole, &data, &size, err);
    return ww__plot_finish("whole", status, format, &data, &size, picture, err);
}

struct scan_plot {
    const ww_scan_plan *plan;
    const ww_scanner *scanner;
};

static ww_status draw_scan_plan(const void *of, const ww__plot_format *format, ww__text *picture,
                                ww_error *err) {
    const struct scan_plot *plot = of;
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_scan_plan_data(plot->plan, plot->scanner, &data, &size, err);
    return ww__plot_finish("scan", status, format, &data, &size, picture, err);
}

static ww_status draw_scan_merge(const void *merge, const ww__plot_format *format,
                                 ww__text *picture, ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_scan_merge_data(merge, &data, &size, err);
    return ww__plot_finish("merge", status, format, &data, &size, picture, err);
}

static ww_status draw_match(const void *match, const ww__plot_format *format, ww__text *picture,
                            ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_match_data(match, &data, &size, err);
    return ww__plot_finish("match", status, format, &data, &size, picture, err);
}

static ww_status draw_compare(const void *comparison, const ww__plot_format *format,
                              ww__text *picture, ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_compare_data(comparison, &data, &size, err);
    return ww__plot_finish("compare", status, format, &data, &size, picture, err);
}

static ww_status draw_control(const void *control, const ww__plot_format *format, ww__text *picture,
                              ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_control_data(control, &data, &size, err);
    return ww__plot_finish("control", status, format, &data, &size, picture, err);
}

static ww_status draw_lesson(const void *lesson, const ww__plot_format *format, ww__text *picture,
                             ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_lesson_data(lesson, &data, &size, err);
    return ww__plot_finish("lesson", status, format, &data, &size, picture, err);
}

static ww_status draw_lesson_class(const void *made, const ww__plot_format *format,
                                   ww__text *picture, ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_lesson_class_data(made, &data, &size, err);
    return ww__plot_finish("class", status, format, &data, &size, picture, err);
}

struct texture_plot {
    const ww_texture_scan *scan;
    size_t n;
};

static ww_status draw_texture(const void *of, const ww__plot_format *format, ww__text *picture,
                              ww_error *err) {
    const struct texture_plot *plot = of;
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_texture_data(plot->scan, plot->n, &data, &size, err);
    return ww__plot_finish("texture", status, format, &data, &size, picture, err);
}

static ww_status draw_tones(const void *tones, const ww__plot_format *format, ww__text *picture,
                            ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_tones_data(tones, &data, &size, err);
    return ww__plot_finish("tones", status, format, &data, &size, picture, err);
}

ww_status ww_plot_curve(const ww_curve *curve, const char *path, ww_error *err) {
    assert(curve && path);
    return ww__plot_write(draw_curve, curve, path, err);
}

ww_status ww_plot_curve_svg(const ww_curve *curve, char **svg, ww_error *err) {
    assert(curve && svg);
    return ww__plot_svg(draw_curve, curve, svg, err);
}

ww_status ww_plot_print(const ww_print_plan *plan, const ww_curve *const paper[], size_t n_papers,
                        const char *path, ww_error *err) {
    const struct print_plot plot = {plan, paper, n_papers};
    assert(plan && path && (paper || n_papers == 0));
    return ww__plot_write(draw_print, &plot, path, err);
}

ww_status ww_plot_print_svg(const ww_print_plan *plan, const ww_curve *const paper[],
                            size_t n_papers, char **svg, ww_error *err) {
    const struct print_plot plot = {plan, paper, n_papers};
    assert(plan && svg && (paper || n_papers == 0));
    return ww__plot_svg(draw_print, &plot, svg, err);
}

ww_status ww_plot_strip(const ww_strip *strip, const char *path, ww_error *err) {
    assert(strip && path);
    return ww__plot_write(draw_strip, strip, path, err);
}

ww_status ww_plot_strip_svg(const ww_strip *strip, char **svg, ww_error *err) {
    assert(strip && svg);
    return ww__plot_svg(draw_strip, strip, svg, err);
}

ww_status ww_plot_develop(const ww_development *development, const ww_develop_input input[],
                          size_t n, const char *path, ww_error *err) {
    const struct develop_plot plot = {development, input, n};
    assert(development && input && path);
    return ww__plot_write(draw_develop, &plot, path, err);
}

ww_status ww_plot_develop_svg(const ww_development *development, const ww_develop_input input[],
                              size_t n, char **svg, ww_error *err) {
    const struct develop_plot plot = {development, input, n};
    assert(development && input && svg);
    return ww__plot_svg(draw_develop, &plot, svg, err);
}

ww_status ww_plot_balance(const ww_balance *balance, const ww_curve *paper, const char *path,
                          ww_error *err) {
    const struct balance_plot plot = {balance, paper};
    assert(balance && path);
    return ww__plot_write(draw_balance, &plot, path, err);
}

ww_status ww_plot_balance_svg(const ww_balance *balance, const ww_curve *paper, char **svg,
                              ww_error *err) {
    const struct balance_plot plot = {balance, paper};
    assert(balance && svg);
    return ww__plot_svg(draw_balance, &plot, svg, err);
}

ww_status ww_plot_scanner(const ww_scanner *scanner, const char *path, ww_error *err) {
    assert(scanner && path);
    return ww__plot_write(draw_scanner, scanner, path, err);
}

ww_status ww_plot_scanner_svg(const ww_scanner *scanner, char **svg, ww_error *err) {
    assert(scanner && svg);
    return ww__plot_svg(draw_scanner, scanner, svg, err);
}

ww_status ww_plot_scan_plan(const ww_scan_plan *plan, const ww_scanner *scanner, const char *path,
                            ww_error *err) {
    const struct scan_plot plot = {plan, scanner};
    assert(plan && scanner && path);
    return ww__plot_write(draw_scan_plan, &plot, path, err);
}

ww_status ww_plot_scan_plan_svg(const ww_scan_plan *plan, const ww_scanner *scanner, char **svg,
                                ww_error *err) {
    const struct scan_plot plot = {plan, scanner};
    assert(plan && scanner && svg);
    return ww__plot_svg(draw_scan_plan, &plot, svg, err);
}

ww_status ww_plot_scan_merge(const ww_scan_merge *merge, const char *path, ww_error *err) {
    assert(merge && path);
    return ww__plot_write(draw_scan_merge, merge, path, err);
}

ww_status ww_plot_scan_merge_svg(const ww_scan_merge *merge, char **svg, ww_error *err) {
    assert(merge && svg);
    return ww__plot_svg(draw_scan_merge, merge, svg, err);
}

ww_status ww_plot_measured(const ww_measured *measured, const char *path, ww_error *err) {
    assert(measured && path);
    return ww__plot_write(draw_measured, measured, path, err);
}

ww_status ww_plot_measured_svg(const ww_measured *measured, char **svg, ww_error *err) {
    assert(measured && svg);
    return ww__plot_svg(draw_measured, measured, svg, err);
}

ww_status ww_plot_whole(const ww_whole *whole, const char *path, ww_error *err) {
    assert(whole && path);
    return ww__plot_write(draw_whole, whole, path, err);
}

ww_status ww_plot_whole_svg(const ww_whole *whole, char **svg, ww_error *err) {
    assert(whole && svg);
    return ww__plot_svg(draw_whole, whole, svg, err);
}

ww_status ww_plot_compare(const ww_comparison *comparison, const char *path, ww_error *err) {
    assert(comparison && path);
    return ww__plot_write(draw_compare, comparison, path, err);
}

ww_status ww_plot_compare_svg(const ww_comparison *comparison, char **svg, ww_error *err) {
    assert(comparison && svg);
    return ww__plot_svg(draw_compare, comparison, svg, err);
}

ww_status ww_plot_match(const ww_match *match, const char *path, ww_error *err) {
    assert(match && path);
    return ww__plot_write(draw_match, match, path, err);
}

ww_status ww_plot_match_svg(const ww_match *match, char **svg, ww_error *err) {
    assert(match && svg);
    return ww__plot_svg(draw_match, match, svg, err);
}

ww_status ww_plot_control(const ww_control *control, const char *path, ww_error *err) {
    assert(control && path);
    return ww__plot_write(draw_control, control, path, err);
}

ww_status ww_plot_control_svg(const ww_control *control, char **svg, ww_error *err) {
    assert(control && svg);
    return ww__plot_svg(draw_control, control, svg, err);
}

ww_status ww_plot_texture(const ww_texture_scan scan[], size_t n, const char *path, ww_error *err) {
    const struct texture_plot plot = {scan, n};
    assert(scan && n > 0 && path);
    return ww__plot_write(draw_texture, &plot, path, err);
}

ww_status ww_plot_texture_svg(const ww_texture_scan scan[], size_t n, char **svg, ww_error *err) {
    const struct texture_plot plot = {scan, n};
    assert(scan && n > 0 && svg);
    return ww__plot_svg(draw_texture, &plot, svg, err);
}

ww_status ww_plot_tones(const ww_tones *tones, const char *path, ww_error *err) {
    assert(tones && path);
    return ww__plot_write(draw_tones, tones, path, err);
}

ww_status ww_plot_tones_svg(const ww_tones *tones, char **svg, ww_error *err) {
    assert(tones && svg);
    return ww__plot_svg(draw_tones, tones, svg, err);
}

ww_status ww_plot_lesson(const ww_lesson *lesson, const char *path, ww_error *err) {
    assert(lesson && path);
    return ww__plot_write(draw_lesson, lesson, path, err);
}

ww_status ww_plot_lesson_svg(const ww_lesson *lesson, char **svg, ww_error *err) {
    assert(lesson && svg);
    return ww__plot_svg(draw_lesson, lesson, svg, err);
}

ww_status ww_plot_lesson_class(const ww_lesson_class *made, const char *path, ww_error *err) {
    assert(made && path);
    return ww__plot_write(draw_lesson_class, made, path, err);
}

ww_status ww_plot_lesson_class_svg(const ww_lesson_class *made, char **svg, ww_error *err) {
    assert(made && svg);
    return ww__plot_svg(draw_lesson_class, made, svg, err);
}
