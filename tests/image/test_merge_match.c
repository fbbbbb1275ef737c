/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_made.h"
#include "image/merge_match.h"
#include "image/merge_shift.h"

/* Source: as the scans are drawn; displacements are those that they were drawn with. */

enum { HALF = 32 + WW__MERGE_FLAT };

static const made_pair drawn = {.width = 360,
                                .height = 240,
                                .channels = 1,
                                .kind = WW_SAMPLE_16,
                                .ratio = 2.0,
                                .read = 0.0006,
                                .shot = 0.002};

typedef struct row {
    const char *name;
    double right, down; /* px, of all that is drawn */
    double flat;        /* 1: nothing but noise */
    size_t speck;       /* px, a square in both */
    size_t slid;        /* px by which it is further right in the second */
    double noisier;
    double clips; /* share of white */
    bool apart;
} row;

static const row rows[] = {{"none", 0.0, 0.0, 0.0, 0, 0, 1.0, 0.98, false},
                           {"0.7 px", 0.5, -0.5, 0.0, 0, 0, 1.0, 0.98, false},
                           {"2 px", 2.0, 0.0, 0.0, 0, 0, 1.0, 0.98, true},
                           {"3.2 px", -2.5, 2.0, 0.0, 0, 0, 1.0, 0.98, true},
                           {"2.5 px in noise", 0.0, 2.5, 0.0, 0, 0, 4.0, 0.98, true},
                           {"noise alone", 0.0, 0.0, 1.0, 0, 0, 1.0, 0.98, false},
                           {"a speck that slid", 0.0, 0.0, 1.0, 6, 3, 1.0, 0.98, false},
                           {"and on film with detail", 0.0, 0.0, 0.0, 6, 3, 1.0, 0.98, false},
                           {"clipped in part", 2.0, 0.0, 0.0, 0, 0, 1.0, 0.12, true},
                           {"clipped for the most part", 2.0, 0.0, 0.0, 0, 0, 1.0, 0.08, false}};

static void what_slipped_is_told_from_what_did_not(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        made_pair m = drawn;
        m.right = rows[i].right;
        m.down = rows[i].down;
        m.flat = rows[i].flat;
        m.read *= rows[i].noisier;
        m.shot *= rows[i].noisier;
        ww_picture a = made_scan(&m, false, i), b = made_scan(&m, true, i + 50);
        ww__merge_place place = {.x = 180, .y = 120};
        const double clips = rows[i].clips * 65535.0;
        const ww__merge_end end[2] = {{clips / m.ratio, true}, {clips, true}};
        ww__merge_pair pair;
        made_speck(&a, 175, 118, rows[i].speck);
        made_speck(&b, 175 + rows[i].slid, 118, rows[i].speck);
        assert_int_equal(ww__merge_shift_read(&a, &b, 0, end, &place, 1, HALF, HALF, &pair, NULL),
                         WW_OK);
        assert_true(ww__merge_match_slipped(&pair, &place));
        test_close(rows[i].name, place.apart, rows[i].apart, 0.0);
        if (rows[i].apart) {
            test_close(rows[i].name, place.right, rows[i].right, 0.4);
            test_close(rows[i].name, place.down, rows[i].down, 0.4);
        }
        ww__merge_shift_free(&pair, 1);
        ww_picture_release(&a);
        ww_picture_release(&b);
    }
}

/* Source: geometry: a square that slid over film without detail is no displacement of the film. */
static void a_speck_is_no_displacement_of_the_whole(void **state) {
    made_pair m = drawn;
    (void)state;
    m.flat = 1.0;
    ww_picture a = made_scan(&m, false, 1), b = made_scan(&m, true, 2);
    ww__merge_place place[WW__MERGE_PLACES];
    made_speck(&a, 175, 118, 6);
    made_speck(&b, 180, 118, 6);
    assert_int_equal(ww__merge_shift_find(&a, &b, 0, 0.98 * 65535.0, place, NULL), WW_OK);
    for (size_t i = 0; i < WW__MERGE_PLACES; i++)
        test_true("place", !place[i].known && !place[i].apart);
    ww_picture_release(&a);
    ww_picture_release(&b);
}

/* Source: closed form: what falls by a constant density is, displaced, so many times as light, as
 * light as another exposure makes it: it tells nothing of where it lies, whatever noise does. */
static void a_ramp_is_no_displacement_of_the_whole(void **state) {
    static const double falls[] = {0.1, -0.1, 0.25, -0.25};
    (void)state;
    for (size_t i = 0; i < 4; i++) {
        made_pair m = drawn;
        m.flat = 1.0;
        m.falls = falls[i];
        ww_picture a = made_scan(&m, false, 3 * i), b = made_scan(&m, true, 3 * i + 1);
        ww__merge_place place[WW__MERGE_PLACES];
        assert_int_equal(ww__merge_shift_find(&a, &b, 0, 0.98 * 65535.0, place, NULL), WW_OK);
        for (size_t k = 0; k < WW__MERGE_PLACES; k++)
            test_true("place", !place[k].known && !place[k].apart && !place[k].unlike);
        ww_picture_release(&a);
        ww_picture_release(&b);
    }
}

/* Source: as drawn: dust that lay here in the one scan and there in the other, on film without
 * detail, is no other negative. */
static void other_dust_is_no_other_film(void **state) {
    made_pair m = drawn;
    (void)state;
    m.flat = 1.0;
    m.falls = 0.05;
    ww_picture a = made_scan(&m, false, 7), b = made_scan(&m, true, 8);
    ww__merge_place place[WW__MERGE_PLACES];
    for (size_t i = 0; i < WW__MERGE_PLACES; i++) {
        made_speck(&a, 30 + 120 * (i % 3), 25 + 80 * (i / 3), 7);
        made_speck(&b, 75 + 120 * (i % 3), 50 + 80 * (i / 3), 6);
    }
    assert_int_equal(ww__merge_shift_find(&a, &b, 0, 0.98 * 65535.0, place, NULL), WW_OK);
    for (size_t i = 0; i < WW__MERGE_PLACES; i++)
        test_true("place", !place[i].known && !place[i].apart && !place[i].unlike);
    ww_picture_release(&a);
    ww_picture_release(&b);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_ramp_is_no_displacement_of_the_whole),
                                       cmocka_unit_test(other_dust_is_no_other_film),
                                       cmocka_unit_test(what_slipped_is_told_from_what_did_not),
                                       cmocka_unit_test(a_speck_is_no_displacement_of_the_whole)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
