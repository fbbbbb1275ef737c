/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/recipe_sample.h"
#include "support/support.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/print_plan_file.h>
#include <wedgework/start.h>

/* Source: the description of the recipe in wedgework/print_recipe.h; numbers are invented. */

static ww_status parse(const char *text, ww_print_recipe *recipe, ww_error *err) {
    return ww_print_recipe_parse("old.json", text, strlen(text), recipe, err);
}

static char *plan_text(const ww_print_request *request) {
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    ww_error err = WW_ERROR_INIT;
    char *text = NULL;
    size_t n;
    test_status("plan", ww_print_plan_make(request, &plan, &err), WW_OK, &err);
    test_status("text", ww_print_plan_file_text(&plan, &text, &n, &err), WW_OK, &err);
    ww_print_plan_release(&plan);
    return text;
}

/* Nothing is lost: what is written again is the same, and so is the plan. */
static void reads_back_without_loss(void **state) {
    recipe_sample sample;
    ww_print_recipe recipe = WW_PRINT_RECIPE_INIT;
    ww_error err = WW_ERROR_INIT;
    char *first, *second;
    (void)state;
    recipe_sample_start(&sample);
    first = recipe_sample_text(&sample.c.request);
    test_status("parse", parse(first, &recipe, &err), WW_OK, &err);
    second = recipe_sample_text(&recipe.request);
    test_text("again", second, first);
    free(first);
    free(second);
    first = plan_text(&sample.c.request);
    second = plan_text(&recipe.request);
    test_text("plan", second, first);
    free(first);
    free(second);
    test_close("bits", recipe.request.scale.value, 1.0 / 0.3, 0.0);
    test_close("bits", recipe.request.move[1].stops, 1.0 / 3.0, 0.0);
    test_close("bits", recipe.request.negative->row[1].cell[WW_COLUMN_VISUAL].value, 0.1 + 0.2,
               0.0);
    ww_print_recipe_release(&recipe);
    ww_print_recipe_release(&recipe); /* an empty one, too */
    ww_print_recipe_release(NULL);
}

/* Nominal papers, and no more than what must be there. */
static const char least[] = "{\"wedgework\": 1, \"kind\": \"print plan\", \"inputs\": {"
                            "\"negative\": [\"tone,visual\", \"cloud,1.31\", \"shadow,0.3\"],"
                            "\"papers\": \"nominal\"}}";

static void what_is_left_out_was_not_given(void **state) {
    ww_print_recipe recipe = WW_PRINT_RECIPE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("least", parse(least, &recipe, &err), WW_OK, &err);
    test_true("empty", recipe.request.n_papers == 0 && recipe.request.n_places == 0 &&
                           recipe.request.n_tests == 0 && recipe.request.n_moves == 0 &&
                           recipe.request.n_offsets == 0 && !recipe.request.flash &&
                           !recipe.request.split && !recipe.request.scale.set);
    test_close("Callier", recipe.request.callier, 1.0, 0.0);
    test_close("timer", recipe.request.timer_step_s, 0.1, 0.0);
    free(plan_text(&recipe.request));
    ww_print_recipe_release(&recipe);
}

/* What was noted when a table was first read is not lost, and does not grow. Source: definition. */
static void notes_stay(void **state) {
    static const char noted[] =
        "{\"wedgework\": 1, \"kind\": \"print plan\", \"inputs\": {\"negative\": "
        "[\"# materiel: negative\", \"tone,visual\", \"cloud,1.31\", \"shadow,0.3\"],"
        "\"papers\": \"nominal\"}}";
    ww_print_recipe recipe = WW_PRINT_RECIPE_INIT, again = WW_PRINT_RECIPE_INIT;
    ww_error err = WW_ERROR_INIT;
    char *first, *second;
    (void)state;
    test_status("noted", parse(noted, &recipe, &err), WW_OK, &err);
    test_true("noted", recipe.request.negative->notes.n == 1);
    first = recipe_sample_text(&recipe.request);
    test_status("again", parse(first, &again, &err), WW_OK, &err);
    test_true("kept", again.request.negative->notes.n == 1);
    second = recipe_sample_text(&again.request);
    test_text("the same", second, first);
    free(first);
    free(second);
    ww_print_recipe_release(&again);
    ww_print_recipe_release(&recipe);
}

/* The text with its first `from` replaced; the test fails where it is not there. */
static char *edit(const char *text, const char *from, const char *to) {
    const char *at = strstr(text, from);
    char *edited = malloc(strlen(text) + strlen(to) + 1);
    if (!at)
        fail_msg("no '%s' to edit", from);
    assert_non_null(edited);
    memcpy(edited, text, (size_t)(at - text));
    strcpy(edited + (at - text), to);
    strcat(edited, at + strlen(from));
    return edited;
}

/* What a hand writes into a recipe is taken. */
static void a_hand_edits_it(void **state) {
    recipe_sample sample;
    ww_print_recipe recipe = WW_PRINT_RECIPE_INIT;
    ww_error err = WW_ERROR_INIT;
    char *text, *edited;
    (void)state;
    recipe_sample_start(&sample);
    sample.c.request.n_moves = 0;
    text = recipe_sample_text(&sample.c.request);
    edited = edit(text, "\"moves\": []",
                  "\"moves\": [{\"tone\": \"cloud\", \"stops\": -0.5},"
                  "{\"stops\": -0.5, \"tone\": \"cloud\"}]");
    test_status("moves", parse(edited, &recipe, &err), WW_OK, &err);
    test_true("two", recipe.request.n_moves == 2);
    test_text("cloud", recipe.request.move[1].tone, "cloud");
    test_close("stops", recipe.request.move[1].stops, -0.5, 0.0);
    ww_print_recipe_release(&recipe);
    free(edited);
    edited = edit(text, "cloud,thin,1.31", "cloud;thin;1,33");
    test_true("mixed separators", parse(edited, &recipe, &err) == WW_EINPUT);
    free(edited);
    edited = edit(text, "cloud,thin,1.31", "cloud,thin,1.33");
    test_status("reading", parse(edited, &recipe, &err), WW_OK, &err);
    test_close("1.33", recipe.request.negative->row[3].cell[WW_COLUMN_VISUAL].value, 1.33, 0.0);
    ww_print_recipe_release(&recipe);
    free(edited);
    free(text);
}

