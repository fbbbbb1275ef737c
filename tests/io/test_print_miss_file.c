/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/print_recipe_parts.h"
#include "support/support.h"
#include <jansson.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/print_plan_file.h>

/* Source: the description of the print document in wedgework/print_plan_file.h; all invented. */

static char cloud[] = "cloud", paper[] = "Millrace gloss", empty[] = "", why[] = "it came out so.";
static ww_miss_tone tones[] = {
    {cloud, WW_PART_THIN, 0.10, false, 0.14, 0.02, 0.01},
    {cloud, WW_PART_DENSE, 0.004, true, 0.03, 0.02, 0.0},
};

static ww_print_miss sample(void) {
    ww_print_miss miss = {.set = true,
                          .paper = paper,
                          .contrast = empty,
                          .time_s = 14.1,
                          .n_supported = 1,
                          .best = WW_MISS_EXPOSURE,
                          .tone = tones,
                          .n_tones = 2,
                          .telling = empty,
                          .besides = paper,
                          .why = why,
                          .learned = true,
                          .offset = {.paper = paper, .log_h = 0.09, .sd = 0.006, .prints = 2}};
    miss.hypothesis[WW_MISS_NOTHING] =
        (ww_miss_hypothesis){.tried = true, .chi_squared = 30.0, .freedom = 2, .chance = 3e-7};
    miss.hypothesis[WW_MISS_EXPOSURE] = (ww_miss_hypothesis){.tried = true,
                                                             .supported = true,
                                                             .log_h = {true, 0.09},
                                                             .log_h_sd = {true, 0.007},
                                                             .chi_squared = 0.4,
                                                             .freedom = 1,
                                                             .chance = 0.53};
    return miss;
}

static json_t *document_of(ww_print_miss *miss) {
    ww_print_plan plan = {.miss = miss};
    char *text = NULL;
    size_t n = 0;
    ww_error err = WW_ERROR_INIT;
    json_t *document;
    test_status("text", ww_print_plan_file_text(&plan, &text, &n, &err), WW_OK, &err);
    document = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(document);
    free(text);
    return document;
}

static const char *text_of(const json_t *object, const char *key) {
    return json_string_value(json_object_get(object, key));
}

static double number_of(const json_t *object, const char *key) {
    return json_number_value(json_object_get(object, key));
}

static void writes_it(void **state) {
    ww_print_miss miss = sample();
    json_t *document = document_of(&miss);
    const json_t *at = json_object_get(document, "miss"), *list, *item;
    (void)state;
    test_text("cause", text_of(at, "cause"), "exposure");
    test_text("supported", json_string_value(json_array_get(json_object_get(at, "supported"), 0)),
              "exposure");
    test_text("why", text_of(at, "why"), why);
    test_text("paper", text_of(at, "paper"), paper);
    test_true("contrast", json_is_null(json_object_get(at, "contrast")));
    test_true("telling", json_is_null(json_object_get(at, "telling")));
    test_text("besides", text_of(at, "besides"), paper);
    test_close("time", number_of(at, "time"), 14.1, 0.0);
    test_close("learned", number_of(json_object_get(at, "learned"), "log_h"), 0.09, 0.0);
    list = json_object_get(at, "hypotheses");
    test_true("tried ones", json_array_size(list) == 2);
    item = json_array_get(list, 1);
    test_text("cause", text_of(item, "cause"), "exposure");
    test_close("log H", number_of(item, "log_h"), 0.09, 0.0);
    test_true("range", json_is_null(json_object_get(item, "range")));
    test_close("chi-square", number_of(item, "chi_squared"), 0.4, 0.0);
    test_close("freedom", number_of(item, "freedom"), 1.0, 0.0);
    list = json_object_get(at, "tones");
    item = json_array_get(list, 1);
    test_text("part", text_of(item, "part"), "dense");
    test_true("beyond", json_is_true(json_object_get(item, "beyond")));
    test_close("came", number_of(item, "came"), 0.03, 0.0);
    json_decref(document);
}

/* Where causes fit alike there is no one cause, and nothing learned. */
static void writes_what_is_open(void **state) {
    ww_print_miss miss = sample();
    json_t *document;
    const json_t *at;
    (void)state;
    miss.hypothesis[WW_MISS_LIGHT_END] = miss.hypothesis[WW_MISS_EXPOSURE];
    miss.n_supported = 2;
    miss.learned = false;
    miss.telling = cloud;
    miss.odd = cloud;
    miss.hypothesis[WW_MISS_LIGHT_END].off = (ww_optional){true, -0.12};
    document = document_of(&miss);
    at = json_object_get(document, "miss");
    test_true("cause", json_is_null(json_object_get(at, "cause")));
    test_true("both", json_array_size(json_object_get(at, "supported")) == 2);
    test_true("learned", json_is_null(json_object_get(at, "learned")));
    test_text("telling", text_of(at, "telling"), "cloud");
    test_text("odd", text_of(at, "odd"), "cloud");
    test_close("off", number_of(json_array_get(json_object_get(at, "hypotheses"), 2), "off"), -0.12,
               0.0);
    json_decref(document);
    document = document_of(NULL);
    test_true("none", json_is_null(json_object_get(document, "miss")));
    json_decref(document);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_it),
        cmocka_unit_test(writes_what_is_open),
    };
    return cmocka_run_group_tests_name("print_miss_file", tests, NULL, NULL);
}
