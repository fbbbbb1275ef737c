/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/gather.h"
#include "io/tiff.h"
#include "io/tiff_made.h"
#include <pthread.h>
#include <stdio.h>
#include <wedgework/picture_file.h>

/*
 * Source: the codes are made, written by libtiff and must come back; places as in TIFF 6.0. Floats
 * hold 24 bits of longer codes, hence the tolerance of half a unit there.
 */
static void check_codes(const char *row, const made *file, const gathered *all, double tolerance) {
    const unsigned channels = made_channels(file);
    if (file->bits > 24 && file->format != SAMPLEFORMAT_IEEEFP)
        tolerance += ldexp(1.0, (int)file->bits - 25);
    for (size_t v = 0; v < file->height; v++)
        for (size_t u = 0; u < file->width; u++)
            for (unsigned c = 0; c < channels; c++) {
                size_t x, y;
                double got, want;
                made_shown(file, u, v, &x, &y);
                got = all->value[(y * all->width + x) * channels + c];
                want = made_delivered(file, u, v, c);
                if (!(fabs(got - want) <= tolerance))
                    fail_msg("%s: pixel %zu, %zu channel %u is %g, should be %g", row, x, y, c, got,
                             want);
            }
}

static void check_pixels(const char *row, const made *file, const ww_picture *picture,
                         double tolerance) {
    gathered all;
    gather_whole(row, picture, 1, &all);
    check_codes(row, file, &all, tolerance);
    gather_release(&all);
}

/* As the file holds them, and once more from where they were decompressed to. */
static void check_file(const made *file, const char *path, bool by_scanline, double tolerance) {
    char row[160];
    ww_picture picture = WW_PICTURE_INIT;
    ww_error err = WW_ERROR_INIT;
    ww__tiff *tiff;
    snprintf(row, sizeof row,
             "%s: %s codec %u, %u bits, format %u, %u samples, planar %u, tile %u, turned %u",
             file->name ? file->name : "grid", file->mode, file->compression, file->bits,
             file->format, file->samples, file->planar, file->tile, file->orientation);
    test_status(row, ww_picture_file_open(path, 1, &picture, &err), WW_OK, &err);
    test_true(row, picture.bits == file->bits && picture.channels == made_channels(file));
    test_true(row, picture.width == (file->orientation > 4 ? file->height : file->width));
    tiff = picture.handle;
    if (by_scanline && !tiff->tiled && !tiff->offset)
        tiff->by_scanline = true;
    check_pixels(row, file, &picture, tolerance);
    tiff->spill_from = 0;
    atomic_store(&tiff->in_vain, UINT32_MAX);
    if (!tiff->offset)
        check_pixels(row, file, &picture, tolerance);
    test_true(row, atomic_load(&tiff->spill_tried) == !tiff->offset);
    ww_picture_release(&picture);
}

/* ----------------------------------------------------------------------------------- the grid */

static const struct {
    unsigned bits, format;
} depths[] = {{2, SAMPLEFORMAT_UINT},   {3, SAMPLEFORMAT_UINT},    {4, SAMPLEFORMAT_UINT},
              {7, SAMPLEFORMAT_UINT},   {8, SAMPLEFORMAT_UINT},    {10, SAMPLEFORMAT_UINT},
              {12, SAMPLEFORMAT_UINT},  {14, SAMPLEFORMAT_UINT},   {16, SAMPLEFORMAT_UINT},
              {20, SAMPLEFORMAT_UINT},  {24, SAMPLEFORMAT_UINT},   {32, SAMPLEFORMAT_UINT},
              {8, SAMPLEFORMAT_INT},    {12, SAMPLEFORMAT_INT},    {16, SAMPLEFORMAT_INT},
              {32, SAMPLEFORMAT_INT},   {16, SAMPLEFORMAT_IEEEFP}, {32, SAMPLEFORMAT_IEEEFP},
              {64, SAMPLEFORMAT_IEEEFP}};

static const unsigned codecs[] = {
    COMPRESSION_NONE,     COMPRESSION_LZW,  COMPRESSION_ADOBE_DEFLATE, COMPRESSION_DEFLATE,
    COMPRESSION_PACKBITS, COMPRESSION_LZMA, COMPRESSION_ZSTD};

