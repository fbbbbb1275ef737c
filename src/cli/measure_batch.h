/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_MEASURE_BATCH_H
#define WEDGEWORK_CLI_MEASURE_BATCH_H

#include "cli/measure_job.h"
#include "cli/progress.h"

/*
 * ww__measure_batch_run - every scan that the command line names, one or many.
 *
 *   Small scans are read side by side, a thread each, as many as fit into 64 MiB together by what
 *   they are expected to take; a scan of 64 MiB or more, or one that takes them alone, is read
 *   alone, by all threads. Results and messages come in the order of the command line, each as soon
 *   as those before it have been given. One bad scan does not stop the others: of several, each is
 *   told as it comes.
 *
 * Returned  the worst status, with its error; the same bytes for any number of threads
 *           *off  all densities of a scan are off, as its notes say
 */
ww_status ww__measure_batch_run(const ww_measure_job *job, ww_progress *progress, bool *off,
                                ww_error *err);

#endif
