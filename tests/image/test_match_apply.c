/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_made.h"
#include "support/match_case.h"
#include <wedgework/match_apply.h>

/* Source: ww_match_value, whose own tests hold outside values; codes by definition. */

enum { WIDTH = 256, HEIGHT = 257 };

static double code_at(const ww_picture *p, size_t i, size_t c) {
    const size_t at = (i + c * 1000) % 65536;
    return p->sample == WW_SAMPLE_8    ? (double)(at % 256)
           : p->sample == WW_SAMPLE_16 ? fmin((double)at, p->white)
                                       : (double)((float)at / 65535.0f);
}

static ww_picture every_code(ww_sample kind, size_t channels, array_layout layout, double white) {
    ww_picture p = array_picture_new(WIDTH, HEIGHT, channels, kind, layout);
    p.white = white;
    for (size_t i = 0; i < WIDTH * HEIGHT; i++)
        for (size_t c = 0; c < channels; c++)
            array_set(&p, i % WIDTH, i / WIDTH, c, code_at(&p, i, c));
    return p;
}

static void every_code_of_every_layout(void **state) {
    (void)state;
    static const struct {
        const char *row;
        ww_sample kind;
        size_t channels, curves;
        array_layout layout;
        double white;
    } rows[] = {
        {"8 bit grey", WW_SAMPLE_8, 1, 1, ARRAY_ROWS, 255},
        {"16 bit RGB", WW_SAMPLE_16, 3, 3, ARRAY_ROWS, 65535},
        {"16 bit RGB, one curve", WW_SAMPLE_16, 3, 1, ARRAY_PLANES, 65535},
        {"12 bit, turned", WW_SAMPLE_16, 3, 3, ARRAY_TURNED, 4095},
        {"floating point", WW_SAMPLE_FLOAT, 3, 3, ARRAY_ROWS, 1},
    };
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        ww_picture p = every_code(rows[r].kind, rows[r].channels, rows[r].layout, rows[r].white);
        ww_match *match = match_case(rows[r].curves, WW_RAMP_VALUES);
        const ww_picture_form form = ww_picture_form_of(&p);
        made_rows made = {.row_bytes = WIDTH * p.channels * (form.sample == WW_SAMPLE_16 ? 2 : 4)};
        ww_notes notes = WW_NOTES_INIT;
        ww_error err = WW_ERROR_INIT;
        made.bytes = malloc(HEIGHT * made.row_bytes);
        assert_non_null(made.bytes);
        test_status(rows[r].row,
                    ww_match_apply_rows(&p, match, (ww_row_sink){made_take, &made}, &notes, &err),
                    WW_OK, &err);
        for (size_t i = 0; i < WIDTH * HEIGHT * p.channels; i++) {
            const size_t c = i % p.channels;
            const double want = ww_match_value(match, c, code_at(&p, i / p.channels, c) / p.white);
            if (form.sample == WW_SAMPLE_16)
                test_close(rows[r].row, ((const uint16_t *)(const void *)made.bytes)[i],
                           65535.0 * want, 0.501);
            else
                test_close(rows[r].row, (double)((const float *)(const void *)made.bytes)[i], want,
                           1e-6);
        }
        test_true("bits told",
                  test_noted(&notes, "written in 16") == (rows[r].kind == WW_SAMPLE_8));
        free(made.bytes);
        ww_notes_release(&notes);
        ww_notes_release(&match->notes);
        ww_picture_release(&p);
    }
}

static void what_is_no_value(void **state) {
    (void)state;
    ww_picture p = array_picture_new(4, 1, 1, WW_SAMPLE_FLOAT, ARRAY_ROWS);
    ww_match *match = match_case(1, WW_RAMP_VALUE);
    float made[4];
    made_rows to = {.row_bytes = sizeof made, .bytes = (unsigned char *)made};
    ww_notes notes = WW_NOTES_INIT;
    p.white = 1.0;
    array_set(&p, 0, 0, 0, -0.2);
    array_set(&p, 1, 0, 0, 1.3);
    array_set(&p, 2, 0, 0, (double)NAN);
    array_set(&p, 3, 0, 0, 1.0);
    test_status("reals",
                ww_match_apply_rows(&p, match, (ww_row_sink){made_take, &to}, &notes, NULL), WW_OK,
                NULL);
    test_close("black", (double)made[0], 0.0, 0.0);
    test_close("white", (double)made[1], 1.0, 0.0);
    test_true("none", isnan(made[2]));
    test_true("told", test_noted(&notes, "2 samples were beyond black or white"));
    test_true("told", test_noted(&notes, "1 sample holds no number, and stays so."));
    ww_notes_release(&notes);
    ww_notes_release(&match->notes);
    ww_picture_release(&p);
}

/* Profile and resolution go into the form; a grey picture has no use for three curves; what the
 * sink refuses is handed on. */
static void form_and_refusals(void **state) {
    (void)state;
    ww_picture p = array_picture_new(8, 4, 1, WW_SAMPLE_16, ARRAY_ROWS);
    ww_match *match = match_case(3, WW_RAMP_VALUES);
    unsigned char profile[5] = {1, 2, 3, 4, 5}, bytes[64];
    made_rows to = {.row_bytes = 16, .bytes = bytes, .refuse = WW_ESYSTEM};
    ww_notes notes = WW_NOTES_INIT;
    ww_error err = WW_ERROR_INIT;
    p.icc = profile;
    p.n_icc = sizeof profile;
    p.px_per_mm_x = (ww_optional){true, 11.8};
    const ww_picture_form form = ww_picture_form_of(&p);
    test_true("profile", form.icc == profile && form.n_icc == 5);
    test_close("resolution", form.px_per_mm_x.value, 11.8, 0.0);
    p.icc = NULL;
    test_status("grey", ww_match_apply_rows(&p, match, (ww_row_sink){made_take, &to}, &notes, &err),
                WW_EMISMATCH, &err);
    ww_notes_release(&match->notes);
    match = match_case(1, WW_RAMP_VALUE);
    test_status("sink", ww_match_apply_rows(&p, match, (ww_row_sink){made_take, &to}, &notes, &err),
                WW_ESYSTEM, &err);
    p.left_out = 1;
    test_status("alpha",
                ww_match_apply_rows(&p, match, (ww_row_sink){made_take, &to}, &notes, &err),
                WW_EMISMATCH, &err);
    test_holds("alpha", err.msg, "save the picture without it");
    ww_notes_release(&notes);
    ww_notes_release(&match->notes);
    ww_picture_release(&p);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_code_of_every_layout),
                                       cmocka_unit_test(what_is_no_value),
                                       cmocka_unit_test(form_and_refusals)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
