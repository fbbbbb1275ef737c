/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "parsed.h"
#include <sys/stat.h>
#include <unistd.h>

/* ---- files ---- */

static void reads_a_file(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "film.csv");
    ww_readings got = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_file_write(path, "step,red\n1,0.731\n");
    test_status("read", ww_readings_file_read(path, &got, &err), WW_OK, &err);
    test_cell("red", &got, 0, WW_COLUMN_RED, 0.731);
    test_text("named as given", got.file, path);
    ww_readings_release(&got);
    free(path);
    test_folder_remove(folder);
}

static void files_that_are_not_there(void **state) {
    char *folder = test_folder_new(), *none = test_path(folder, "none.csv");
    char *below = test_path(folder, "film.csv/x");
    char *file = test_path(folder, "film.csv");
    const char *const paths[] = {none, folder, below};
    (void)state;
    test_file_write(file, "step,red\n1,0.731\n");
    for (size_t i = 0; i < 3; i++) {
        ww_readings got = WW_READINGS_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(paths[i], ww_readings_file_read(paths[i], &got, &err), WW_EINPUT, &err);
        test_text("file", err.file, paths[i]);
        test_true("untouched", got.n == 0 && got.file == NULL);
    }
    free(none);
    free(below);
    free(file);
    test_folder_remove(folder);
}

static int read_forbidden(void *context) {
    ww_readings got = WW_READINGS_INIT;
    return ww_readings_file_read(context, &got, NULL) == WW_ESYSTEM ? 0 : 1;
}

static void a_file_that_may_not_be_read(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "film.csv");
    (void)state;
    test_file_write(path, "step,red\n1,0.731\n");
    assert_int_equal(chmod(folder, 0755), 0);
    assert_int_equal(chmod(path, 0), 0);
    assert_int_equal(test_as_plain_user(read_forbidden, path), 0);
    free(path);
    test_folder_remove(folder);
}

static int read_pipe(void *context) {
    static const char text[] = "step;red\n1;0,731\n";
    ww_readings got = WW_READINGS_INIT;
    int ends[2];
    bool good;
    (void)context;
    if (pipe(ends) != 0 || write(ends[1], text, sizeof text - 1) != (ssize_t)sizeof text - 1)
        return 2;
    close(ends[1]);
    dup2(ends[0], STDIN_FILENO);
    good = ww_readings_file_read("-", &got, NULL) == WW_OK && got.n == 1 &&
           strcmp(got.file, "standard input") == 0;
    ww_readings_release(&got);
    return good ? 0 : 1;
}

static void reads_standard_input(void **state) {
    (void)state;
    assert_int_equal(test_in_child(read_pipe, NULL), 0);
}

static void refuses_what_does_not_end(void **state) {
    ww_readings got = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    if (test_quick())
        skip();
    test_status("zeros without end", ww_readings_file_read("/dev/zero", &got, &err), WW_EINPUT,
                &err);
    assert_non_null(strstr(err.msg, "longer"));
}

/* ---- kinds ---- */

/* Source: each format's own signature (TIFF 6.0, PDF 32000, ZIP appnote, PNG, JFIF, gzip RFC 1952,
 * Unicode byte order marks; from memory). */
static const struct {
    const char *name;
    const char *bytes;
    size_t n;
    size_t line;
    const char *says;
} kinds[] = {
    {"TIFF, Intel", "II*\0\x08\0\0\0", 8, 0, "TIFF"},
    {"TIFF, Motorola", "MM\0*\0\0\0\x08", 8, 0, "TIFF"},
    {"BigTIFF", "II+\0\x08\0\0\0", 8, 0, "TIFF"},
    {"PDF", "%PDF-1.7\n", 9, 0, "CSV"},
    {"spreadsheet", "PK\3\4\x14\0\6\0", 8, 0, "export the sheet as CSV"},
    {"old spreadsheet", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", 8, 0, "CSV"},
    {"PNG", "\x89PNG\r\n\x1a\n", 8, 0, "PNG"},
    {"JPEG", "\xff\xd8\xff\xe0\0\x10JFIF", 10, 0, "JPEG"},
    {"gzip", "\x1f\x8b\x08\0\0\0\0\0", 8, 0, "unpack"},
    {"database", "SQLite format 3", 16, 0, "database"},
    {"rich text", "{\\rtf1\\ansi step,red}", 21, 0, "plain text"},
    {"curve file", "{ \"wedgework\": 1 }", 18, 0, "JSON"},
    {"web page", "<!DOCTYPE html>", 15, 0, "web page"},
    {"UTF-16, little end first", "\xff\xfes\0t\0e\0p\0", 10, 0, "UTF-8"},
    {"UTF-16, big end first", "\xfe\xff\0s\0t\0e\0p", 10, 0, "UTF-8"},
    {"UTF-16 without mark", "s\0t\0e\0p\0,\0r\0e\0d\0", 16, 1, "UTF-8"},
    {"a zero byte further on", "step,red\n1,0.2\n2,\0\n", 19, 3, "binary"},
};

static void refuses_other_kinds_by_name(void **state) {
    (void)state;
    for (size_t i = 0; i < ROWS(kinds); i++) {
        struct refusal row = {kinds[i].name, kinds[i].bytes, kinds[i].line, kinds[i].says};
        check_refusal(&row, kinds[i].n);
    }
}

static void refuses_tables_too_long(void **state) {
    const size_t n = ((size_t)64 << 20) + 1;
    char *bytes = calloc(n, 1);
    struct refusal row = {"over 64 MiB", bytes, 0, "64 MiB"};
    (void)state;
    assert_non_null(bytes);
    check_refusal(&row, n);
    free(bytes);
}

static void mark_before_a_sheet(void **state) {
    ww_readings got = parsed("mark, then CGATS", "\xef\xbb\xbf"
                                                 "CGATS.17\nBEGIN_DATA_FORMAT\nD_RED\n"
                                                 "END_DATA_FORMAT\nBEGIN_DATA\n0.3\nEND_DATA\n");
    (void)state;
    test_cell("red", &got, 0, WW_COLUMN_RED, 0.3);
    ww_readings_release(&got);
}

static void no_name_is_no_trouble(void **state) {
    ww_readings got = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("no name", ww_readings_file_parse(NULL, "red\n0.3\n", 8, &got, &err), WW_OK, &err);
    assert_null(got.file);
    ww_readings_release(&got);
    test_status("nothing", ww_readings_file_parse(NULL, NULL, 0, &got, &err), WW_EINPUT, &err);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(reads_a_file),
                                       cmocka_unit_test(files_that_are_not_there),
                                       cmocka_unit_test(a_file_that_may_not_be_read),
                                       cmocka_unit_test(reads_standard_input),
                                       cmocka_unit_test(refuses_what_does_not_end),
                                       cmocka_unit_test(refuses_other_kinds_by_name),
                                       cmocka_unit_test(refuses_tables_too_long),
                                       cmocka_unit_test(mark_before_a_sheet),
                                       cmocka_unit_test(no_name_is_no_trouble)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
