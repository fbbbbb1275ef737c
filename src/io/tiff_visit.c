/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_visit.h"
#include "base/threads.h"
#include "io/tiff_packed.h"
#include "io/tiff_plain.h"
#include "io/tiff_spill.h"
#include <stdlib.h>

/* -------------------------------------------------------------------------------------- batches */

static uint64_t costs(const ww__tiff *tiff, uint64_t width) {
    const uint64_t row = ww__tiff_samples_row(&tiff->samples, width);
    const uint64_t room = ww__tiff_samples_room(&tiff->samples, width);
    return row > room ? row : room;
}

size_t ww__tiff_visit_rows(const ww__tiff *tiff, uint64_t width) {
    const uint64_t n = WW__TIFF_BATCH / costs(tiff, width);
    return n > 0 ? (size_t)n : 1;
}

size_t ww__tiff_visit_columns(const ww__tiff *tiff, size_t width) {
    const uint64_t eight = costs(tiff, 8);
    return costs(tiff, width) <= WW__TIFF_BATCH ? width : (size_t)(WW__TIFF_BATCH / eight * 8);
}

/* ------------------------------------------------------------------------------- what is wanted */

static ww_region common(ww_region a, ww_region b) {
    const size_t left = a.x > b.x ? a.x : b.x, top = a.y > b.y ? a.y : b.y;
    const size_t right = a.x + a.width < b.x + b.width ? a.x + a.width : b.x + b.width;
    const size_t bottom = a.y + a.height < b.y + b.height ? a.y + a.height : b.y + b.height;
    if (left >= right || top >= bottom)
        return (ww_region){0, 0, 0, 0};
    return (ww_region){left, top, right - left, bottom - top};
}

static ww_region around(ww_region a, ww_region b) {
    const size_t left = a.x < b.x ? a.x : b.x, top = a.y < b.y ? a.y : b.y;
    const size_t right = a.x + a.width > b.x + b.width ? a.x + a.width : b.x + b.width;
    const size_t bottom = a.y + a.height > b.y + b.height ? a.y + a.height : b.y + b.height;
    return (ww_region){left, top, right - left, bottom - top};
}

static int by_top(const void *a, const void *b) {
    const size_t one = ((const ww_region *)a)->y, other = ((const ww_region *)b)->y;
    return (one > other) - (one < other);
}

/* The first region from the top that may reach down to `piece`: there may be one for each row of
 * a picture, and as many pieces. */
static size_t first_near(const ww__tiff_job *job, ww_region piece) {
    size_t low = 0, high = job->n_regions;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (job->region[middle].y + job->tallest > piece.y)
            high = middle;
        else
            low = middle + 1;
    }
    return low;
}

/* Whether region i, counted from the top, and with it all that follow, lie below `piece`. */
static bool is_below(const ww__tiff_job *job, size_t i, ww_region piece) {
    return job->region[i].y >= piece.y + piece.height;
}

ww_region ww__tiff_visit_wanted(const ww__tiff_job *job, ww_region piece) {
    ww_region wanted = {0, 0, 0, 0};
    for (size_t i = first_near(job, piece); i < job->n_regions && !is_below(job, i, piece); i++) {
        const ww_region part = common(job->region[i], piece);
        if (part.width > 0)
            wanted = wanted.width > 0 ? around(wanted, part) : part;
    }
    return wanted;
}

static bool touches(const ww__tiff_job *job, ww_region piece) {
    for (size_t i = first_near(job, piece); i < job->n_regions && !is_below(job, i, piece); i++)
        if (common(job->region[i], piece).width > 0)
            return true;
    return false;
}

/* -------------------------------------------------------------------------------------- showing */

static ww_status show_part(const ww__tiff_job *job, size_t worker, size_t plane, ww_region part,
                           unsigned char *rows, size_t row_bytes, ww_error *err) {
    ww_block block = {
        .x = part.x, .y = part.y, .width = part.width, .height = part.height, .channel = plane};
    if (!touches(job, part))
        return WW_OK;
    ww__tiff_samples_deliver(&job->tiff->samples, rows, row_bytes, job->worker[worker].room,
                             &block);
    ww__tiff_turn_block(&job->tiff->turn, &block);
    return job->visit(&block, worker, job->context, err);
}

