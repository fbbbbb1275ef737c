/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_trial.h"
#include "support/support.h"
#include <math.h>

const char *const trial_tone[TRIAL_TONES] = {"shadow", "roof", "wall", "water",
                                             "face",   "sail", "cloud"};
static const double tone_density[TRIAL_TONES] = {0.36, 0.55, 0.80, 0.97, 1.12, 1.26, 1.38};

static double written(double density) {
    return round(100.0 * density) / 100.0;
}

void print_trial_start(print_trial *trial, dice *d, double scatter) {
    *trial = (print_trial){.scatter = scatter};
    print_case_start(&trial->plan);
    print_case_paper(&trial->plan, "gloss", TRIAL_RANGE, TRIAL_X0);
    print_case_place(&trial->plan, "cloud", TRIAL_AIM);
    for (size_t i = 0; i < TRIAL_TONES; i++) {
        const double read = tone_density[i] + (scatter > 0.0 ? dice_normal(d, scatter) : 0.0);
        trial->density[i] = tone_density[i];
        print_case_tone(&trial->plan, trial_tone[i], WW_PART_WHOLE,
                        scatter > 0.0 ? written(read) : read);
    }
}

static double wedge_off(const trial_truth *truth, double log_h) {
    const double dense = fmin(fmax((TRIAL_X0 + 1.6 - log_h) / 3.2, 0.0), 1.0);
    return truth->wedge * (0.01 + 0.09 * dense) / 1.959964;
}

double print_trial_net(const trial_truth *truth, double log_h) {
    const double pivot = print_case_log_h(TRIAL_RANGE, TRIAL_X0, TRIAL_AIM);
    const double given = log_h + truth->log_h + wedge_off(truth, log_h);
    const double light = log10(pow(10.0, given - pivot) + truth->light);
    const double net = print_case_net(TRIAL_RANGE, TRIAL_X0,
                                      pivot + light * TRIAL_RANGE / (TRIAL_RANGE - truth->range));
    return net + truth->fog * (1.0 - net / 2.0);
}

double print_trial_time(const print_trial *trial) {
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    double time_s;
    print_case_make("plan", &trial->plan, &plan);
    time_s = plan.paper[0].time_s.value;
    ww_print_plan_release(&plan);
    return round(time_s * 10.0) / 10.0;
}

static double read_off(const print_trial *trial, dice *d, double density, double scatter) {
    return trial->scatter > 0.0 ? written(density + dice_normal(d, scatter)) : density;
}

void print_trial_print(print_trial *trial, dice *d, double time_s, unsigned tones) {
    ww_meta *meta = &trial->print.negative.meta;
    print_case_start(&trial->print);
    meta->material = WW_MATERIAL_PRINT;
    meta->exposure_time_s = (ww_optional){true, time_s};
    print_case_tone(&trial->print, "base", WW_PART_WHOLE,
                    read_off(trial, d, 0.05, 0.5 * trial->scatter));
    for (size_t i = 0; i < TRIAL_TONES; i++) {
        const double net = print_trial_net(&trial->truth, log10(time_s) - trial->density[i]);
        if (tones & 1U << i)
            print_case_tone(&trial->print, trial_tone[i], WW_PART_WHOLE,
                            read_off(trial, d, 0.05 + net, trial->scatter));
    }
}

void print_trial_explain(const print_trial *trial, ww_print_miss *miss) {
    ww_error err = WW_ERROR_INIT;
    test_status("explain",
                ww_print_result_explain(&trial->plan.request, &trial->print.negative, miss, &err),
                WW_OK, &err);
}
