/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_samples.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

/*
 * Source: TIFF 6.0 (BitsPerSample, FillOrder 1: the first bit is the highest; SampleFormat;
 * PhotometricInterpretation 0) and IEEE 754, written out by hand.
 */
static const struct {
    const char *name;
    ww__tiff_samples samples; /* bits, number, big endian, min is white, side by side, channels */
    unsigned char row[16];
    size_t width;
    ww_sample kind;
    double white;
    double want[4];
} rows[] = {
    {"2 bits", {2, WW__TIFF_UNSIGNED, false, false, 1, 1}, {0x1b}, 4, WW_SAMPLE_8, 3, {0, 1, 2, 3}},
    {"2 bits, turned",
     {2, WW__TIFF_UNSIGNED, false, true, 1, 1},
     {0x1b},
     4,
     WW_SAMPLE_8,
     3,
     {3, 2, 1, 0}},
    {"4 bits",
     {4, WW__TIFF_UNSIGNED, true, false, 1, 1},
     {0xa5, 0x3f},
     4,
     WW_SAMPLE_8,
     15,
     {10, 5, 3, 15}},
    {"8 bits",
     {8, WW__TIFF_UNSIGNED, true, false, 1, 1},
     {0, 1, 254, 255},
     4,
     WW_SAMPLE_8,
     255,
     {0, 1, 254, 255}},
    {"8 bits, turned",
     {8, WW__TIFF_UNSIGNED, true, true, 1, 1},
     {0, 1, 254, 255},
     4,
     WW_SAMPLE_8,
     255,
     {255, 254, 1, 0}},
    {"12 bits",
     {12, WW__TIFF_UNSIGNED, true, false, 1, 1},
     {0x12, 0x3a, 0xbc, 0xff, 0xf0, 0x00},
     4,
     WW_SAMPLE_16,
     4095,
     {0x123, 0xabc, 0xfff, 0}},
    {"12 bits, of four the first",
     {12, WW__TIFF_UNSIGNED, true, false, 2, 1},
     {0x12, 0x3a, 0xbc, 0xff, 0xf0, 0x00},
     2,
     WW_SAMPLE_16,
     4095,
     {0x123, 0xfff}},
    {"16 bits, high first",
     {16, WW__TIFF_UNSIGNED, true, false, 1, 1},
     {0x12, 0x34, 0xff, 0xfe, 0, 1},
     3,
     WW_SAMPLE_16,
     65535,
     {0x1234, 0xfffe, 1}},
    {"16 bits, low first",
     {16, WW__TIFF_UNSIGNED, false, false, 1, 1},
     {0x34, 0x12, 0xfe, 0xff, 1, 0},
     3,
     WW_SAMPLE_16,
     65535,
     {0x1234, 0xfffe, 1}},
    {"16 bits, turned",
     {16, WW__TIFF_UNSIGNED, true, true, 1, 1},
     {0x12, 0x34, 0xff, 0xfe},
     2,
     WW_SAMPLE_16,
     65535,
     {0xedcb, 1}},
    {"24 bits, high first",
     {24, WW__TIFF_UNSIGNED, true, false, 1, 1},
     {0x12, 0x34, 0x56, 0xff, 0xff, 0xff},
     2,
     WW_SAMPLE_FLOAT,
     16777215,
     {0x123456, 16777215}},
    {"24 bits, low first",
     {24, WW__TIFF_UNSIGNED, false, true, 1, 1},
     {0x56, 0x34, 0x12},
     1,
     WW_SAMPLE_FLOAT,
     16777215,
     {16777215 - 0x123456}},
    {"8 bits, signed",
     {8, WW__TIFF_SIGNED, false, false, 1, 1},
     {0x80, 0xff, 0, 0x7f},
     4,
     WW_SAMPLE_FLOAT,
     127,
     {-128, -1, 0, 127}},
    {"8 bits, signed, turned",
     {8, WW__TIFF_SIGNED, false, true, 1, 1},
     {0x80, 0xff, 0, 0x7f},
     4,
     WW_SAMPLE_FLOAT,
     127,
     {127, 0, -1, -128}},
    {"16 bits, signed",
     {16, WW__TIFF_SIGNED, true, false, 1, 1},
     {0xff, 0xfe, 0x12, 0x34},
     2,
     WW_SAMPLE_FLOAT,
     32767,
     {-2, 0x1234}},
    {"32 bits, signed",
     {32, WW__TIFF_SIGNED, true, false, 1, 1},
     {0x80, 0, 0, 0, 0, 0, 1, 2},
     2,
     WW_SAMPLE_FLOAT,
     2147483647,
     {-2147483648.0, 258}},
    /* 1, -2, greatest 65504, least subnormal 2^-24 */
    {"half",
     {16, WW__TIFF_REAL, true, false, 1, 1},
     {0x3c, 0x00, 0xc0, 0x00, 0x7b, 0xff, 0x00, 0x01},
     4,
     WW_SAMPLE_FLOAT,
     1,
     {1, -2, 65504, 1.0 / 16777216.0}},
    {"half, turned",
     {16, WW__TIFF_REAL, false, true, 1, 1},
     {0x00, 0x38, 0x00, 0x3c},
     2,
     WW_SAMPLE_FLOAT,
     1,
     {0.5, 0}},
    {"float, high first",
     {32, WW__TIFF_REAL, true, false, 1, 1},
     {0x3f, 0x80, 0, 0, 0xbe, 0x80, 0, 0},
     2,
     WW_SAMPLE_FLOAT,
     1,
     {1, -0.25}},
    {"float, low first, turned",
     {32, WW__TIFF_REAL, false, true, 1, 1},
     {0, 0, 0x80, 0x3e, 0, 0, 0x80, 0x3f},
     2,
     WW_SAMPLE_FLOAT,
     1,
     {0.75, 0}},
    {"double",
     {64, WW__TIFF_REAL, true, false, 1, 1},
     {0x3f, 0xe8, 0, 0, 0, 0, 0, 0, 0x7f, 0xef, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff},
     2,
     WW_SAMPLE_FLOAT,
     1,
     {0.75, (double)INFINITY}},
};

