/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "image/merge_made.h"
#include <tiffio.h>
#include <unistd.h>
#include <wedgework/picture_file.h>
#include <wedgework/picture_write.h>
#include <wedgework/scan_densities_file.h>
#include <wedgework/scan_densities_text.h>
#include <wedgework/scan_merge_file.h>
#include <wedgework/scan_merge_text.h>

/* Source: definition (the Status lines of the headers). */

/* Small, and of detail enough for the ratio. */
static const made_pair pair = {.name = "pair",
                               .width = 104,
                               .height = 72,
                               .channels = 1,
                               .kind = WW_SAMPLE_16,
                               .ratio = 3.71,
                               .dark = 0.004,
                               .read = 0.0006,
                               .shot = 0.003};

static ww_status swallow(void *context, const void *rows, size_t n, ww_error *err) {
    (void)rows, (void)err;
    *(size_t *)context += n;
    return WW_OK;
}

static void calibrate(ww_scanner *scanner, ww_scanner_point point[3]) {
    static const double density[] = {2.6, 1.3, 0.1};
    *scanner = (ww_scanner){.white = 65535.0, .bits = 16, .gamma = {1.0, 1.0, 1.0, WW_GIVEN}};
    for (size_t i = 0; i < 3; i++)
        point[i] = (ww_scanner_point){65535.0 * 0.9 * pow(10.0, -density[i]), density[i], 0.01};
    scanner->channel[WW_VISUAL] = (ww_scanner_channel){.present = true,
                                                       .k = 0.9,
                                                       .dark = {0.0, 0.0, 0.0, WW_GIVEN},
                                                       .flare = {0.0, 0.0, 0.0, WW_GIVEN},
                                                       .noise = {0.0006, 0.003, 0.0},
                                                       .point = point,
                                                       .n_points = 3};
}

/* ------------------------------------------------------------------------------- no memory left */

typedef struct scans {
    ww_picture a, b;
    ww_scanner scanner;
    ww_scanner_point point[3];
    bool by_scanner;
} scans;

static ww_status show_merge(const ww_scan_merge *merge, ww_error *err) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    char *text = NULL, *document = NULL;
    size_t n;
    ww_status status = ww_scan_merge_text(merge, &style, &text, err);
    if (status == WW_OK)
        status = ww_scan_merge_file_text(merge, &document, &n, err);
    free(text);
    free(document);
    return status;
}

static ww_status merge(void *context, ww_error *err) {
    scans *s = context;
    const ww_scanner *scanner = s->by_scanner ? &s->scanner : NULL;
    ww_scan_merge made = WW_SCAN_MERGE_INIT;
    size_t rows = 0;
    ww_status status = ww_scan_merge_measure(&s->a, &s->b, scanner, &made, err);
    test_true("all or nothing", made.channel[WW_VISUAL].present == (status == WW_OK));
    if (status == WW_OK)
        status =
            ww_scan_merge_rows(&s->a, &s->b, scanner, &made, (ww_row_sink){swallow, &rows}, err);
    test_true("every row", rows == pair.height || status != WW_OK);
    if (status == WW_OK)
        status = show_merge(&made, err);
    ww_scan_merge_release(&made);
    return status;
}

static ww_status densities(void *context, ww_error *err) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    scans *s = context;
    ww_scan_densities made = WW_SCAN_DENSITIES_INIT;
    char *text = NULL, *document = NULL;
    size_t rows = 0, n;
    ww_status status =
        ww_scan_densities_rows(&s->a, &s->scanner, (ww_row_sink){swallow, &rows}, &made, err);
    test_true("all or nothing", made.channel[WW_VISUAL].present == (status == WW_OK));
    if (status == WW_OK)
        status = ww_scan_densities_text(&made, &style, &text, err);
    if (status == WW_OK)
        status = ww_scan_densities_file_text(&made, &document, &n, err);
    free(text);
    free(document);
    ww_scan_densities_release(&made);
    return status;
}

static void what_is_made_of_scans_bears_no_memory(void **state) {
    scans s = {.a = made_scan(&pair, false, 1), .b = made_scan(&pair, true, 2)};
    (void)state;
    calibrate(&s.scanner, s.point);
    assert_int_equal(ww_notes_add(&s.a.notes, NULL, "Invented."), WW_OK);
    inject_each("merge", merge, &s);
    s.by_scanner = true;
    inject_each("merge by a scanner file", merge, &s);
    inject_each("densities", densities, &s);
    ww_picture_release(&s.a);
    ww_picture_release(&s.b);
}

static ww_status write_file(void *context, ww_error *err) {
    static const unsigned char profile[] = "no profile, but bytes";
    static const uint16_t row[100] = {0};
    const char *path = context;
    const ww_picture_form form = {.width = 100,
                                  .height = 30,
                                  .channels = 1,
                                  .sample = WW_SAMPLE_16,
                                  .px_per_mm_x = {true, 40.0},
                                  .px_per_mm_y = {true, 40.0},
                                  .icc = profile,
                                  .n_icc = sizeof profile,
                                  .description = "densities: code = 10000 D + 5000"};
    ww_picture_writer *writer = NULL;
    ww_status status = ww_picture_write_begin(path, &form, &writer, err);
    for (size_t y = 0; y < form.height && status == WW_OK; y++) {
        const ww_row_sink sink = ww_picture_write_sink(writer);
        status = sink.take(sink.context, row, 1, err);
    }
    if (status == WW_OK)
        status = ww_picture_write_finish(writer, err);
    ww_picture_write_free(writer);
    test_true("whole or not at all", (access(path, F_OK) == 0) == (status == WW_OK));
    unlink(path);
    return status;
}

