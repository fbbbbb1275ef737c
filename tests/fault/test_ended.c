/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* syscall, madvise */
#include "cli/commands.h"
#include "cli/complain.h"
#include "cli/cut_short.h"
#include "cli/hold.h"
#include "fault/nameless.h"
#include "image/merge_made.h"
#include "support/support.h"
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/mman.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <tiffio.h>
#include <time.h>
#include <unistd.h>

/*
 * The program as a whole, ended while it makes a file of two scans. Source: definition (hold.h and
 * cut_short.h: what is said, the exit status, and that nothing is left).
 */

/* ------------------------------------------------------------- what befalls it, in a child only */

static struct {
    const char *cut; /* this file, at the next look ahead in a map */
    int writes_left; /* until Ctrl-C; 0: never */
    int room;        /* writes until the disk is full; 0: it never is */
    int syncs_left;
    bool twice;   /* a second later by a clock that is moved on */
    time_t later; /* s */
} fault;

static void press(int *left) {
    if (*left == 0 || --*left > 0)
        return;
    raise(SIGINT);
    if (fault.twice) {
        fault.later++;
        raise(SIGINT);
    }
}

int clock_gettime(clockid_t which, struct timespec *now) {
    const int failed = (int)syscall(SYS_clock_gettime, which, now);
    now->tv_sec += fault.later;
    return failed;
}

int fsync(int fd) {
    press(&fault.syncs_left);
    return (int)syscall(SYS_fsync, fd);
}

int madvise(void *at, size_t n, int advice) {
    if (fault.cut && truncate(fault.cut, 100) == 0)
        fault.cut = NULL;
    return (int)syscall(SYS_madvise, at, n, advice);
}

ssize_t pwrite(int fd, const void *bytes, size_t n, off_t at) {
    press(&fault.writes_left);
    if (fault.room > 0 && --fault.room == 0) {
        fault.room = 1; /* nor is there room for a later one */
        errno = ENOSPC;
        return -1;
    }
    return syscall(SYS_pwrite64, fd, bytes, n, at);
}

/* ---------------------------------------------------------------------------------- the program */

typedef struct job {
    char *folder, *scan[2], *out, *page, *said;
} job;

/* As main does it. */
static int merge(const job *the) {
    char *argv[] = {"wedgework", "scan",   "--merge",  the->scan[0], the->scan[1],
                    "-o",        the->out, "--report", the->page};
    ww_arguments arguments = WW_ARGUMENTS_INIT;
    ww_outcome outcome = {true, false};
    ww_error err = WW_ERROR_INIT;
    ww__hold_start();
    ww__cut_short_start();
    err.code = ww__arguments_parse(sizeof argv / sizeof argv[0], argv, &arguments, &err);
    if (err.code == WW_OK)
        err.code = arguments.command->run(&arguments, &outcome, &err);
    ww__complain(&err);
    return ww__complain_status(&err);
}

/* What waitpid tells of it. */
static int end_of(const job *the) {
    int how = 0;
    const pid_t pid = fork();
    if (pid == 0) {
        const int said = openat(AT_FDCWD, the->said, O_WRONLY | O_CREAT | O_TRUNC, 0666);
        _exit(said >= 0 && dup2(said, STDOUT_FILENO) >= 0 && dup2(said, STDERR_FILENO) >= 0
                  ? merge(the)
                  : 101);
    }
    assert_true(pid > 0 && waitpid(pid, &how, 0) == pid);
    return how;
}

static void write_scan(const made_pair *pair, bool second, const char *path) {
    ww_picture picture = made_scan(pair, second, second ? 2 : 1);
    const array_pixels *pixels = picture.handle;
    TIFF *tiff = TIFFOpen(path, "w");
    assert_non_null(tiff);
    TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, (uint32_t)picture.width);
    TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, (uint32_t)picture.height);
    TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, 16);
    TIFFSetField(tiff, TIFFTAG_SAMPLESPERPIXEL, 1);
    TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC, PHOTOMETRIC_MINISBLACK);
    TIFFSetField(tiff, TIFFTAG_COMPRESSION, COMPRESSION_LZW);
    TIFFSetField(tiff, TIFFTAG_ROWSPERSTRIP, (uint32_t)picture.height);
    for (uint32_t y = 0; y < picture.height; y++)
        assert_true(TIFFWriteScanline(tiff, pixels->sample + 2 * y * picture.width, y, 0) == 1);
    TIFFClose(tiff);
    ww_picture_release(&picture);
}

