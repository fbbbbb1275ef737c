/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/output_refused.h"
#include "support/support.h"
#include <errno.h>
#include <string.h>
#include <sys/resource.h>

/* Source: definition (output_refused.h); the system's own words come before. What is needed is
 * rounded up, a limit down. */

static void says(const char *row, int sys, uint64_t bytes, const char *want) {
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww__output_refused("a.tif", sys, bytes, &err), WW_ESYSTEM, &err);
    test_text(row, err.msg, want);
    test_text(row, err.file, "a.tif");
    test_close(row, err.sys, sys, 0.0);
}

static void no_room_is_told_with_what_to_do(void **state) {
    (void)state;
    says("full", ENOSPC, 1,
         "cannot be written: No space left on device; it takes 1 kB, and the disk is full: make "
         "room there, or name a file on another");
    says("kB, rounded up", ENOSPC, 700238,
         "cannot be written: No space left on device; it takes 701 kB, and the disk is full: make "
         "room there, or name a file on another");
    says("quota", EDQUOT, 2300001,
         "cannot be written: Disk quota exceeded; it takes 2.4 MB, more than is left of your share "
         "of the disk: make room there, or name a file on another");
    says("file system", EFBIG, 4294967296,
         "cannot be written: File too large; it takes 4.3 GB, more than one file may on this disk: "
         "name a file on another");
}

static int past_a_limit(void *context) {
    const struct rlimit limit = {1536000, 1536000};
    ww_error err = WW_ERROR_INIT;
    (void)context;
    if (setrlimit(RLIMIT_FSIZE, &limit) != 0 ||
        ww__output_refused("a.tif", EFBIG, 2400000, &err) != WW_ESYSTEM)
        return 2;
    return strcmp(err.msg, "cannot be written: File too large; it takes 2.4 MB, and no file may be "
                           "larger than 1.5 MB (ulimit -f): raise that limit") == 0
               ? 0
               : 3;
}

static void a_limit_is_told(void **state) {
    (void)state;
    assert_int_equal(test_in_child(past_a_limit, NULL), 0);
}

static void what_else_befalls_it_has_the_system_s_words(void **state) {
    ww_error err = WW_ERROR_INIT;
    (void)state;
    says("disk", EIO, 5000, "cannot be written: Input/output error");
    test_status("memory", ww__output_refused("a.tif", ENOMEM, 5000, &err), WW_EMEMORY, &err);
    test_status("nobody asks", ww__output_refused("a.tif", ENOSPC, 5000, NULL), WW_ESYSTEM, NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_room_is_told_with_what_to_do), cmocka_unit_test(a_limit_is_told),
        cmocka_unit_test(what_else_befalls_it_has_the_system_s_words)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