/* Blocks of libtiff's own that it loses where it finds no memory. */
enum { FOREIGN = 100 };

static void files_are_whole_or_not_there(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "out.tif");
    (void)state;
    inject_each_but("writing", write_file, path, FOREIGN);
    assert_int_equal(test_folder_count(folder), 0);
    free(path);
    test_folder_remove(folder);
}

/* -------------------------------------------------------------------------- damaged on the way */

/* Compressed strips of 8 rows; of the second last one the bytes in the middle are spoilt. */
static void write_damaged(const ww_picture *picture, const char *path, bool damaged) {
    const array_pixels *pixels = picture->handle;
    TIFF *tiff = TIFFOpen(path, "w");
    assert_non_null(tiff);
    TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, (uint32_t)picture->width);
    TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, (uint32_t)picture->height);
    TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, 16);
    TIFFSetField(tiff, TIFFTAG_SAMPLESPERPIXEL, 1);
    TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC, PHOTOMETRIC_MINISBLACK);
    TIFFSetField(tiff, TIFFTAG_COMPRESSION, COMPRESSION_LZW);
    TIFFSetField(tiff, TIFFTAG_ROWSPERSTRIP, 8);
    for (uint32_t y = 0; y < picture->height; y++)
        assert_true(TIFFWriteScanline(tiff, pixels->sample + 2 * y * picture->width, y, 0) == 1);
    TIFFClose(tiff);
    if (!damaged)
        return;
    tiff = TIFFOpen(path, "r");
    assert_non_null(tiff);
    const uint32_t strip = TIFFNumberOfStrips(tiff) - 2;
    const uint64_t at = TIFFGetStrileOffset(tiff, strip), n = TIFFGetStrileByteCount(tiff, strip);
    TIFFClose(tiff);
    FILE *file = fopen(path, "r+b");
    assert_non_null(file);
    fseek(file, (long)(at + n / 2), SEEK_SET);
    for (int i = 0; i < 64; i++)
        fputc(0xff, file);
    fclose(file);
}

static ww_picture opened(const char *path) {
    ww_picture picture = WW_PICTURE_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status(path, ww_picture_file_open(path, 1, &picture, &err), WW_OK, &err);
    return picture;
}

static void expect_damage(const char *row, const char *folder, ww_picture_writer *writer,
                          ww_status status, const ww_error *err) {
    test_status(row, status, WW_EINPUT, err);
    test_holds(row, err->msg, "cannot be decompressed");
    ww_picture_write_free(writer);
    assert_int_equal(test_folder_count(folder), 2);
}

static void a_damaged_scan_leaves_nothing(void **state) {
    ww_picture drawn_a = made_scan(&pair, false, 3), drawn_b = made_scan(&pair, true, 4);
    char *folder = test_folder_new(), *path_a = test_path(folder, "a.tif"),
         *path_b = test_path(folder, "b.tif"), *out = test_path(folder, "out.tif");
    (void)state;
    write_damaged(&drawn_a, path_a, false);
    write_damaged(&drawn_b, path_b, true);
    ww_picture a = opened(path_a), b = opened(path_b);
    const ww_picture_form form = ww_picture_form_of(&a);
    ww_picture_writer *writer = NULL;
    ww_scan_merge merged = WW_SCAN_MERGE_INIT;
    ww_scan_densities made = WW_SCAN_DENSITIES_INIT;
    ww_scanner scanner;
    ww_scanner_point point[3];
    ww_error err = WW_ERROR_INIT;
    /* What is measured beforehand may do without the spoilt rows, or not. */
    assert_int_equal(ww_scan_merge_measure(&drawn_a, &drawn_b, NULL, &merged, NULL), WW_OK);
    assert_int_equal(ww_picture_write_begin(out, &form, &writer, &err), WW_OK);
    expect_damage("merge", folder, writer,
                  ww_scan_merge_rows(&a, &b, NULL, &merged, ww_picture_write_sink(writer), &err),
                  &err);
    calibrate(&scanner, point);
    assert_int_equal(ww_picture_write_begin(out, &form, &writer, &err), WW_OK);
    expect_damage("densities", folder, writer,
                  ww_scan_densities_rows(&b, &scanner, ww_picture_write_sink(writer), &made, &err),
                  &err);
    ww_scan_merge_release(&merged);
    ww_picture_release(&a);
    ww_picture_release(&b);
    ww_picture_release(&drawn_a);
    ww_picture_release(&drawn_b);
    free(path_a);
    free(path_b);
    free(out);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_made_of_scans_bears_no_memory),
        cmocka_unit_test(files_are_whole_or_not_there),
        cmocka_unit_test(a_damaged_scan_leaves_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
