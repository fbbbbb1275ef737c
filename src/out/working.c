/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/working.h"

const char ww__working_definition[] = "definition";
const char ww__working_practice[] = "common practice";

void ww__working_begin(ww__report *report) {
    ww__report_steps(report, "Working");
}

void ww__working_step(ww__report *report, const char *what, const char *formula, ww__text *numbers,
                      const char *source) {
    ww__report_item(report, what);
    ww__report_item(report, formula);
    ww__report_take(report, numbers);
    ww__report_item(report, source);
}