static const struct {
    unsigned samples, photometric, planar;
} pixels[] = {
    {1, PHOTOMETRIC_MINISBLACK, PLANARCONFIG_CONTIG},
    {1, PHOTOMETRIC_MINISWHITE, PLANARCONFIG_CONTIG},
    {2, PHOTOMETRIC_MINISBLACK, PLANARCONFIG_CONTIG},
    {2, PHOTOMETRIC_MINISWHITE, PLANARCONFIG_SEPARATE},
    {3, PHOTOMETRIC_RGB, PLANARCONFIG_CONTIG},
    {3, PHOTOMETRIC_RGB, PLANARCONFIG_SEPARATE},
    {4, PHOTOMETRIC_RGB, PLANARCONFIG_CONTIG},
    {5, PHOTOMETRIC_RGB, PLANARCONFIG_SEPARATE},
};

enum { N_DEPTHS = sizeof depths / sizeof depths[0], N_CODECS = sizeof codecs / sizeof codecs[0] };
enum { N_PIXELS = sizeof pixels / sizeof pixels[0] };

/*
 * Every depth with every codec, kind of pixel and chunk; orientation and byte order go round with
 * the count, so that each meets each of the others.
 */
static void every_kind_comes_back(void **state) {
    static const char *const modes[] = {"wl", "wb", "wl8", "wb8"};
    char *folder = test_folder_new(), *path = test_path(folder, "made.tif");
    const size_t n = (size_t)N_DEPTHS * N_CODECS * N_PIXELS * 2, step = test_quick() ? 41 : 1;
    (void)state;
    for (size_t i = 0; i < n; i += step) {
        const size_t depth = i / 2 % N_DEPTHS, codec = i / 2 / N_DEPTHS % N_CODECS;
        const size_t pixel = i / 2 / N_DEPTHS / N_CODECS;
        const made file = {.width = 37,
                           .height = 29,
                           .samples = pixels[pixel].samples,
                           .photometric = pixels[pixel].photometric,
                           .bits = depths[depth].bits,
                           .format = depths[depth].format,
                           .planar = pixels[pixel].planar,
                           .compression = codecs[codec],
                           .orientation = (unsigned)(i * 5 / 2 % 8 + 1),
                           .tile = i % 2 ? 16 : 0,
                           .rows = 7,
                           .mode = modes[i / 3 % 4]};
        if (TIFFIsCODECConfigured((uint16_t)file.compression) != 1)
            continue;
        test_true("written", made_write(&file, path));
        check_file(&file, path, i / 5 % 2, 0.0);
    }
    free(path);
    test_folder_remove(folder);
}

/* 8 orientations x 4 kinds of chunk x 3 codecs x 2 byte orders x 3 depths, all of them. */
static void every_orientation_comes_back(void **state) {
    static const unsigned bits[] = {8, 12, 16},
                          few[] = {COMPRESSION_NONE, COMPRESSION_LZW, COMPRESSION_ADOBE_DEFLATE};
    char *folder = test_folder_new(), *path = test_path(folder, "made.tif");
    const size_t step = test_quick() ? 37 : 1;
    (void)state;
    for (size_t i = 0; i < 8 * 4 * 3 * 2 * 3; i += step) {
        const made file = {.width = 37,
                           .height = 29,
                           .samples = 3,
                           .photometric = PHOTOMETRIC_RGB,
                           .bits = bits[i / 192],
                           .format = SAMPLEFORMAT_UINT,
                           .planar = i / 8 % 2 ? PLANARCONFIG_SEPARATE : PLANARCONFIG_CONTIG,
                           .compression = few[i / 32 % 6 / 2],
                           .orientation = (unsigned)(i % 8 + 1),
                           .tile = i / 16 % 2 ? 16 : 0,
                           .rows = 7,
                           .mode = i / 32 % 2 ? "wb" : "wl"};
        test_true("written", made_write(&file, path));
        check_file(&file, path, i % 3 == 0, 0.0);
    }
    free(path);
    test_folder_remove(folder);
}

