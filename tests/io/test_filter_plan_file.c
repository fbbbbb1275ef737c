/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_paper.h"
#include "support/support.h"
#include <jansson.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/filter_plan_file.h>

/* Source of every expectation: the description of the `balance` document, whose keys are fixed. */

static void make(ww_balance *balance, bool burn) {
    balance_case c;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.68, 0.80, 0.72, 0.70, 0.70, 0.70);
    balance_case_grey(&c, "sky \"1\"", 0.30, 0.30, 0.30, 1.00, 1.00, 1.00);
    c.request.burn = burn ? "sky \"1\"" : NULL;
    c.request.tone = "card";
    balance_case_make("plan", &c, balance);
}

static json_t *document_of(const ww_balance *balance) {
    char *text = NULL;
    size_t n = 0;
    json_t *root;
    json_error_t why;
    ww_error err = WW_ERROR_INIT;
    test_status("text", ww_filter_plan_file_text(balance, &text, &n, &err), WW_OK, &err);
    test_true("ends with a line feed", n > 0 && text[n - 1] == '\n' && strlen(text) == n);
    root = json_loads(text, JSON_REJECT_DUPLICATES, &why);
    if (!root)
        fail_msg("no JSON: %s", why.text);
    free(text);
    return root;
}

static double at(const json_t *object, const char *key, const char *inner) {
    const json_t *value = json_object_get(object, key);
    return json_number_value(inner ? json_object_get(value, inner) : value);
}

static void all_keys(void **state) {
    static const char *const keys[] = {"wedgework", "kind",      "from",   "holds", "pack",
                                       "time",      "settable",  "change", "doubt", "predicted",
                                       "within",    "crossover", "tones",  "burn",  "budget",
                                       "response",  "inputs",    "first", "notes"};
    ww_balance balance = WW_BALANCE_INIT;
    json_t *root;
    (void)state;
    make(&balance, true);
    balance.response.covariance[6 * (WW_RESPONSE_TERMS + 1)] = 0.0025; /* magenta in green */
    root = document_of(&balance);
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
        test_true(keys[i], json_object_get(root, keys[i]) != NULL);
    assert_int_equal(json_object_size(root), sizeof keys / sizeof keys[0]);
    test_text("kind", json_string_value(json_object_get(root, "kind")), "filter plan");
    test_text("from", json_string_value(json_object_get(root, "from")), "print");
    test_close("magenta", at(root, "pack", "magenta"), balance.exact.pack.cc[1], 0.0);
    test_close("time", at(root, "time", NULL), balance.exact.time_s, 0.0);
    test_close("set", at(root, "settable", "magenta"), balance.settable.pack.cc[1], 0.0);
    test_close("set time", at(root, "settable", "time"), balance.settable.time_s, 0.0);
    test_close("change", at(root, "change", "yellow"), balance.change.cc[0], 0.0);
    test_close("stops", at(root, "change", "stops"), balance.stops, 0.0);
    test_close("predicted", at(root, "predicted", "green"), balance.tone[0].predicted[1], 0.0);
    test_true("one grey",
              json_is_null(json_object_get(json_object_get(root, "crossover"), "worst_cc")) &&
                  json_is_false(json_object_get(json_object_get(root, "crossover"), "found")));
    test_close("burn", at(root, "burn", "time"), balance.burn.exact.time_s, 0.0);
    assert_int_equal(json_array_size(json_object_get(root, "tones")), 2);
    test_close("its doubt",
               json_number_value(
                   json_object_get(json_object_get(json_object_get(root, "burn"), "doubt"), "cc")),
               balance.burn.doubt.filter, 0.0);
    test_true("of density, too",
              json_is_object(json_object_get(json_array_get(json_object_get(root, "tones"), 1),
                                             "predicted_doubt")));
    assert_int_equal(json_array_size(json_object_get(root, "budget")), 6);
    test_close("of the response: 1.96 sd of 0.05",
               at(json_object_get(json_object_get(root, "response"), "doubt"), "green", "magenta"),
               0.0980, 1e-5);
    json_decref(root);
    ww_balance_release(&balance);
}

static void what_is_not_there_is_null(void **state) {
    ww_balance_offset offset = {.stops = 0.1, .factor = 1.0};
    ww_balance_request request = WW_BALANCE_REQUEST_INIT;
    ww_balance balance = WW_BALANCE_INIT;
    json_t *root;
    (void)state;
    request.from = (ww_balance_setting){{{60, 45, 0}}, 11.0};
    test_status("carried", ww_balance_carry(&request, &offset, &balance, NULL), WW_OK, NULL);
    root = document_of(&balance);
    test_text("from", json_string_value(json_object_get(root, "from")), "carried");
    test_true("nothing foretold", json_is_null(json_object_get(root, "predicted")) &&
                                      json_is_null(json_object_get(root, "doubt")) &&
                                      json_is_null(json_object_get(root, "within")) &&
                                      json_is_null(json_object_get(root, "burn")) &&
                                      json_is_null(json_object_get(root, "response")));
    json_decref(root);
    ww_balance_release(&balance);
    offset.grey.known = offset.lot_grey.known = true;
    offset.grey.aim[WW_GREEN] = 0.94;
    test_status("carried", ww_balance_carry(&request, &offset, &balance, NULL), WW_OK, NULL);
    root = document_of(&balance);
    test_close("foretold", at(root, "predicted", "green"), 0.94, 0.0);
    test_true("of no print", json_is_null(json_object_get(root, "within")) &&
                                 json_is_null(json_object_get(
                                     json_array_get(json_object_get(root, "tones"), 0), "print")));
    json_decref(root);
    ww_balance_release(&balance);
}

