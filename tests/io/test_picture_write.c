/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <tiffio.h>
#include <wedgework/picture_file.h>
#include <wedgework/picture_write.h>

/* Source of what is expected: what was given, read back by libtiff itself. */

enum { WIDTH = 1250, HEIGHT = 333, ICC = 777 };

typedef struct sheet {
    ww_picture_form form;
    unsigned char icc[ICC];
    unsigned char *row; /* of all rows */
    size_t row_bytes;
} sheet;

static sheet sheet_new(size_t channels, ww_sample sample) {
    sheet s = {.form = {.width = WIDTH,
                        .height = HEIGHT,
                        .channels = channels,
                        .sample = sample,
                        .px_per_mm_x = {true, 300.0 / 25.4},
                        .px_per_mm_y = {true, 1201.0 / 25.4},
                        .n_icc = ICC,
                        .description = "density = code / 10000"}};
    s.row_bytes = WIDTH * channels * (sample == WW_SAMPLE_16 ? 2 : 4);
    s.row = malloc(HEIGHT * s.row_bytes);
    assert_non_null(s.row);
    for (size_t i = 0; i < HEIGHT * s.row_bytes; i++)
        s.row[i] = (unsigned char)((i * 2654435761u) >> 13);
    for (size_t i = 0; i < ICC; i++)
        s.icc[i] = (unsigned char)(i * 37);
    return s;
}

/* So many rows at a time, the last time fewer. */
static ww_status write_sheet(const sheet *s, size_t at_a_time, const char *path, ww_error *err) {
    ww_picture_form form = s->form;
    ww_picture_writer *writer = NULL;
    form.icc = s->icc;
    ww_status status = ww_picture_write_begin(path, &form, &writer, err);
    for (size_t y = 0; y < HEIGHT && status == WW_OK; y += at_a_time) {
        const ww_row_sink sink = ww_picture_write_sink(writer);
        const size_t n = HEIGHT - y < at_a_time ? HEIGHT - y : at_a_time;
        status = sink.take(sink.context, s->row + y * s->row_bytes, n, err);
    }
    if (status == WW_OK)
        status = ww_picture_write_finish(writer, err);
    ww_picture_write_free(writer);
    return status;
}

static void check_tags(const char *row, const sheet *s, TIFF *tiff) {
    uint16_t bits = 0, samples = 0, unit = 0, format = 0, photometric = 9;
    uint32_t n = 0;
    float across = 0, down = 0;
    const unsigned char *icc = NULL;
    const char *description = NULL;
    assert_true(TIFFGetField(tiff, TIFFTAG_BITSPERSAMPLE, &bits) &&
                TIFFGetField(tiff, TIFFTAG_SAMPLESPERPIXEL, &samples) &&
                TIFFGetField(tiff, TIFFTAG_SAMPLEFORMAT, &format) &&
                TIFFGetField(tiff, TIFFTAG_PHOTOMETRIC, &photometric) &&
                TIFFGetField(tiff, TIFFTAG_RESOLUTIONUNIT, &unit) &&
                TIFFGetField(tiff, TIFFTAG_XRESOLUTION, &across) &&
                TIFFGetField(tiff, TIFFTAG_YRESOLUTION, &down) &&
                TIFFGetField(tiff, TIFFTAG_ICCPROFILE, &n, &icc) &&
                TIFFGetField(tiff, TIFFTAG_IMAGEDESCRIPTION, &description));
    test_close(row, bits, s->form.sample == WW_SAMPLE_16 ? 16 : 32, 0);
    test_close(row, format,
               s->form.sample == WW_SAMPLE_16 ? SAMPLEFORMAT_UINT : SAMPLEFORMAT_IEEEFP, 0);
    test_close(row, samples, (double)s->form.channels, 0);
    test_close(row, photometric, s->form.channels == 3 ? 2 : 1, 0);
    test_close(row, unit, RESUNIT_INCH, 0);
    test_close(row, (double)across, 300.0, 0);
    test_close(row, (double)down, 1201.0, 0);
    test_text(row, description, s->form.description);
    assert_int_equal(n, ICC);
    assert_memory_equal(icc, s->icc, ICC);
}

