/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_step_notes.h"
#include "support/support.h"

static char names[9][3] = {"1", "2", "3", "4", "5", "6", "7", "8", "9"};

/* Nine steps of density 0.2 k that read as they should. */
static ww_scanner make(ww_scanner_step step[9]) {
    ww_scanner scanner = {.white = 255.0};
    for (size_t i = 0; i < 9; i++) {
        const double density = 0.2 * (double)i;
        step[i] = (ww_scanner_step){.step = names[i],
                                    .density = density,
                                    .fitted = density,
                                    .code = 250.0 / (double)(i + 1)};
    }
    scanner.channel[WW_RED] = (ww_scanner_channel){.present = true, .step = step, .n_steps = 9};
    return scanner;
}

static void says(ww_scanner *scanner, size_t n, const char *words) {
    assert_int_equal(ww__scanner_step_notes_add(scanner, WW_RED, NULL), WW_OK);
    test_close(words, (double)scanner->notes.n, (double)n, 0.0);
    test_true(words, n == 0 || test_noted(&scanner->notes, words));
    ww_notes_release(&scanner->notes);
}

/* Source: definition; three and more in a row are told by their ends. */
static void steps_are_named_by_what_is_the_matter(void **state) {
    ww_scanner_step step[9];
    ww_scanner scanner = make(step);
    (void)state;
    says(&scanner, 0, "nothing");
    step[0].clipped = true;
    says(&scanner, 1, "Step 1 (red) clipped at the bright end");
    step[0].clipped = false;
    step[4].clipped = step[6].clipped = step[7].clipped = step[8].clipped = true;
    says(&scanner, 1, "Steps 5, 7 to 9 (red) clipped at the dark end");
    step[2].compressed = step[3].compressed = true;
    says(&scanner, 2, "Steps 3, 4 (red) compressed");
}

/* Source: the limit of a third of their difference, in the program's own words. */
static void suspects_are_told_one_by_one_or_as_swapped(void **state) {
    ww_scanner_step step[9];
    ww_scanner scanner = make(step);
    (void)state;
    step[2].suspect = true;
    step[2].fitted = 0.53;
    says(&scanner, 1, "Step 3 (red) reads 0.13 D denser than its density");
    step[2].fitted = 0.27;
    says(&scanner, 1, "Step 3 (red) reads 0.13 D thinner than its density");
    step[2].fitted = 0.81;
    step[4].suspect = true;
    step[4].fitted = 0.39;
    says(&scanner, 1, "Steps 3 and 5 (red) look swapped");
    step[4].fitted = 0.55; /* not by 0.15: the limit is 0.133 */
    says(&scanner, 2, "Step 5 (red) reads 0.25 D thinner");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(steps_are_named_by_what_is_the_matter),
        cmocka_unit_test(suspects_are_told_one_by_one_or_as_swapped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
