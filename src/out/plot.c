/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "base/text.h"
#include "out/plot_script.h"
#include "out/scripts.h"
#include <assert.h>
#include <string.h>
#include <strings.h>
#include <wedgework/output.h>
#include <wedgework/plot.h>

enum { TIME_LIMIT_S = 60 };

/* Sizes are in px at 96 to the inch; a PNG gets 1.5 times as many for the same picture. */
static const struct format {
    const char *ending;
    const char *terminal; /* takes width and height */
} formats[] = {
    {".svg", "set terminal svg size %.0f,%.0f font 'DejaVu Sans,12' noenhanced "
             "background rgb 'white'\n"},
    {".png", "set terminal pngcairo noenhanced font 'DejaVu Sans,9' fontscale 1.5 linewidth 1.5 "
             "pointscale 1.5 size 1.5*%.0f,1.5*%.0f background rgb 'white'\n"},
    {".pdf", "set terminal pdfcairo noenhanced font 'DejaVu Sans,9' fontscale 0.7 linewidth 0.7 "
             "pointscale 0.75 "
             "size %.0f/96.0 in,%.0f/96.0 in background rgb 'white'\n"},
};
static const struct format *const svg_format = &formats[0], *const png_format = &formats[1];

static ww_status find_format(const char *path, const struct format **found, ww_error *err) {
    const size_t length = strlen(path);
    char shown[64];
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++) {
        const size_t n = strlen(formats[i].ending);
        if (length > n && strcasecmp(path + length - n, formats[i].ending) == 0) {
            *found = &formats[i];
            return WW_OK;
        }
    }
    return ww_error_set(err, WW_EUSAGE,
                        "a plot cannot be written as '%s'; give a name that ends in .svg, .png "
                        "or .pdf",
                        ww__escape_message(path, shown, sizeof shown));
}

ww_status ww_plot_check(const char *path, ww_error *err) {
    const struct format *format;
    assert(path);
    return find_format(path, &format, err);
}

static const char *find_script(const char *name) {
    for (size_t i = 0; i < ww__plot_scripts_count; i++)
        if (strcmp(ww__plot_scripts[i].name, name) == 0)
            return ww__plot_scripts[i].text;
    return NULL;
}

/* `tail` follows the script: bytes that its last command reads; NULL for none. */
static ww_status draw(const char *name, const struct format *format, const ww__text *data,
                      ww__plot_size size, const ww__text *tail, ww__text *picture, ww_error *err) {
    const char *script = find_script(name);
    ww__text input = WW__TEXT_INIT;
    ww_status status;
    if (!script)
        return ww_error_set(err, WW_EINTERNAL, "the plot script '%s' is not compiled in", name);
    ww__text_add(&input, "set encoding utf8\n");
    /* The table above holds the formats. */
#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
#endif
    ww__text_add_format(&input, format->terminal, size.width, size.height);
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif
    ww__text_add(&input, ww__text_string(data));
    ww__text_add(&input, script);
    status = ww__text_status(&input, err);
    if (status == WW_OK)
        status = ww__plot_run("gnuplot", TIME_LIMIT_S, &input, tail, picture, err);
    ww__text_release(&input);
    return status;
}

/* Draws data that are there, and lets go of them. */
static ww_status finish(const char *name, ww_status status, const struct format *format,
                        ww__text *data, const ww__plot_size *size, ww__text *picture,
                        ww_error *err) {
    if (status == WW_OK)
        status = draw(name, format, data, *size, NULL, picture, err);
    ww__text_release(data);
    return status;
}

static ww_status draw_curve(const void *curve, const struct format *format, ww__text *picture,
                            ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_curve_data(curve, &data, &size, err);
    return finish("curve", status, format, &data, &size, picture, err);
}

/* The curve behind the best paper; a nominal or interpolated one is in the plan. */
static const ww_curve *find_paper(const ww_print_plan *plan, const ww_curve *const paper[],
                                  size_t n_papers) {
    if (plan->n_papers > 0 && plan->paper[0].own_curve)
        return plan->paper[0].own_curve;
    for (size_t i = 0; plan->n_papers > 0 && i < n_papers; i++)
        if (ww__text_same(paper[i]->meta.name, plan->paper[0].paper) &&
            ww__text_same(paper[i]->meta.contrast, plan->paper[0].contrast))
            return paper[i];
    /* A paper without a name of its own goes by the name that the plan gave it. */
    return n_papers == 1 && plan->n_papers > 0 ? paper[0] : NULL;
}

struct print_plot {
    const ww_print_plan *plan;
    const ww_curve *const *paper;
    size_t n_papers;
};