static double sample_at(const ww_block *block, size_t i) {
    const ptrdiff_t at = (ptrdiff_t)i * block->next_x;
    if (block->kind == WW_SAMPLE_8)
        return ((const uint8_t *)block->sample)[at];
    if (block->kind == WW_SAMPLE_16)
        return ((const uint16_t *)block->sample)[at];
    return (double)((const float *)block->sample)[at];
}

static void samples_are_what_was_written(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ww__tiff_samples *samples = &rows[i].samples;
        uint64_t in[2], room[4] = {0}; /* aligned for every kind */
        ww_block block = {.width = rows[i].width, .height = 1};
        memcpy(in, rows[i].row, sizeof in);
        ww__tiff_samples_deliver(samples, (unsigned char *)in, sizeof in, room, &block);
        test_true(rows[i].name, block.kind == rows[i].kind && block.channels == 1);
        test_true(rows[i].name, ww__tiff_samples_kind(samples) == rows[i].kind);
        test_close(rows[i].name, ww__tiff_samples_white(samples), rows[i].white, 0.0);
        test_true(rows[i].name, ww__tiff_samples_row(samples, rows[i].width) <= sizeof in);
        test_true(rows[i].name, ww__tiff_samples_room(samples, rows[i].width) <= sizeof room);
        for (size_t x = 0; x < rows[i].width; x++) {
            const double got = sample_at(&block, x);
            if (!(got == rows[i].want[x]))
                fail_msg("%s: sample %zu is %.9g, should be %.9g", rows[i].name, x, got,
                         rows[i].want[x]);
        }
    }
}

static void not_a_number_stays_one(void **state) {
    const ww__tiff_samples half = {16, WW__TIFF_REAL, true, false, 1, 1};
    unsigned char in[2] = {0x7e, 0x00}, minus[2] = {0xfc, 0x00};
    float room = 0.0f;
    ww_block block = {.width = 1, .height = 1};
    (void)state;
    ww__tiff_samples_deliver(&half, in, 2, &room, &block);
    test_true("not a number", isnan(room));
    ww__tiff_samples_deliver(&half, minus, 2, &room, &block);
    test_true("minus infinity", isinf(room) && room < 0.0f);
}

/* Odd counts: words are swapped sixteen at a time, and bits turned eight bytes at a time. */
static void rests_of_rows_are_not_forgotten(void **state) {
    (void)state;
    for (size_t n = 1; n <= 37; n++) {
        const ww__tiff_samples samples = {16, WW__TIFF_UNSIGNED, true, true, 1, 1};
        uint16_t rows_of[2][40];
        ww_block block = {.width = n, .height = 2};
        unsigned char *bytes = (unsigned char *)rows_of;
        for (size_t i = 0; i < sizeof rows_of; i++)
            bytes[i] = (unsigned char)(i * 7 + 3);
        ww__tiff_samples_deliver(&samples, bytes, sizeof rows_of[0], NULL, &block);
        test_true("in place", block.sample == rows_of && block.next_y == 40);
        for (size_t y = 0; y < 2; y++)
            for (size_t x = 0; x < n; x++) {
                const size_t at = (y * 40 + x) * 2;
                const unsigned high = (unsigned char)(at * 7 + 3),
                               low = (unsigned char)(at * 7 + 10);
                test_close("word", rows_of[y][x], 65535 - (high * 256.0 + low), 0.0);
            }
    }
}

/* Source: TIFF 6.0: rows begin with a byte. */
static void rows_have_whole_bytes(void **state) {
    const ww__tiff_samples packed = {12, WW__TIFF_UNSIGNED, true, false, 3, 3};
    const ww__tiff_samples plain = {16, WW__TIFF_UNSIGNED, true, false, 4, 3};
    (void)state;
    test_close("12 bits", (double)ww__tiff_samples_row(&packed, 1), 5.0, 0.0);
    test_close("12 bits", (double)ww__tiff_samples_row(&packed, 2), 9.0, 0.0);
    test_close("room", (double)ww__tiff_samples_room(&packed, 2), 12.0, 0.0);
    test_close("16 bits", (double)ww__tiff_samples_row(&plain, 3), 24.0, 0.0);
    test_close("no room", (double)ww__tiff_samples_room(&plain, 3), 0.0, 0.0);
    test_close("no wrap", (double)ww__tiff_samples_row(&plain, UINT32_MAX), 34359738360.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(samples_are_what_was_written),
        cmocka_unit_test(not_a_number_stays_one),
        cmocka_unit_test(rests_of_rows_are_not_forgotten),
        cmocka_unit_test(rows_have_whole_bytes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
