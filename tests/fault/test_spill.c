/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* syscall */
#include "fault/nameless.h"
#include "io/gather.h"
#include "io/tiff.h"
#include "io/tiff_made.h"
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <linux/magic.h>
#include <sys/statfs.h>
#include <sys/syscall.h>
#include <unistd.h>
#include <wedgework/picture_file.h>

/*
 * What befalls the file into which a turned picture is decompressed. Source: definition
 * (io/tiff_spill.h: its pixels are the same with such a file and without, and nothing is left).
 */

static struct {
    bool in_memory;  /* every file system lies in memory */
    long full_after; /* so many writes; -1: never */
} fault;

FILE *tmpfile(void) {
    errno = EROFS;
    return NULL;
}

int fstatfs(int fd, struct statfs *about) {
    const int failed = (int)syscall(SYS_fstatfs, fd, about);
    about->f_type = fault.in_memory ? TMPFS_MAGIC : EXT4_SUPER_MAGIC;
    return failed;
}

ssize_t pwrite(int fd, const void *bytes, size_t n, off_t at) {
    if (fault.full_after == 0) {
        errno = ENOSPC;
        return -1;
    }
    if (fault.full_after > 0)
        fault.full_after--;
    return syscall(SYS_pwrite64, fd, bytes, n, at);
}

/* ------------------------------------------------------------------------------- what is turned */

/* Strips of 7 rows, shown as 7 columns each: whatever row is asked for, all are decompressed. */
static const made turned = {"turned", 60, 80, 3, 2, 16, 1, 1, 5, 0, 6, 0, 7, "wl", false, false};

static size_t open_files(void) {
    DIR *all = opendir("/proc/self/fd");
    size_t n = 0;
    assert_non_null(all);
    while (readdir(all))
        n++;
    closedir(all);
    return n;
}

static void check_row(const char *name, const gathered *all, size_t row) {
    for (size_t v = 0; v < turned.height; v++)
        for (size_t u = 0; u < turned.width; u++)
            for (unsigned c = 0; c < 3; c++) {
                size_t x, y;
                made_shown(&turned, u, v, &x, &y);
                if (y == row)
                    test_close(name, all->value[(y * all->width + x) * 3 + c],
                               made_delivered(&turned, u, v, c), 0.0);
            }
}

/* Its rows one after the other, each as it should be; whether they came from such a file. */
static bool visit_rows(const char *name, const char *path) {
    const size_t before = open_files();
    ww_picture picture = WW_PICTURE_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status(name, ww_picture_file_open(path, 1, &picture, &err), WW_OK, &err);
    ww__tiff *tiff = picture.handle;
    tiff->spill_from = 0;
    for (size_t y = 0; y < picture.height; y++) {
        const ww_region row = {0, y, picture.width, 1};
        gathered all;
        test_status(name, gather_regions(&picture, &row, 1, 1, &all, &err), WW_OK, &err);
        gather_complete(name, &all, row);
        check_row(name, &all, y);
        gather_release(&all);
    }
    const bool spilled = atomic_load(&tiff->spill) != NULL;
    test_close(name, (double)open_files(), (double)(before + 1 + spilled), 0.0);
    ww_picture_release(&picture);
    test_close(name, (double)open_files(), (double)before, 0.0);
    return spilled;
}

static void it_is_the_same_with_room_and_without(void **state) {
    static const struct {
        const char *name;
        bool no_folder, in_memory;
        long full_after;
        bool spilled;
    } rows[] = {
        {"room", false, false, -1, true},
        {"no files without a name", true, false, -1, false},
        {"memory only", false, true, -1, false},
        {"full at once", false, false, 0, false},
        {"full midway", false, false, 5, false},
    };
    char *folder = test_folder_new(), *path = test_path(folder, "made.tif");
    (void)state;
    fault.full_after = -1;
    test_true("written", made_write(&turned, path));
    assert_int_equal(setenv("TMPDIR", folder, 1), 0);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        nameless_refused = rows[i].no_folder;
        fault.in_memory = rows[i].in_memory;
        fault.full_after = rows[i].full_after;
        test_true(rows[i].name, visit_rows(rows[i].name, path) == rows[i].spilled);
        assert_int_equal(test_folder_count(folder), 1);
    }
    fault.full_after = -1;
    unsetenv("TMPDIR");
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_is_the_same_with_room_and_without),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
