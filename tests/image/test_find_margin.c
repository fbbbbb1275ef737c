/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "made_found.h"
#include "support/support.h"
#include "support/wedge_perforated.h"

/* Strips of 11 and 17 steps on perforated film that is clear over some steps' way at its ends: all
 * scenes by their number. */
enum { SCENES = 192 };

static wedge_perforated scene_of(size_t i) {
    static const double margins[] = {1.0, 1.5, 2.5};
    const double wide = margins[i / 2 % 3];
    wedge_perforated film = {.scene = wedge_scene_plain(), .base = 0.25, .whole = i >= SCENES / 2};
    wedge_scene *s = &film.scene;
    film.margin[0] = wide, film.margin[1] = i % 2 == 1 ? wide : 0.0;
    s->surround = i / 6 % 2 == 1 ? WEDGE_ON_DARK : WEDGE_ON_BRIGHT;
    s->reversed = i / 12 % 2 == 1, s->first = i / 24 % 2 == 1 ? 0.45 : 0.27;
    s->steps = i / 48 % 2 == 1 ? 17 : 11;
    s->length = s->steps == 11 ? 391.6 : 401.2, s->breadth = 168.0;
    s->read_noise = 2e-4, s->shot_noise = 0.003, s->flare = 0.001, s->seed = 100 + i;
    return film;
}

/* A margin of one step's width across the film, with a fall to the first step as from a step, is a
 * step as far as anything there can tell. */
static bool may_be_a_step(const wedge_perforated *film) {
    return film->whole && film->margin[0] == 1.0 && film->margin[1] == 0.0 &&
           film->scene.first == 0.45;
}

/* Source: the drawings. No strip is placed wrong, and none where two steps fewer are asked for. */
static void steps_are_found_between_margins(void **state) {
    const size_t skip = test_quick() ? 31 : 1;
    size_t good = 0, open = 0;
    (void)state;
    for (size_t i = 0; i < SCENES; i += skip) {
        const wedge_perforated film = scene_of(i);
        const wedge_scene *s = &film.scene;
        ww_picture p = wedge_perforated_new(&film);
        ww__strip_found f = WW__STRIP_FOUND_INIT, fewer = WW__STRIP_FOUND_INIT;
        ww_error err = WW_ERROR_INIT;
        const ww_status status = ww__find_strip(&p, NULL, s->steps, NULL, 1, &f, &err);
        const double edge = status == WW_OK ? made_worst_edge(s, &f) : HUGE_VAL;
        good += edge < 0.15, open += may_be_a_step(&film);
        if (status == WW_OK ? edge >= 0.15 : !may_be_a_step(&film))
            print_message("%d: status %d, edge off by %g steps; %s\n", (int)i, (int)status, edge,
                          err.msg);
        test_true("not placed wrong", status != WW_OK || edge < 0.15);
        if (i % 8 == 0)
            test_true("two fewer",
                      ww__find_strip(&p, NULL, s->steps - 2, NULL, 1, &fewer, &err) != WW_OK);
        ww__strip_found_release(&f), ww__strip_found_release(&fewer);
        ww_picture_release(&p);
    }
    test_true("those that can be told", test_quick() || good + open >= SCENES - 4);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(steps_are_found_between_margins)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
