/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_write.h"
#include "support/support.h"
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Source: TIFF 6.0 and BigTIFF: 42 or 43 after the byte order; offsets of 32 or 64 bits. */

static const struct {
    const char *name;
    size_t width, height, channels;
    ww_sample sample;
    bool big;
} rows[] = {{"a scan", 7000, 7000, 3, WW_SAMPLE_16, false},
            {"3.8 GB", 25000, 25500, 3, WW_SAMPLE_16, false},
            {"4.3 GB", 27000, 26600, 3, WW_SAMPLE_16, true},
            {"4.3 GB of floating point", 32768, 32768, 1, WW_SAMPLE_FLOAT, true},
            {"one row less", 32768, 32760, 1, WW_SAMPLE_FLOAT, true},
            {"of 100000 x 100000 px", 100000, 100000, 3, WW_SAMPLE_FLOAT, true}};

static void big_files_have_big_offsets(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ww_picture_form form = {.width = rows[i].width,
                                      .height = rows[i].height,
                                      .channels = rows[i].channels,
                                      .sample = rows[i].sample};
        const int fd = open(path, O_RDWR | O_CREAT | O_TRUNC, 0666);
        ww__tiff_write write;
        unsigned char head[4] = {0};
        uint16_t version;
        assert_true(fd >= 0);
        test_true(rows[i].name, ww__tiff_write_is_big(&form) == rows[i].big);
        assert_int_equal(ww__tiff_write_open("a.tif", fd, &form, 1, &write, NULL), WW_OK);
        assert_int_equal(pread(fd, head, 4, 0), 4);
        memcpy(&version, head + 2, 2);
        test_close(rows[i].name, version, rows[i].big ? 43 : 42, 0);
        (void)ww__tiff_write_close(&write, NULL);
        close(fd);
    }
    free(path);
    test_folder_remove(folder);
}

static void a_refused_write_is_told(void **state) {
    const ww_picture_form form = {.width = 100, .height = 2, .channels = 1, .sample = WW_SAMPLE_16};
    static const uint16_t row[100] = {0};
    const int fd = open("/dev/full", O_RDWR);
    ww__tiff_write write;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    if (fd < 0)
        skip();
    ww_status status = ww__tiff_write_open("a.tif", fd, &form, 1, &write, &err);
    if (status == WW_OK)
        status = ww__tiff_write_strip(&write, row, sizeof row, &err);
    test_status("full", status, WW_ESYSTEM, &err);
    test_close("full", err.sys, ENOSPC, 0);
    test_text("full", err.file, "a.tif");
    (void)ww__tiff_write_close(&write, NULL);
    assert_int_equal(ww__tiff_write_close(&write, NULL), WW_OK);
    close(fd);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(big_files_have_big_offsets),
                                       cmocka_unit_test(a_refused_write_is_told)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