static void check_file(const char *row, const sheet *s, const char *path) {
    TIFF *tiff = TIFFOpen(path, "r");
    unsigned char *got = malloc(s->row_bytes);
    assert_true(tiff && got);
    check_tags(row, s, tiff);
    for (uint32_t y = 0; y < HEIGHT; y++) {
        assert_int_equal(TIFFReadScanline(tiff, got, y, 0), 1);
        assert_memory_equal(got, s->row + y * s->row_bytes, s->row_bytes);
    }
    free(got);
    TIFFClose(tiff);
}

static void libtiff_reads_what_was_written(void **state) {
    static const struct {
        const char *name;
        size_t channels, at_a_time;
        ww_sample sample;
    } rows[] = {{"grey, row by row", 1, 1, WW_SAMPLE_16},
                {"colour, bands", 3, 100, WW_SAMPLE_16},
                {"colour, at once", 3, HEIGHT, WW_SAMPLE_16},
                {"grey, float", 1, 7, WW_SAMPLE_FLOAT},
                {"colour, float", 3, 139, WW_SAMPLE_FLOAT}};
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        sheet s = sheet_new(rows[i].channels, rows[i].sample);
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].name, write_sheet(&s, rows[i].at_a_time, path, &err), WW_OK, &err);
        check_file(rows[i].name, &s, path);
        free(s.row);
    }
    assert_int_equal(test_folder_count(folder), 1);
    free(path);
    test_folder_remove(folder);
}

/* Our own reader keeps resolution and profile for the next writer. */
static void the_reader_hands_on_what_it_finds(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    sheet s = sheet_new(3, WW_SAMPLE_16);
    ww_picture picture = WW_PICTURE_INIT;
    (void)state;
    assert_int_equal(write_sheet(&s, 10, path, NULL), WW_OK);
    assert_int_equal(ww_picture_file_open(path, 1, &picture, NULL), WW_OK);
    test_close("across", picture.px_per_mm_x.value * 25.4, 300.0, 1e-9);
    test_close("down", picture.px_per_mm_y.value * 25.4, 1201.0, 1e-9);
    assert_int_equal(picture.n_icc, ICC);
    assert_memory_equal(picture.icc, s.icc, ICC);
    test_true("no curves, no gamma", !picture.gamma.set);
    ww_picture_release(&picture);
    free(s.row);
    free(path);
    test_folder_remove(folder);
}

/* A full disk, as far as the writer can tell. */
static int write_past_the_limit(void *context) {
    const struct rlimit limit = {1500000, 1500000};
    sheet s = sheet_new(3, WW_SAMPLE_16);
    ww_error err = WW_ERROR_INIT;
    signal(SIGXFSZ, SIG_IGN);
    if (setrlimit(RLIMIT_FSIZE, &limit) != 0)
        return 2;
    const ww_status status = write_sheet(&s, 50, context, &err);
    free(s.row);
    if (status != WW_ESYSTEM || strcmp(err.file, context) != 0)
        return 3;
    if (err.sys != EFBIG ||
        !strstr(err.msg, "; it takes 2.5 MB, and no file may be larger than 1.5"))
        return 4;
    return 0;
}

static void a_full_disk_leaves_nothing(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    char *fresh = test_path(folder, "b.tif"), *got;
    (void)state;
    test_file_write(path, "old");
    assert_int_equal(test_in_child(write_past_the_limit, path), 0);
    assert_int_equal(test_in_child(write_past_the_limit, fresh), 0);
    got = test_file_read(path, NULL);
    test_text("old", got, "old");
    assert_int_equal(test_folder_count(folder), 1);
    free(got);
    free(fresh);
    free(path);
    test_folder_remove(folder);
}

static void refuses_what_is_no_file(void **state) {
    sheet s = sheet_new(1, WW_SAMPLE_16);
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("device", write_sheet(&s, 10, "/dev/null", &err), WW_EINPUT, &err);
    test_status("nowhere", write_sheet(&s, 10, "/no/such/folder/a.tif", &err), WW_ESYSTEM, &err);
    ww_picture_write_free(NULL);
    free(s.row);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(libtiff_reads_what_was_written),
                                       cmocka_unit_test(the_reader_hands_on_what_it_finds),
                                       cmocka_unit_test(a_full_disk_leaves_nothing),
                                       cmocka_unit_test(refuses_what_is_no_file)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