/* Tolerance: JPEG of quality 100 rounds, PixarLog has 11 bits of logarithm. */
static const struct {
    made file;
    double tolerance;
} rare[] = {
    {{"predictor", 37, 29, 3, 2, 8, 1, 1, 5, 2, 1, 0, 7, "wl", false, false}, 0.0},
    {{"predictor", 37, 29, 3, 2, 16, 1, 1, 8, 2, 6, 16, 0, "wb", false, false}, 0.0},
    {{"predictor", 37, 29, 4, 2, 16, 1, 1, 5, 2, 8, 0, 7, "wl", false, false}, 0.0},
    {{"predictor", 37, 29, 3, 2, 16, 1, 2, 50000, 2, 3, 0, 29, "wb8", false, false}, 0.0},
    {{"predictor", 37, 29, 1, 1, 32, 1, 1, 8, 2, 1, 0, 7, "wl", false, false}, 0.0},
    {{"predictor", 37, 29, 1, 1, 64, 3, 1, 8, 3, 1, 0, 7, "wb", false, false}, 0.0},
    {{"predictor", 37, 29, 3, 2, 32, 3, 1, 8, 3, 5, 16, 0, "wb", false, false}, 0.0},
    {{"predictor", 37, 29, 3, 2, 16, 3, 2, 5, 3, 7, 16, 0, "wl", false, false}, 0.0},
    {{"bits reversed", 37, 29, 3, 2, 16, 1, 1, 1, 0, 1, 0, 7, "wl", false, true}, 0.0},
    {{"bits reversed", 37, 29, 1, 1, 12, 1, 1, 1, 0, 1, 0, 7, "wb", false, true}, 0.0},
    {{"bits reversed", 37, 29, 1, 1, 4, 1, 1, 5, 0, 2, 0, 7, "wb", false, true}, 0.0},
    {{"one strip", 37, 29, 3, 2, 16, 1, 1, 1, 0, 1, 0, 29, "wl", false, false}, 0.0},
    {{"a row a strip", 37, 29, 3, 2, 16, 1, 1, 1, 0, 1, 0, 1, "wb", false, false}, 0.0},
    {{"a row of tiles", 16, 29, 1, 1, 16, 1, 1, 1, 0, 1, 16, 0, "wl", false, false}, 0.0},
    {{"one pixel", 1, 1, 1, 1, 12, 1, 1, 1, 0, 7, 0, 1, "wl", false, false}, 0.0},
    {{"JPEG", 37, 29, 1, 1, 8, 1, 1, 7, 0, 6, 0, 16, "wl", true, false}, 3.0},
    {{"JPEG", 37, 29, 3, 2, 8, 1, 1, 7, 0, 1, 0, 16, "wl", true, false}, 3.0},
    {{"JPEG", 37, 29, 3, 2, 8, 1, 2, 7, 0, 4, 16, 0, "wb", true, false}, 3.0},
    {{"PixarLog", 37, 29, 3, 2, 8, 1, 1, 32909, 0, 1, 0, 7, "wl", true, false}, 1.0},
    {{"LERC", 37, 29, 3, 2, 8, 1, 1, 34887, 0, 1, 0, 7, "wl", false, false}, 0.0},
    {{"LERC", 37, 29, 1, 1, 32, 3, 1, 34887, 0, 3, 16, 0, "wb", false, false}, 0.0},
    {{"WebP", 37, 29, 3, 2, 8, 1, 1, 50001, 0, 1, 0, 7, "wl", false, false}, 0.0},
};

static void rare_kinds_come_back(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "made.tif");
    (void)state;
    for (size_t i = 0; i < sizeof rare / sizeof rare[0]; i++) {
        if (TIFFIsCODECConfigured((uint16_t)rare[i].file.compression) != 1) {
            printf("skipped: libtiff is without %s here\n", rare[i].file.name);
            continue;
        }
        test_true(rare[i].file.name, made_write(&rare[i].file, path));
        check_file(&rare[i].file, path, i % 2, rare[i].tolerance);
    }
    free(path);
    test_folder_remove(folder);
}

