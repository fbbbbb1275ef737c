/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/gather.h"
#include "io/tiff_made.h"
#include "io/tiff_packed.h"
#include <stdio.h>
#include <unistd.h>
#include <wedgework/picture_file.h>

/* Writes noise over the compressed bytes of one chunk: all but `skip`, or one in `part` of them. */
static void damage(const char *path, uint32_t chunk, size_t skip, unsigned part) {
    TIFF *tiff = made_open(path, "r");
    const uint64_t at = TIFFGetStrileOffset(tiff, chunk), n = TIFFGetStrileByteCount(tiff, chunk);
    FILE *file = fopen(path, "r+b");
    TIFFClose(tiff);
    assert_true(file && n > skip && fseek(file, (long)(at + skip), SEEK_SET) == 0);
    for (uint64_t i = skip; i < n / part; i++)
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
            damage(path, rows[i].damaged, rows[i].skip, 1);
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

static void expect_rows(const char *row, const ww_picture *picture, const made *file, size_t y,
                        size_t n) {
    const ww_region band = {0, y, picture->width, n};
    ww_error err = WW_ERROR_INIT;
    gathered all;
    test_status(row, gather_regions(picture, &band, 1, 2, &all, &err), WW_OK, &err);
    gather_complete(row, &all, band);
    for (size_t i = y * all.width * all.channels; i < (y + n) * all.width * all.channels; i++)
        test_close(row, all.value[i],
                   made_code(file, i / all.channels % all.width, i / all.channels / all.width,
                             i % all.channels),
                   0.0);
    gather_release(&all);
}

/*
 * Source: definition: a strip that was decompressed as far as it was wanted is gone on with, not
 * begun again: of its codes, all alike random, those of the first rows may be spoilt meanwhile.
 */
static void bands_decompress_a_strip_once(void **state) {
    static const made files[] = {
        {"side by side", 80, 60, 3, 2, 16, 1, 1, 5, 0, 1, 0, 60, "wl", false, false},
        {"planes", 80, 60, 3, 2, 16, 1, 2, 8, 0, 1, 0, 60, "wl", false, false},
        {"two strips", 80, 60, 3, 2, 16, 1, 1, 8, 0, 1, 0, 40, "wl", false, false}};
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    (void)state;
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
        const char *row = files[i].name;
        ww_picture picture = WW_PICTURE_INIT;
        assert_true(made_write(&files[i], path));
        assert_int_equal(ww_picture_file_open(path, 1, &picture, NULL), WW_OK);
        ww__tiff *tiff = picture.handle;
        tiff->by_scanline = true;
        tiff->threads_from = 0;
        expect_rows(row, &picture, &files[i], 0, 13);
        expect_rows(row, &picture, &files[i], 3, 9); /* back again */
        for (size_t plane = 0; plane < tiff->planes; plane++) {
            ww__tiff_decoder *decoder = atomic_load(&tiff->resting[plane]);
            assert_non_null(decoder);
            test_close(row, (double)decoder->row, 12.0, 0.0);
            damage(path, (uint32_t)decoder->piece, 0, 6); /* 12 of 60 rows, or of 40 */
        }
        expect_rows(row, &picture, &files[i], 12, 8);
        expect_rows(row, &picture, &files[i], 25, 10); /* rows between are passed over */
        expect_rows(row, &picture, &files[i], 35, files[i].rows == 40 ? 20 : 25);
        test_true(row, (atomic_load(&tiff->resting[0]) != NULL) == (files[i].rows == 40));
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

/* Cut between two bands of a strip, which libtiff sees in a map: told, and not by a signal. */
static void a_strip_cut_meanwhile_is_told(void **state) {
    static const made file = {"", 80, 6000, 3, 2, 16, 1, 1, 5, 0, 1, 0, 6000, "wl", false, false};
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    ww_picture picture = WW_PICTURE_INIT;
    ww_error err = WW_ERROR_INIT;
    gathered all;
    (void)state;
    assert_true(made_write(&file, path));
    assert_int_equal(ww_picture_file_open(path, 1, &picture, &err), WW_OK);
    ((ww__tiff *)picture.handle)->by_scanline = true;
    expect_rows("before", &picture, &file, 0, 10);
    assert_int_equal(truncate(path, 100000), 0);
    const ww_region band = {0, 10, 80, 3000};
    test_status("cut", gather_regions(&picture, &band, 1, 1, &all, &err), WW_EINPUT, &err);
    test_text("cut", err.msg, "ends before the pixels do; scan, export or copy it again");
    gather_release(&all);
    ww_picture_release(&picture);
    free(path);
    test_folder_remove(folder);
}

/* ------------------------------------------------------------------------- the old JPEG form */

static void put(FILE *file, uint64_t number, unsigned bytes) {
    for (unsigned i = 0; i < bytes; i++)
        fputc((int)(number >> 8 * i & 255), file);
}

/*
 * Puts the JPEG that is the only strip of a file into another, in the form of TIFF 6.0, section 22:
 * compression 6, and the JPEG as a whole told by tags 512 to 514. libtiff reads that form, but does
 * not write it.
 */
static void write_old_jpeg(const char *from, const made *like, const char *path) {
    TIFF *tiff = made_open(from, "r");
    const uint32_t n = (uint32_t)TIFFGetStrileByteCount(tiff, 0), even = n + n % 2;
    unsigned char *jpeg = calloc(even, 1);
    FILE *file = fopen(path, "wb");
    const uint32_t tag[][2] = {{256, like->width},
                               {257, like->height},
                               {258, 8},
                               {259, 6},
                               {262, like->samples == 1 ? PHOTOMETRIC_MINISBLACK : PHOTOMETRIC_RGB},
                               {273, 8},
                               {277, like->samples},
                               {278, like->height},
                               {279, n},
                               {512, 1},
                               {513, 8},
                               {514, n}};
    const unsigned n_tags = sizeof tag / sizeof tag[0];
    assert_true(jpeg && file && TIFFReadRawStrip(tiff, 0, jpeg, (tmsize_t)n) == (tmsize_t)n);
    TIFFClose(tiff);
    put(file, 0x4949, 2);
    put(file, 42, 2);
    put(file, 8 + even, 4);
    assert_true(fwrite(jpeg, 1, even, file) == even);
    put(file, n_tags, 2);
    for (unsigned i = 0; i < n_tags; i++) {
        put(file, tag[i][0], 2);
        put(file, 4, 2); /* LONG */
        put(file, 1, 4);
        put(file, tag[i][1], 4);
    }
    put(file, 0, 4);
    assert_int_equal(fclose(file), 0);
    free(jpeg);
}

/* A JPEG that stands by itself: with its tables. */
static void write_jpeg(const made *like, const char *path) {
    TIFF *tiff = made_open(path, like->mode);
    assert_true(TIFFSetField(tiff, TIFFTAG_COMPRESSION, COMPRESSION_JPEG) == 1 &&
                TIFFSetField(tiff, TIFFTAG_JPEGTABLESMODE, 0) == 1 && made_write_page(like, tiff));
    TIFFClose(tiff);
}

/*
 * Source: the codes that went in; JPEG of best quality is off by rounding only, 1 or 2 codes of 255
 * (common practice). Colours of this form are YCbCr whatever its tags say, so they are refused.
 */
static void the_old_jpeg_form_of_grey_is_read(void **state) {
    const made grey = {
        "", 80,   60,   1,    PHOTOMETRIC_MINISBLACK, 8, 1, 1, COMPRESSION_JPEG, 0, 1, 0,
        60, "wl", true, false};
    const made rgb = {"", 80,   60,   3,    PHOTOMETRIC_RGB, 8, 1, 1, COMPRESSION_JPEG, 0, 1, 0,
                      60, "wl", true, false};
    char *folder = test_folder_new(), *jpeg = test_path(folder, "j.tif");
    char *path = test_path(folder, "a.tif");
    ww_picture picture = WW_PICTURE_INIT;
    ww_error err = WW_ERROR_INIT;
    gathered all;
    (void)state;
    write_jpeg(&grey, jpeg);
    write_old_jpeg(jpeg, &grey, path);
    test_status("grey", ww_picture_file_open(path, 1, &picture, &err), WW_OK, &err);
    test_true("lossy", picture.notes.n == 1 && strstr(picture.notes.text[0], "lossy"));
    test_status("grey", gather_all(&picture, 1, &all, &err), WW_OK, &err);
    for (size_t i = 0; i < all.width * all.height; i++)
        test_close("code", all.value[i], made_code(&grey, i % 80, i / 80, 0), 2.0);
    gather_release(&all);
    damage(path, 0, 600, 1);
    test_status("damaged", gather_all(&picture, 1, &all, &err), WW_EINPUT, &err);
    test_true(err.msg, strstr(err.msg, "strip 1 cannot be decompressed (Corrupt JPEG") != NULL);
    gather_release(&all);
    ww_picture_release(&picture);
    write_jpeg(&rgb, jpeg);
    write_old_jpeg(jpeg, &rgb, path);
    test_status("RGB", ww_picture_file_open(path, 1, &picture, &err), WW_EINPUT, &err);
    test_text("RGB", err.msg,
              "holds luminance and colour difference (YCbCr); export it as grey or RGB of 16 bits");
    free(path);
    free(jpeg);
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
    tiff.by_scanline =
        true; /* 341 rows make a batch of 512 KiB, of a mapped file as much is seen */
    test_close("by row", (double)ww__tiff_packed_memory(&tiff), 1536 * 341 + 524288, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(only_damage_that_is_looked_at_is_told),
        cmocka_unit_test(bands_decompress_a_strip_once),
        cmocka_unit_test(a_file_changed_meanwhile_is_told),
        cmocka_unit_test(a_strip_cut_meanwhile_is_told),
        cmocka_unit_test(the_old_jpeg_form_of_grey_is_read),
        cmocka_unit_test(memory_is_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
