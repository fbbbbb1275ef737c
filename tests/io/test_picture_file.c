/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/gather.h"
#include "io/tiff_made.h"
#include <dirent.h>
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <wedgework/picture_file.h>

/* Seconds after which a reader that hangs is ended, all files together (valgrind is slow). */
enum { PATIENCE = 300 };

/* ------------------------------------------------------------------------ files of others, good */

/*
 * Source of the expected values: expected.json of the outside data, decoded by libtiff and counted
 * in NumPy. Means are given to 6 decimals.
 */
typedef struct counted {
    double min, max, sum, first, last;
    size_t n;
} counted;

static counted count_channel(const gathered *all, size_t channel) {
    const size_t n = all->width * all->height;
    counted c = {(double)INFINITY,
                 -(double)INFINITY,
                 0.0,
                 all->value[channel],
                 all->value[(n - 1) * all->channels + channel],
                 0};
    for (size_t i = 0; i < n; i++) {
        const double value = all->value[i * all->channels + channel];
        if (isnan(value))
            continue;
        c.min = fmin(c.min, value);
        c.max = fmax(c.max, value);
        c.sum += value;
        c.n++;
    }
    return c;
}

static double number_at(const json_t *decoded, const char *key, size_t i) {
    return json_number_value(json_array_get(json_object_get(decoded, key), i));
}

/* A NaN is not JSON: jansson is given null for it, which reads as 0. */
static void compare(const char *row, double got, double want, double tolerance) {
    if (!isnan(got))
        test_close(row, got, want, tolerance + 1e-6 * fabs(want));
}

static void check_page(const char *row, const ww_picture *picture, const json_t *decoded,
                       bool min_is_white) {
    const json_t *shape = json_object_get(decoded, "shape");
    const double sum = min_is_white ? picture->white : 0.0, sign = min_is_white ? -1.0 : 1.0;
    gathered all;
    ww_error err = WW_ERROR_INIT;
    test_status(row, gather_all(picture, 2, &all, &err), WW_OK, &err);
    gather_complete(row, &all, (ww_region){0, 0, picture->width, picture->height});
    if (decoded) {
        test_close(row, (double)picture->height,
                   (double)json_integer_value(json_array_get(shape, 0)), 0.0);
        test_close(row, (double)picture->width,
                   (double)json_integer_value(json_array_get(shape, 1)), 0.0);
        for (size_t c = 0; c < picture->channels; c++) {
            const counted got = count_channel(&all, c);
            compare(row, sum + sign * got.min, number_at(decoded, min_is_white ? "max" : "min", c),
                    0);
            compare(row, sum + sign * got.max, number_at(decoded, min_is_white ? "min" : "max", c),
                    0);
            compare(row, sum + sign * got.first, number_at(decoded, "first", c), 0.0);
            compare(row, sum + sign * got.last, number_at(decoded, "last", c), 0.0);
            compare(row, sum + sign * got.sum / (double)got.n, number_at(decoded, "mean", c), 1e-6);
        }
    }
    gather_release(&all);
}

static double first_of(const json_t *value, double otherwise) {
    if (json_is_array(value))
        value = json_array_get(value, 0);
    return json_is_number(value) ? json_number_value(value) : otherwise;
}

/* Source: the refusals that the header lists. */
static bool is_read(const json_t *ifd) {
    const double photometric = first_of(json_object_get(ifd, "PhotometricInterpretation"), 99);
    const double bits = first_of(json_object_get(ifd, "BitsPerSample"), 1);
    return photometric <= 2.0 && bits >= 2.0;
}

static void check_file(const char *path, const json_t *file) {
    const json_t *tags = json_object_get(file, "tags");
    const json_t *decoded = json_object_get(file, "libtiff_decoded");
    const size_t pages = (size_t)json_integer_value(json_object_get(tags, "pages"));
    const char *name = json_string_value(json_object_get(file, "file"));
    for (size_t page = 1; page <= pages; page++) {
        const json_t *ifd = json_array_get(json_object_get(tags, "ifds"), page - 1);
        const double white = first_of(json_object_get(ifd, "PhotometricInterpretation"), 99);
        ww_picture picture = WW_PICTURE_INIT;
        ww_error err = WW_ERROR_INIT;
        const ww_status status = ww_picture_file_open(path, page, &picture, &err);
        test_status(name, status, is_read(ifd) ? WW_OK : WW_EINPUT, &err);
        if (status == WW_OK) {
            test_true(name, picture.pages == pages && picture.page == page);
            check_page(name, &picture, json_array_get(decoded, page - 1), white == 0.0);
        } else {
            test_text(name, err.file, path);
            test_true(name, strstr(err.msg, "; export") != NULL);
        }
        ww_picture_release(&picture);
    }
}