static ww_status draw_print(const void *of, const struct format *format, ww__text *picture,
                            ww_error *err) {
    const struct print_plot *plot = of;
    const ww_curve *best = find_paper(plot->plan, plot->paper, plot->n_papers);
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    if (!best)
        return ww_error_set(err, WW_ENODATA,
                            "no plot: there is no measured curve of the paper chosen; give the "
                            "paper's own curve with --paper");
    const ww_status status = ww__plot_print_data(plot->plan, best, &data, &size, err);
    return finish("print", status, format, &data, &size, picture, err);
}

static ww_status draw_strip(const void *strip, const struct format *format, ww__text *picture,
                            ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_strip_data(strip, &data, &size, err);
    return finish("strip", status, format, &data, &size, picture, err);
}

struct balance_plot {
    const ww_balance *balance;
    const ww_curve *paper;
};

static ww_status draw_balance(const void *of, const struct format *format, ww__text *picture,
                              ww_error *err) {
    const struct balance_plot *plot = of;
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_balance_data(plot->balance, plot->paper, &data, &size, err);
    return finish("balance", status, format, &data, &size, picture, err);
}

static ww_status draw_scanner(const void *scanner, const struct format *format, ww__text *picture,
                              ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_scanner_data(scanner, &data, &size, err);
    return finish("scanner", status, format, &data, &size, picture, err);
}

static ww_status draw_measured(const void *measured, const struct format *format, ww__text *picture,
                               ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_measured_data(measured, &data, &size, err);
    return finish("measure", status, format, &data, &size, picture, err);
}

static ww_status draw_whole(const void *whole, const struct format *format, ww__text *picture,
                            ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_whole_data(whole, &data, &size, err);
    return finish("whole", status, format, &data, &size, picture, err);
}

struct scan_plot {
    const ww_scan_plan *plan;
    const ww_scanner *scanner;
};

static ww_status draw_scan_plan(const void *of, const struct format *format, ww__text *picture,
                                ww_error *err) {
    const struct scan_plot *plot = of;
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_scan_plan_data(plot->plan, plot->scanner, &data, &size, err);
    return finish("scan", status, format, &data, &size, picture, err);
}

static ww_status draw_scan_merge(const void *merge, const struct format *format, ww__text *picture,
                                 ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_scan_merge_data(merge, &data, &size, err);
    return finish("merge", status, format, &data, &size, picture, err);
}

static ww_status draw_match(const void *match, const struct format *format, ww__text *picture,
                            ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_match_data(match, &data, &size, err);
    return finish("match", status, format, &data, &size, picture, err);
}

static ww_status draw_compare(const void *comparison, const struct format *format,
                              ww__text *picture, ww_error *err) {
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_compare_data(comparison, &data, &size, err);
    return finish("compare", status, format, &data, &size, picture, err);
}

struct texture_plot {
    const ww_texture_scan *scan;
    size_t n;
};

static ww_status draw_texture(const void *of, const struct format *format, ww__text *picture,
                              ww_error *err) {
    const struct texture_plot *plot = of;
    ww__text data = WW__TEXT_INIT;
    ww__plot_size size;
    const ww_status status = ww__plot_texture_data(plot->scan, plot->n, &data, &size, err);
    return finish("texture", status, format, &data, &size, picture, err);
}

static ww_status write_picture(const char *path, ww__text *picture, ww_error *err) {
    const ww_status status = ww_output_write(path, ww__text_string(picture), picture->n, err);
    ww__text_release(picture);
    return status;
}

/* One of the draw_x above. */
typedef ww_status draw_result(const void *of, const struct format *format, ww__text *picture,
                              ww_error *err);

static ww_status write_plot(draw_result *draw_it, const void *of, const char *path, ww_error *err) {
    const struct format *format = NULL;
    ww__text picture = WW__TEXT_INIT;
    ww_status status = find_format(path, &format, err);
    if (status == WW_OK)
        status = draw_it(of, format, &picture, err);
    return status == WW_OK ? write_picture(path, &picture, err) : status;
}

static ww_status make_svg(draw_result *draw_it, const void *of, char **svg, ww_error *err) {
    ww__text picture = WW__TEXT_INIT;
    const ww_status status = draw_it(of, svg_format, &picture, err);
    if (status == WW_OK)
        *svg = picture.bytes;
    return status;
}

ww_status ww_plot_curve(const ww_curve *curve, const char *path, ww_error *err) {
    assert(curve && path);
    return write_plot(draw_curve, curve, path, err);
}

ww_status ww_plot_curve_svg(const ww_curve *curve, char **svg, ww_error *err) {
    assert(curve && svg);
    return make_svg(draw_curve, curve, svg, err);
}

ww_status ww_plot_print(const ww_print_plan *plan, const ww_curve *const paper[], size_t n_papers,
                        const char *path, ww_error *err) {
    const struct print_plot plot = {plan, paper, n_papers};
    assert(plan && path && (paper || n_papers == 0));
    return write_plot(draw_print, &plot, path, err);
}