static job begin(size_t width, size_t height) {
    const made_pair pair = {.name = "pair",
                            .width = width,
                            .height = height,
                            .channels = 1,
                            .kind = WW_SAMPLE_16,
                            .ratio = 3.71,
                            .dark = 0.004,
                            .read = 0.0006,
                            .shot = 0.003};
    char *folder = test_folder_new();
    const job the = {.folder = folder,
                     .scan = {test_path(folder, "a.tif"), test_path(folder, "b.tif")},
                     .out = test_path(folder, "out.tif"),
                     .page = test_path(folder, "out.html"),
                     .said = test_path(folder, "said")};
    fault.cut = NULL;
    fault.writes_left = fault.syncs_left = fault.room = 0;
    fault.twice = false;
    nameless_refused = false;
    for (int i = 0; i < 2; i++)
        write_scan(&pair, i == 1, the.scan[i]);
    return the;
}

static void end(job *the) {
    free(the->scan[0]);
    free(the->scan[1]);
    free(the->out);
    free(the->page);
    free(the->said);
    test_folder_remove(the->folder);
}

/* ------------------------------------------------------------------------------------- endings */

/* One strip of more than 8 MiB, which libtiff sees in a map: the first is cut as it is read. */
static void a_scan_that_is_cut_as_it_is_read_is_told(void **state) {
    job the = begin(2200, 2000);
    char want[1024];
    int how;
    (void)state;
    fault.cut = the.scan[0];
    how = end_of(&the);
    char *said = test_file_read(the.said, NULL);
    snprintf(want, sizeof want,
             "wedgework: %s: ends before the pixels do, or its disk refused them: it was cut or "
             "lost while it was read; scan, export or copy it again\n",
             the.scan[0]);
    test_text("message", said, want);
    assert_true(WIFEXITED(how));
    assert_int_equal(WEXITSTATUS(how), 3);
    assert_int_equal(test_folder_count(the.folder), 3); /* the scans and what was said */
    free(said);
    end(&the);
}

/* The first write is of the file's header, as it is made; the next of its pixels. */
static void ctrl_c_leaves_no_file(void **state) {
    (void)state;
    for (int writes = 1; writes <= 2; writes++)
        for (int nameless = 0; nameless < 2; nameless++) {
            job the = begin(104, 72);
            fault.writes_left = writes;
            nameless_refused = nameless == 0;
            const int how = end_of(&the);
            assert_true(WIFSIGNALED(how));
            assert_int_equal(WTERMSIG(how), SIGINT);
            assert_int_equal(test_folder_count(the.folder), 3);
            end(&the);
        }
}

/* Meant in earnest, it ends the program in the midst of a result: the header as the file is made,
 * the file on its way to the disk, then its folder, then the page, when the TIFF is whole. */
static void ctrl_c_pressed_again_leaves_no_part(void **state) {
    static const struct {
        int writes, syncs;
        size_t files; /* beside the scans and what was said */
    } rows[] = {{1, 0, 0}, {0, 1, 0}, {0, 2, 1}, {0, 3, 1}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        job the = begin(104, 72);
        fault.writes_left = rows[i].writes;
        fault.syncs_left = rows[i].syncs;
        fault.twice = nameless_refused = true;
        const int how = end_of(&the);
        assert_true(WIFSIGNALED(how));
        assert_int_equal(WTERMSIG(how), SIGINT);
        assert_int_equal(test_folder_count(the.folder), 3 + rows[i].files);
        end(&the);
    }
}

/* 104 x 72 px of 16 bits are 15 kB: the header has room, the pixels have none. */
static void a_full_disk_is_told_and_leaves_no_file(void **state) {
    (void)state;
    for (int nameless = 0; nameless < 2; nameless++) {
        job the = begin(104, 72);
        char want[1024];
        fault.room = 2;
        nameless_refused = nameless == 0;
        const int how = end_of(&the);
        char *said = test_file_read(the.said, NULL);
        snprintf(want, sizeof want,
                 "wedgework: %s: cannot be written: No space left on device; it takes 15 kB, and "
                 "the disk is full: make room there, or name a file on another\n",
                 the.out);
        test_text("message", said, want);
        assert_true(WIFEXITED(how));
        assert_int_equal(WEXITSTATUS(how), 4);
        assert_int_equal(test_folder_count(the.folder), 3);
        free(said);
        end(&the);
    }
}

/* Where nothing befalls it, it gives its result. */
static void files_with_a_name_are_finished(void **state) {
    job the = begin(104, 72);
    (void)state;
    nameless_refused = true;
    const int how = end_of(&the);
    assert_true(WIFEXITED(how) && WEXITSTATUS(how) <= 1);
    assert_int_equal(access(the.out, F_OK), 0);
    assert_int_equal(test_folder_count(the.folder), 5);
    end(&the);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_scan_that_is_cut_as_it_is_read_is_told),
        cmocka_unit_test(ctrl_c_leaves_no_file),
        cmocka_unit_test(ctrl_c_pressed_again_leaves_no_part),
        cmocka_unit_test(a_full_disk_is_told_and_leaves_no_file),
        cmocka_unit_test(files_with_a_name_are_finished),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
