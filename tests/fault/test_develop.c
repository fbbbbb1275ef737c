/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "support/develop_case.h"
#include <stdlib.h>
#include <wedgework/develop_file.h>
#include <wedgework/develop_text.h>

/* Source: definition (the Status lines of the headers). */

static ww_status shown(const ww_development *plan, ww_error *err) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    char *text = NULL, *document = NULL;
    size_t n;
    ww_status status = ww_develop_text(plan, &style, &text, err);
    if (status == WW_OK)
        status = ww_develop_file_text(plan, &document, &n, err);
    free(text);
    free(document);
    return status;
}

static ww_status develop(void *context, ww_error *err) {
    const develop_case *c = context;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    ww_development plan = WW_DEVELOPMENT_INIT;
    request.density_range = (ww_optional){true, 1.2};
    request.subject_range = (ww_optional){true, 2.0};
    request.metered_index = (ww_optional){true, 100.0};
    ww_status status = ww_develop_plan(c->input, c->n, &request, &plan, err);
    test_true("all or nothing", (plan.n == c->n) == (status == WW_OK));
    if (status == WW_OK)
        status = shown(&plan, err);
    ww_development_release(&plan);
    return status;
}

static void plans(void **state) {
    develop_case c;
    (void)state;
    develop_case_start(&c, 1.0, 0.14, 0.0);
    for (int i = 1; i <= 3; i++)
        develop_case_add(&c, 5.0 * i, 0.004, 1.0);
    develop_case_add(&c, 7.0, 0.004, 0.8);
    develop_case_add(&c, 8.0, 0.004, 1.0)->meta.temperature_c.value = 18.0;
    inject_each("development plans", develop, &c);
    develop_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(plans)};
    return cmocka_run_group_tests_name("development plans without memory", tests, NULL, NULL);
}
