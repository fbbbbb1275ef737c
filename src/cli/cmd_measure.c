/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/measure_batch.h"
#include "cli/measure_job.h"
#include "cli/progress.h"

ww_status ww__cmd_measure(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    ww_measure_job job = WW_MEASURE_JOB_INIT;
    ww_progress progress;
    bool off = false;
    ww_status status = ww__measure_job_take(arguments, &job, err);
    outcome->holds = true;
    ww__progress_begin(&progress, arguments);
    if (status == WW_OK) {
        outcome->told = arguments->n_files > 1;
        status = ww__measure_batch_run(&job, &progress, &off, err);
        outcome->holds = !off;
    }
    ww__measure_job_release(&job);
    return status;
}
