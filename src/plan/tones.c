/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/tones_parts.h"
#include <assert.h>
#include <stdlib.h>

void ww_tones_release(ww_tones *tones) {
    if (!tones)
        return;
    for (size_t i = 0; i < tones->n; i++) {
        free(tones->chain[i].film);
        free(tones->chain[i].paper);
    }
    free(tones->chain);
    free(tones->wanted.paper);
    free(tones->wanted.row);
    ww_notes_release(&tones->notes);
    *tones = (ww_tones)WW_TONES_INIT;
}

/* Room for so many more; counted by whoever fills it. */
static ww_status reserve(ww_tones *tones, size_t more, ww_error *err) {
    ww_tones_chain *chain;
    if (tones->n + more > WW_TONES_MOST)
        return ww_error_set(err, WW_EDOMAIN,
                            "films and papers make more than %d curves, which nobody could tell "
                            "apart; give fewer of them at a time",
                            WW_TONES_MOST);
    chain = realloc(tones->chain, (tones->n + more) * sizeof *chain);
    if (!chain)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu chains", tones->n + more);
    tones->chain = chain;
    return WW_OK;
}

static ww_status add_pair(const ww_tones_request *r, size_t film, size_t paper, ww_tones *tones,
                          ww_error *err) {
    ww__tones_pair pair;
    ww_status status = ww__tones_channels(r, film, paper, &pair, err);
    if (status == WW_OK)
        status = reserve(tones, pair.n, err);
    for (size_t k = 0; k < pair.n && status == WW_OK; k++) {
        ww__tones_setting setting;
        ww_tones_chain *chain = &tones->chain[tones->n++];
        status = ww__tones_begin(r, film, paper, &pair, k, &setting, chain, err);
        if (status == WW_OK)
            ww__tones_rows(&setting, chain);
    }
    return status;
}

static ww_status make(const ww_tones_request *r, ww_tones *tones, ww_error *err) {
    ww_status status = ww__tones_check(r, err);
    *tones = (ww_tones){.subject_range = r->subject_range,
                        .detail = r->detail,
                        .place_stops = r->place_stops,
                        .place_density = r->place_density,
                        .film_stops = r->film_stops,
                        .flare = r->flare,
                        .enlarger_flare = r->enlarger_flare,
                        .callier = r->callier,
                        .viewing_flare = r->viewing_flare,
                        .holds = true};
    for (size_t p = 0; p < r->n_papers && status == WW_OK; p++)
        for (size_t f = 0; f < r->n_films && status == WW_OK; f++)
            status = add_pair(r, f, p, tones, err);
    if (status == WW_OK && r->wanted)
        status = ww__tones_wanted(r, tones, err);
    return status == WW_OK ? ww__tones_notes(r, tones, err) : status;
}

ww_status ww_tones_make(const ww_tones_request *request, ww_tones *tones, ww_error *err) {
    ww_tones made = WW_TONES_INIT;
    ww_status status;
    assert(request && tones);
    status = make(request, &made, err);
    if (status == WW_OK)
        *tones = made;
    else
        ww_tones_release(&made);
    return status;
}
