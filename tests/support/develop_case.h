/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_DEVELOP_CASE_H
#define WEDGEWORK_TESTS_DEVELOP_CASE_H

#include "support/support.h"
#include <wedgework/develop.h>

/*
 * Curves of an invented film whose development is known: a toe-line of toe position -2 and softness
 * 0.1 over base+fog 0.2, gamma by the law, which the contrast index and the average gradient of the
 * case are as well. Speed points are 0.02 log H a minute lower.
 */
enum { DEVELOP_CASE_MOST = 12 };

typedef struct develop_case {
    ww_curve curve[DEVELOP_CASE_MOST];
    ww_develop_input input[DEVELOP_CASE_MOST];
    char file[DEVELOP_CASE_MOST][32];
    size_t n;
    double infinity, rate, start;
} develop_case;

void develop_case_start(develop_case *c, double infinity, double rate, double start);

/* A curve of the law at that time, with contrasts that are known to `half` (95 %); its contrasts
 * are times `factor` what the law says. */
ww_curve *develop_case_add(develop_case *c, double time_min, double half, double factor);

double develop_case_contrast(const develop_case *c, double time_min);
double develop_case_time(const develop_case *c, double contrast);

void develop_case_end(develop_case *c);

#endif
