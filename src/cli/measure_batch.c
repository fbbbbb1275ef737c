/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/measure_batch.h"
#include "base/threads.h"
#include "cli/complain.h"
#include "cli/measure_scan.h"
#include <pthread.h>
#include <stdlib.h>

/* Of all scans that are read at the same time; also the size from which a scan is worth all
 * threads. */
static const uint64_t memory_most = 64u * 1024 * 1024;
enum { AHEAD = 4 /* scans a thread that may be read and not yet delivered */ };

typedef struct slot {
    ww_measure_scan scan;
    ww_status status;
    ww_error err;
    bool read; /* or failed: its turn may come */
} slot;

typedef struct batch {
    const ww_measure_job *job;
    ww_progress *progress;
    size_t n, threads;
    size_t workers;
    slot *slot; /* of scan i: i % n_slots */
    size_t n_slots;
    bool printed;    /* by whoever delivers */
    ww_status worst; /* and so are these three */
    ww_error *err;
    bool off; /* the densities of a scan, all of them */
    pthread_mutex_t lock; /* over what follows */
    pthread_cond_t changed;
    size_t next;     /* scan to be delivered next */
    bool delivering; /* somebody does */
    size_t admitted; /* scans before this one have been let in to read */
    uint64_t memory; /* that those still reading take */
} batch;

/* --- in order ------------------------------------------------------------------------------- */

static void keep_worst(batch *b, ww_status status, const ww_error *err) {
    if (b->worst != WW_OK && ww__complain_status(err) <= ww__complain_status(b->err))
        return;
    b->worst = status;
    *b->err = *err;
}

static void deliver(batch *b, slot *s) {
    ww__progress_pause(b->progress);
    if (s->status == WW_OK)
        s->status = ww__measure_scan_deliver(&s->scan, b->printed, &s->err);
    b->off |= s->scan.measured.off || s->scan.whole.off;
    b->printed |= s->status == WW_OK || s->status == WW_ETOOL;
    if (s->status != WW_OK) {
        if (b->n > 1)
            ww__complain(&s->err);
        keep_worst(b, s->status, &s->err);
    }
    ww__measure_scan_release(&s->scan);
    ww__progress_resume(b->progress);
}

/* Whoever finishes the scan that is due delivers it, and those that were waiting for it. */
static void finish(batch *b, size_t item) {
    pthread_mutex_lock(&b->lock);
    b->slot[item % b->n_slots].read = true;
    while (!b->delivering && b->next < b->n && b->slot[b->next % b->n_slots].read) {
        slot *due = &b->slot[b->next % b->n_slots];
        b->delivering = true;
        pthread_mutex_unlock(&b->lock);
        deliver(b, due);
        ww__progress_tell(b->progress, b->next + 1, b->n);
        pthread_mutex_lock(&b->lock);
        due->read = false;
        b->delivering = false;
        b->next++;
        pthread_cond_broadcast(&b->changed);
    }
    pthread_mutex_unlock(&b->lock);
}

/* --- side by side --------------------------------------------------------------------------- */

/* Results wait for those before them, but not any number of results. */
static void wait_for_slot(batch *b, size_t item) {
    pthread_mutex_lock(&b->lock);
    while (item - b->next >= b->n_slots)
        pthread_cond_wait(&b->changed, &b->lock);
    pthread_mutex_unlock(&b->lock);
}

/* In the order of the scans, so that a large one gets its turn. */
static void enter(batch *b, size_t item, uint64_t memory) {
    pthread_mutex_lock(&b->lock);
    while (b->admitted != item || (memory > 0 && b->memory > 0 && b->memory + memory > memory_most))
        pthread_cond_wait(&b->changed, &b->lock);
    b->admitted++;
    b->memory += memory;
    pthread_cond_broadcast(&b->changed);
    pthread_mutex_unlock(&b->lock);
}

static void leave(batch *b, uint64_t memory) {
    pthread_mutex_lock(&b->lock);
    b->memory -= memory;
    pthread_cond_broadcast(&b->changed);
    pthread_mutex_unlock(&b->lock);
}

static ww_status work(size_t item, size_t worker, void *context, ww_error *err) {
    batch *b = context;
    (void)worker, (void)err;
    wait_for_slot(b, item);
    slot *s = &b->slot[item % b->n_slots];
    size_t threads = b->threads / b->workers;
    uint64_t memory = 0;
    s->err = (ww_error)WW_ERROR_INIT;
    s->status = ww__measure_scan_open(b->job, b->job->arguments->file[item], &s->scan, &s->err);
    if (s->status == WW_OK)
        memory = ww__measure_scan_memory(&s->scan, threads);
    if (s->status == WW_OK && (b->workers == 1 || memory >= memory_most ||
                               ww__measure_scan_size(&s->scan) >= memory_most)) {
        threads = b->threads;
        memory = memory_most;
    }
    enter(b, item, memory);
    if (s->status == WW_OK && memory == memory_most)
        ww__progress_watch(b->progress, &s->scan.picture, item + 1, b->n);
    if (s->status == WW_OK)
        s->status = ww__measure_scan_read(&s->scan, threads, &s->err);
    leave(b, memory);
    finish(b, item);
    return WW_OK;
}

/* --- all of them ---------------------------------------------------------------------------- */

static ww_status run(batch *b, ww_error *err) {
    b->slot = calloc(b->n_slots, sizeof *b->slot);
    if (!b->slot)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu scans", b->n_slots);
    const ww_status status = ww__threads_for(b->n, b->workers, work, b, err);
    free(b->slot);
    return status == WW_OK ? b->worst : status;
}

ww_status ww__measure_batch_run(const ww_measure_job *job, ww_progress *progress, bool *off,
                                ww_error *err) {
    batch b = {.job = job,
               .progress = progress,
               .n = job->arguments->n_files,
               .threads = ww__threads_count(job->request.threads),
               .worst = WW_OK,
               .err = err};
    ww_status status = WW_OK;
    b.workers = b.threads < b.n ? b.threads : b.n;
    b.n_slots = AHEAD * b.workers < b.n ? AHEAD * b.workers : b.n;
    if (pthread_mutex_init(&b.lock, NULL) != 0)
        return ww_error_set(err, WW_ESYSTEM, "the system gives no lock for threads");
    if (pthread_cond_init(&b.changed, NULL) != 0)
        status = ww_error_set(err, WW_ESYSTEM, "the system gives no lock for threads");
    if (status == WW_OK) {
        status = run(&b, err);
        pthread_cond_destroy(&b.changed);
    }
    pthread_mutex_destroy(&b.lock);
    *off = b.off;
    return status;
}
