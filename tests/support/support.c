/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <dirent.h>
#include <ftw.h>
#include <grp.h>
#include <locale.h>
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

void test_close(const char *row, double got, double want, double tolerance) {
    if (!(fabs(got - want) <= tolerance))
        fail_msg("%s: got %.17g, want %.17g within %g", row, got, want, tolerance);
}

void test_text(const char *row, const char *got, const char *want) {
    if (!got || strcmp(got, want) != 0)
        fail_msg("%s: got '%s', want '%s'", row, got ? got : "(none)", want);
}

void test_holds(const char *row, const char *text, const char *part) {
    if (!text || !strstr(text, part))
        fail_msg("%s: '%s' is missing in:\n%s", row, part, text ? text : "(none)");
}

void test_lacks(const char *row, const char *text, const char *part) {
    if (strstr(text, part))
        fail_msg("%s: '%s' must not be in:\n%s", row, part, text);
}

void test_true(const char *row, bool holds) {
    if (!holds)
        fail_msg("%s: does not hold", row);
}

void test_status(const char *row, ww_status got, ww_status want, const ww_error *err) {
    if (got != want)
        fail_msg("%s: status %d, want %d: %s", row, (int)got, (int)want, err ? err->msg : "");
    if (err && want != WW_OK && (err->code != want || err->msg[0] == '\0'))
        fail_msg("%s: error says %d '%s', status is %d", row, (int)err->code, err->msg, (int)got);
}

char *test_folder_new(void) {
    const char *base = getenv("TMPDIR");
    char *folder = test_path(base && *base ? base : "/tmp", "wedgework-test-XXXXXX");
    if (!mkdtemp(folder))
        fail_msg("cannot make a folder for the test");
    return folder;
}

static int remove_one(const char *path, const struct stat *info, int kind, struct FTW *where) {
    (void)info;
    (void)kind;
    (void)where;
    return remove(path);
}

void test_folder_remove(char *folder) {
    nftw(folder, remove_one, 16, FTW_DEPTH | FTW_PHYS);
    free(folder);
}

char *test_path(const char *folder, const char *name) {
    const size_t size = strlen(folder) + strlen(name) + 2;
    char *path = malloc(size);
    if (!path)
        abort();
    snprintf(path, size, "%s/%s", folder, name);
    return path;
}

char *test_file_read(const char *path, size_t *n) {
    FILE *file = fopen(path, "rb");
    char *bytes = NULL;
    size_t used = 0, room = 0;
    if (!file)
        return NULL;
    do {
        room = room ? room * 2 : 4096;
        bytes = realloc(bytes, room + 1);
        if (!bytes)
            abort();
        used += fread(bytes + used, 1, room - used, file);
    } while (used == room);
    fclose(file);
    bytes[used] = '\0';
    if (n)
        *n = used;
    return bytes;
}

void test_file_write(const char *path, const char *text) {
    FILE *file = fopen(path, "wb");
    if (!file || fputs(text, file) == EOF || fclose(file) != 0)
        fail_msg("%s: the test cannot write it", path);
}

size_t test_folder_count(const char *folder) {
    DIR *open_folder = opendir(folder);
    const struct dirent *entry;
    size_t n = 0;
    if (!open_folder)
        return 0;
    while ((entry = readdir(open_folder)))
        if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0)
            n++;
    closedir(open_folder);
    return n;
}

/*
 * The child tells its result through a pipe and is then killed: what of the parent's memory it
 * leaves behind is no leak, but valgrind would count it at an ordinary exit.
 */
static void be_child(int (*work)(void *context), void *context, bool plain_user, int answer) {
    const uid_t nobody = 65534;
    unsigned char result = 101;
    if (!plain_user || geteuid() != 0 || (setgid(nobody) == 0 && setuid(nobody) == 0))
        result = (unsigned char)work(context);
    if (write(answer, &result, 1) == 1)
        raise(SIGKILL);
    _exit(102);
}

static int child(int (*work)(void *context), void *context, bool plain_user) {
    int ends[2];
    unsigned char result = 0;
    ssize_t n;
    pid_t pid;
    if (pipe(ends) != 0)
        return -1;
    pid = fork();
    if (pid == 0)
        be_child(work, context, plain_user, ends[1]);
    close(ends[1]);
    n = read(ends[0], &result, 1);
    close(ends[0]);
    if (pid < 0 || waitpid(pid, NULL, 0) != pid)
        return -1;
    return n == 1 ? result : -1;
}

int test_as_plain_user(int (*work)(void *context), void *context) {
    return child(work, context, true);
}

int test_in_child(int (*work)(void *context), void *context) {
    return child(work, context, false);
}

/* Not every system has such a locale: localedef can make one for the test. */
static bool make_comma_locale(void) {
    char *folder = test_folder_new();
    char command[512];
    bool made;
    snprintf(command, sizeof command,
             "localedef -i de_DE -f UTF-8 '%s/de_DE.UTF-8' >/dev/null 2>&1", folder);
    made = system(command) == 0 && setenv("LOCPATH", folder, 1) == 0 &&
           setlocale(LC_ALL, "de_DE.UTF-8") != NULL;
    unsetenv("LOCPATH");
    test_folder_remove(folder);
    return made;
}

bool test_noted(const ww_notes *notes, const char *words) {
    for (size_t i = 0; i < notes->n; i++)
        if (strstr(notes->text[i], words))
            return true;
    return false;
}

bool test_comma_locale(void) {
    const bool set = setlocale(LC_ALL, "de_DE.UTF-8") || make_comma_locale();
    if (set && strcmp(localeconv()->decimal_point, ",") == 0)
        return true;
    printf("skipped: no locale with a decimal comma here, nor localedef to make one\n");
    return false;
}

char *test_data(const char *name) {
    const char *folder = getenv("WEDGEWORK_DATA");
    char *path = test_path(folder && *folder ? folder : "../shared/data", name);
    if (access(path, R_OK) == 0)
        return path;
    printf("skipped: outside data %s is missing (WEDGEWORK_DATA names its folder)\n", name);
    free(path);
    return NULL;
}

bool test_quick(void) {
    return getenv("WEDGEWORK_QUICK") != NULL;
}
