/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>
#include <wedgework/output.h>

/* Source of what is expected: definition (output.h) and POSIX for the errno of each refusal. */

enum { BIG = 3000000 };

static void holds(const char *row, const char *path, const char *want) {
    char *got = test_file_read(path, NULL);
    test_text(row, got, want);
    free(got);
}

static mode_t mode_of(const char *path) {
    struct stat info;
    return lstat(path, &info) == 0 ? info.st_mode : 0;
}

static void new_file_obeys_umask(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.json");
    const mode_t before = umask(027);
    (void)state;
    assert_int_equal(ww_output_write(path, "one", 3, NULL), WW_OK);
    umask(before);
    holds("new", path, "one");
    assert_int_equal(mode_of(path) & 07777, 0640);
    assert_int_equal(ww_output_write(path, NULL, 0, NULL), WW_OK);
    holds("empty", path, "");
    assert_int_equal(test_folder_count(folder), 1);
    free(path);
    test_folder_remove(folder);
}

static void old_file_keeps_its_permissions(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.json");
    (void)state;
    test_file_write(path, "a longer old text");
    assert_int_equal(chmod(path, 0604), 0);
    assert_int_equal(ww_output_write(path, "new", 3, NULL), WW_OK);
    holds("old", path, "new");
    assert_int_equal(mode_of(path) & 07777, 0604);
    free(path);
    test_folder_remove(folder);
}

static void big_and_binary(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.bin");
    char *bytes = malloc(BIG), *back;
    size_t n = 0;
    (void)state;
    for (size_t i = 0; i < BIG; i++)
        bytes[i] = (char)(i * 2654435761u >> 24);
    assert_int_equal(ww_output_write(path, bytes, BIG, NULL), WW_OK);
    back = test_file_read(path, &n);
    assert_int_equal(n, BIG);
    assert_memory_equal(bytes, back, BIG);
    free(back);
    free(bytes);
    free(path);
    test_folder_remove(folder);
}

static void follows_links(void **state) {
    char *folder = test_folder_new(), *inner = test_path(folder, "inner");
    char *target = test_path(inner, "target"), *link = test_path(folder, "link");
    char *second = test_path(folder, "second");
    (void)state;
    assert_int_equal(mkdir(inner, 0777), 0);
    assert_int_equal(symlink("inner/target", link), 0);
    assert_int_equal(symlink(link, second), 0);
    assert_int_equal(ww_output_write(second, "made", 4, NULL), WW_OK);
    holds("dangling", target, "made");
    assert_int_equal(ww_output_write(link, "again", 5, NULL), WW_OK);
    holds("existing", target, "again");
    assert_true(S_ISLNK(mode_of(link)) && S_ISLNK(mode_of(second)));
    assert_int_equal(test_folder_count(inner), 1);
    free(second);
    free(link);
    free(target);
    free(inner);
    test_folder_remove(folder);
}

static void refused_with(const char *row, const char *path, int sys) {
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_output_write(path, "new", 3, &err), WW_ESYSTEM, &err);
    test_close(row, err.sys, sys, 0);
    test_text(row, err.file, path);
    test_true(row, strstr(err.msg, strerror(sys)) != NULL);
}

static void refuses(void **state) {
    char *folder = test_folder_new(), *file = test_path(folder, "file");
    char *nowhere = test_path(folder, "no/such/folder"), *below = test_path(file, "below");
    char *loop = test_path(folder, "loop"), name[300], *longest;
    (void)state;
    test_file_write(file, "old");
    assert_int_equal(symlink("loop", loop), 0);
    memset(name, 'n', 299);
    name[299] = '\0';
    longest = test_path(folder, name);
    refused_with("a folder", folder, EISDIR);
    refused_with("no such folder", nowhere, ENOENT);
    refused_with("no name", "", ENOENT);
    refused_with("below a file", below, ENOTDIR);
    refused_with("links in a circle", loop, ELOOP);
    refused_with("name too long", longest, ENAMETOOLONG);
    assert_int_equal(test_folder_count(folder), 2);
    free(longest);
    free(loop);
    free(below);
    free(nowhere);
    free(file);
    test_folder_remove(folder);
}

static void disk_full(void **state) {
    (void)state;
    if (access("/dev/full", W_OK) != 0)
        skip();
    refused_with("/dev/full", "/dev/full", ENOSPC);
    assert_int_equal(ww_output_write("/dev/null", "x", 1, NULL), WW_OK);
}

