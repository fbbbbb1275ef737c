/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_draw.h"
#include "support/support.h"
#include <stdlib.h>
#include <wedgework/plot.h>

static void endings(void **state) {
    static const struct {
        const char *path;
        ww_status want;
    } rows[] = {
        {"a.svg", WW_OK},         {"b/c.PNG", WW_OK}, {"d.e.Pdf", WW_OK},
        {"a.gif", WW_EUSAGE},     {"svg", WW_EUSAGE}, {".svg", WW_EUSAGE},
        {"a.svg.txt", WW_EUSAGE}, {"", WW_EUSAGE},    {"a.sv\x1b[1mg", WW_EUSAGE},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].path, ww_plot_check(rows[i].path, &err), rows[i].want, &err);
        if (rows[i].want != WW_OK)
            test_holds("lists them", err.msg, ".svg, .png or .pdf");
    }
}

/* A file gets what is drawn, whole; what fails leaves none. */
static ww_status draw_text(const void *of, const ww__plot_format *format, ww__text *picture,
                           ww_error *err) {
    test_true("a format", format != NULL);
    if (*(const char *)of == '\0')
        return ww_error_set(err, WW_ENODATA, "nothing to draw");
    ww__text_add(picture, of);
    return WW_OK;
}

static void writes(void **state) {
    (void)state;
    char *folder = test_folder_new(), *path = test_path(folder, "a.png"), *svg = NULL;
    ww_error err = WW_ERROR_INIT;
    size_t n = 0;
    test_status("nothing", ww__plot_write(draw_text, "", path, &err), WW_ENODATA, &err);
    test_status("ending", ww__plot_write(draw_text, "picture", "a.gif", &err), WW_EUSAGE, &err);
    test_status("file", ww__plot_write(draw_text, "picture", path, &err), WW_OK, &err);
    char *bytes = test_file_read(path, &n);
    test_text("file", bytes, "picture");
    test_status("svg", ww__plot_svg(draw_text, "drawing", &svg, &err), WW_OK, &err);
    test_text("svg", svg, "drawing");
    free(bytes);
    free(svg);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(endings), cmocka_unit_test(writes)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
