/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find_words.h"
#include "support/support.h"
#include <string.h>

/* Source of all: the house's rules of a message (what is wrong, the value and its limit, then what
 * to do), and that a remedy is not what the user has done already. */
static char file[] = "made.tif";
static const ww_picture picture = {.file = file, .width = 900, .height = 500};

static const struct {
    const char *name;
    ww__find_seen seen;
    ww_status status;
    const char *says, *remedy;
} rows[] = {
    {"nothing",
     {.steps = 17},
     WW_ENODATA,
     "no stepped strip of 17 steps is there: nothing in the picture",
     "give --strip X,Y,W,H around it, or read the steps with --spot"},
    {"nothing in --strip",
     {.steps = 17, .in_strip = true},
     WW_ENODATA,
     "nothing within --strip grows darker",
     "check that --strip (X,Y,W,H in px of this picture) holds all of it"},
    {"turned",
     {.steps = 17, .turned_deg = -12.4},
     WW_ENODATA,
     "turned anticlockwise by about 12 degrees, and up to 8",
     "lay it or the picture straight"},
    {"narrow",
     {.steps = 17, .parts = 17, .part_px = 4.24},
     WW_ENODATA,
     "they are about 4.2 px wide, and a step needs 6",
     "more pixels to the inch"},
    {"few tones",
     {.steps = 17, .parts = 8, .part_px = 20.0},
     WW_ENODATA,
     "is there: at most 8 tones in a row grow darker",
     "give --strip X,Y,W,H"},
    {"as many tones",
     {.steps = 17, .parts = 17, .part_px = 20.0, .at = {451.6, 120.2}},
     WW_ENODATA,
     "could be made out: 17 tones in a row grow darker about 452,120 (x, y in px)",
     "give --strip X,Y,W,H around the steps alone"},
    {"as many in --strip",
     {.steps = 17, .in_strip = true, .parts = 17, .part_px = 20.0},
     WW_ENODATA,
     "17 tones in a row",
     "not those of steps; make --strip hold the steps alone"},
    {"more",
     {.steps = 17, .there = {.n = 19, .seen = 18}},
     WW_EMISMATCH,
     "found 19 steps where 17 were asked for; check the number",
     "or give --strip around the steps alone"},
    {"more in --strip",
     {.steps = 17, .in_strip = true, .there = {.n = 19, .seen = 18}},
     WW_EMISMATCH,
     "found 19 steps where 17",
     "or make --strip hold the steps alone"},
    {"fewer",
     {.steps = 21, .there = {.n = 18, .seen = 18}},
     WW_EMISMATCH,
     "found 18 steps where 21 were asked for; check that none is cut off (if so, take its row out "
     "of "
     "the wedge file, or ask for fewer --steps)",
     "as light as what lies beside it, or too like its neighbour to have an edge; give --strip, or "
     "read them with --spot"},
    {"fewer in --strip",
     {.steps = 21, .in_strip = true, .there = {.n = 18, .seen = 18}},
     WW_EMISMATCH,
     "found 18 steps where 21",
     "edge; make --strip take in all of them, or read them with --spot"},
    {"veiled",
     {.steps = 21, .there = {.n = 18, .seen = 17, .veiled = 4}},
     WW_EMISMATCH,
     "found 18 steps where 21 were asked for: beyond the darkest of them is room for 3",
     "mask the glass round the wedge"},
    {"black",
     {.steps = 21, .there = {.n = 18, .seen = 18, .hidden = {0, 9}}},
     WW_EMISMATCH,
     "beyond the darkest of them all is at code 0, where 3 may be hidden",
     "scan without black point, levels and automatic exposure"},
    {"white",
     {.steps = 21, .there = {.n = 18, .seen = 18, .hidden = {2, 1}}},
     WW_EMISMATCH,
     "beyond the lightest of them all is at the greatest code, where 2 may be hidden",
     "scan with less exposure"},
    {"widths",
     {.steps = 21,
      .there = {.n = 21,
                .seen = 20,
                .contradicts = true,
                .misfit = {.step = 4, .given = 1.5, .seen = 1.0}}},
     WW_EMISMATCH,
     "step 5 of them, given as 1.50 wide, is 1.00 wide",
     "correct the column width"},
};

static void says_what_was_seen_and_what_to_do(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__find_seen seen = rows[i].seen;
        ww_error err = WW_ERROR_INIT;
        seen.picture = &picture;
        test_status(rows[i].name, ww__find_refuse(&seen, &err), rows[i].status, &err);
        test_text(rows[i].name, err.file, "made.tif");
        test_true(err.msg, strstr(err.msg, rows[i].says) && strstr(err.msg, rows[i].remedy));
        test_true(err.msg, !rows[i].seen.in_strip || !strstr(err.msg, "give --strip"));
    }
}

static void two_strips_can_be_chosen_from(void **state) {
    const ww__find_seen seen = {.picture = &picture, .steps = 11};
    const ww__area a = {.centre = {200.0, 100.0},
                        .along = {1.0, 0.0},
                        .across = {0.0, 1.0},
                        .half_u = 150.0,
                        .half_v = 40.0};
    ww__area b = a;
    b.centre[1] = 300.0;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("two", ww__find_refuse_two(&seen, &a, &b, &err), WW_EMISMATCH, &err);
    test_true(err.msg, strstr(err.msg, "more than one strip of 11 steps lies there; choose with "
                                       "--strip ") != NULL);
}

static void too_few_pixels(void **state) {
    ww__find_seen seen = {.picture = &picture, .steps = 11};
    const ww_region where = {0, 0, 30, 6};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("small", ww__find_refuse_small(&seen, &where, &err), WW_ENODATA, &err);
    test_true(err.msg, strstr(err.msg, "30 x 6 px") && strstr(err.msg, "a larger picture"));
    seen.in_strip = true;
    test_status("small", ww__find_refuse_small(&seen, &where, &err), WW_ENODATA, &err);
    test_true(err.msg, strstr(err.msg, "a larger --strip") != NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(says_what_was_seen_and_what_to_do),
        cmocka_unit_test(two_strips_can_be_chosen_from),
        cmocka_unit_test(too_few_pixels),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