static void pipes_are_written_directly(void **state) {
    int ends[2];
    char path[32], got[8] = "";
    (void)state;
    assert_int_equal(pipe(ends), 0);
    snprintf(path, sizeof path, "/dev/fd/%d", ends[1]);
    assert_int_equal(ww_output_write(path, "piped", 5, NULL), WW_OK);
    assert_int_equal(read(ends[0], got, sizeof got - 1), 5);
    assert_string_equal(got, "piped");
    close(ends[0]);
    close(ends[1]);
}

/* A full disk, as far as the writer can tell: the file may not grow past 1000 bytes. */
static int write_past_the_limit(void *context) {
    const struct rlimit limit = {1000, 1000};
    static char bytes[5000];
    ww_error err = WW_ERROR_INIT;
    signal(SIGXFSZ, SIG_IGN);
    if (setrlimit(RLIMIT_FSIZE, &limit) != 0)
        return 2;
    if (ww_output_write(context, bytes, sizeof bytes, &err) != WW_ESYSTEM)
        return 3;
    return err.sys == EFBIG && strstr(err.msg, "; it takes 5 kB, and no file may") ? 0 : 4;
}

static void old_file_outlives_a_failed_write(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.json");
    char *fresh = test_path(folder, "b.json");
    (void)state;
    test_file_write(path, "old");
    assert_int_equal(test_in_child(write_past_the_limit, path), 0);
    assert_int_equal(test_in_child(write_past_the_limit, fresh), 0);
    holds("old", path, "old");
    assert_int_equal(test_folder_count(folder), 1);
    free(fresh);
    free(path);
    test_folder_remove(folder);
}

static int write_refused_for_permission(void *context) {
    ww_error err = WW_ERROR_INIT;
    if (ww_output_write(context, "new", 3, &err) != WW_ESYSTEM)
        return 1;
    return err.sys == EACCES && strstr(err.msg, strerror(EACCES)) ? 0 : 2;
}

static int write_allowed(void *context) {
    return ww_output_write(context, "new", 3, NULL) == WW_OK ? 0 : 1;
}

static void permissions(void **state) {
    char *folder = test_folder_new(), *locked = test_path(folder, "locked");
    char *file = test_path(folder, "file"), *mine = test_path(folder, "mine");
    char *inside = test_path(locked, "inside");
    (void)state;
    assert_int_equal(chmod(folder, 0777), 0);
    test_file_write(file, "old");
    assert_int_equal(chmod(file, 0444), 0);
    assert_int_equal(mkdir(locked, 0777), 0);
    test_file_write(inside, "old");
    assert_int_equal(chmod(inside, 0666), 0);
    assert_int_equal(chmod(locked, 0555), 0);
    assert_int_equal(test_as_plain_user(write_refused_for_permission, file), 0);
    assert_int_equal(test_as_plain_user(write_refused_for_permission, inside), 0);
    assert_int_equal(test_as_plain_user(write_allowed, mine), 0);
    holds("write-protected file", file, "old");
    holds("write-protected folder", inside, "old");
    holds("neither", mine, "new");
    assert_int_equal(test_folder_count(folder), 3);
    assert_int_equal(chmod(locked, 0777), 0);
    free(inside);
    free(mine);
    free(file);
    free(locked);
    test_folder_remove(folder);
}

/* Root writing another's file leaves it that other's. */
static void owner_stays(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a");
    struct stat info;
    (void)state;
    test_file_write(path, "old");
    if (geteuid() == 0) {
        assert_int_equal(chown(path, 65534, 65534), 0);
        assert_int_equal(ww_output_write(path, "new", 3, NULL), WW_OK);
        assert_int_equal(stat(path, &info), 0);
        assert_int_equal(info.st_uid, 65534);
    }
    free(path);
    test_folder_remove(folder);
    if (geteuid() != 0) {
        printf("skipped: only root can own another's file\n");
        skip();
    }
}

/* A crash leaves a file behind; its name must not stop the next run of the same process number. */
static void passes_over_what_a_crash_left(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a"), name[64], *left;
    (void)state;
    snprintf(name, sizeof name, ".wedgework-%ld-0", (long)getpid());
    left = test_path(folder, name);
    test_file_write(left, "left");
    assert_int_equal(ww_output_write(path, "new", 3, NULL), WW_OK);
    holds("written", path, "new");
    holds("untouched", left, "left");
    free(left);
    free(path);
    test_folder_remove(folder);
}

/* ------------------------------------------------------------------------ a file piece by piece */

