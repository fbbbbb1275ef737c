/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_SUPPORT_H
#define WEDGEWORK_TESTS_SUPPORT_H

/* Linked with every test program. cmocka.h needs the first four. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <stdbool.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>

/* Rows: fail with the row's name, what came and what should have. */
void test_close(const char *row, double got, double want, double tolerance);
void test_text(const char *row, const char *got, const char *want);
void test_holds(const char *row, const char *text, const char *part); /* part stands in text */
void test_lacks(const char *row, const char *text, const char *part);
void test_true(const char *row, bool holds);

/* The status, and on failure a message that is there; err may be NULL. */
void test_status(const char *row, ww_status got, ww_status want, const ww_error *err);

/* A folder of its own for a test; removing it removes all that is in it, and releases the name. */
char *test_folder_new(void);
void test_folder_remove(char *folder);

/* "folder/name"; release it with free. */
char *test_path(const char *folder, const char *name);

/* The bytes of a file, NUL-terminated, n of them; NULL where it cannot be read. */
char *test_file_read(const char *path, size_t *n);
void test_file_write(const char *path, const char *text);

/* Entries of a folder, "." and ".." not counted. */
size_t test_folder_count(const char *folder);

/*
 * Runs work in a child process that is not root (as user 65534 when the tests are), so that
 * permissions count. Returns what work returned, 0 to 100; -1 where the child died.
 */
int test_as_plain_user(int (*work)(void *context), void *context);

/* Runs it in a child process, as the user that the tests are run by. */
int test_in_child(int (*work)(void *context), void *context);

/* Sets a locale with a decimal comma for this process; false where none can be had. */
bool test_noted(const ww_notes *notes, const char *words); /* whether a note has these words */
bool test_comma_locale(void);

/*
 * Path of a file of the outside data: $WEDGEWORK_DATA/name or ../shared/data/name; NULL where it is
 * missing, after a line that says so: the test then calls skip(). Release it with free.
 */
char *test_data(const char *name);

/* Whether long tests should shorten themselves (WEDGEWORK_QUICK is set: valgrind). */
bool test_quick(void);

#endif
