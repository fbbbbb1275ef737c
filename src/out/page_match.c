/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include <assert.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

ww_status ww_page_match(const ww_match *match, const ww_match_request *request, const char *path,
                        ww_error *no_plot, ww_error *err) {
    const ww_readings *print = request->print;
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT;
    ww__page page = {
        .title = "Tone correction", .result = &result, .inputs = &inputs, .no_plot = WW_ERROR_INIT};
    assert(match && request && path && print);
    (void)ww_plot_match_svg(match, &page.svg, &page.no_plot);
    ww__match_report(match, &result);
    ww__page_meta(&print->meta, "The print and its aim", &inputs);
    ww__page_fact(&inputs, "file", print->file);
    ww__page_fact(&inputs, "sent", ww_ramp_name(match->ramp));
    ww__page_fact(&inputs, "aim", match->lightness ? "equal steps of L*" : match->aim);
    ww__page_readings(print, "Readings of the print", &inputs);
    if (request->aim)
        ww__page_readings(request->aim, "Readings of the aim", &inputs);
    return ww__page_write(&page, path, no_plot, err);
}