/* Rows longer than a batch are read, decompressed and shown in parts. */
static const made wide[] = {
    {"wide", 200003, 3, 3, 2, 16, 1, 1, 1, 0, 1, 0, 2, "wb", false, false},
    {"wide", 200003, 3, 3, 2, 12, 1, 1, 1, 0, 6, 0, 2, "wl", false, false},
    {"wide", 200003, 3, 4, 2, 16, 1, 1, 5, 0, 3, 0, 2, "wl", false, false},
    {"wide", 600001, 2, 1, 0, 7, 1, 1, 8, 0, 1, 0, 2, "wl", false, false},
    {"wide", 200003, 1, 3, 2, 12, 2, 2, 8, 0, 1, 0, 1, "wl", false, false},
};

static void wide_rows_come_back(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "made.tif");
    (void)state;
    for (size_t i = 0; i < (test_quick() ? 0 : sizeof wide / sizeof wide[0]); i++) {
        test_true(wide[i].name, made_write(&wide[i], path));
        check_file(&wide[i], path, true, 0.0);
        check_file(&wide[i], path, false, 0.0);
    }
    free(path);
    test_folder_remove(folder);
}

/* --------------------------------------------------------------------------- threads, progress */

typedef struct watched {
    pthread_t caller;
    double last;
    bool falls, elsewhere;
    size_t n;
} watched;

static void watch(void *context, double done) {
    watched *seen = context;
    seen->elsewhere = seen->elsewhere || !pthread_equal(pthread_self(), seen->caller);
    seen->falls = seen->falls || done < seen->last || done > 1.0;
    seen->last = done;
    seen->n++;
}

static const made big[] = {
    {"strips", 701, 503, 3, 2, 16, 1, 1, 1, 0, 6, 0, 7, "wb", false, false},
    {"LZW", 701, 503, 3, 2, 16, 1, 2, 5, 0, 1, 0, 7, "wl", false, false},
    {"tiles", 701, 503, 3, 2, 12, 1, 1, 8, 0, 8, 64, 0, "wl", false, false},
    {"one strip", 701, 503, 3, 2, 16, 1, 1, 8, 0, 8, 0, 503, "wl", false, false},
};

static void any_number_of_threads_gives_the_same(void **state) {
    static const size_t threads[] = {1, 2, 5};
    char *folder = test_folder_new(), *path = test_path(folder, "made.tif");
    (void)state;
    for (size_t i = 0; i < sizeof big / sizeof big[0]; i++) {
        test_true(big[i].name, made_write(&big[i], path));
        for (size_t t = 0; t < 3; t++) {
            watched seen = {.caller = pthread_self()};
            ww_picture picture = WW_PICTURE_INIT;
            ww_error err = WW_ERROR_INIT;
            gathered all;
            test_status(big[i].name, ww_picture_file_open(path, 1, &picture, &err), WW_OK, &err);
            ((ww__tiff *)picture.handle)->threads_from = 0;
            picture.progress = watch;
            picture.progress_context = &seen;
            gather_whole(big[i].name, &picture, threads[t], &all);
            check_codes(big[i].name, &big[i], &all, 0.0);
            test_true("workers", atomic_load(&all.worker) < threads[t]);
            test_true("progress", seen.last == 1.0 && !seen.falls && !seen.elsewhere && seen.n > 0);
            gather_release(&all);
            ww_picture_release(&picture);
        }
    }
    free(path);
    test_folder_remove(folder);
}

/* ------------------------------------------------------------------------- only what is wanted */