ww_status ww_plot_print_svg(const ww_print_plan *plan, const ww_curve *const paper[],
                            size_t n_papers, char **svg, ww_error *err) {
    const struct print_plot plot = {plan, paper, n_papers};
    assert(plan && svg && (paper || n_papers == 0));
    return make_svg(draw_print, &plot, svg, err);
}

ww_status ww_plot_strip(const ww_strip *strip, const char *path, ww_error *err) {
    assert(strip && path);
    return write_plot(draw_strip, strip, path, err);
}

ww_status ww_plot_strip_svg(const ww_strip *strip, char **svg, ww_error *err) {
    assert(strip && svg);
    return make_svg(draw_strip, strip, svg, err);
}

ww_status ww_plot_balance(const ww_balance *balance, const ww_curve *paper, const char *path,
                          ww_error *err) {
    const struct balance_plot plot = {balance, paper};
    assert(balance && path);
    return write_plot(draw_balance, &plot, path, err);
}

ww_status ww_plot_balance_svg(const ww_balance *balance, const ww_curve *paper, char **svg,
                              ww_error *err) {
    const struct balance_plot plot = {balance, paper};
    assert(balance && svg);
    return make_svg(draw_balance, &plot, svg, err);
}

ww_status ww_plot_scanner(const ww_scanner *scanner, const char *path, ww_error *err) {
    assert(scanner && path);
    return write_plot(draw_scanner, scanner, path, err);
}

ww_status ww_plot_scanner_svg(const ww_scanner *scanner, char **svg, ww_error *err) {
    assert(scanner && svg);
    return make_svg(draw_scanner, scanner, svg, err);
}

ww_status ww_plot_scan_plan(const ww_scan_plan *plan, const ww_scanner *scanner, const char *path,
                            ww_error *err) {
    const struct scan_plot plot = {plan, scanner};
    assert(plan && scanner && path);
    return write_plot(draw_scan_plan, &plot, path, err);
}

ww_status ww_plot_scan_plan_svg(const ww_scan_plan *plan, const ww_scanner *scanner, char **svg,
                                ww_error *err) {
    const struct scan_plot plot = {plan, scanner};
    assert(plan && scanner && svg);
    return make_svg(draw_scan_plan, &plot, svg, err);
}

ww_status ww_plot_scan_merge(const ww_scan_merge *merge, const char *path, ww_error *err) {
    assert(merge && path);
    return write_plot(draw_scan_merge, merge, path, err);
}

ww_status ww_plot_scan_merge_svg(const ww_scan_merge *merge, char **svg, ww_error *err) {
    assert(merge && svg);
    return make_svg(draw_scan_merge, merge, svg, err);
}

ww_status ww_plot_measured(const ww_measured *measured, const char *path, ww_error *err) {
    assert(measured && path);
    return write_plot(draw_measured, measured, path, err);
}

ww_status ww_plot_measured_svg(const ww_measured *measured, char **svg, ww_error *err) {
    assert(measured && svg);
    return make_svg(draw_measured, measured, svg, err);
}

ww_status ww_plot_whole(const ww_whole *whole, const char *path, ww_error *err) {
    assert(whole && path);
    return write_plot(draw_whole, whole, path, err);
}

ww_status ww_plot_whole_svg(const ww_whole *whole, char **svg, ww_error *err) {
    assert(whole && svg);
    return make_svg(draw_whole, whole, svg, err);
}

ww_status ww_plot_compare(const ww_comparison *comparison, const char *path, ww_error *err) {
    assert(comparison && path);
    return write_plot(draw_compare, comparison, path, err);
}

ww_status ww_plot_compare_svg(const ww_comparison *comparison, char **svg, ww_error *err) {
    assert(comparison && svg);
    return make_svg(draw_compare, comparison, svg, err);
}

ww_status ww__plot_png(const char *name, const ww__text *data, ww__plot_size size,
                       const ww__text *tail, ww__text *png, ww_error *err) {
    return draw(name, png_format, data, size, tail, png, err);
}

ww_status ww_plot_match(const ww_match *match, const char *path, ww_error *err) {
    assert(match && path);
    return write_plot(draw_match, match, path, err);
}

ww_status ww_plot_match_svg(const ww_match *match, char **svg, ww_error *err) {
    assert(match && svg);
    return make_svg(draw_match, match, svg, err);
}

ww_status ww_plot_texture(const ww_texture_scan scan[], size_t n, const char *path, ww_error *err) {
    const struct texture_plot plot = {scan, n};
    assert(scan && n > 0 && path);
    return write_plot(draw_texture, &plot, path, err);
}

ww_status ww_plot_texture_svg(const ww_texture_scan scan[], size_t n, char **svg, ww_error *err) {
    const struct texture_plot plot = {scan, n};
    assert(scan && n > 0 && svg);
    return make_svg(draw_texture, &plot, svg, err);
}
