/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TEXT_STYLE_H
#define WEDGEWORK_TEXT_STYLE_H

#include <stdbool.h>
#include <stddef.h>

/* How a result is set as text. The text is UTF-8, and ASCII wherever a name from outside is. */
typedef struct ww_text_style {
    size_t width;        /* columns: sentences are folded and tables split to fit; 0: no limit */
    bool colour;         /* terminal attributes: first line bold, warnings coloured */
    double timer_step_s; /* seconds are rounded to it */
} ww_text_style;

#define WW_TEXT_STYLE_INIT                                                                         \
    {                                                                                              \
        .width = 80, .timer_step_s = 0.1                                                           \
    }

#endif