/* Source: definition: what is read back is what was written, to the last bit. */
static void comes_back_as_it_went(void **state) {
    ww_balance balance = WW_BALANCE_INIT;
    ww_filter_plan plan;
    ww_error err = WW_ERROR_INIT;
    char *folder = test_folder_new(), *path = test_path(folder, "plan.json");
    (void)state;
    make(&balance, false);
    test_status("write", ww_filter_plan_file_write(&balance, path, &err), WW_OK, &err);
    test_status("read", ww_filter_plan_file_read(path, &plan, &err), WW_OK, &err);
    for (int f = 0; f < WW_FILTER_COUNT; f++) {
        test_close("pack", plan.exact.pack.cc[f], balance.exact.pack.cc[f], 0.0);
        test_close("change", plan.change.cc[f], balance.change.cc[f], 0.0);
    }
    test_true("grey", plan.grey.known);
    for (int c = 0; c < WW_BALANCE_COLOURS; c++) {
        test_close("its aim", plan.grey.aim[c], balance.tone[0].aim[c], 0.0);
        test_close("its doubt", plan.grey.half[c], balance.tone[0].predicted_half[c], 0.0);
    }
    test_close("time", plan.exact.time_s, balance.exact.time_s, 0.0);
    test_close("stops", plan.stops, balance.stops, 0.0);
    test_close("step", plan.filter_step, 2.5, 0.0);
    test_true("doubt", plan.doubt.known);
    test_close("doubt", plan.doubt.filter, balance.doubt_cc, 0.0);
    test_close("of time", plan.doubt.stops, balance.doubt_stops, 0.0);
    test_status("no folder", ww_filter_plan_file_write(&balance, "/no/such/plan.json", &err),
                WW_ESYSTEM, &err);
    ww_balance_release(&balance);
    free(path);
    test_folder_remove(folder);
}

#define PACK "\"pack\": {\"yellow\": 60, \"magenta\": 45, \"cyan\": 0}, \"time\": 11"
#define CHANGE "\"change\": {\"yellow\": 1, \"magenta\": -2, \"cyan\": 0, \"stops\": 0.1}"
#define INPUTS "\"inputs\": {\"head_scale\": 1, \"filter_step\": 2.5, \"timer_step\": 0.1}"
#define HEAD "{\"wedgework\": 1, \"kind\": \"filter plan\", "

static void refuses_what_is_no_plan(void **state) {
    static const struct {
        const char *name, *text, *says;
    } rows[] = {
        {"nothing", "", "empty"},
        {"kind", "{\"wedgework\": 1, \"kind\": \"print plan\", " PACK ", " CHANGE ", " INPUTS "}",
         "is 'print plan', not 'filter plan'"},
        {"later", "{\"wedgework\": 9, \"kind\": \"filter plan\"}", "version"},
        {"no pack", HEAD CHANGE ", " INPUTS "}", "pack"},
        {"no change", HEAD PACK ", " INPUTS "}", "change"},
        {"no inputs", HEAD PACK ", " CHANGE "}", "inputs"},
        {"time",
         HEAD "\"pack\": {\"yellow\": 60, \"magenta\": 45, \"cyan\": 0}, \"time\": 0, " CHANGE
              ", " INPUTS "}",
         "time"},
        {"filter",
         HEAD "\"pack\": {\"yellow\": -1, \"magenta\": 45, \"cyan\": 0}, \"time\": 9, " CHANGE
              ", " INPUTS "}",
         "yellow"},
    };
    static const char good[] = HEAD PACK ", " CHANGE ", " INPUTS "}";
    ww_filter_plan plan = {.stops = 77.0};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        test_status(
            rows[i].name,
            ww_filter_plan_file_parse("x.json", rows[i].text, strlen(rows[i].text), &plan, &err),
            WW_EINPUT, &err);
        test_holds(rows[i].name, err.msg, rows[i].says);
        test_close("untouched", plan.stops, 77.0, 0.0);
    }
    test_status("good", ww_filter_plan_file_parse("x.json", good, strlen(good), &plan, &err), WW_OK,
                &err);
    test_close("stops", plan.stops, 0.1, 0.0);
    test_status("missing", ww_filter_plan_file_read("/no/such.json", &plan, &err), WW_EINPUT, &err);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_keys),
        cmocka_unit_test(what_is_not_there_is_null),
        cmocka_unit_test(comes_back_as_it_went),
        cmocka_unit_test(refuses_what_is_no_plan),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
