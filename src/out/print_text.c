/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <assert.h>
#include <math.h>
#include <wedgework/print_text.h>

ww_status ww_print_text(const ww_print_plan *plan, const ww_text_style *style, char **text,
                        ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(plan && style && text);
    if (!(style->timer_step_s > 0) || !isfinite(style->timer_step_s))
        return ww_error_set(err, WW_EDOMAIN, "%g s is no timer step; give one above 0",
                            style->timer_step_s);
    ww__print_report(plan, style->timer_step_s, &report);
    return ww__report_make_text(&report, style, text, err);
}
