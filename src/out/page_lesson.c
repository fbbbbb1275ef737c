/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include <assert.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

ww_status ww_page_lesson(const ww_lesson *lesson, const char *path, ww_error *no_plot,
                         ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT;
    ww__page page = {.title = lesson->strip.paper ? "A practice paper" : "A practice film",
                     .result = &result,
                     .inputs = &inputs,
                     .no_plot = WW_ERROR_INIT};
    assert(path);
    (void)ww_plot_lesson_svg(lesson, &page.svg, &page.no_plot);
    ww__lesson_report(lesson, &result);
    return ww__page_write(&page, path, no_plot, err);
}

ww_status ww_page_lesson_class(const ww_lesson_class *made, const char *path, ww_error *no_plot,
                               ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT;
    ww__page page = {.title = "A class's readings",
                     .result = &result,
                     .inputs = &inputs,
                     .no_plot = WW_ERROR_INIT};
    assert(made && path);
    (void)ww_plot_lesson_class_svg(made, &page.svg, &page.no_plot);
    ww__lesson_class_report(made, &result);
    return ww__page_write(&page, path, no_plot, err);
}