ww_status ww__tiff_visit_show(const ww__tiff_job *job, size_t worker, size_t plane,
                              ww_region stored, unsigned char *rows, size_t row_bytes,
                              ww_error *err) {
    const size_t columns = ww__tiff_visit_columns(job->tiff, stored.width);
    const size_t most = ww__tiff_visit_rows(job->tiff, columns);
    if (job->spill)
        return ww__tiff_spill_rows(job->spill, plane, stored, rows, err);
    for (size_t y = 0; y < stored.height; y += most)
        for (size_t x = 0; x < stored.width; x += columns) {
            const ww_region part = {stored.x + x, stored.y + y,
                                    stored.width - x < columns ? stored.width - x : columns,
                                    stored.height - y < most ? stored.height - y : most};
            const size_t before = (size_t)ww__tiff_samples_row(&job->tiff->samples, x);
            const ww_status status =
                show_part(job, worker, plane, part, rows + y * row_bytes + before, row_bytes, err);
            if (status != WW_OK)
                return status;
        }
    return WW_OK;
}

void ww__tiff_visit_passed(ww__tiff_job *job, size_t worker, uint64_t pixels) {
    const uint64_t before = atomic_fetch_add(&job->passed, pixels);
    if (worker == 0 && job->picture->progress)
        job->picture->progress(job->picture->progress_context,
                               (double)(before + pixels) / job->total);
}

/* -------------------------------------------------------------------------------------- a visit */

struct how {
    size_t (*pieces)(const ww__tiff *tiff);
    ww__tiff_piece (*piece)(const ww__tiff *tiff, size_t number);
    uint64_t (*memory)(const ww__tiff *tiff);
    ww__threads_work *work;
};

static const struct how plain = {ww__tiff_plain_pieces, ww__tiff_plain_piece, ww__tiff_plain_memory,
                                 ww__tiff_plain_work};
static const struct how packed = {ww__tiff_packed_pieces, ww__tiff_packed_piece,
                                  ww__tiff_packed_memory, ww__tiff_packed_work};

static ww_status no_memory(const ww__tiff_job *job, ww_error *err) {
    return ww_error_set_at(err, WW_EMEMORY, job->picture->file, 0, "no memory to read this file");
}

static ww_status turn_regions(ww__tiff_job *job, const ww_region region[], size_t n,
                              ww_error *err) {
    job->region = n <= SIZE_MAX / sizeof *region ? malloc(n * sizeof *region) : NULL;
    if (!job->region)
        return no_memory(job, err);
    for (size_t i = 0; i < n; i++) {
        job->region[i] = ww__tiff_turn_stored(&job->tiff->turn, region[i]);
        if (job->region[i].height > job->tallest)
            job->tallest = job->region[i].height;
    }
    qsort(job->region, n, sizeof *job->region, by_top);
    job->n_regions = n;
    return WW_OK;
}

static bool append(ww__tiff_job *job, size_t number, size_t *room) {
    if (job->n_items == *room) {
        const size_t more = *room > 0 ? 2 * *room : 64;
        size_t *grown =
            more <= SIZE_MAX / sizeof *grown ? realloc(job->item, more * sizeof *grown) : NULL;
        if (!grown)
            return false;
        job->item = grown;
        *room = more;
    }
    job->item[job->n_items++] = number;
    return true;
}

static ww_status choose_items(ww__tiff_job *job, const struct how *way, ww_error *err) {
    const size_t n = way->pieces(job->tiff);
    size_t room = 0;
    for (size_t i = 0; i < n; i++) {
        const ww__tiff_piece piece = way->piece(job->tiff, i);
        if (piece.stored.width == 0 || !touches(job, piece.stored))
            continue;
        if (!append(job, i, &room))
            return no_memory(job, err);
        job->total += (double)piece.stored.width * (double)piece.stored.height;
    }
    return WW_OK;
}

/* As many as are worth while, and as have room together. */
static size_t workers_for(const ww__tiff_job *job, const struct how *way, size_t threads) {
    const double bytes = job->total * (double)job->tiff->samples.side_by_side *
                         (double)job->tiff->samples.bits / 8.0;
    const uint64_t memory = way->memory(job->tiff);
    const uint64_t all = memory > 0 ? WW__TIFF_MEMORY / memory : WW__THREADS_MOST;
    const uint64_t resting = job->tiff->by_scanline ? job->tiff->planes : 0;
    const uint64_t fit = all > resting ? all - resting : 0;
    size_t n = bytes < (double)job->tiff->threads_from ? 1 : ww__threads_count(threads);
    if (n > fit)
        n = fit > 0 ? (size_t)fit : 1;
    return n;
}

