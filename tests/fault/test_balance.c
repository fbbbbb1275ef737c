/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "support/colour_paper.h"
#include <stdlib.h>
#include <wedgework/balance_text.h>
#include <wedgework/filter_plan_file.h>

/* Source: definition (the Status lines of the headers). */

static ww_status shown(const ww_balance *balance, ww_error *err) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    char *text = NULL, *document = NULL;
    size_t n;
    ww_filter_plan plan;
    ww_status status = ww_balance_text(balance, &style, &text, err);
    if (status == WW_OK)
        status = ww_filter_plan_file_text(balance, &document, &n, err);
    if (status == WW_OK)
        status = ww_filter_plan_file_parse("plan.json", document, n, &plan, err);
    free(text);
    free(document);
    return status;
}

static ww_status print(void *context, ww_error *err) {
    const balance_case *c = context;
    ww_balance balance = WW_BALANCE_INIT;
    ww_status status = ww_balance_print(&c->request, &balance, err);
    test_true("all or nothing", (balance.n_tones > 0) == (status == WW_OK));
    if (status == WW_OK)
        status = shown(&balance, err);
    ww_balance_release(&balance);
    return status;
}

static ww_status carry(void *context, ww_error *err) {
    const balance_case *c = context;
    const ww_balance_offset offset = {.change = {{5, -2.5, 0}},
                                      .stops = 1.5,
                                      .factor = 1.0,
                                      .grey = {.known = true},
                                      .lot_grey = {.known = true}};
    ww_balance balance = WW_BALANCE_INIT;
    ww_status status = ww_balance_carry(&c->request, &offset, &balance, err);
    if (status == WW_OK)
        status = shown(&balance, err);
    ww_balance_release(&balance);
    return status;
}

/* With everything that makes a note: a ring-around of which a row is flat, crossover, a burn. */
static void balances(void **state) {
    balance_case c;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "light", 0.40, 0.30, 0.30, 0.30, 0.30, 0.30);
    balance_case_grey(&c, "dark", 1.60, 1.60, 1.40, 1.60, 1.60, 1.60);
    balance_case_grey(&c, "sky", 0.30, 0.30, 0.30, 0.90, 0.90, 0.90);
    balance_case_ring(&c, "light", 60, 55, 0, 11, 0.38, 0.15, 0.25);
    balance_case_ring(&c, "light", 60, 45, 0, 2, 0.10, 0.10, 0.10);
    c.request.burn = "sky";
    inject_each("a print", print, &c);
    inject_each("a stored plan", carry, &c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(balances)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
