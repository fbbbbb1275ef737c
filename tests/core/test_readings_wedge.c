/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"

#include <string.h>
#include <wedgework/readings_file.h>

typedef struct wedge_case {
    const char *row, *text;
    ww_status status;
    size_t line;
    const char *says; /* NULL: nothing */
} wedge_case;

/* Source: definition. What says that it is something else is no wedge; a label that stands on two
 * densities is a slip of the pen, and on two readings of one step it is not. */
static const wedge_case cases[] = {
    {"a wedge", "# material: wedge\nstep,visual\n1,0.05\n2,0.20\n", WW_OK, 0, NULL},
    {"not said", "step,visual\n1,0.05\n2,0.20\n", WW_OK, 0, NULL},
    {"a film", "# material: film\nstep,visual\n1,0.05\n2,0.20\n", WW_EMISMATCH, 0,
     "readings of a film, not the densities of a wedge"},
    {"a print", "# material: print\nstep,visual\n1,0.05\n2,0.20\n", WW_EMISMATCH, 0,
     "put '# material: wedge' into this one"},
    {"read twice", "step,visual\n1,0.05\n2,0.20\n2,0.24\n", WW_OK, 0, NULL},
    {"one label on two", "step,visual\n1,0.05\n2,0.20\n2,0.35\n", WW_EMISMATCH, 4,
     "step '2' stands there twice, with densities 0.350 and 0.200 (line 3)"},
    {"in another column", "step,red,blue\n1,0.05,0.05\n2,0.20,0.20\n1,0.05,0.35\n", WW_EMISMATCH, 4,
     "step '1' stands there twice, with densities 0.350 and 0.050 (line 2)"},
    {"bases", "step,visual\nbase,0.05\n1,0.20\nbase,0.20\n", WW_OK, 0, NULL},
};

static void what_is_no_wedge_is_refused(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const wedge_case *c = &cases[i];
        ww_readings wedge = WW_READINGS_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(c->row, ww_readings_file_parse("w.csv", c->text, strlen(c->text), &wedge, &err),
                    WW_OK, &err);
        test_status(c->row, ww_readings_check_wedge(&wedge, &err), c->status, &err);
        test_true(c->row, !c->says || (strstr(err.msg, c->says) && err.line == c->line));
        ww_readings_release(&wedge);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_is_no_wedge_is_refused)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
