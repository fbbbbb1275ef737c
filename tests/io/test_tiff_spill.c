/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_plain.h"
#include "io/tiff_spill.h"
#include "support/support.h"
#include <string.h>
#include <tiffio.h>
#include <unistd.h>

/* Strips of 7 rows, 16-bit grey in three planes: 60 x 80 px, rows of 120 bytes. */
static ww__tiff strips(void) {
    return (ww__tiff){.fd = -1,
                      .turn = {60, 80, 6},
                      .samples = {.bits = 16, .side_by_side = 1, .channels = 1},
                      .planes = 3,
                      .compression = COMPRESSION_LZW,
                      .chunk_width = 60,
                      .chunk_height = 7,
                      .across = 1,
                      .down = 12,
                      .row_bytes = 120};
}

/* Source: definition. Three planes of 4800 px: half of them are 7200. */
static void is_due_once_half_was_in_vain(void **state) {
    ww__tiff tiff = strips();
    (void)state;
    test_true("little", !ww__tiff_spill_due(&tiff, 3000));
    test_true("just less", !ww__tiff_spill_due(&tiff, 4199));
    test_true("half", ww__tiff_spill_due(&tiff, 1));
    test_true("never again", !ww__tiff_spill_due(&tiff, 14400));
}

/* Source: by hand. 3 planes x 80 rows x 120 bytes = 28800 bytes. */
static void small_pictures_are_never_spilled(void **state) {
    ww__tiff smaller = strips(), as_large = strips();
    (void)state;
    smaller.spill_from = 28801;
    as_large.spill_from = 28800;
    test_true("smaller", !ww__tiff_spill_due(&smaller, 14400));
    test_true("as large", ww__tiff_spill_due(&as_large, 14400));
}

/* Source: by hand. The last strip has 3 rows, so that a plane is 80 rows long and no more. */
static void chunks_lie_one_behind_the_other(void **state) {
    const ww__tiff tiff = strips();
    unsigned char rows[240], got[240];
    ww__tiff *spill = ww__tiff_spill_begin(&tiff);
    (void)state;
    if (!spill)
        skip();
    memset(rows, 27, 120);
    memset(rows + 120, 31, 120);
    assert_int_equal(spill->offset[1], 7 * 120);
    assert_int_equal(spill->offset[12], 80 * 120);
    assert_int_equal(spill->size, 28800);
    test_true("uncompressed",
              spill->compression == COMPRESSION_NONE && spill->turn.orientation == 6);
    assert_int_equal(ww__tiff_spill_rows(spill, 2, (ww_region){0, 78, 60, 2}, rows, NULL), WW_OK);
    assert_int_equal(ww__tiff_plain_place(spill, 2, 0, 78), 28800 - 240);
    assert_int_equal(pread(spill->fd, got, 240, 28800 - 240), 240);
    assert_memory_equal(got, rows, 240);
    ww__tiff_spill_drop(spill);
    ww__tiff_spill_drop(NULL);
}

static void what_has_no_room_is_not_begun(void **state) {
    ww__tiff tiff = strips();
    (void)state;
    tiff.row_bytes = UINT64_C(1) << 54;
    test_true("no room", ww__tiff_spill_begin(&tiff) == NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(is_due_once_half_was_in_vain),
        cmocka_unit_test(small_pictures_are_never_spilled),
        cmocka_unit_test(chunks_lie_one_behind_the_other),
        cmocka_unit_test(what_has_no_room_is_not_begun),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
