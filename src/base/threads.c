/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/threads.h"
#include <assert.h>
#include <pthread.h>
#include <unistd.h>

typedef struct pool {
    pthread_mutex_t lock; /* over what follows */
    size_t next;
    size_t n_items;
    size_t failed_item; /* n_items: none */
    ww_status status;
    ww_error *err; /* the caller's */
    ww__threads_work *work;
    void *context;
} pool;

typedef struct worker {
    pool *pool;
    size_t number;
    pthread_t thread;
} worker;

/* Items go out in order, so whatever lies below a failed one is already being worked on. */
static size_t take(pool *all) {
    size_t item;
    pthread_mutex_lock(&all->lock);
    item = all->failed_item < all->n_items ? all->n_items : all->next;
    if (item < all->n_items)
        all->next++;
    pthread_mutex_unlock(&all->lock);
    return item;
}

static void keep_failure(pool *all, size_t item, ww_status status, const ww_error *err) {
    pthread_mutex_lock(&all->lock);
    if (item < all->failed_item) {
        all->failed_item = item;
        all->status = status;
        if (all->err)
            *all->err = *err;
    }
    pthread_mutex_unlock(&all->lock);
}

static void *work_on(void *argument) {
    worker *self = argument;
    pool *all = self->pool;
    for (size_t item = take(all); item < all->n_items; item = take(all)) {
        ww_error err = WW_ERROR_INIT;
        const ww_status status = all->work(item, self->number, all->context, &err);
        if (status != WW_OK)
            keep_failure(all, item, status, &err);
    }
    return NULL;
}

size_t ww__threads_count(size_t wanted) {
    if (wanted == 0) {
        const long online = sysconf(_SC_NPROCESSORS_ONLN);
        wanted = online > 0 ? (size_t)online : 1;
    }
    return wanted < WW__THREADS_MOST ? wanted : WW__THREADS_MOST;
}

ww_status ww__threads_for(size_t n_items, size_t n_threads, ww__threads_work *work, void *context,
                          ww_error *err) {
    worker workers[WW__THREADS_MOST];
    pool all = {.n_items = n_items,
                .failed_item = n_items,
                .status = WW_OK,
                .err = err,
                .work = work,
                .context = context};
    size_t n = ww__threads_count(n_threads), started = 1;
    assert(work);
    if (n > n_items)
        n = n_items > 0 ? n_items : 1;
    if (pthread_mutex_init(&all.lock, NULL) != 0)
        return ww_error_set(err, WW_ESYSTEM, "the system gives no lock for threads");
    for (size_t i = 0; i < n; i++)
        workers[i] = (worker){.pool = &all, .number = i};
    while (started < n &&
           pthread_create(&workers[started].thread, NULL, work_on, &workers[started]) == 0)
        started++;
    work_on(&workers[0]);
    for (size_t i = 1; i < started; i++)
        pthread_join(workers[i].thread, NULL);
    pthread_mutex_destroy(&all.lock);
    return all.status;
}
