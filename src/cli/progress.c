/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/progress.h"
#include "cli/commands.h"
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { CELLS = 40 };
static const double patience_s = 1.0, redraw_s = 0.1;

static double since(const struct timespec *then) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)(now.tv_sec - then->tv_sec) + 1e-9 * (double)(now.tv_nsec - then->tv_nsec);
}

void ww__progress_begin(ww_progress *progress, const ww_arguments *arguments) {
    *progress =
        (ww_progress){.wanted = !ww__arguments_has(arguments, "--quiet") && isatty(STDERR_FILENO)};
    clock_gettime(CLOCK_MONOTONIC, &progress->begun);
}

static void draw(void *context, double done) {
    static const char full[] = "########################################";
    static const char empty[] = "........................................";
    ww_progress *progress = context;
    const double share = done < 0.0 ? 0.0 : done > 1.0 ? 1.0 : done;
    const int cells = (int)(share * CELLS);
    if (since(&progress->begun) < patience_s ||
        (progress->shown && since(&progress->drawn) < redraw_s))
        return;
    clock_gettime(CLOCK_MONOTONIC, &progress->drawn);
    progress->shown = true;
    if (progress->scans > 1)
        fprintf(stderr, "\rscan %zu of %zu ", progress->scan, progress->scans);
    else
        fputs("\rreading ", stderr);
    fprintf(stderr, "[%.*s%.*s] %3d %%", cells, full, CELLS - cells, empty, (int)(100.0 * share));
    fflush(stderr);
}

void ww__progress_watch(ww_progress *progress, ww_picture *picture, size_t scan, size_t scans) {
    progress->scan = scan;
    progress->scans = scans;
    picture->progress = progress->wanted ? draw : NULL;
    picture->progress_context = progress;
}

void ww__progress_clear(ww_progress *progress) {
    if (progress->shown)
        fprintf(stderr, "\r%79s\r", "");
    progress->shown = false;
}
