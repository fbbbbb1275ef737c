/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_LESSON_TEXT_H
#define WEDGEWORK_LESSON_TEXT_H

#include <wedgework/lesson.h>
#include <wedgework/text_style.h>

/*
 * ww_lesson_text    - what is handed out: what to find, how, and the readings.
 * ww_lesson_answers - the answer sheet: the fault, each figure with its working, every row.
 *
 * Returned  *text  to be freed by the caller
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_lesson_text(const ww_lesson *lesson, const ww_text_style *style, char **text,
                         ww_error *err);
ww_status ww_lesson_answers(const ww_lesson *lesson, const ww_text_style *style, char **text,
                            ww_error *err);

#endif
