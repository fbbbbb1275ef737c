/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/input.h"
#include "support/support.h"
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Source of every expectation: definition (the Status lines of input.h). */

static void reads_every_byte(void **state) {
    static const size_t lengths[] = {0, 1, 16382, 16383, 16384, 16385, 40001};
    char *folder = test_folder_new(), *path = test_path(folder, "bytes");
    (void)state;
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++) {
        char *text = calloc(lengths[i] + 1, 1), *bytes = NULL;
        size_t n = 77;
        ww_error err = WW_ERROR_INIT;
        assert_non_null(text);
        for (size_t j = 0; j < lengths[i]; j++)
            text[j] = (char)('a' + j % 26);
        test_file_write(path, text);
        test_status("read", ww__input_read(path, 1u << 20, &bytes, &n, &err), WW_OK, &err);
        assert_int_equal(n, lengths[i]);
        assert_memory_equal(bytes, text, n + 1);
        free(bytes);
        free(text);
    }
    free(path);
    test_folder_remove(folder);
}

static void refuses_what_is_no_file_of_ours(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "long");
    char *missing = test_path(folder, "missing"), *below = test_path(folder, "long/below");
    char *bytes = NULL;
    size_t n = 77;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_file_write(path, "0123456789");
    test_status("at the limit", ww__input_read(path, 10, &bytes, &n, &err), WW_OK, &err);
    free(bytes);
    bytes = NULL;
    n = 77;
    test_status("over it", ww__input_read(path, 9, &bytes, &n, &err), WW_EINPUT, &err);
    test_text("over it", err.msg, "longer than 9 bytes; is it the right file?");
    test_text("over it", err.file, path);
    test_status("missing", ww__input_read(missing, 9, &bytes, &n, &err), WW_EINPUT, &err);
    test_text("missing", err.msg, "there is no such file; check the name");
    test_status("below", ww__input_read(below, 9, &bytes, &n, &err), WW_EINPUT, &err);
    test_status("folder", ww__input_read(folder, 9, &bytes, &n, &err), WW_EINPUT, &err);
    test_text("folder", err.msg, "this is a folder; name a file in it");
    test_status("no record", ww__input_read(missing, 9, &bytes, &n, NULL), WW_EINPUT, NULL);
    assert_null(bytes);
    assert_int_equal(n, 77);
    free(below);
    free(missing);
    free(path);
    test_folder_remove(folder);
}

static int read_forbidden(void *context) {
    char *bytes = NULL;
    size_t n = 0;
    ww_error err = WW_ERROR_INIT;
    const ww_status status = ww__input_read(context, 9, &bytes, &n, &err);
    return status == WW_ESYSTEM && err.sys != 0 && bytes == NULL ? 0 : 1;
}

static void says_what_the_system_refused(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "forbidden");
    (void)state;
    test_file_write(path, "secret");
    assert_int_equal(chmod(folder, 0755), 0);
    assert_int_equal(chmod(path, 0), 0);
    assert_int_equal(test_as_plain_user(read_forbidden, path), 0);
    free(path);
    test_folder_remove(folder);
}

static int read_standard_input(void *context) {
    const int file = open(context, O_RDONLY);
    char *bytes = NULL;
    size_t n = 0;
    int wrong;
    if (file < 0 || dup2(file, STDIN_FILENO) < 0)
        return 2;
    wrong = ww__input_read("-", 100, &bytes, &n, NULL) != WW_OK || n != 5 ||
            strcmp(bytes, "2.731") != 0;
    free(bytes);
    close(file);
    return wrong;
}

static void reads_standard_input(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "piped");
    (void)state;
    test_file_write(path, "2.731");
    assert_int_equal(test_in_child(read_standard_input, path), 0);
    test_text("name", ww__input_name("-"), "standard input");
    test_text("name", ww__input_name("a.json"), "a.json");
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_every_byte),
        cmocka_unit_test(refuses_what_is_no_file_of_ours),
        cmocka_unit_test(says_what_the_system_refused),
        cmocka_unit_test(reads_standard_input),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
