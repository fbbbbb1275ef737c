/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_LESSON_CLASS_CASE_H
#define WEDGEWORK_TESTS_LESSON_CLASS_CASE_H

#include "support/support.h"
#include <wedgework/lesson_class.h>

/* Two members of a class of film, every number given. */
typedef struct lesson_class_case {
    double log_h[2][2], density[2][2];
    ww_lesson_member member[2];
    ww_lesson_pair pair;
    ww_lesson_class made;
} lesson_class_case;

static inline void lesson_class_case_make(lesson_class_case *c) {
    *c = (lesson_class_case){.log_h = {{-1.0, 0.0}, {-1.0, 0.0}},
                             .density = {{0.31, 0.93}, {0.31, 1.13}},
                             .pair = {0, 1, 22, 21, 0.07, 1e-9}};
    for (size_t i = 0; i < 2; i++) {
        c->member[i] = (ww_lesson_member){.file = i == 0 ? "anna.csv" : "<b>.csv",
                                          .log_h = c->log_h[i],
                                          .density = c->density[i],
                                          .n = 2};
        c->member[i].working.result[WW_LESSON_GAMMA] =
            (ww_lesson_result){.there = true, .value = i == 0 ? 0.62 : 0.82};
    }
    c->member[1].departs[WW_LESSON_GAMMA] = true;
    c->made = (ww_lesson_class){.member = c->member, .n = 2, .copied = &c->pair, .n_copied = 1};
    c->made.spread[WW_LESSON_GAMMA] = (ww_lesson_spread){2, 0.72, 0.15, 0.62, 0.82};
}

#endif
