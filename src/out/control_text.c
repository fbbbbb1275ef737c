/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/control_words.h"
#include "out/report.h"
#include <assert.h>
#include <wedgework/control_text.h>

ww_status ww_control_text(const ww_control *control, const ww_text_style *style, char **text,
                          ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(control && style && text);
    ww__control_report(control, &report);
    return ww__report_make_text(&report, style, text, err);
}

ww_status ww_control_sentence(const ww_control *control, char **text, ww_error *err) {
    ww__text made = WW__TEXT_INIT;
    ww_status status;
    assert(control && text);
    ww__words_control_act(&made, control);
    status = ww__text_status(&made, err);
    if (status == WW_OK)
        *text = made.bytes;
    else
        ww__text_release(&made);
    return status;
}
