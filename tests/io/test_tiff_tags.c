/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_made.h"
#include "io/tiff_tags.h"
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

static const made page = {"", 37, 29, 4, 2, 12, 1, 2, 5, 0, 6, 16, 0, "wb", false, false};

static ww__tiff_tags read_tags(const char *path, size_t *profile) {
    ww__tiff_handle handle;
    ww__tiff_tags tags;
    struct stat about;
    const int fd = open(path, O_RDONLY);
    assert_true(fd >= 0 && fstat(fd, &about) == 0);
    assert_int_equal(
        ww__tiff_handle_open("a.tif", fd, (uint64_t)about.st_size, false, &handle, NULL), WW_OK);
    assert_int_equal(TIFFSetDirectory(handle.tiff, 0), 1);
    ww__tiff_tags_read(&handle, &tags);
    assert_true((ww__tiff_tags_profile(&handle, profile) != NULL) == (*profile > 0));
    ww__tiff_handle_close(&handle);
    close(fd);
    return tags;
}

/* Writes a page with further tags, changes its bytes, and reads its tags back. */
static ww__tiff_tags tags_after(const made *file, void (*set)(TIFF *tiff),
                                void (*change)(const made *file, char bytes[], size_t n),
                                size_t *profile) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    TIFF *tiff = made_open(path, file->mode);
    if (set)
        set(tiff);
    assert_true(made_write_page(file, tiff));
    TIFFClose(tiff);
    if (change) {
        size_t n;
        char *bytes = test_file_read(path, &n);
        change(file, bytes, n);
        FILE *out = fopen(path, "wb");
        assert_true(out && fwrite(bytes, 1, n, out) == n && fclose(out) == 0);
        free(bytes);
    }
    const ww__tiff_tags tags = read_tags(path, profile);
    free(path);
    test_folder_remove(folder);
    return tags;
}

static ww__tiff_tags tags_with(const made *file, void (*set)(TIFF *tiff), size_t *profile) {
    return tags_after(file, set, NULL, profile);
}

/* Source: what was written. */
static void tags_are_as_written(void **state) {
    size_t profile;
    const ww__tiff_tags tags = tags_with(&page, NULL, &profile);
    (void)state;
    test_true("size", tags.width == 37 && tags.height == 29 && tags.depth == 1);
    test_true("samples", tags.bits == 12 && tags.samples == 4 && tags.format == 1);
    test_true("planes", tags.planar == 2 && tags.photometric == 2 && tags.says_photometric);
    test_true("codec", tags.compression == 5 && tags.orientation == 6 && tags.fill_order == 1);
    test_true("tiles", tags.tiled && tags.chunk_width == 16 && tags.chunk_height == 16);
    test_true("extra", tags.extra == 1 && !tags.associated);
    test_true("order", tags.big_endian && !tags.reduced);
    test_true("no profile, no resolution",
              profile == 0 && !tags.px_per_mm[0].set && !tags.px_per_mm[1].set);
}

static void strips_of_any_length(void **state) {
    made file = page;
    size_t profile;
    ww__tiff_tags tags;
    (void)state;
    file.tile = 0;
    file.rows = 29;
    tags = tags_with(&file, NULL, &profile);
    test_true("one strip", !tags.tiled && tags.chunk_width == 37 && tags.chunk_height == 29);
    file.rows = 7;
    tags = tags_with(&file, NULL, &profile);
    test_true("five strips", tags.chunk_height == 7);
}

static void set_inch(TIFF *tiff) {
    TIFFSetField(tiff, TIFFTAG_XRESOLUTION, 2540.0);
    TIFFSetField(tiff, TIFFTAG_YRESOLUTION, 1270.0);
    TIFFSetField(tiff, TIFFTAG_RESOLUTIONUNIT, RESUNIT_INCH);
}

static void set_cm(TIFF *tiff) {
    TIFFSetField(tiff, TIFFTAG_XRESOLUTION, 945.0);
    TIFFSetField(tiff, TIFFTAG_YRESOLUTION, 945.0);
    TIFFSetField(tiff, TIFFTAG_RESOLUTIONUNIT, RESUNIT_CENTIMETER);
}

static void set_none(TIFF *tiff) {
    TIFFSetField(tiff, TIFFTAG_XRESOLUTION, 4.0);
    TIFFSetField(tiff, TIFFTAG_YRESOLUTION, 3.0);
    TIFFSetField(tiff, TIFFTAG_RESOLUTIONUNIT, RESUNIT_NONE);
}

static void set_zero(TIFF *tiff) {
    TIFFSetField(tiff, TIFFTAG_XRESOLUTION, 0.0);
    TIFFSetField(tiff, TIFFTAG_YRESOLUTION, 300.0);
    TIFFSetField(tiff, TIFFTAG_SUBFILETYPE, FILETYPE_REDUCEDIMAGE);
    TIFFSetField(tiff, TIFFTAG_ICCPROFILE, 5, "noise");
}

/* Source: 1 inch = 25.4 mm. */
static void resolution_is_told_in_millimetres(void **state) {
    size_t profile;
    ww__tiff_tags tags = tags_with(&page, set_inch, &profile);
    (void)state;
    test_close("inch, x", tags.px_per_mm[0].value, 100.0, 1e-6);
    test_close("inch, y", tags.px_per_mm[1].value, 50.0, 1e-6);
    tags = tags_with(&page, set_cm, &profile);
    test_close("cm", tags.px_per_mm[0].value, 94.5, 1e-6);
    tags = tags_with(&page, set_none, &profile);
    test_true("only a ratio", !tags.px_per_mm[0].set && !tags.px_per_mm[1].set);
    tags = tags_with(&page, set_zero, &profile);
    test_true("zero", !tags.px_per_mm[0].set && tags.px_per_mm[1].set);
    test_true("reduced", tags.reduced);
    test_true("profile", profile == 5);
}

/* Photometric interpretation, tag 262 of one SHORT (3), becomes 3 for a palette. */
static void say_palette(const made *file, char bytes[], size_t n) {
    const bool big = strchr(file->mode, 'b') != NULL, wide = strchr(file->mode, '8') != NULL;
    const char entry[] = {big ? 1 : 6, big ? 6 : 1, big ? 0 : 3, big ? 3 : 0};
    size_t found = 0;
    for (size_t i = 0; i + 20 < n; i++)
        if (memcmp(bytes + i, entry, sizeof entry) == 0) {
            bytes[i + (wide ? 12 : 8) + big] = 3;
            found++;
        }
    assert_int_equal(found, 1);
}

/* A palette whose colours are missing is one all the same; libtiff calls the page grey. Source:
 * TIFF 6.0, section 5; the layout of BigTIFF. */
static void a_palette_without_colours_is_one(void **state) {
    static const char *const modes[] = {"wl", "wb", "wl8", "wb8"};
    (void)state;
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        const made grey = {"", 37, 29, 1, 1, 8, 1, 1, 1, 0, 1, 0, 29, modes[i], false, false};
        size_t profile;
        test_true(modes[i], tags_with(&grey, NULL, &profile).photometric == PHOTOMETRIC_MINISBLACK);
        test_true(modes[i], tags_after(&grey, NULL, say_palette, &profile).photometric ==
                                PHOTOMETRIC_PALETTE);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tags_are_as_written),
        cmocka_unit_test(strips_of_any_length),
        cmocka_unit_test(resolution_is_told_in_millimetres),
        cmocka_unit_test(a_palette_without_colours_is_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
