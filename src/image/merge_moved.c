/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_moved.h"

#include "base/sizes.h"
#include "base/threads.h"
#include "image/merge_refuse.h"
#include <assert.h>
#include <math.h>

enum { LOOKED = WW__MERGE_SHIFT_PAIRS, HALF = 32 + WW__MERGE_FLAT };
static const double near = 4.0, alike = 1.5; /* px */

static bool do_overlap(const ww__merge_place *a, const ww__merge_place *b) {
    return ww__most(a->x, b->x) - ww__least(a->x, b->x) < 2 * HALF &&
           ww__most(a->y, b->y) - ww__least(a->y, b->y) < 2 * HALF;
}

/* What lies far off may look alike by chance: another place, that shares no pixel, must tell the
 * same. */
static bool is_borne_out(const ww__merge_place place[], size_t n, size_t which) {
    const ww__merge_place *p = &place[which];
    bool borne_out = hypot(p->right, p->down) < near;
    for (size_t i = 0; i < n; i++)
        if (place[i].apart && !do_overlap(&place[i], p) &&
            hypot(place[i].right - p->right, place[i].down - p->down) < alike)
            borne_out = true;
    return borne_out;
}

/* The code of the shorter scan where the longer one's codes end, and that end: what is lighter is
 * held in both, so that edges of what is clipped lie where they should. */
static void find_ends(const ww__merge_rows *rows, ww__merge_end end[2]) {
    const ww__merge_rule *rule = &rows->rule[rows->channels / 2];
    const double clips = rows->clips_from;
    const double light = (ww__merge_light_of(rows->light, clips) - rule->offset) / rule->ratio;
    const double code = rows->light->white * ww__merge_light_share(rows->light, light);
    end[0] = (ww__merge_end){fmin(code, clips), true};
    end[1] = (ww__merge_end){clips, true};
}

/* So that a window around it lies in the picture, if that is large enough. */
static size_t inside(size_t at, size_t side) {
    return side > 2 * HALF ? ww__most(HALF, ww__least(at, side - HALF)) : side / 2;
}

static size_t choose_places(const ww__merge_rows *rows, ww__merge_slips *slips,
                            const ww__merge_differing worst[], size_t n_worst,
                            ww__merge_place place[LOOKED]) {
    ww__merge_slip slip[LOOKED];
    const size_t n = ww__merge_slips_find(slips, rows, slip, LOOKED - n_worst);
    for (size_t i = 0; i < n; i++)
        place[i] = (ww__merge_place){.x = slip[i].x, .y = slip[i].y};
    for (size_t i = 0; i < n_worst; i++)
        place[n + i] = (ww__merge_place){.x = worst[i].x, .y = worst[i].y};
    return n + n_worst;
}

typedef struct looking {
    ww__merge_pair *pair;
    ww__merge_place *place;
} looking;

static ww_status look_at(size_t item, size_t worker, void *context, ww_error *err) {
    const looking *l = context;
    (void)worker;
    return ww__merge_match_slipped(&l->pair[item], &l->place[item])
               ? WW_OK
               : ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
}

ww_status ww__merge_moved_refuse(const ww_picture *shorter, const ww_picture *longer,
                                 const ww__merge_rows *rows, ww__merge_slips *slips,
                                 const ww__merge_differing worst[], size_t n, ww_error *err) {
    assert(n <= WW__MERGE_MOVED_WORST);
    ww__merge_place place[LOOKED];
    ww__merge_pair pair[LOOKED];
    ww__merge_end end[2];
    const size_t looked = choose_places(rows, slips, worst, n, place);
    if (looked == 0)
        return WW_OK;
    for (size_t i = 0; i < looked; i++) {
        place[i].x = inside(place[i].x, longer->width);
        place[i].y = inside(place[i].y, longer->height);
    }
    find_ends(rows, end);
    ww_status status = ww__merge_shift_read(shorter, longer, rows->channels / 2, end, place, looked,
                                            HALF, HALF, pair, err);
    if (status == WW_OK)
        status = ww__threads_for(looked, 0, look_at, &(looking){pair, place}, err);
    ww__merge_shift_free(pair, looked);
    for (size_t i = 0; i < looked && status == WW_OK; i++)
        if (place[i].apart && is_borne_out(place, looked, i))
            status = ww__merge_refuse_part(longer, &place[i], err);
    return status;
}
