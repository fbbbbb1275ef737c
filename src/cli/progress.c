/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/progress.h"
#include "cli/commands.h"
#include <pthread.h>
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

/* There is one standard error, and whoever holds the pen writes on it. */
static pthread_mutex_t pen = PTHREAD_MUTEX_INITIALIZER;

static void draw_bar(ww_progress *progress, size_t scan, size_t scans, double share) {
    static const char full[] = "########################################";
    static const char empty[] = "........................................";
    const int cells = (int)(share * CELLS);
    clock_gettime(CLOCK_MONOTONIC, &progress->drawn);
    progress->shown = true;
    if (scans > 1)
        fprintf(stderr, "\rscan %zu of %zu ", scan, scans);
    else
        fputs("\rreading ", stderr);
    fprintf(stderr, "[%.*s%.*s] %3d %%", cells, full, CELLS - cells, empty, (int)(100.0 * share));
    fflush(stderr);
}

/* A bar that cannot be drawn now is drawn the next time. `done` counts scans. */
static void draw(ww_progress *progress, size_t scan, size_t scans, double done) {
    const double share = done / (double)scans;
    if (pthread_mutex_trylock(&pen) != 0)
        return;
    if (since(&progress->begun) >= patience_s &&
        !(progress->shown && since(&progress->drawn) < redraw_s))
        draw_bar(progress, scan, scans, share < 0.0 ? 0.0 : share > 1.0 ? 1.0 : share);
    pthread_mutex_unlock(&pen);
}

static void watched(void *context, double done) {
    ww_progress *progress = context;
    draw(progress, progress->scan, progress->scans, (double)(progress->scan - 1) + done);
}

void ww__progress_watch(ww_progress *progress, ww_picture *picture, size_t scan, size_t scans) {
    progress->scan = scan;
    progress->scans = scans;
    picture->progress = progress->wanted ? watched : NULL;
    picture->progress_context = progress;
}

void ww__progress_tell(ww_progress *progress, size_t done, size_t scans) {
    if (progress->wanted && done < scans)
        draw(progress, done + 1, scans, (double)done);
}

static void wipe(ww_progress *progress) {
    if (progress->shown)
        fprintf(stderr, "\r%79s\r", "");
    progress->shown = false;
}

void ww__progress_clear(ww_progress *progress) {
    ww__progress_pause(progress);
    ww__progress_resume(progress);
}

void ww__progress_pause(ww_progress *progress) {
    pthread_mutex_lock(&pen);
    wipe(progress);
}

void ww__progress_resume(ww_progress *progress) {
    (void)progress;
    pthread_mutex_unlock(&pen);
}
