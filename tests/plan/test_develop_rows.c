/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/develop_parts.h"
#include "support/develop_case.h"
#include <stdlib.h>

/* Source: the interface (what may stand beside what); definitions. */

static ww_develop_request asked(void) {
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    request.contrast_index = (ww_optional){true, 0.6};
    return request;
}

static void expect(const char *row, const develop_case *c, ww_status want, const char *words) {
    const ww_develop_request request = asked();
    ww_development plan = WW_DEVELOPMENT_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_develop_plan(c->input, c->n, &request, &plan, &err), want, &err);
    if (want != WW_OK) {
        test_holds(row, err.msg, words);
        test_text(row, err.file, "strips/1.json");
    }
    ww_development_release(&plan);
}

static void start(develop_case *c) {
    develop_case_start(c, 1.07, 0.137, 0.0);
    develop_case_add(c, 5.0, 0.004, 1.0);
    develop_case_add(c, 9.0, 0.004, 1.0);
}

static void what_goes_together(void **state) {
    static char one[] = "Fenlight", two[] = "Moorland";
    develop_case c;
    ww_meta *meta = &c.curve[1].meta;
    (void)state;
    start(&c);
    expect("two times", &c, WW_OK, "");
    c.input[0].file = c.input[1].file;
    expect("one file twice", &c, WW_EINPUT, "given twice");
    c.input[0].file = c.file[0];
    meta->material = WW_MATERIAL_PAPER;
    expect("paper", &c, WW_EMISMATCH, "a curve of paper");
    meta->material = WW_MATERIAL_FILM;
    meta->process = WW_PROCESS_REVERSAL;
    expect("reversal", &c, WW_EMISMATCH, "was reversed");
    meta->process = WW_PROCESS_UNKNOWN;
    meta->development_time_min.set = false;
    expect("no time", &c, WW_ENODATA, "how long");
    meta->development_time_min = (ww_optional){true, 9.0};
    meta->temperature_c.set = false;
    expect("temperature", &c, WW_EMISMATCH, "temperature");
    meta->temperature_c.set = true;
    c.curve[0].meta.status = WW_STATUS_M;
    expect("unknown status goes with any", &c, WW_OK, "");
    meta->status = WW_STATUS_A;
    expect("status", &c, WW_EMISMATCH, "density status here is 'A'");
    meta->status = WW_STATUS_UNKNOWN;
    meta->emulsion = WW_EMULSION_COLOUR_NEGATIVE;
    expect("emulsion", &c, WW_EMISMATCH, "emulsion");
    meta->emulsion = WW_EMULSION_BLACK_AND_WHITE;
    c.curve[0].meta.name = one;
    meta->name = two;
    expect("two films", &c, WW_EMISMATCH, "'Moorland'");
    c.curve[0].meta.name = meta->name = NULL;
    c.curve[1].channel[WW_VISUAL].present = false;
    expect("no channel", &c, WW_ENODATA, "no channel");
    c.curve[1].channel[WW_VISUAL].present = true;
    develop_case_end(&c);
}

static void order(void **state) {
    develop_case c;
    size_t at[WW_DEVELOP_MOST];
    const ww_develop_request request = asked();
    ww_development plan = WW_DEVELOPMENT_INIT;
    (void)state;
    develop_case_start(&c, 1.07, 0.137, 0.0);
    develop_case_add(&c, 9.0, 0.004, 1.0);
    develop_case_add(&c, 5.0, 0.004, 1.0);
    develop_case_add(&c, 9.0, 0.004, 1.01);
    develop_case_add(&c, 7.0, 0.004, 1.0)->meta.temperature_c.value = 24.0;
    test_status("rows", ww__develop_rows(c.input, c.n, &request, &plan, at, NULL), WW_OK, NULL);
    assert_int_equal(at[0], 1);
    assert_int_equal(at[1], 3);
    assert_int_equal(at[2], 0);
    assert_int_equal(at[3], 2);
    ww__develop_find_reference(&plan);
    test_close("temperature of most times", plan.by_temperature.reference_c, 20.0, 0.0);
    test_close("hottest", plan.by_temperature.most_c, 24.0, 0.0);
    test_true("other", plan.row[1].other_temperature && !plan.row[0].other_temperature);
    ww_development_release(&plan);
    develop_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_goes_together),
                                       cmocka_unit_test(order)};
    return cmocka_run_group_tests_name("curves of a development plan", tests, NULL, NULL);
}
