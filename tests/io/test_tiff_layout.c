/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_layout.h"
#include "support/support.h"
#include <string.h>

#define GIB 1073741824.0

/* Source: arithmetic on the limits that picture_file.h states. Sizes in bytes. */
static const struct {
    const char *name;
    double file_size;
    unsigned width, height, bits, samples, photometric, planar, compression, tile, rows;
    const char *says; /* NULL: not refused */
    bool by_scanline;
} rows[] = {
    {"fits exactly", 37 * 29 * 6, 37, 29, 16, 3, 2, 1, 1, 0, 7, NULL, false},
    {"a byte short", 37 * 29 * 6 - 1, 37, 29, 16, 3, 2, 1, 1, 0, 7, "cannot hold", false},
    {"planes count", 37 * 29 * 6 - 1, 37, 29, 16, 3, 2, 2, 1, 0, 7, "cannot hold", false},
    {"alpha's plane does not", 37 * 29 * 6, 37, 29, 16, 4, 2, 2, 1, 0, 7, NULL, false},
    {"tiles are whole", 48 * 32 * 2, 37, 29, 16, 1, 1, 1, 1, 16, 0, NULL, false},
    {"tiles are whole", 48 * 32 * 2 - 1, 37, 29, 16, 1, 1, 1, 1, 16, 0, "cannot hold", false},
    {"strips end early", 37 * 29 * 2, 37, 29, 16, 1, 1, 1, 1, 0, 28, NULL, false},
    {"2^31 wide", 700, 2147483648u, 1, 16, 1, 1, 1, 1, 0, 1, "cannot hold", false},
    {"2^31 wide, LZW", 700, 2147483648u, 1, 16, 1, 1, 1, 5, 0, 1, "cannot hold", false},
    {"as large as can be", 700, 4294967295u, 4294967295u, 64, 64, 1, 1, 5, 0, 4294967295u,
     "cannot hold", false},
    {"as large as can be", 18e18, 4294967295u, 4294967295u, 64, 64, 1, 1, 1, 0, 1, "cannot hold",
     false},
    {"tile of 2^31", 700, 16, 16, 8, 1, 1, 1, 1, 2147483648u, 0, "cannot hold", false},
    {"32768 times", 1024, 8192, 4096, 8, 1, 1, 1, 5, 0, 16, NULL, false},
    {"more than 32768 times", 1023, 8192, 4096, 8, 1, 1, 1, 5, 0, 16, "cannot hold", false},
    {"short strips at once", 9e6, 8192, 4096, 8, 1, 1, 1, 5, 0, 1024, NULL, false},
    {"long strips by row", 9e6, 8192, 4096, 8, 1, 1, 1, 5, 0, 1025, NULL, true},
    {"long strips of tiles", 9e6, 8192, 4096, 8, 1, 1, 1, 5, 4096, 0, NULL, false},
    {"LERC gives all", 9e6, 8192, 4096, 8, 1, 1, 1, 34887, 0, 4096, NULL, false},
    {"a strip over 1 GiB, by row", 4e9, 65536, 65536, 16, 1, 1, 1, 8, 0, 65536, NULL, true},
    {"a tile over 1 GiB", 4e9, 65536, 65536, 16, 1, 1, 1, 8, 32768, 0, "tile of more than 1 GiB",
     false},
    {"a tile of 1 GiB", 4e9, 32768, 32768, 8, 1, 1, 1, 8, 32768, 0, NULL, false},
    {"a strip over 1 GiB, whole", 4e9, 65536, 65536, 16, 1, 1, 1, 34887, 0, 65536,
     "strip of more than 1 GiB", false},
    {"a row over 1 GiB", 4e9, 1073741825u, 1, 8, 1, 1, 1, 8, 0, 1, "row of more than 1 GiB", false},
    {"a plain strip of any size", 20 * GIB, 65536, 65536, 16, 1, 1, 1, 1, 0, 65536, NULL, false},
};

static ww__tiff_tags tags_of(size_t i) {
    return (ww__tiff_tags){.width = rows[i].width,
                           .height = rows[i].height,
                           .bits = rows[i].bits,
                           .samples = rows[i].samples,
                           .format = 1,
                           .planar = rows[i].planar,
                           .photometric = rows[i].photometric,
                           .compression = rows[i].compression,
                           .orientation = 1,
                           .fill_order = 1,
                           .tiled = rows[i].tile > 0,
                           .chunk_width = rows[i].tile ? rows[i].tile : rows[i].width,
                           .chunk_height = rows[i].tile ? rows[i].tile : rows[i].rows};
}

static void sizes_are_checked(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ww__tiff_tags tags = tags_of(i);
        ww__tiff tiff = {.fd = 27, .size = (uint64_t)rows[i].file_size};
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].name, ww__tiff_layout_set(&tags, "a.tif", &tiff, &err),
                    rows[i].says ? WW_EINPUT : WW_OK, &err);
        test_true(rows[i].name, tiff.fd == 27 && tiff.size == (uint64_t)rows[i].file_size);
        if (rows[i].says) {
            test_true(err.msg, strstr(err.msg, rows[i].says) != NULL);
            test_text(rows[i].name, err.file, "a.tif");
            test_true(rows[i].name, tiff.across == 0);
        } else
            test_true(rows[i].name, tiff.by_scanline == rows[i].by_scanline);
    }
}

/* Source: counting. 37 by 29 px in tiles of 16: 3 by 2; in strips of 7 rows: 5, the last of 1. */
static void chunks_cover_the_picture(void **state) {
    ww__tiff_tags tags = tags_of(4);
    ww__tiff tiff = {.size = 100000};
    ww_region part;
    (void)state;
    assert_int_equal(ww__tiff_layout_set(&tags, "a.tif", &tiff, NULL), WW_OK);
    test_close("tiles", (double)ww__tiff_layout_chunks(&tiff), 6.0, 0.0);
    part = ww__tiff_layout_chunk(&tiff, 5);
    test_true("last tile", part.x == 32 && part.y == 16 && part.width == 5 && part.height == 13);
    test_close("whole", (double)ww__tiff_layout_bytes(&tiff, 5), 16 * 16 * 2, 0.0);
    tags = tags_of(0);
    tiff = (ww__tiff){.size = 100000};
    assert_int_equal(ww__tiff_layout_set(&tags, "a.tif", &tiff, NULL), WW_OK);
    test_close("strips", (double)ww__tiff_layout_chunks(&tiff), 5.0, 0.0);
    part = ww__tiff_layout_chunk(&tiff, 4);
    test_true("last strip", part.x == 0 && part.y == 28 && part.width == 37 && part.height == 1);
    test_close("short", (double)ww__tiff_layout_bytes(&tiff, 4), 37 * 6, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sizes_are_checked),
        cmocka_unit_test(chunks_cover_the_picture),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
