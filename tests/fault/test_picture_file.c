/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "io/gather.h"
#include "io/tiff_made.h"
#include <lcms2.h>
#include <sys/resource.h>
#include <unistd.h>
#include <wedgework/picture_file.h>

/* Source: definition (the Status lines of the header). */

/* ------------------------------------------------------------------------------- no memory left */

/* Blocks of a handle of libtiff that had to be given up (io/tiff_handle.h). */
enum { FOREIGN = 100 };

/*
 * Uncompressed ones: with others libtiff 4.5 sets up a codec while it reads the tags, and does not
 * survive it where memory fails.
 */
static const made files[] = {
    {"strips", 37, 29, 4, 2, 12, 1, 1, 1, 0, 6, 0, 7, "wb", false, false},
    {"tiles", 37, 29, 3, 2, 16, 1, 2, 1, 0, 3, 16, 0, "wl", false, false},
    {"grey", 37, 29, 1, 0, 64, 3, 1, 1, 0, 1, 0, 29, "wl8", false, false},
};

typedef struct job {
    const made *file;
    const char *path;
} job;

static ww_status sum_up(const ww_block *block, size_t worker, void *context, ww_error *err) {
    double *sum = context;
    (void)worker, (void)err;
    for (size_t y = 0; y < block->height; y++)
        for (size_t x = 0; x < block->width; x++)
            for (size_t c = 0; c < block->channels; c++)
                *sum += ww_block_code(block, (ptrdiff_t)x * block->next_x +
                                                 (ptrdiff_t)y * block->next_y + (ptrdiff_t)c);
    return WW_OK;
}

/* A failure that was borne has changed nothing: every code counts. */
static ww_status open_and_visit(void *context, ww_error *err) {
    const job *the = context;
    ww_picture picture = WW_PICTURE_INIT;
    double sum = 0.0, want = 0.0;
    ww_status status = ww_picture_file_open(the->path, 1, &picture, err);
    if (status == WW_OK) {
        const ww_region all = {0, 0, picture.width, picture.height};
        test_true("resolution", picture.px_per_mm_x.set);
        status = ww_picture_visit(&picture, &all, 1, 1, sum_up, &sum, err);
    } else
        test_true("nothing", picture.file == NULL && picture.handle == NULL);
    if (status == WW_OK) {
        for (size_t v = 0; v < the->file->height; v++)
            for (size_t u = 0; u < the->file->width; u++)
                for (unsigned c = 0; c < made_channels(the->file); c++)
                    want += made_delivered(the->file, u, v, c);
        test_close(the->file->name, sum, want, 0.0);
    }
    ww_picture_release(&picture);
    return status;
}

static void write_with_profile(const made *file, const char *path) {
    cmsHPROFILE profile = cmsCreate_sRGBProfile();
    unsigned char bytes[8192] = {0};
    cmsUInt32Number n = sizeof bytes;
    TIFF *tiff = made_open(path, file->mode);
    assert_true(cmsSaveProfileToMem(profile, bytes, &n));
    cmsCloseProfile(profile);
    TIFFSetField(tiff, TIFFTAG_ICCPROFILE, n, bytes);
    TIFFSetField(tiff, TIFFTAG_XRESOLUTION, 2540.0);
    TIFFSetField(tiff, TIFFTAG_YRESOLUTION, 2540.0);
    assert_true(made_write_page(file, tiff));
    TIFFClose(tiff);
}

static void scans_bear_no_memory(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    (void)state;
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
        job the = {&files[i], path};
        write_with_profile(&files[i], path);
        inject_each_but(files[i].name, open_and_visit, &the, FOREIGN);
    }
    free(path);
    test_folder_remove(folder);
}

/* ------------------------------------------------------------------------------- bounded memory */