static json_t *load_expected(const char *path) {
    size_t n;
    char *text = test_file_read(path, &n);
    json_error_t error;
    json_t *root;
    assert_non_null(text);
    /* Python's NaN is not JSON. */
    for (char *at = text; (at = strstr(at, "NaN")) != NULL; at += 3)
        memcpy(at, "0.0", 3);
    root = json_loads(text, 0, &error);
    free(text);
    assert_non_null(root);
    return root;
}

static void reads_files_of_others(void **state) {
    char *expected = test_data("tiff/expected.json");
    json_t *root, *file;
    size_t i, good = 0;
    (void)state;
    if (!expected)
        skip();
    root = load_expected(expected);
    json_array_foreach(root, i, file) {
        const char *name = json_string_value(json_object_get(file, "file"));
        char relative[256], *path;
        if (strncmp(name, "good/", 5) != 0)
            continue;
        snprintf(relative, sizeof relative, "tiff/%s", name);
        path = test_data(relative);
        assert_non_null(path);
        check_file(path, file);
        free(path);
        good++;
    }
    test_true("all were there", good > 50);
    json_decref(root);
    free(expected);
}

/* ------------------------------------------------------------------- files of others, malformed */

static ww_status look(const ww_block *block, size_t worker, void *context, ww_error *err) {
    double *sum = context;
    (void)worker, (void)err;
    *sum += ww_block_code(block, (ptrdiff_t)(block->width - 1) * block->next_x +
                                     (ptrdiff_t)(block->height - 1) * block->next_y +
                                     (ptrdiff_t)(block->channels - 1));
    return WW_OK;
}

static void look_at_page(const char *path, size_t page) {
    ww_picture picture = WW_PICTURE_INIT;
    ww_error err = WW_ERROR_INIT;
    double sum = 0.0;
    ww_status status = ww_picture_file_open(path, page, &picture, &err);
    if (status == WW_OK) {
        const ww_region everything = {0, 0, picture.width, picture.height};
        status = ww_picture_visit(&picture, &everything, 1, 1, look, &sum, &err);
    }
    if (status != WW_OK) {
        test_status(path, status, page > 1 && status == WW_EDOMAIN ? WW_EDOMAIN : WW_EINPUT, &err);
        test_text(path, err.file, path);
        if (getenv("WEDGEWORK_VERBOSE"))
            printf("%s: %s\n", strrchr(path, '/') + 1, err.msg);
    } else if (getenv("WEDGEWORK_VERBOSE"))
        printf("%s: read, %zu x %zu x %zu, %u bits%s%s\n", strrchr(path, '/') + 1, picture.width,
               picture.height, picture.channels, picture.bits, picture.notes.n ? ", " : "",
               picture.notes.n ? picture.notes.text[0] : "");
    ww_picture_release(&picture);
}

static void bears_malformed_files(void **state) {
    char *folder = test_data("tiff/malformed");
    struct dirent *entry;
    DIR *open;
    size_t n = 0;
    (void)state;
    if (!folder)
        skip();
    open = opendir(folder);
    assert_non_null(open);
    alarm(PATIENCE);
    while ((entry = readdir(open)) != NULL) {
        char *path = test_path(folder, entry->d_name);
        if (entry->d_name[0] != '.') {
            for (size_t page = 1; page <= 3; page++)
                look_at_page(path, page);
            n++;
        }
        free(path);
    }
    alarm(0);
    test_true("all were there", n > 40);
    closedir(open);
    free(folder);
}

/* What a lenient reader would take for a picture. Source: the folder's manifest, which readers of
 * the package registries refuse them. */
static void refuses_what_only_looks_sound(void **state) {
    static const struct {
        const char *name, *words;
    } rows[] = {{"tiff/malformed/libtiff__test_ifd_loop_to_self.tif", "breaks off after page 1"},
                {"tiff/malformed/golang__invalid-palette-ref.tiff", "palette"},
                {"tiff/malformed/pillow__separate_planar_extra_samples.tiff", "holds nothing"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char *path = test_data(rows[i].name);
        ww_picture picture = WW_PICTURE_INIT;
        ww_error err = WW_ERROR_INIT;
        if (!path)
            skip();
        test_status(rows[i].name, ww_picture_file_open(path, 1, &picture, &err), WW_EINPUT, &err);
        test_holds(rows[i].name, err.msg, rows[i].words);
        free(path);
    }
}

/* A good file cut off anywhere, or with a byte changed, is read or refused, never worse. */
static void bears_damage(void **state) {
    static const char *const names[] = {"tiff/good/imagers__seq-1c-8b-tiled-lzw-20f3db0c.tiff",
                                        "tiff/good/imagers__random-fp16-pred3.tiff",
                                        "tiff/good/imagers__seq-3c-8b-bigendian-8743c999.tiff"};
    char *folder = test_folder_new(), *path = test_path(folder, "damaged.tif");
    const size_t step = test_quick() ? 41 : 1;
    (void)state;
    alarm(PATIENCE);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char *good = test_data(names[i]), *bytes;
        size_t n;
        if (!good)
            continue;
        bytes = test_file_read(good, &n);
        for (size_t at = 0; at < n; at += step) {
            FILE *file = fopen(path, "wb");
            const char whole = bytes[at];
            assert_non_null(file);
            bytes[at] = (char)(whole ^ (at % 2 ? 0x80 : 0xff));
            assert_true(fwrite(bytes, 1, at % 3 ? n : at, file) == (at % 3 ? n : at));
            bytes[at] = whole;
            fclose(file);
            look_at_page(path, 1);
        }
        free(bytes);
        free(good);
    }
    alarm(0);
    free(path);
    test_folder_remove(folder);
}

