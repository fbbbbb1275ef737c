/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "image/merge_refuse.h"

/* Source: definition (merge_refuse.h). */

/* What would mend it is said: exposures nearer to each other do not make a picture larger. */
static void too_few_places(void **state) {
    const ww_picture small = {.width = 40, .height = 50}, large = {.width = 400, .height = 500};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("small", ww__merge_refuse_overlap(&small, &small, WW_RED, 30, 30, 40, &err),
                WW_ENODATA, &err);
    test_holds("small", err.msg, "its 40 x 50 px hold 30 places of 8 x 8 px");
    test_lacks("small", err.msg, "exposures less far apart");
    test_status("apart", ww__merge_refuse_overlap(&large, &large, WW_RED, 30, 1600, 40, &err),
                WW_ENODATA, &err);
    test_holds("apart", err.msg, "only 30 of 1600 places");
    test_holds("apart", err.msg, "exposures less far apart");
}

static void displaced_one_way_alone(void **state) {
    static const struct {
        double right, down;
        const char *words;
    } rows[] = {{0.04, 2.0, "lies 2.0 px below the other scan"},
                {-3.1, -0.02, "lies 3.1 px to the left of the other scan"},
                {1.2, -2.3, "lies 1.2 px to the right of and 2.3 px above the other scan"}};
    const ww_picture longer = {.width = 400};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__merge_place place[WW__MERGE_PLACES] = {{.known = false}};
        ww_error err = WW_ERROR_INIT;
        place[4].known = true;
        place[4].right = rows[i].right;
        place[4].down = rows[i].down;
        test_status("shift", ww__merge_refuse_shift(&longer, place, &place[4], &err), WW_EMISMATCH,
                    &err);
        test_holds("shift", err.msg, rows[i].words);
    }
}

/* Where places that could not be compared lie, nobody knows: a part that moved is not told as the
 * whole. */
static void what_moved_is_said_as_far_as_it_is_known(void **state) {
    static const struct {
        size_t seen, at_rest;
        const char *words;
    } rows[] = {
        {9, 0, " at 0,0, and alike at all places looked at:"},
        {5, 0, ", and alike at the 5 of 9 places that could be compared, as a whole or in part:"},
        {1, 0, ", the one of 9 places that could be compared, as a whole or in part:"},
        {9, 4, ", and elsewhere otherwise, as if turned, scaled or moved in part:"},
        {5, 1, ", and elsewhere otherwise, as if turned, scaled or moved in part:"}};
    const ww_picture longer = {.width = 400};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__merge_place place[WW__MERGE_PLACES] = {{.known = false}};
        ww_error err = WW_ERROR_INIT;
        for (size_t p = 0; p < rows[i].seen; p++) {
            place[p].known = p % 2 == 0;
            place[p].apart = !place[p].known;
            place[p].right = p < rows[i].seen - rows[i].at_rest ? 2.4 : 0.3;
        }
        test_status("shift", ww__merge_refuse_shift(&longer, place, &place[0], &err), WW_EMISMATCH,
                    &err);
        test_holds("shift", err.msg, rows[i].words);
    }
}

static void other_profiles_are_refused(void **state) {
    ww_picture a = array_picture_new(9, 9, 1, WW_SAMPLE_16, ARRAY_ROWS);
    ww_picture b = array_picture_new(9, 9, 1, WW_SAMPLE_16, ARRAY_ROWS);
    ww_error err = WW_ERROR_INIT;
    (void)state;
    assert_int_equal(ww__merge_check(&a, &b, NULL, NULL), WW_OK);
    a.icc = calloc(4, 1);
    a.n_icc = 4;
    test_status("one", ww__merge_check(&a, &b, NULL, &err), WW_EMISMATCH, &err);
    test_holds("one", err.msg, "carries no colour profile, unlike");
    b.icc = calloc(4, 1);
    b.n_icc = 4;
    assert_int_equal(ww__merge_check(&a, &b, NULL, NULL), WW_OK);
    b.icc[2] = 1;
    test_status("other", ww__merge_check(&a, &b, NULL, &err), WW_EMISMATCH, &err);
    test_holds("other", err.msg, "another colour profile");
    ww_picture_release(&a);
    ww_picture_release(&b);
}

/* Source: thirds of 900 x 600 px. */
static void a_part_is_named_by_its_place(void **state) {
    static const struct {
        ww__merge_place place;
        const char *words;
    } rows[] = {
        {{.x = 299, .y = 199, .right = 2.04, .down = -3.0},
         "lies 2.0 px to the right of and 3.0 px above the other scan around 299,199 (upper left"},
        {{.x = 450, .y = 300, .right = -2.0},
         "lies 2.0 px to the left of the other scan around 450,300 (middle of the picture)"},
        {{.x = 899, .y = 599, .down = 3.5}, "around 899,599 (lower right of the picture), but not"},
        {{.x = 300, .y = 400, .down = 3.5}, "(lower middle of"}};
    const ww_picture longer = {.width = 900, .height = 600};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].words, ww__merge_refuse_part(&longer, &rows[i].place, &err),
                    WW_EMISMATCH, &err);
        test_holds(rows[i].words, err.msg, rows[i].words);
        test_holds("remedy", err.msg, "scan both again without touching it in between, flattened");
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(too_few_places),
                                       cmocka_unit_test(displaced_one_way_alone),
                                       cmocka_unit_test(what_moved_is_said_as_far_as_it_is_known),
                                       cmocka_unit_test(other_profiles_are_refused),
                                       cmocka_unit_test(a_part_is_named_by_its_place)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