/* Slips of a hand, and worse: each is refused, and the message names the key. */
static const struct {
    const char *name, *from, *to;
    const char *words;
} slips[] = {
    {"another kind", "\"print plan\"", "\"curve\"", "not 'print plan'"},
    {"a later version", "\"wedgework\": 1", "\"wedgework\": 2", "use a newer one"},
    {"no inputs", "\"inputs\"", "\"input\"", "'inputs' is missing"},
    {"inputs no object", "\"inputs\": {", "\"inputs\": 3, \"more\": {", "an object must stand"},
    {"slip", "\"moves\"", "\"move\"", "'inputs' has a key 'move'"},
    {"slip in a move", "\"stops\"", "\"stop\"", "'inputs.moves[0]' has a key 'stop'"},
    {"slip in a place", "\"aim\"", "\"at\"", "'inputs.places[0]' has a key 'at'"},
    {"slip in a test", "\"time\"", "\"seconds\"", "'inputs.tests[0]' has a key 'seconds'"},
    {"slip in an offset", "\"prints\"", "\"print\"", "'inputs.offsets[0]' has a key 'print'"},
    {"move too far", "\"stops\": 0.5", "\"stops\": 5", "'inputs.moves[0].stops' is 5"},
    {"move no number", "\"stops\": 0.5", "\"stops\": \"half\"", "the text 'half'"},
    {"no tone", "{\"tone\": \"cloud\", \"stops\": 0.5}", "{\"stops\": 0.5}",
     "'inputs.moves[0].tone' is missing"},
    {"tone null", "{\"tone\": \"cloud\", \"stops\"", "{\"tone\": null, \"stops\"", "is null"},
    {"moves no list", "\"moves\": [", "\"moves\": {}, \"places\": [", "not JSON"},
    {"moves an object", "\"callier\": 1.1", "\"callier\": []", "an array where a number"},
    {"Callier", "\"callier\": 1.1", "\"callier\": 11", "'inputs.callier' is 11"},
    {"offset", "\"log_h\": 0.0731", "\"log_h\": 7.31", "'inputs.offsets[0].log_h' is 7.31"},
    {"sd", "\"sd\": 0.0061", "\"sd\": -1", "'inputs.offsets[0].sd' is -1"},
    {"prints", "\"prints\": 3", "\"prints\": 0", "'inputs.offsets[0].prints' is 0"},
    {"range", "\"range\": -0.05", "\"range\": 50", "'inputs.offsets[0].range' is 50"},
    {"a place without density", "\"density\": 0.1337", "\"density\": null",
     "'inputs.offsets[0].density' is null"},
    {"a place on no film", "\"negative\": 1.31", "\"negative\": 7.31",
     "'inputs.offsets[0].negative' is 7.31"},
    {"density", "cloud,thin,1.31", "cloud,thin,1.3x", "density"},
    {"metadata", "# material: negative", "# material: plastic", "material 'plastic'"},
    {"a line end", "cloud,thin,1.31", "cloud,thin,1.31\\n", "holds a line end"},
    {"a number for a line", "\"# material: negative\"", "131", "a number where a text"},
    {"negative null", "\"negative\": [", "\"negative\": null, \"negativ\": [", "'negativ'"},
    {"papers", "\"papers\": [\n      {", "\"papers\": [7, {", "'inputs.papers[0]' is a number"},
    {"curve", "\"kind\": \"curve\"", "\"kind\": \"film\"", "inputs.papers[0].kind"},
    {"model", "\"logistic\"", "\"logistik\"", "inputs.papers[0].channels.visual.model"},
    {"cut short", "\"offsets\"", "\"offsets", "not JSON"},
};

static void slips_are_refused(void **state) {
    recipe_sample sample;
    char *text;
    (void)state;
    recipe_sample_start(&sample);
    text = recipe_sample_text(&sample.c.request);
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
        char *edited = edit(text, slips[i].from, slips[i].to);
        ww_print_recipe recipe = WW_PRINT_RECIPE_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(slips[i].name, parse(edited, &recipe, &err), WW_EINPUT, &err);
        test_true(slips[i].name, !recipe.table && !recipe.request.negative);
        if (!strstr(err.msg, slips[i].words) || strncmp(err.file, "old.json", 8) != 0)
            fail_msg("%s: %s: %s", slips[i].name, err.file, err.msg);
        free(edited);
    }
    free(text);
}

static void reads_files(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "old.json");
    char *nowhere = test_path(folder, "none.json");
    ww_print_recipe recipe = WW_PRINT_RECIPE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_file_write(path, least);
    test_status("read", ww_print_recipe_read(path, &recipe, &err), WW_OK, &err);
    ww_print_recipe_release(&recipe);
    test_status("missing", ww_print_recipe_read(nowhere, &recipe, &err), WW_EINPUT, &err);
    free(nowhere);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_back_without_loss), cmocka_unit_test(what_is_left_out_was_not_given),
        cmocka_unit_test(a_hand_edits_it),         cmocka_unit_test(notes_stay),
        cmocka_unit_test(slips_are_refused),       cmocka_unit_test(reads_files),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print_recipe", tests, NULL, NULL);
}
