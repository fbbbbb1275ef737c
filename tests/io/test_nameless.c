/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/nameless.h"
#include "support/support.h"
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

/* Source: definition (what the header promises). */

static void holds_what_is_written_and_has_no_name(void **state) {
    char *folder = test_folder_new(), got[6] = "";
    struct stat about;
    (void)state;
    assert_int_equal(setenv("TMPDIR", folder, 1), 0);
    const int fd = ww__nameless_open(4096);
    if (fd < 0)
        skip(); /* every file system for such files lies in memory, or is full */
    test_true("written", ww__nameless_write(fd, 2731, "wedge", 6));
    assert_int_equal(pread(fd, got, 6, 2731), 6);
    test_text("read", got, "wedge");
    assert_int_equal(fstat(fd, &about), 0);
    assert_int_equal(about.st_nlink, 0);
    assert_int_equal(about.st_mode & 0077, 0);
    assert_int_equal(test_folder_count(folder), 0);
    close(fd);
    unsetenv("TMPDIR");
    test_folder_remove(folder);
}

/* What $TMPDIR cannot take another folder does. */
static void another_folder_will_do(void **state) {
    const int without = ww__nameless_open(4096);
    (void)state;
    if (without < 0)
        skip();
    close(without);
    assert_int_equal(setenv("TMPDIR", "/dev/null", 1), 0);
    const int fd = ww__nameless_open(4096);
    assert_true(fd >= 0);
    close(fd);
    unsetenv("TMPDIR");
}

static void no_disk_is_that_long(void **state) {
    (void)state;
    assert_int_equal(ww__nameless_open(UINT64_C(1) << 62), -1);
}

/* Beyond the limit a write would end the program. */
static int open_under_limit(void *context) {
    const struct rlimit limit = {4096, 4096};
    (void)context;
    if (setrlimit(RLIMIT_FSIZE, &limit) != 0)
        return 1;
    return ww__nameless_open(4097) == -1 ? 7 : 2;
}

static void what_may_not_be_written_is_not_begun(void **state) {
    (void)state;
    assert_int_equal(test_in_child(open_under_limit, NULL), 7);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(holds_what_is_written_and_has_no_name),
        cmocka_unit_test(another_folder_will_do),
        cmocka_unit_test(no_disk_is_that_long),
        cmocka_unit_test(what_may_not_be_written_is_not_begun),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