/* Scans of 16-bit RGB; codec 1 is none, 5 LZW, 8 Deflate, 32773 PackBits. */
static const struct {
    const char *name;
    uint32_t width, height, tile, rows;
    unsigned codec, threads;
    bool noisy; /* else blank: the file is short */
} scans[] = {
    {"one strip of 600 MB", 10000, 10000, 0, 10000, 1, 1, false},
    {"small strips, many threads", 10000, 10000, 0, 1, 1, 64, false},
    {"one compressed strip of 240 MB", 8000, 5000, 0, 5000, 8, 1, false},
    {"one strip of 120 MB that PackBits makes no shorter", 5000, 4000, 0, 4000, 32773, 1, true},
    {"one strip of 120 MB that LZW makes longer", 5000, 4000, 0, 4000, 5, 1, true},
    {"compressed strips of 8 MiB", 8000, 5000, 0, 174, 8, 64, false},
    {"compressed tiles of 6 MiB, many threads", 8192, 4096, 1024, 0, 8, 64, false},
};

typedef struct scan {
    size_t row;
    const char *path;
} scan;

static void set_tags(TIFF *tiff, size_t row) {
    const made tags = {.width = scans[row].width,
                       .height = scans[row].height,
                       .samples = 3,
                       .photometric = 2,
                       .bits = 16,
                       .format = 1,
                       .planar = 1,
                       .compression = scans[row].codec,
                       .orientation = 1,
                       .tile = scans[row].tile,
                       .rows = scans[row].rows};
    made_tags(&tags, tiff);
}

/* The linear congruential generator of ISO C's example of rand. Whatever is there is its seed. */
static void make_noise(unsigned char *codes, size_t n) {
    uint32_t next = 2731 + codes[0];
    for (size_t i = 0; i < n; i++) {
        next = next * 1103515245 + 12345;
        codes[i] = (unsigned char)(next >> 16);
    }
}

static void write_scan(size_t row, const char *path) {
    TIFF *tiff = made_open(path, "wl");
    unsigned char *codes =
        calloc(scans[row].tile ? scans[row].tile * (size_t)scans[row].tile : scans[row].width, 6);
    assert_non_null(codes);
    set_tags(tiff, row);
    if (scans[row].tile)
        for (uint32_t tile = 0; tile < TIFFNumberOfTiles(tiff); tile++)
            assert_true(TIFFWriteEncodedTile(tiff, tile, codes, TIFFTileSize(tiff)) > 0);
    else
        for (uint32_t y = 0; y < scans[row].height; y++) {
            if (scans[row].noisy)
                make_noise(codes, scans[row].width * 6);
            assert_true(TIFFWriteScanline(tiff, codes, y, 0) == 1);
        }
    free(codes);
    TIFFClose(tiff);
}

static ww_status count(const ww_block *block, size_t worker, void *context, ww_error *err) {
    (void)worker, (void)err;
    atomic_fetch_add((atomic_size_t *)context, block->width * block->height);
    return WW_OK;
}

/* MiB that the process has had at once. */
static long high_water(void) {
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    return usage.ru_maxrss / 1024;
}

static int write_it(void *context) {
    const scan *the = context;
    write_scan(the->row, the->path);
    return 0;
}

static int visit_it(void *context) {
    const scan *the = context;
    ww_picture picture = WW_PICTURE_INIT;
    atomic_size_t pixels = 0;
    const long before = high_water();
    long more;
    ww_region all;
    if (ww_picture_file_open(the->path, 1, &picture, NULL) != WW_OK)
        return 100;
    all = (ww_region){0, 0, picture.width, picture.height};
    if (ww_picture_visit(&picture, &all, 1, scans[the->row].threads, count, &pixels, NULL) != WW_OK)
        return 99;
    if (atomic_load(&pixels) != picture.width * picture.height)
        return 98;
    ww_picture_release(&picture);
    more = high_water() - before;
    return more < 97 ? (int)more : 97;
}

static void memory_is_bounded(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    (void)state;
    for (size_t i = 0; i < sizeof scans / sizeof scans[0]; i++) {
        scan the = {i, path};
        int mib;
        assert_int_equal(test_in_child(write_it, &the), 0);
        mib = test_in_child(visit_it, &the);
        printf("%s: %d MiB\n", scans[i].name, mib);
        test_true(scans[i].name, mib >= 0 && mib < 64);
        unlink(path);
    }
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(scans_bear_no_memory),
        cmocka_unit_test(memory_is_bounded),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
