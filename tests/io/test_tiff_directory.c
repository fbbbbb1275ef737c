/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_directory.h"
#include "io/tiff_made.h"
#include <fcntl.h>
#include <lcms2.h>
#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

static ww_status read_page(const char *path, size_t page, ww__tiff *tiff, ww_picture *picture,
                           ww_error *err) {
    struct stat about;
    ww_status status;
    const int fd = open(path, O_RDONLY);
    assert_true(fd >= 0 && fstat(fd, &about) == 0);
    *tiff = (ww__tiff){.fd = fd, .size = (uint64_t)about.st_size};
    status = ww__tiff_directory_read("a.tif", page, tiff, picture, err);
    close(fd);
    return status;
}

static void release(ww__tiff *tiff, ww_picture *picture) {
    free(tiff->offset);
    ww_picture_release(picture);
}

/* Source: definition; pages differ in every way. */
static const made pages[] = {
    {"", 37, 29, 1, 1, 8, 1, 1, 1, 0, 1, 0, 7, "wl", false, false},
    {"", 31, 23, 4, 2, 12, 1, 2, 5, 0, 6, 16, 0, "wl", false, false},
    {"", 41, 17, 1, 0, 16, 3, 1, 8, 0, 3, 0, 17, "wl", false, false},
};

static void pages_are_counted_from_one(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    TIFF *file = made_open(path, "wl");
    (void)state;
    for (size_t i = 0; i < 3; i++)
        assert_true(made_write_page(&pages[i], file));
    TIFFClose(file);
    for (size_t page = 0; page <= 4; page++) {
        ww__tiff tiff;
        ww_picture picture = {.width = 2731};
        ww_error err = WW_ERROR_INIT;
        const bool there = page >= 1 && page <= 3;
        test_status("page", read_page(path, page, &tiff, &picture, &err),
                    there ? WW_OK : WW_EDOMAIN, &err);
        if (!there) {
            test_true(err.msg, strstr(err.msg, "the file has 3 pages") != NULL);
            test_true("untouched", picture.width == 2731);
            continue;
        }
        test_true("page", picture.page == page && picture.pages == 3);
        test_true("page", tiff.turn.width == pages[page - 1].width);
        test_true("page", (tiff.offset != NULL) == (page == 1));
        release(&tiff, &picture);
    }
    free(path);
    test_folder_remove(folder);
}

static void a_picture_tells_its_page(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    ww__tiff tiff;
    ww_picture picture = WW_PICTURE_INIT;
    (void)state;
    assert_true(made_write(&pages[1], path));
    assert_int_equal(read_page(path, 1, &tiff, &picture, NULL), WW_OK);
    test_true("turned", picture.width == 23 && picture.height == 31);
    test_true("codes", picture.channels == 3 && picture.bits == 12 && picture.white == 4095.0);
    test_true("16 bits", picture.sample == WW_SAMPLE_16 && !picture.profile);
    test_close("left out", (double)picture.left_out, 1, 0);
    test_true("alpha", picture.notes.n == 1 && strstr(picture.notes.text[0], "1 sample a pixel"));
    release(&tiff, &picture);
    picture = (ww_picture)WW_PICTURE_INIT;
    assert_true(made_write(&pages[2], path));
    assert_int_equal(read_page(path, 1, &tiff, &picture, NULL), WW_OK);
    test_true("real", picture.sample == WW_SAMPLE_FLOAT && picture.white == 1.0);
    test_true("white is least",
              picture.notes.n == 1 && strstr(picture.notes.text[0], "least code is white"));
    release(&tiff, &picture);
    free(path);
    test_folder_remove(folder);
}

