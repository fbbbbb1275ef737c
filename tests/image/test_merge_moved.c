/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_made.h"
#include <wedgework/scan_merge.h>

/* Source: as the scans are drawn: a part of 100 x 80 px lies where it was put, and what else
 * differs is no displacement. All of merging is asked, as a user would. */

typedef struct row {
    const char *name;
    double everywhere; /* px by which all of the longer scan is displaced */
    size_t x, moved;   /* px: left edge of the part, and how far it is moved */
    size_t dust, slid; /* px: a square without light, in the second alone; in both, moved */
    double noisier;
    ww_status status;
} row;

static const row rows[] = {
    {"honest", 0.0, 0, 0, 0, 0, 1.0, WW_OK},
    {"honest, 0.7 px apart", 0.7, 0, 0, 0, 0, 1.0, WW_OK},
    {"2 px where it is light", 0.0, 200, 2, 0, 0, 1.0, WW_EMISMATCH},
    {"3 px in the middle", 0.0, 300, 3, 0, 0, 1.0, WW_EMISMATCH},
    {"2 px in the dark", 0.0, 450, 2, 0, 0, 1.0, WW_EMISMATCH},
    {"3 px in noise", 0.3, 300, 3, 0, 0, 3.0, WW_EMISMATCH},
    {"where the longer is clipped in part", 0.0, 110, 3, 0, 0, 1.0, WW_EMISMATCH},
    {"dust that came", 0.0, 0, 0, 16, 0, 1.0, WW_OK},
    {"dust that slid", 0.0, 0, 0, 0, 5, 1.0, WW_OK},
};

static ww_status merge(const row *r, ww_scan_merge *merge, ww_error *err) {
    made_pair m = {.width = 600,
                   .height = 400,
                   .channels = 1,
                   .kind = WW_SAMPLE_16,
                   .ratio = 3.0,
                   .read = 0.0005,
                   .shot = 0.002};
    m.right = r->everywhere;
    m.read *= r->noisier;
    m.shot *= r->noisier;
    ww_picture a = made_scan(&m, false, 1), b = made_scan(&m, true, 2);
    made_rows got = {malloc(m.width * m.height * 2), m.width * 2, 0, WW_OK};
    if (r->moved > 0)
        made_move(&b, (ww_region){r->x, 150, 100, 80}, r->moved);
    made_speck(&b, 400, 100, r->dust);
    if (r->slid > 0) {
        made_speck(&a, 400, 200, 6);
        made_speck(&b, 400 + r->slid, 200, 6);
    }
    ww_status status = ww_scan_merge_measure(&a, &b, NULL, merge, err);
    if (status == WW_OK)
        status = ww_scan_merge_rows(&a, &b, NULL, merge, (ww_row_sink){made_take, &got}, err);
    free(got.bytes);
    ww_picture_release(&a);
    ww_picture_release(&b);
    return status;
}

static void parts_that_moved_are_refused_and_nothing_else_is(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_scan_merge m = WW_SCAN_MERGE_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].name, merge(&rows[i], &m, &err), rows[i].status, &err);
        if (rows[i].status != WW_OK) {
            test_holds(rows[i].name, err.msg, " px to the right of ");
            test_holds(rows[i].name, err.msg, "but not as a whole: more than 1 px");
        } else
            test_close(rows[i].name, m.holds, rows[i].dust + rows[i].slid == 0, 0.0);
        ww_scan_merge_release(&m);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(parts_that_moved_are_refused_and_nothing_else_is)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
