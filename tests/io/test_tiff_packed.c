/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/gather.h"
#include "io/tiff_made.h"
#include "io/tiff_packed.h"
#include <stdio.h>
#include <unistd.h>
#include <wedgework/picture_file.h>

/* Writes noise over the compressed bytes of one chunk. */
static void damage(const char *path, uint32_t chunk, size_t skip) {
    TIFF *tiff = made_open(path, "r");
    const uint64_t at = TIFFGetStrileOffset(tiff, chunk), n = TIFFGetStrileByteCount(tiff, chunk);
    FILE *file = fopen(path, "r+b");
    TIFFClose(tiff);
    assert_true(file && n > skip && fseek(file, (long)(at + skip), SEEK_SET) == 0);
    for (uint64_t i = skip; i < n; i++)
        fputc((int)(i * 37 + 255) & 255, file);
    assert_int_equal(fclose(file), 0);
}

/*
 * Source: definition: a chunk that no region touches is not decompressed, or it would be told that
 * it is damaged; one that a region touches is.
 */
static const struct {
    const char *name, *says;
    made file; /* 80 by 60 px */
    uint32_t damaged;
    size_t skip;
    bool by_scanline;
} rows[] = {
    {"tile",
     "tile 8 cannot be decompressed",
     {"", 80, 60, 3, 2, 16, 1, 1, 5, 0, 1, 16, 0, "wl", false, false},
     7,
     0,
     false},
    {"strip",
     "strip 5 cannot be decompressed",
     {"", 80, 60, 3, 2, 16, 1, 1, 8, 0, 1, 0, 7, "wl", false, false},
     4,
     0,
     false},
    {"by row",
     "strip 5 cannot be decompressed",
     {"", 80, 60, 3, 2, 16, 1, 1, 5, 0, 1, 0, 7, "wl", false, false},
     4,
     0,
     true},
    {"JPEG, only warned of",
     "strip 3 cannot be decompressed",
     {"", 80, 60, 3, 2, 8, 1, 1, 7, 0, 1, 0, 16, "wl", true, false},
     2,
     200,
     false},
};

static void only_damage_that_is_looked_at_is_told(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        for (size_t threads = 1; threads <= 3; threads += 2) {
            const ww_region top = {0, 0, 80, 16}, everything = {0, 0, 80, 60};
            ww_picture picture = WW_PICTURE_INIT;
            ww_error err = WW_ERROR_INIT;
            gathered all;
            assert_true(made_write(&rows[i].file, path));
            damage(path, rows[i].damaged, rows[i].skip);
            assert_int_equal(ww_picture_file_open(path, 1, &picture, &err), WW_OK);
            ((ww__tiff *)picture.handle)->by_scanline = rows[i].by_scanline;
            ((ww__tiff *)picture.handle)->threads_from = 0;
            test_status(rows[i].name, gather_regions(&picture, &top, 1, threads, &all, &err), WW_OK,
                        &err);
            gather_complete(rows[i].name, &all, top);
            gather_release(&all);
            test_status(rows[i].name, gather_regions(&picture, &everything, 1, threads, &all, &err),
                        WW_EINPUT, &err);
            if (!strstr(err.msg, rows[i].says))
                fail_msg("%s: '%s'", rows[i].name, err.msg);
            test_text(rows[i].name, err.file, path);
            gather_release(&all);
            ww_picture_release(&picture);
        }
    free(path);
    test_folder_remove(folder);
}

/* A directory that is gone when the visit begins. */
static void a_file_changed_meanwhile_is_told(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    ww_picture picture = WW_PICTURE_INIT;
    ww_error err = WW_ERROR_INIT;
    gathered all;
    (void)state;
    assert_true(made_write(&rows[0].file, path));
    assert_int_equal(ww_picture_file_open(path, 1, &picture, &err), WW_OK);
    assert_int_equal(truncate(path, 16), 0);
    test_status("cut", gather_all(&picture, 1, &all, &err), WW_EINPUT, &err);
    test_text("cut", err.file, path);
    gather_release(&all);
    ww_picture_release(&picture);
    free(path);
    test_folder_remove(folder);
}

/* Source: arithmetic: tiles of 256 by 256 px of 3 times 16 bits, the longest compressed one. */
static void memory_is_counted(void **state) {
    ww__tiff tiff = {.turn = {1000, 700, 1},
                     .samples = {16, WW__TIFF_UNSIGNED, false, false, 3, 3},
                     .planes = 1,
                     .chunk_width = 256,
                     .chunk_height = 256,
                     .across = 4,
                     .down = 3,
                     .row_bytes = 1536,
                     .tiled = true,
                     .longest = 2731};
    (void)state;
    test_close("pieces", (double)ww__tiff_packed_pieces(&tiff), 12.0, 0.0);
    test_close("whole", (double)ww__tiff_packed_memory(&tiff), 1536 * 256 + 2731, 0.0);
    tiff.compression = COMPRESSION_LZMA; /* keeps 8 MiB to look back into */
    test_true("dictionary", ww__tiff_packed_memory(&tiff) > 8 * 1024 * 1024);
    tiff.compression = COMPRESSION_LZW;
    tiff.tiled = false;
    tiff.by_scanline = true; /* 341 rows make a batch of 512 KiB */
    test_close("by row", (double)ww__tiff_packed_memory(&tiff), 1536 * 341 + 2731, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(only_damage_that_is_looked_at_is_told),
        cmocka_unit_test(a_file_changed_meanwhile_is_told),
        cmocka_unit_test(memory_is_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