/* ------------------------------------------------------------------------------------ refusals */

/* Source: definition (the Status lines of the header). */
static void refuses_what_is_no_scan(void **state) {
    char *folder = test_folder_new();
    char *text = test_path(folder, "a.tif"), *empty = test_path(folder, "empty.tif");
    char *missing = test_path(folder, "none.tif"), *pipe = test_path(folder, "pipe.tif");
    const struct {
        const char *name, *path, *says;
    } rows[] = {
        {"text", text, "is not a TIFF file"},
        {"empty", empty, "is not a TIFF file"},
        {"missing", missing, "there is no such file"},
        {"folder", folder, "this is a folder"},
        {"pipe", pipe, "this is no file"},
        {"standard input", "-", "name a file"},
    };
    (void)state;
    test_file_write(text, "step,red\n1,0.05\n");
    test_file_write(empty, "");
    assert_int_equal(mkfifo(pipe, 0600), 0);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_picture picture = {.width = 2731};
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].name, ww_picture_file_open(rows[i].path, 1, &picture, &err), WW_EINPUT,
                    &err);
        test_true(rows[i].name, strstr(err.msg, rows[i].says) != NULL);
        test_true(rows[i].name, picture.width == 2731);
        test_true(rows[i].name, ww_picture_file_open(rows[i].path, 1, &picture, NULL) == WW_EINPUT);
    }
    free(text);
    free(empty);
    free(missing);
    free(pipe);
    test_folder_remove(folder);
}

static int open_forbidden(void *context) {
    ww_picture picture = WW_PICTURE_INIT;
    ww_error err = WW_ERROR_INIT;
    return ww_picture_file_open(context, 1, &picture, &err) == WW_ESYSTEM && err.sys != 0 ? 7 : 1;
}

static void tells_what_the_system_refuses(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "mine.tif");
    (void)state;
    test_file_write(path, "II*");
    assert_int_equal(chmod(path, 0), 0);
    assert_int_equal(chmod(folder, 0755), 0);
    assert_int_equal(test_as_plain_user(open_forbidden, path), 7);
    free(path);
    test_folder_remove(folder);
}

/*
 * Source: by hand. A strip that is compressed must be there as a whole, 200 x 300 x 3 samples of 2
 * bytes; bare rows are read 512 KiB at a time at most, and turned into another 512 KiB at most.
 */
static void tells_what_reading_takes(void **state) {
    static const made rows[] = {
        {"bare", 200, 300, 3, PHOTOMETRIC_RGB, 16, SAMPLEFORMAT_UINT, PLANARCONFIG_CONTIG,
         COMPRESSION_NONE, 1, 1, 0, 300, "wl", false, false},
        {"packed", 200, 300, 3, PHOTOMETRIC_RGB, 16, SAMPLEFORMAT_UINT, PLANARCONFIG_CONTIG,
         COMPRESSION_LZW, 1, 1, 0, 300, "wl", false, false}};
    const double strip = 200.0 * 300.0 * 3.0 * 2.0, batch = 512.0 * 1024.0;
    char *folder = test_folder_new(), *path = test_path(folder, "made.tif");
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        ww_picture picture = WW_PICTURE_INIT;
        ww_error err = WW_ERROR_INIT;
        made_write(&rows[i], path);
        test_status(rows[i].name, ww_picture_file_open(path, 1, &picture, &err), WW_OK, &err);
        const double bytes = (double)picture.reading_bytes;
        test_close(rows[i].name, bytes > 0.0, 1.0, 0.0);
        if (i == 0)
            test_close("bare rows", bytes <= 2.0 * batch, 1.0, 0.0);
        else
            test_close("a packed strip", bytes >= strip && bytes <= 3.0 * strip + batch, 1.0, 0.0);
        ww_picture_release(&picture);
    }
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_files_of_others),
        cmocka_unit_test(bears_malformed_files),
        cmocka_unit_test(refuses_what_only_looks_sound),
        cmocka_unit_test(bears_damage),
        cmocka_unit_test(refuses_what_is_no_scan),
        cmocka_unit_test(tells_what_the_system_refuses),
        cmocka_unit_test(tells_what_reading_takes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