static void is_seen_when_finished(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    ww_output output = WW_OUTPUT_INIT;
    (void)state;
    test_file_write(path, "old");
    assert_int_equal(chmod(path, 0604), 0);
    assert_int_equal(ww_output_begin(path, &output, NULL), WW_OK);
    assert_int_equal(pwrite(output.fd, "world", 5, 6), 5);
    assert_int_equal(pwrite(output.fd, "hello ", 6, 0), 6);
    holds("begun", path, "old");
    assert_int_equal(test_folder_count(folder), output.made ? 2 : 1);
    assert_int_equal(ww_output_finish(&output, NULL), WW_OK);
    holds("finished", path, "hello world");
    assert_int_equal(mode_of(path) & 07777, 0604);
    assert_int_equal(test_folder_count(folder), 1);
    assert_int_equal(output.fd, -1);
    free(path);
    test_folder_remove(folder);
}

static void leaves_no_trace_when_dropped(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    ww_output output = WW_OUTPUT_INIT;
    (void)state;
    ww_output_drop(NULL);
    ww_output_drop(&output);
    assert_int_equal(ww_output_begin(path, &output, NULL), WW_OK);
    assert_int_equal(write(output.fd, "half", 4), 4);
    ww_output_drop(&output);
    assert_int_equal(test_folder_count(folder), 0);
    free(path);
    test_folder_remove(folder);
}

/* A merge may take minutes; what then lies at the name is what is replaced, or is in the way. */
static void name_taken_meanwhile(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    char *inside = test_path(path, "inside");
    ww_output output = WW_OUTPUT_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    assert_int_equal(ww_output_begin(path, &output, NULL), WW_OK);
    assert_int_equal(mkdir(path, 0777), 0);
    test_file_write(inside, "x");
    test_status("a folder by now", ww_output_finish(&output, &err), WW_ESYSTEM, &err);
    assert_int_equal(test_folder_count(folder), 1);
    free(inside);
    free(path);
    test_folder_remove(folder);
}

static void begins_no_device(void **state) {
    ww_output output = WW_OUTPUT_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("device", ww_output_begin("/dev/null", &output, &err), WW_EINPUT, &err);
    test_holds("device", err.msg, "this is no file");
    test_status("folder", ww_output_begin("/", &output, &err), WW_ESYSTEM, &err);
    assert_int_equal(output.fd, -1);
}

/* Its own, that are open, and no other's. */
static void only_what_is_unfinished_is_removed(void **state) {
    static const struct {
        const char *name; /* then this process and the end */
        const char *end;
        bool open, removed;
    } rows[] = {{".wedgework-", "-0", true, true},      {".wedgework-", "-120", true, true},
                {".wedgework-", "-7", false, false},    {".wedgework-1", "-0", true, false},
                {".wedgework-", "-0.tif", true, false}, {".wedgework-", "-", true, false},
                {"wedgework-", "-0", true, false}};
    enum { ROWS = sizeof rows / sizeof rows[0] };
    char *folder = test_folder_new(), *path[ROWS], name[64];
    int fd[ROWS];
    (void)state;
    for (size_t i = 0; i < ROWS; i++) {
        snprintf(name, sizeof name, "%s%ld%s", rows[i].name, (long)getpid(), rows[i].end);
        path[i] = test_path(folder, name);
        test_file_write(path[i], "part");
        fd[i] = rows[i].open ? open(path[i], O_RDONLY) : -1;
    }
    ww_output_remove_unfinished();
    for (size_t i = 0; i < ROWS; i++) {
        test_true(path[i], (access(path[i], F_OK) != 0) == rows[i].removed);
        if (fd[i] >= 0)
            close(fd[i]);
        free(path[i]);
    }
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(new_file_obeys_umask),
                                       cmocka_unit_test(old_file_keeps_its_permissions),
                                       cmocka_unit_test(big_and_binary),
                                       cmocka_unit_test(follows_links),
                                       cmocka_unit_test(refuses),
                                       cmocka_unit_test(disk_full),
                                       cmocka_unit_test(pipes_are_written_directly),
                                       cmocka_unit_test(old_file_outlives_a_failed_write),
                                       cmocka_unit_test(permissions),
                                       cmocka_unit_test(owner_stays),
                                       cmocka_unit_test(passes_over_what_a_crash_left),
                                       cmocka_unit_test(is_seen_when_finished),
                                       cmocka_unit_test(leaves_no_trace_when_dropped),
                                       cmocka_unit_test(name_taken_meanwhile),
                                       cmocka_unit_test(begins_no_device),
                                       cmocka_unit_test(only_what_is_unfinished_is_removed)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