/* Resolution and profile go with the shown picture, whichever way it lies. */
static void resolution_turns_with_the_picture(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    cmsHPROFILE made_profile = cmsCreate_sRGBProfile();
    unsigned char profile[8192] = {0};
    cmsUInt32Number n = sizeof profile;
    char want[64] = "";
    (void)state;
    assert_true(cmsSaveProfileToMem(made_profile, profile, &n));
    cmsGetProfileInfoASCII(made_profile, cmsInfoDescription, "en", "US", want, sizeof want);
    cmsCloseProfile(made_profile);
    for (unsigned turned = 1; turned <= 8; turned++) {
        made page = pages[0];
        ww__tiff tiff;
        ww_picture picture = WW_PICTURE_INIT;
        TIFF *file = made_open(path, "wl");
        page.orientation = turned;
        TIFFSetField(file, TIFFTAG_XRESOLUTION, 2540.0);
        TIFFSetField(file, TIFFTAG_YRESOLUTION, 1270.0);
        TIFFSetField(file, TIFFTAG_ICCPROFILE, n, profile);
        assert_true(made_write_page(&page, file));
        TIFFClose(file);
        assert_int_equal(read_page(path, 1, &tiff, &picture, NULL), WW_OK);
        test_close("x", picture.px_per_mm_x.value, turned > 4 ? 50.0 : 100.0, 1e-6);
        test_close("y", picture.px_per_mm_y.value, turned > 4 ? 100.0 : 50.0, 1e-6);
        test_text("profile", picture.profile, want);
        release(&tiff, &picture);
    }
    free(path);
    test_folder_remove(folder);
}

static void set_odd(TIFF *tiff) {
    TIFFSetField(tiff, TIFFTAG_SUBFILETYPE, FILETYPE_REDUCEDIMAGE);
    TIFFSetField(tiff, TIFFTAG_ICCPROFILE, 5, "noise");
}

static void what_is_odd_is_noted(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    const made page = {"", 37, 29, 4, 2, 32, 1, 1, 1, 0, 1, 0, 7, "wl", false, false};
    static const char *const says[] = {"no readable name", "Left out: 1", "multiplied with alpha",
                                       "smaller version", "24 bits are kept"};
    const uint16_t associated = EXTRASAMPLE_ASSOCALPHA;
    TIFF *file = made_open(path, "wl");
    ww__tiff tiff;
    ww_picture picture = WW_PICTURE_INIT;
    (void)state;
    set_odd(file);
    made_tags(&page, file);
    TIFFSetField(file, TIFFTAG_EXTRASAMPLES, 1, &associated);
    for (uint32_t strip = 0; strip < 5; strip++) {
        const unsigned char zeros[37 * 7 * 16] = {0};
        assert_true(TIFFWriteEncodedStrip(file, strip, (void *)(uintptr_t)zeros,
                                          strip < 4 ? (tmsize_t)sizeof zeros : 37 * 16) > 0);
    }
    TIFFClose(file);
    assert_int_equal(read_page(path, 1, &tiff, &picture, NULL), WW_OK);
    assert_int_equal(picture.notes.n, 5);
    for (size_t i = 0; i < 5; i++)
        test_true(says[i], strstr(picture.notes.text[i], says[i]) != NULL);
    release(&tiff, &picture);
    free(path);
    test_folder_remove(folder);
}

/* ---------------------------------------------------------------------------- files that lie */

/* A classic little-endian TIFF, entry by entry, so that it can say anything. */
typedef struct entry {
    unsigned tag, type, count;
    unsigned value;
} entry;

static void write_lie(const char *path, const entry entries[], size_t n, unsigned next,
                      size_t padding) {
    FILE *file = fopen(path, "wb");
    const unsigned char head[10] = {'I', 'I', 42, 0, 8, 0, 0, 0, (unsigned char)n, 0};
    assert_non_null(file);
    fwrite(head, 1, sizeof head, file);
    for (size_t i = 0; i < n; i++) {
        const uint32_t words[3] = {entries[i].tag | entries[i].type << 16, entries[i].count,
                                   entries[i].value};
        fwrite(words, 4, 3, file);
    }
    fwrite(&next, 4, 1, file);
    for (size_t i = 0; i < padding; i++)
        fputc((int)(i & 255), file);
    assert_int_equal(fclose(file), 0);
}