static ww_status run(ww__tiff_job *job, const struct how *way, size_t threads, ww_error *err) {
    ww_status status;
    job->n_workers = workers_for(job, way, threads);
    job->worker = calloc(job->n_workers, sizeof *job->worker);
    if (!job->worker)
        return no_memory(job, err);
    ww__tiff_packed_wake(job);
    status = ww__threads_for(job->n_items, job->n_workers, way->work, job, err);
    ww__tiff_packed_leave(job);
    for (size_t i = 0; i < job->n_workers; i++) {
        free(job->worker[i].rows);
        free(job->worker[i].room);
        ww__tiff_packed_close(job->worker[i].decoder);
    }
    free(job->worker);
    return status;
}

static ww_status go_through(ww__tiff_job *job, size_t threads, ww_error *err) {
    const struct how *way = job->tiff->offset ? &plain : &packed;
    const ww_status status = choose_items(job, way, err);
    return status == WW_OK ? run(job, way, threads, err) : status;
}

static void release(ww__tiff_job *job) {
    free(job->region);
    free(job->item);
}

/* -------------------------------------------------------------------------------- decompressed */

/* Pixels that chunks have beyond those of regions. Where rows are shown in their order none count:
 * who asks for one band after the other gets each chunk once. */
static uint64_t in_vain(const ww__tiff_job *job) {
    const ww__tiff *tiff = job->tiff;
    const size_t n = ww__tiff_packed_pieces(tiff);
    uint64_t all = 0, asked = 0;
    if (ww__tiff_turn_keeps_rows(&tiff->turn))
        return 0;
    for (size_t i = 0; i < n; i++) {
        const ww_region piece = ww__tiff_packed_piece(tiff, i).stored;
        const ww_region wanted = ww__tiff_visit_wanted(job, piece);
        const size_t end = tiff->by_scanline ? wanted.y + wanted.height : piece.y + piece.height;
        if (wanted.width > 0)
            all += (uint64_t)piece.width * (end - piece.y);
    }
    for (size_t i = 0; i < job->n_regions; i++)
        asked += (uint64_t)job->region[i].width * job->region[i].height * tiff->planes;
    return all > asked ? all - asked : 0;
}

/* Whatever prevents it is no error: each visit tells by itself what it cannot read. */
static void spill(const ww_picture *picture, size_t threads) {
    const ww_region all = {0, 0, picture->width, picture->height};
    ww__tiff *tiff = picture->handle, *made = ww__tiff_spill_begin(tiff);
    ww_picture quiet = *picture;
    ww__tiff_job job = {.tiff = tiff, .picture = &quiet, .spill = made};
    quiet.progress = NULL;
    if (!made)
        return;
    if (turn_regions(&job, &all, 1, NULL) == WW_OK && go_through(&job, threads, NULL) == WW_OK) {
        atomic_store(&tiff->spill, made);
        ww__tiff_packed_end(tiff); /* nobody goes on there */
    } else
        ww__tiff_spill_drop(made);
    release(&job);
}

/* What this visit is to read: the file, or what was decompressed of it. */
static ww__tiff *source_of(const ww__tiff_job *job, size_t threads) {
    ww__tiff *tiff = job->tiff, *spilled = atomic_load(&tiff->spill);
    if (!tiff->offset && !spilled && ww__tiff_spill_due(tiff, in_vain(job))) {
        spill(job->picture, threads);
        spilled = atomic_load(&tiff->spill);
    }
    return spilled ? spilled : tiff;
}

ww_status ww__tiff_visit(const ww_picture *picture, const ww_region region[], size_t n_regions,
                         size_t threads, ww_block_visit *visit, void *context, ww_error *err) {
    ww__tiff_job job = {
        .tiff = picture->handle, .picture = picture, .visit = visit, .context = context};
    ww_status status = turn_regions(&job, region, n_regions, err);
    if (status == WW_OK) {
        job.tiff = source_of(&job, threads);
        status = go_through(&job, threads, err);
    }
    if (status == WW_OK && picture->progress)
        picture->progress(picture->progress_context, 1.0);
    release(&job);
    return status;
}
