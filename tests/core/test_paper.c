/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"

#include <math.h>
#include <wedgework/paper.h>

static void grade_of_range(void **state) {
    (void)state;
    /* Lab sheet of a university course (RIT): the printed ends of each row, diffuse light. */
    static const struct {
        double range;
        ww_status status;
        int grade;
    } rows[] = {
        {1.60, WW_OK, 0},
        {1.41, WW_OK, 0},
        {1.40, WW_OK, 1},
        {1.15, WW_OK, 1},
        {1.14, WW_OK, 2},
        {0.95, WW_OK, 2},
        {0.94, WW_OK, 3},
        {0.80, WW_OK, 3},
        {0.79, WW_OK, 4},
        {0.65, WW_OK, 4},
        {0.64, WW_OK, 5},
        {0.50, WW_OK, 5},
        {1.30 - 0.20, WW_OK, 2},
        {0.7951, WW_OK, 3},
        {0.7949, WW_OK, 4},
        {1.604, WW_OK, 0},
        {1.606, WW_ENODATA, -7},
        {0.494, WW_ENODATA, -7},
        {2.731, WW_ENODATA, -7},
        {1e-9, WW_ENODATA, -7},
        {0.0, WW_EDOMAIN, -7},
        {-1.1, WW_EDOMAIN, -7},
        {(double)NAN, WW_EDOMAIN, -7},
        {HUGE_VAL, WW_EDOMAIN, -7},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        int grade = -7;
        ww_error err = WW_ERROR_INIT;
        test_status("range", ww_paper_grade_of_range(rows[i].range, &grade, &err), rows[i].status,
                    &err);
        test_close("grade", grade, rows[i].grade, 0.0);
    }
}

/* Each row of the table ends where the next grade begins. */
static void least_of_a_grade(void **state) {
    static const double least[] = {1.41, 1.15, 0.95, 0.80, 0.65, 0.50}; /* the same sheet */
    (void)state;
    for (int g = 0; g < WW_PAPER_GRADES; g++)
        test_close("least", ww_paper_grade_least(g), least[g], 1e-12);
}

static void nominal_range(void **state) {
    (void)state;
    /* Middles of the ranges of ANSI PH2.2-1966, inner edges from memory; between: straight lines.
     */
    static const struct {
        double grade;
        ww_status status;
        double iso_range;
    } rows[] = {
        {0, WW_OK, 155},
        {1, WW_OK, 128},
        {2, WW_OK, 105},
        {3, WW_OK, 88},
        {4, WW_OK, 73},
        {5, WW_OK, 58},
        {0.5, WW_OK, 141.5},
        {2.5, WW_OK, 96.5},
        {4.5, WW_OK, 65.5},
        {3.2, WW_OK, 85},
        {-0.5, WW_EDOMAIN, 7},
        {5.5, WW_EDOMAIN, 7},
        {(double)NAN, WW_EDOMAIN, 7},
        {HUGE_VAL, WW_EDOMAIN, 7},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double iso_range = 7;
        ww_error err = WW_ERROR_INIT;
        test_status("grade", ww_paper_nominal_range(rows[i].grade, &iso_range, &err),
                    rows[i].status, &err);
        test_close("R", iso_range, rows[i].iso_range, 1e-12);
    }
    /* A grade's own middle asks for that grade (both tables, rounding of middles apart). */
    for (int g = 0; g < WW_PAPER_GRADES; g++) {
        double iso_range = 0;
        int grade = -1;
        ww_paper_nominal_range(g, &iso_range, NULL);
        test_status("middle", ww_paper_grade_of_range(iso_range / 100.0, &grade, NULL), WW_OK,
                    NULL);
        test_close("back", grade, g, 0.0);
    }
}

static void words(void **state) {
    (void)state;
    test_text("grade 0", ww_paper_grade_word(0), "very soft");
    test_text("grade 2", ww_paper_grade_word(2), "medium");
    test_text("grade 5", ww_paper_grade_word(5), "extra hard");
    test_true("none", ww_paper_grade_word(-1) == NULL && ww_paper_grade_word(6) == NULL);
}

static void aim_index(void **state) {
    (void)state;
    static const double log2_10 = 0.301029995663981;
    const struct {
        const char *name, *source;
        double negative, subject, flare;
        ww_status status;
        double index, tolerance;
    } rows[] = {
        {"1.20 over 7 stops", "Zone System, no flare: 0.571", 1.20, 2.10, 0.0, WW_OK, 0.5714, 5e-5},
        {"7 stops exactly", "closed form: 7 log10 2 = 2.1072", 1.20, 7.0 * log2_10, 0.0, WW_OK,
         1.20 / 2.1072, 1e-4},
        {"N-2", "published table, as quoted: 0.444", 1.20, 2.70, 0.0, WW_OK, 0.444, 5e-4},
        {"N+2", "published table, as quoted: 0.800", 1.20, 1.50, 0.0, WW_OK, 0.800, 5e-4},
        {"1.05 with flare 0.40", "closed form", 1.05, 2.20, 0.40, WW_OK, 0.583, 5e-4},
        {"1.05 with flare 0.34", "closed form", 1.05, 2.20, 0.34, WW_OK, 0.565, 5e-4},
        {"1.05 with flare 0.30", "closed form", 1.05, 2.20, 0.30, WW_OK, 0.553, 5e-4},
        {"1.03 in 7 1/3 stops", "worked pair of a printers' forum: 0.56 (flare 0.36 solved back)",
         1.03, 22.0 / 3.0 * log2_10, 0.36, WW_OK, 0.56, 0.005},
        {"no range", "contract", 0.0, 2.2, 0.4, WW_EDOMAIN, 7, 0},
        {"no number", "contract", (double)NAN, 2.2, 0.4, WW_EDOMAIN, 7, 0},
        {"flare eats all", "contract", 1.05, 0.4, 0.4, WW_EDOMAIN, 7, 0},
        {"negative flare", "contract", 1.05, 2.2, -0.1, WW_EDOMAIN, 7, 0},
        {"endless subject", "contract", 1.05, HUGE_VAL, 0.3, WW_EDOMAIN, 7, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double index = 7;
        ww_error err = WW_ERROR_INIT;
        test_status(
            rows[i].name,
            ww_paper_aim_index(rows[i].negative, rows[i].subject, rows[i].flare, &index, &err),
            rows[i].status, &err);
        test_close(rows[i].name, index, rows[i].index, rows[i].tolerance);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grade_of_range),
        cmocka_unit_test(least_of_a_grade),
        cmocka_unit_test(nominal_range),
        cmocka_unit_test(words),
        cmocka_unit_test(aim_index),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
