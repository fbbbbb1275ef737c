/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_handle.h"
#include "io/tiff_made.h"
#include <errno.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

static const made small = {"small", 37, 29, 3, 2, 16, 1, 1, 5, 0, 1, 0, 7, "wl", false, false};

static int open_made(const char *path, uint64_t *size) {
    const int fd = open(path, O_RDONLY);
    struct stat about;
    assert_true(fd >= 0 && fstat(fd, &about) == 0);
    *size = (uint64_t)about.st_size;
    return fd;
}

/* Two handles on one descriptor keep their own places. */
static void handles_do_not_disturb_each_other(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    ww__tiff_handle handle[2];
    unsigned char strip[2][37 * 7 * 6];
    uint64_t size;
    int fd;
    (void)state;
    assert_true(made_write(&small, path));
    fd = open_made(path, &size);
    for (int i = 0; i < 2; i++) {
        assert_int_equal(ww__tiff_handle_open("a.tif", fd, size, false, &handle[i], NULL), WW_OK);
        assert_int_equal(TIFFSetDirectory(handle[i].tiff, 0), 1);
    }
    for (uint32_t strip_number = 0; strip_number < 4; strip_number++)
        for (int i = 0; i < 2; i++) {
            const uint32_t number = i ? 3 - strip_number : strip_number;
            size_t n;
            unsigned char *want = made_pixels(&small, 0, number * 7, 37, 7, 0, &n);
            assert_int_equal(
                TIFFReadEncodedStrip(handle[i].tiff, number, strip[i], (tmsize_t)sizeof strip[i]),
                n);
            assert_memory_equal(strip[i], want, n);
            free(want);
        }
    for (int i = 0; i < 2; i++) {
        ww__tiff_handle_close(&handle[i]);
        ww__tiff_handle_close(&handle[i]);
    }
    close(fd);
    free(path);
    test_folder_remove(folder);
}

/* A mapped file is told to be shorter than it was, by whoever asks before and after. */
static void a_map_does_not_reach_beyond_its_file(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    unsigned char strip[37 * 7 * 6], again[sizeof strip];
    ww__tiff_handle handle;
    ww_error err = WW_ERROR_INIT;
    uint64_t size;
    int fd;
    (void)state;
    assert_true(made_write(&small, path));
    fd = open_made(path, &size);
    assert_int_equal(ww__tiff_handle_open("a.tif", fd, size, true, &handle, NULL), WW_OK);
    test_true("mapped", handle.map != NULL);
    assert_int_equal(TIFFSetDirectory(handle.tiff, 0), 1);
    assert_int_equal(TIFFReadEncodedStrip(handle.tiff, 1, strip, sizeof strip), sizeof strip);
    test_status("whole", ww__tiff_handle_move_on(&handle, "a.tif", &err), WW_OK, &err);
    assert_int_equal(TIFFReadEncodedStrip(handle.tiff, 1, again, sizeof again), sizeof again);
    assert_memory_equal(strip, again, sizeof strip);
    assert_int_equal(truncate(path, (off_t)size - 1), 0);
    test_status("cut", ww__tiff_handle_move_on(&handle, "a.tif", &err), WW_EINPUT, &err);
    ww__tiff_handle_close(&handle);
    test_true("given back", handle.map == NULL);
    assert_int_equal(ww__tiff_handle_open("a.tif", fd, size, true, &handle, NULL), WW_OK);
    test_true("read instead", handle.map == NULL);
    ww__tiff_handle_close(&handle);
    close(fd);
    free(path);
    test_folder_remove(folder);
}

static void what_libtiff_says_is_kept(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    ww__tiff_handle handle;
    ww_error err = WW_ERROR_INIT;
    uint64_t size;
    int fd;
    (void)state;
    test_file_write(path, "no TIFF at all");
    fd = open_made(path, &size);
    test_status("text", ww__tiff_handle_open("a.tif", fd, size, false, &handle, &err), WW_EINPUT,
                &err);
    test_true(err.msg, strstr(err.msg, "is not a TIFF file (") == err.msg);
    test_text("text", err.file, "a.tif");
    test_true("closed", handle.tiff == NULL);
    ww__tiff_handle_listen(&handle);
    test_true("forgotten", handle.said[0] == '\0' && handle.sys == 0);
    test_status("silence", ww__tiff_handle_failed(&handle, "a.tif", "odd", "do", &err), WW_EINPUT,
                &err);
    test_text("silence", err.msg, "odd; do");
    handle.sys = EIO;
    test_status("system", ww__tiff_handle_failed(&handle, "a.tif", "odd", "do", &err), WW_ESYSTEM,
                &err);
    test_true("fed", !ww__tiff_handle_starved(&handle));
    errno = ENOMEM;
    test_true("starved in silence", ww__tiff_handle_starved(&handle));
    ww__tiff_handle_listen(&handle);
    handle.no_memory = true;
    test_status("memory", ww__tiff_handle_failed(&handle, "a.tif", "odd", "do", &err), WW_EMEMORY,
                &err);
    close(fd);
    free(path);
    test_folder_remove(folder);
}

/* A descriptor that cannot be read: the system's refusal is told, not "not a TIFF". */
static void a_refused_read_is_the_systems(void **state) {
    const int fd = open("/", O_RDONLY | O_DIRECTORY);
    ww__tiff_handle handle;
    ww_error err = WW_ERROR_INIT;
    char byte;
    (void)state;
    assert_true(fd >= 0);
    test_status("open", ww__tiff_handle_open("a.tif", fd, 4096, false, &handle, &err), WW_ESYSTEM,
                &err);
    test_true("open", err.sys == EISDIR);
    test_status("read", ww__tiff_handle_pread("a.tif", fd, 0, &byte, 1, &err), WW_ESYSTEM, &err);
    close(fd);
}

static void reads_up_to_the_end(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    char bytes[8] = "";
    ww_error err = WW_ERROR_INIT;
    uint64_t size;
    int fd;
    (void)state;
    test_file_write(path, "0123456789");
    fd = open_made(path, &size);
    test_status("inside", ww__tiff_handle_pread("a.tif", fd, 7, bytes, 3, &err), WW_OK, &err);
    test_text("inside", bytes, "789");
    test_status("beyond", ww__tiff_handle_pread("a.tif", fd, 8, bytes, 3, &err), WW_EINPUT, &err);
    close(fd);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(handles_do_not_disturb_each_other),
        cmocka_unit_test(a_map_does_not_reach_beyond_its_file),
        cmocka_unit_test(what_libtiff_says_is_kept),
        cmocka_unit_test(a_refused_read_is_the_systems),
        cmocka_unit_test(reads_up_to_the_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
