/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_PRINT_TRIAL_H
#define WEDGEWORK_TESTS_PRINT_TRIAL_H

#include "support/emulsion.h"
#include "support/print_case.h"
#include <wedgework/print_result.h>

/*
 * Prints of known truth, invented: seven tones on a logistic paper of closed form. What the plan is
 * made from and what came out are read with scatter, and written to 0.01.
 */
enum { TRIAL_TONES = 7 };
extern const char *const trial_tone[TRIAL_TONES];
#define TRIAL_RANGE 1.05
#define TRIAL_X0 0.3
#define TRIAL_AIM 0.10 /* of the cloud, the last of the tones */

/* What is otherwise than the plan has it. */
typedef struct trial_truth {
    double log_h; /* more of it */
    double range; /* log H that the paper's is shorter by, about the cloud's aim */
    double light; /* exposure added, of that of the cloud's aim */
    double fog;   /* density added, fading with what is there */
    double wedge; /* that the curve was measured through is off by so many sd of a nominal one's
                     tolerance, which is 0.01 at its thin to 0.10 at its dense end (interface) */
} trial_truth;

typedef struct print_trial {
    print_case plan;
    print_case print;            /* its negative is the print */
    double density[TRIAL_TONES]; /* of the negative, in truth */
    double scatter;              /* sd of a reading [D] */
    trial_truth truth;
} print_trial;

/* A negative, read with so much scatter, and the plan's request: the cloud placed. */
void print_trial_start(print_trial *trial, dice *d, double scatter);

/* Net density that comes out at a log H which the plan takes for that of its curve. */
double print_trial_net(const trial_truth *truth, double log_h);

/* The print in `time_s`, with no local work: its white and the tones whose bit is set. */
void print_trial_print(print_trial *trial, dice *d, double time_s, unsigned tones);

/* Seconds of the plan, on the timer. */
double print_trial_time(const print_trial *trial);

/* What the program makes of it; release it. */
void print_trial_explain(const print_trial *trial, ww_print_miss *miss);

#endif
