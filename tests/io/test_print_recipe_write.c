/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/recipe_sample.h"
#include "support/support.h"
#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Source: the description of the recipe in wedgework/print_recipe.h. */

static json_t *inputs_of(const ww_print_request *request, json_t **document) {
    char *text = recipe_sample_text(request);
    *document = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    free(text);
    assert_non_null(*document);
    test_text("kind", json_string_value(json_object_get(*document, "kind")), "print plan");
    return json_object_get(*document, "inputs");
}

static const char *text_at(const json_t *inputs, const char *list, size_t index, const char *key) {
    const json_t *item = json_array_get(json_object_get(inputs, list), index);
    return json_string_value(key ? json_object_get(item, key) : item);
}

static double number_at(const json_t *inputs, const char *list, size_t index, const char *key) {
    const json_t *item = json_array_get(json_object_get(inputs, list), index);
    return json_number_value(json_object_get(list ? item : inputs, key));
}

static void writes_everything(void **state) {
    recipe_sample sample;
    json_t *document, *inputs;
    const json_t *paper;
    (void)state;
    recipe_sample_start(&sample);
    sample.c.request.flash = &sample.c.negative;
    inputs = inputs_of(&sample.c.request, &document);
    test_text("metadata", text_at(inputs, "negative", 0, NULL), "# name: Quay, October");
    test_text("flash", text_at(inputs, "flash", 0, NULL), "# name: Quay, October");
    test_true("split", json_is_null(json_object_get(inputs, "split")));
    paper = json_array_get(json_object_get(inputs, "papers"), 0);
    test_text("curve", json_string_value(json_object_get(paper, "kind")), "curve");
    test_text("lot", json_string_value(json_object_get(paper, "lot")), "B7 \"late\"");
    test_text("place", text_at(inputs, "places", 1, "tone"), "wall, \"old\"");
    test_close("aim", number_at(inputs, "places", 1, "aim"), 0.70, 0.0);
    test_close("test", number_at(inputs, "tests", 0, "time"), 12.5, 0.0);
    test_close("test", number_at(inputs, "tests", 0, "density"), 0.20, 0.0);
    test_close("move", number_at(inputs, "moves", 0, "stops"), 0.5, 0.0);
    test_close("Callier", number_at(inputs, NULL, 0, "callier"), 1.1, 0.0);
    test_close("flare", number_at(inputs, NULL, 0, "enlarger_flare"), 0.013, 0.0);
    test_close("dry-down", number_at(inputs, NULL, 0, "dry_down"), 8.0, 0.0);
    test_close("from scale", number_at(inputs, NULL, 0, "from_scale"), 3.0, 0.0);
    test_close("aperture", number_at(inputs, NULL, 0, "aperture"), 11.0, 0.0);
    test_close("P", number_at(inputs, NULL, 0, "reciprocity"), 1.05, 0.0);
    test_close("timer", number_at(inputs, NULL, 0, "timer_step"), 0.2, 0.0);
    test_close("repeatability", number_at(inputs, NULL, 0, "repeatability"), 0.02, 0.0);
    test_close("lift", number_at(inputs, NULL, 0, "lift"), 0.07, 0.0);
    test_close("offset", number_at(inputs, "offsets", 0, "log_h"), 0.0731, 0.0);
    test_close("prints", number_at(inputs, "offsets", 0, "prints"), 3.0, 0.0);
    test_text("place", text_at(inputs, "offsets", 0, "tone"), "cloud");
    test_close("its density", number_at(inputs, "offsets", 0, "density"), 0.1337, 0.0);
    test_text("no place", text_at(inputs, "offsets", 1, "tone"), "");
    test_text("any paper", text_at(inputs, "offsets", 1, "paper"), "");
    json_decref(document);

    sample.c.request.n_papers = 0;
    sample.c.request.scale.set = false;
    inputs = inputs_of(&sample.c.request, &document);
    test_text("nominal", json_string_value(json_object_get(inputs, "papers")), "nominal");
    test_true("not said", json_is_null(json_object_get(inputs, "scale")));
    json_decref(document);
}

static void refuses_what_cannot_be_written(void **state) {
    const ww_print_plan plan = WW_PRINT_PLAN_INIT;
    recipe_sample sample;
    char *text = NULL;
    size_t n = 77;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    recipe_sample_start(&sample);
    sample.move[0].stops = (double)NAN;
    test_status("NaN", ww_print_recipe_text(&plan, &sample.c.request, &text, &n, &err), WW_EDOMAIN,
                &err);
    recipe_sample_start(&sample);
    sample.c.row[1].cell[WW_COLUMN_VISUAL].value = HUGE_VAL;
    test_status("a reading", ww_print_recipe_text(&plan, &sample.c.request, &text, &n, &err),
                WW_EDOMAIN, &err);
    test_true("untouched", text == NULL && n == 77);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_everything),
        cmocka_unit_test(refuses_what_cannot_be_written),
    };
    return cmocka_run_group_tests_name("print_recipe_write", tests, NULL, NULL);
}
