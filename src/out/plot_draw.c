/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_draw.h"
#include "base/escape.h"
#include "out/scripts.h"
#include <assert.h>
#include <string.h>
#include <strings.h>
#include <wedgework/output.h>
#include <wedgework/plot.h>

/* A kind of picture, by the end of its name. */
struct ww__plot_format {
    const char *ending;
    const char *terminal; /* takes width and height */
};

enum { TIME_LIMIT_S = 60 };

/* Sizes are in px at 96 to the inch; a PNG gets 1.5 times as many for the same picture. */
static const ww__plot_format formats[] = {
    {".svg", "set terminal svg size %.0f,%.0f font 'DejaVu Sans,12' noenhanced "
             "background rgb 'white'\n"},
    {".png", "set terminal pngcairo noenhanced font 'DejaVu Sans,9' fontscale 1.5 linewidth 1.5 "
             "pointscale 1.5 size 1.5*%.0f,1.5*%.0f background rgb 'white'\n"},
    {".pdf", "set terminal pdfcairo noenhanced font 'DejaVu Sans,9' fontscale 0.7 linewidth 0.7 "
             "pointscale 0.75 "
             "size %.0f/96.0 in,%.0f/96.0 in background rgb 'white'\n"},
};
static const ww__plot_format *const svg_format = &formats[0], *const png_format = &formats[1];

static ww_status find_format(const char *path, const ww__plot_format **found, ww_error *err) {
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
    const ww__plot_format *format;
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
static ww_status draw(const char *name, const ww__plot_format *format, const ww__text *data,
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

ww_status ww__plot_finish(const char *name, ww_status status, const ww__plot_format *format,
                          ww__text *data, const ww__plot_size *size, ww__text *picture,
                          ww_error *err) {
    if (status == WW_OK)
        status = draw(name, format, data, *size, NULL, picture, err);
    ww__text_release(data);
    return status;
}

static ww_status write_picture(const char *path, ww__text *picture, ww_error *err) {
    const ww_status status = ww_output_write(path, ww__text_string(picture), picture->n, err);
    ww__text_release(picture);
    return status;
}

ww_status ww__plot_write(ww__plot_draw *draw_it, const void *of, const char *path, ww_error *err) {
    const ww__plot_format *format = NULL;
    ww__text picture = WW__TEXT_INIT;
    ww_status status = find_format(path, &format, err);
    if (status == WW_OK)
        status = draw_it(of, format, &picture, err);
    return status == WW_OK ? write_picture(path, &picture, err) : status;
}

ww_status ww__plot_svg(ww__plot_draw *draw_it, const void *of, char **svg, ww_error *err) {
    ww__text picture = WW__TEXT_INIT;
    const ww_status status = draw_it(of, svg_format, &picture, err);
    if (status == WW_OK)
        *svg = picture.bytes;
    return status;
}

ww_status ww__plot_png(const char *name, const ww__text *data, ww__plot_size size,
                       const ww__text *tail, ww__text *png, ww_error *err) {
    return draw(name, png_format, data, size, tail, png, err);
}
