/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/lesson_class.h>

enum { CLASS = 12 };

/* A class that reads the film of `seed`; member 5 copies `rows` readings of member 2, all of them
 * `shift` denser. */
static ww_status made(unsigned long seed, size_t n, size_t rows, double shift,
                      ww_lesson_class *class_made) {
    ww_readings readings[CLASS] = {WW_READINGS_INIT};
    ww_lesson first = {.n = 0};
    for (size_t i = 0; i < n; i++) {
        ww_lesson_request request = WW_LESSON_REQUEST_INIT;
        ww_lesson lesson;
        readings[i] = (ww_readings)WW_READINGS_INIT;
        request.seed = seed;
        request.student = i + 1;
        request.kind = WW_LESSON_FILM;
        test_status("lesson", ww_lesson_make(&request, &lesson, NULL), WW_OK, NULL);
        if (i == 2)
            first = lesson;
        for (size_t k = 0; i == 5 && k < rows; k++)
            lesson.given[k].density = first.given[k].density + shift;
        test_status("table", ww_lesson_table(&lesson, &readings[i], NULL), WW_OK, NULL);
    }
    const ww_status status = ww_lesson_class_make(readings, n, class_made, NULL);
    for (size_t i = 0; i < n; i++)
        ww_readings_release(&readings[i]);
    return status;
}

/* Source: the copy that is made here; honest students: none, but for the 1 in 1000 that the header
 * allows a class. */
static void copies(void **state) {
    static const struct {
        const char *name;
        size_t rows;
        double shift;
        bool told;
    } row[] = {{"all of it", 22, 0.0, true},
               {"all but four rows", 18, 0.0, true},
               {"with another zero", 22, 0.07, true},
               {"three rows are nothing", 3, 0.0, false},
               {"honest", 0, 0.0, false}};
    size_t vain = 0;
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        for (unsigned long seed = 1; seed <= 10; seed++) {
            ww_lesson_class c = WW_LESSON_CLASS_INIT;
            test_status(row[i].name, made(seed, CLASS, row[i].rows, row[i].shift, &c), WW_OK, NULL);
            bool found = false;
            for (size_t k = 0; k < c.n_copied; k++) {
                const ww_lesson_pair *pair = &c.copied[k];
                if (row[i].told && pair->a == 2 && pair->b == 5) {
                    found = true;
                    test_close(row[i].name, pair->shift, -row[i].shift, 1e-9);
                    test_true(row[i].name, pair->alike >= row[i].rows && pair->chance < 0.001);
                } else {
                    vain++;
                }
            }
            test_true(row[i].name, found == row[i].told);
            ww_lesson_class_release(&c);
        }
    test_true("nobody in vain", vain == 0);
}

static void two_files_cannot_tell(void **state) {
    ww_lesson_class c = WW_LESSON_CLASS_INIT;
    (void)state;
    test_status("two", made(1, 2, 0, 0.0, &c), WW_OK, NULL);
    test_true("said", test_noted(&c.notes, "cannot be told of two files"));
    assert_int_equal(c.n_copied, 0);
    ww_lesson_class_release(&c);
    ww_lesson_class_release(NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(copies),
                                       cmocka_unit_test(two_files_cannot_tell)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
