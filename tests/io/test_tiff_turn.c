/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_turn.h"
#include "support/support.h"
#include <string.h>

/*
 * Source: TIFF 6.0, Orientation: on which side of the shown picture the first row and the first
 * column lie. Stored is ABC over DEF; shown was turned by hand.
 */
static const char *const shown[9] = {
    [1] = "ABC/DEF",  [2] = "CBA/FED",  [3] = "FED/CBA",  [4] = "DEF/ABC",
    [5] = "AD/BE/CF", [6] = "DA/EB/FC", [7] = "FC/EB/DA", [8] = "CF/BE/AD"};

static const char stored[2][3] = {{'A', 'B', 'C'}, {'D', 'E', 'F'}};

static void write_shown(const ww_block *block, char *text) {
    for (size_t y = 0; y < block->height; y++) {
        if (y > 0)
            *text++ = '/';
        for (size_t x = 0; x < block->width; x++)
            *text++ =
                ((const char *)
                     block->sample)[(ptrdiff_t)x * block->next_x + (ptrdiff_t)y * block->next_y];
    }
    *text = '\0';
}

static void turns_a_picture(void **state) {
    (void)state;
    for (unsigned i = 1; i <= 8; i++) {
        const ww__tiff_turn turn = {3, 2, i};
        char text[16];
        ww_block block = {
            .width = 3, .height = 2, .channels = 1, .sample = stored, .next_x = 1, .next_y = 3};
        ww__tiff_turn_block(&turn, &block);
        write_shown(&block, text);
        test_text(shown[i], text, shown[i]);
        test_true(shown[i], block.x == 0 && block.y == 0);
        test_true(shown[i], ww__tiff_turn_swaps(&turn) == (strlen(shown[i]) == 8));
    }
}

/* The pixel that a part begins with, alone: E at (1, 1). */
static void turns_a_part(void **state) {
    (void)state;
    for (unsigned i = 1; i <= 8; i++) {
        const ww__tiff_turn turn = {3, 2, i};
        const size_t line = (size_t)(strchr(shown[i], '/') - shown[i]) + 1;
        ww_block block = {.x = 1,
                          .y = 1,
                          .width = 1,
                          .height = 1,
                          .channels = 1,
                          .sample = &stored[1][1],
                          .next_x = 1,
                          .next_y = 3};
        ww__tiff_turn_block(&turn, &block);
        test_true(shown[i], *(const char *)block.sample == 'E');
        test_true(shown[i], shown[i][block.y * line + block.x] == 'E');
    }
}

/* Source: TIFF 6.0, Orientation: in 1 and 2 the first row is the visual top. */
static void knows_where_rows_stay(void **state) {
    (void)state;
    for (unsigned orientation = 1; orientation <= 8; orientation++) {
        const ww__tiff_turn turn = {3, 2, orientation};
        assert_int_equal(ww__tiff_turn_keeps_rows(&turn), orientation <= 2);
        assert_int_equal(ww__tiff_turn_swaps(&turn), orientation >= 5);
    }
}

/* Samples of two and four bytes are counted as samples. */
static void turns_wide_samples(void **state) {
    const uint16_t words[2] = {27, 31};
    const float floats[2] = {2.7f, 3.1f};
    const ww__tiff_turn turn = {2, 1, 2};
    ww_block block = {.width = 2, .height = 1, .kind = WW_SAMPLE_16, .sample = words, .next_x = 1};
    (void)state;
    ww__tiff_turn_block(&turn, &block);
    test_true("words", block.sample == &words[1] && block.next_x == -1);
    block =
        (ww_block){.width = 2, .height = 1, .kind = WW_SAMPLE_FLOAT, .sample = floats, .next_x = 1};
    ww__tiff_turn_block(&turn, &block);
    test_true("floats", block.sample == &floats[1] && block.next_x == -1);
}

/* Source: definition: what is turned and turned back is the same. */
static void regions_go_there_and_back(void **state) {
    const ww_region part = {3, 5, 7, 2};
    (void)state;
    for (unsigned i = 1; i <= 8; i++) {
        const ww__tiff_turn turn = {31, 17, i};
        const ww_region seen = ww__tiff_turn_shown(&turn, part);
        const ww_region back = ww__tiff_turn_stored(&turn, seen);
        test_true("inside", seen.x + seen.width <= (i > 4 ? 17 : 31) &&
                                seen.y + seen.height <= (i > 4 ? 31 : 17));
        test_true("back", memcmp(&back, &part, sizeof part) == 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(turns_a_picture),
        cmocka_unit_test(turns_a_part),
        cmocka_unit_test(knows_where_rows_stay),
        cmocka_unit_test(turns_wide_samples),
        cmocka_unit_test(regions_go_there_and_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