/* Source: counting by hand. Pixels are those of blocks; strips have 7 rows, tiles 16 by 16. */
static const struct {
    const char *name;
    made file;
    ww_region region[2]; /* of a picture of 80 by 60 px */
    size_t n, blocks, pixels;
} pieces[] = {
    {"inside a tile",
     {"", 80, 60, 3, 2, 16, 1, 1, 5, 0, 1, 16, 0, "wl", false, false},
     {{17, 33, 5, 4}},
     1,
     1,
     256},
    {"four tiles",
     {"", 80, 60, 3, 2, 16, 1, 1, 5, 0, 1, 16, 0, "wl", false, false},
     {{31, 31, 2, 2}},
     1,
     4,
     1024},
    {"a tile of three planes",
     {"", 80, 60, 3, 2, 16, 1, 2, 5, 0, 1, 16, 0, "wl", false, false},
     {{17, 33, 5, 4}},
     1,
     3,
     768},
    {"twice the same tile",
     {"", 80, 60, 3, 2, 16, 1, 1, 5, 0, 1, 16, 0, "wl", false, false},
     {{17, 33, 5, 4}, {20, 35, 5, 4}},
     2,
     1,
     256},
    {"two strips",
     {"", 80, 60, 3, 2, 16, 1, 1, 5, 0, 1, 0, 7, "wl", false, false},
     {{3, 6, 5, 3}},
     1,
     2,
     80 * 14},
    {"strips upside down",
     {"", 80, 60, 3, 2, 16, 1, 1, 5, 0, 3, 0, 7, "wl", false, false},
     {{0, 0, 1, 1}},
     1,
     1,
     80 * 4},
    {"strips on their side",
     {"", 60, 80, 3, 2, 16, 1, 1, 5, 0, 6, 0, 7, "wl", false, false},
     {{79, 0, 1, 1}},
     1,
     1,
     60 * 7},
    {"columns of plain rows",
     {"", 80, 60, 3, 2, 16, 1, 1, 1, 0, 1, 0, 7, "wl", false, false},
     {{18, 6, 5, 3}},
     1,
     1,
     7 * 3},
    {"plain rows",
     {"", 80, 60, 3, 2, 16, 1, 1, 1, 0, 1, 0, 7, "wl", false, false},
     {{18, 6, 50, 3}},
     1,
     1,
     80 * 3},
    {"plain tile",
     {"", 80, 60, 3, 2, 16, 1, 1, 1, 0, 1, 16, 0, "wl", false, false},
     {{17, 33, 12, 4}},
     1,
     1,
     16 * 4},
};

static void only_what_is_wanted_is_shown(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "made.tif");
    (void)state;
    for (size_t i = 0; i < sizeof pieces / sizeof pieces[0]; i++) {
        ww_picture picture = WW_PICTURE_INIT;
        ww_error err = WW_ERROR_INIT;
        gathered all;
        test_true(pieces[i].name, made_write(&pieces[i].file, path));
        assert_int_equal(ww_picture_file_open(path, 1, &picture, &err), WW_OK);
        err.code = gather_regions(&picture, pieces[i].region, pieces[i].n, 1, &all, &err);
        test_status(pieces[i].name, err.code, WW_OK, &err);
        for (size_t r = 0; r < pieces[i].n; r++)
            gather_complete(pieces[i].name, &all, pieces[i].region[r]);
        test_close(pieces[i].name, (double)atomic_load(&all.blocks), (double)pieces[i].blocks, 0.0);
        test_close(pieces[i].name, (double)atomic_load(&all.pixels), (double)pieces[i].pixels, 0.0);
        gather_release(&all);
        ww_picture_release(&picture);
    }
    free(path);
    test_folder_remove(folder);
}

static ww_status give_up(const ww_block *block, size_t worker, void *context, ww_error *err) {
    (void)block, (void)worker, (void)context;
    return ww_error_set(err, WW_ENODATA, "seen enough");
}

static void what_the_visitor_says_is_returned(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "made.tif");
    (void)state;
    for (size_t i = 0; i < sizeof big / sizeof big[0]; i++) {
        ww_picture picture = WW_PICTURE_INIT;
        ww_error err = WW_ERROR_INIT;
        assert_true(made_write(&big[i], path));
        assert_int_equal(ww_picture_file_open(path, 1, &picture, &err), WW_OK);
        const ww_region all = {0, 0, picture.width, picture.height};
        test_status(big[i].name, ww_picture_visit(&picture, &all, 1, 2, give_up, NULL, &err),
                    WW_ENODATA, &err);
        test_text(big[i].name, err.msg, "seen enough");
        ww_picture_release(&picture);
    }
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_kind_comes_back),
        cmocka_unit_test(every_orientation_comes_back),
        cmocka_unit_test(rare_kinds_come_back),
        cmocka_unit_test(wide_rows_come_back),
        cmocka_unit_test(any_number_of_threads_gives_the_same),
        cmocka_unit_test(only_what_is_wanted_is_shown),
        cmocka_unit_test(what_the_visitor_says_is_returned),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