/* Source: TIFF 6.0: types 3 SHORT, 4 LONG. Width, height, bits, codec, offset, rows, bytes vary. */
static const struct {
    const char *name, *says;
    unsigned width, height, bits, codec, offset, rows, bytes, next;
} lies[] = {
    {"honest", NULL, 16, 8, 16, 1, 300, 8, 256, 0},
    {"2^31 wide", "cannot hold", 2147483648u, 1, 16, 1, 300, 1, 256, 0},
    {"2^31 high", "", 1, 2147483648u, 16, 1, 300, 2147483648u, 256, 0},
    {"2^31 wide, compressed", "cannot hold", 2147483648u, 1, 16, 5, 300, 1, 256, 0},
    {"all ones", "", 4294967295u, 4294967295u, 16, 5, 300, 4294967295u, 256, 0},
    {"strip beyond the file", "ends after the file", 16, 8, 16, 5, 4000000000u, 8, 256, 0},
    {"strip runs out of the file", "ends after the file", 16, 8, 16, 1, 600, 8, 256, 0},
    {"bytes are there, but miscounted", NULL, 16, 8, 16, 1, 300, 8, 255, 0},
    {"nowhere", "", 16, 8, 16, 5, 0, 8, 256, 0},
    {"page loop", "list of pages breaks off", 16, 8, 16, 1, 300, 8, 256, 8},
    {"next page beyond the file", "breaks off", 16, 8, 16, 1, 300, 8, 256, 4000000000u},
};

static void lies_are_found_out(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    (void)state;
    for (size_t i = 0; i < sizeof lies / sizeof lies[0]; i++) {
        const entry entries[] = {
            {256, 4, 1, lies[i].width},
            {257, 4, 1, lies[i].height},
            {258, 3, 1, lies[i].bits},
            {259, 3, 1, lies[i].codec},
            {262, 3, 1, 1},
            {273, 4, 1, lies[i].offset},
            {277, 3, 1, 1},
            {278, 4, 1, lies[i].rows},
            {279, 4, 1, lies[i].bytes},
        };
        ww__tiff tiff;
        ww_picture picture = WW_PICTURE_INIT;
        ww_error err = WW_ERROR_INIT;
        ww_status status;
        write_lie(path, entries, sizeof entries / sizeof entries[0], lies[i].next, 580);
        status = read_page(path, 1, &tiff, &picture, &err);
        test_status(lies[i].name, status, lies[i].says ? WW_EINPUT : WW_OK, &err);
        if (lies[i].says) {
            if (!strstr(err.msg, lies[i].says))
                fail_msg("%s: '%s'", lies[i].name, err.msg);
            test_text(lies[i].name, err.file, "a.tif");
        } else {
            test_true(lies[i].name, picture.pages == 1);
            test_true(lies[i].name, picture.notes.n == 0);
            release(&tiff, &picture);
        }
    }
    free(path);
    test_folder_remove(folder);
}

static void short_and_empty_strips_are_refused(void **state) {
    static const char *const says[] = {"strip 2 holds fewer bytes", "strip 2 holds nothing"};
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    (void)state;
    for (int i = 0; i < 2; i++) {
        const made page = {"", 37, 14, 1, 1, 8, 1, 1, i ? 5 : 1, 0, 1, 0, 7, "wl", false, false};
        unsigned char bytes[37 * 7] = {0};
        ww__tiff tiff;
        ww_picture picture = WW_PICTURE_INIT;
        ww_error err = WW_ERROR_INIT;
        TIFF *file = made_open(path, "wl");
        made_tags(&page, file);
        assert_true(TIFFWriteEncodedStrip(file, 0, bytes, sizeof bytes) > 0);
        if (i == 0)
            assert_true(TIFFWriteRawStrip(file, 1, bytes, sizeof bytes - 1) > 0);
        TIFFClose(file);
        test_status(says[i], read_page(path, 1, &tiff, &picture, &err), WW_EINPUT, &err);
        test_true(err.msg, strstr(err.msg, says[i]) != NULL);
    }
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pages_are_counted_from_one),
        cmocka_unit_test(a_picture_tells_its_page),
        cmocka_unit_test(resolution_turns_with_the_picture),
        cmocka_unit_test(what_is_odd_is_noted),
        cmocka_unit_test(lies_are_found_out),
        cmocka_unit_test(short_and_empty_strips_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
