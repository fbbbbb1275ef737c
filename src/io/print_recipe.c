/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "base/text.h"
#include "io/curve_file.h"
#include "io/input.h"
#include "io/print_recipe_parts.h"
#include <assert.h>
#include <limits.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/print_recipe.h>
#include <wedgework/readings_file.h>

enum {
    FILE_MOST = 64 * 1024 * 1024,
    LIST_MOST = 10000,
    PRINTS_MOST = 1000000,
    NAME_SIZE = 640,
    QUOTE_SIZE = 200
};

static const double negative_most = 6.0; /* [D] no film is denser, nor reads as far under zero */
static const double range_most = 4.0;    /* [log H] no paper's range changes by as much */

static const char *const table_key[WW_PRINT_RECIPE_TABLES] = {
    [WW_PRINT_RECIPE_NEGATIVE] = "negative",
    [WW_PRINT_RECIPE_FLASH] = "flash",
    [WW_PRINT_RECIPE_SPLIT] = "split",
};

void ww_print_recipe_release(ww_print_recipe *recipe) {
    if (!recipe)
        return;
    for (size_t i = 0; recipe->table && i < WW_PRINT_RECIPE_TABLES; i++)
        ww_readings_release(&recipe->table[i]);
    for (size_t i = 0; i < recipe->n_curves; i++)
        ww_curve_release(&recipe->curve[i]);
    for (size_t i = 0; i < recipe->n_names; i++)
        free(recipe->name[i]);
    free(recipe->table);
    free(recipe->curve);
    free(recipe->paper);
    free(recipe->place);
    free(recipe->move);
    free(recipe->offset);
    free(recipe->name);
    *recipe = (ww_print_recipe)WW_PRINT_RECIPE_INIT;
}

/* ------------------------------------------------------------------------------- general */

static void *make_room(ww__json_reader *reader, size_t n, size_t size) {
    void *room = reader->status == WW_OK ? calloc(n + 1, size) : NULL;
    if (reader->status == WW_OK && !room)
        ww__json_no_memory(reader);
    return room;
}

/* The items of a list; none where it is not said. */
static size_t count_items(ww__json_reader *reader, const ww__json_place *place, size_t most) {
    return ww__json_said(place) ? ww__json_read_array(reader, place, 0, most) : 0;
}

/* A text; the recipe keeps it. NULL where it is not said. */
static char *read_label(ww__json_reader *reader, const ww__json_place *up, const char *key,
                        ww_print_recipe *recipe) {
    const ww__json_place place = ww__json_key(up, key);
    char *copy = ww__json_copy_text(reader, &place);
    if (copy)
        recipe->name[recipe->n_names++] = copy;
    return copy;
}

/* The name of a tone, which must be there. */
static const char *read_name(ww__json_reader *reader, const ww__json_place *up,
                             ww_print_recipe *recipe) {
    const ww__json_place place = ww__json_key(up, "tone");
    ww__json_read_text(reader, &place); /* null would pass as not said */
    return read_label(reader, up, "tone", recipe);
}

/* -------------------------------------------------------------------------------- tables */

static void read_lines(ww__json_reader *reader, const ww__json_place *place, ww__text *text) {
    const size_t n = ww__json_read_array(reader, place, 1, SIZE_MAX);
    for (size_t i = 0; i < n && reader->status == WW_OK; i++) {
        const ww__json_place item = ww__json_item(place, i);
        const char *line = ww__json_read_text(reader, &item);
        if (line && strpbrk(line, "\r\n"))
            ww__json_refuse(reader, &item, "holds a line end; give each line of the table its own");
        ww__text_add(text, line ? line : "");
        ww__text_add(text, "\n");
    }
}

/* What was noted when the readings were first read stands among their lines. */
static void read_notes(ww__json_reader *reader, const ww__json_place *place, ww_notes *notes) {
    static const char mark[] = "# note: ";
    const size_t n = json_array_size(place->value);
    for (size_t i = 0; i < n && reader->status == WW_OK; i++) {
        const char *line = json_string_value(json_array_get(place->value, i));
        if (strncmp(line, mark, strlen(mark)) == 0 &&
            ww_notes_add(notes, NULL, "%s", line + strlen(mark)) != WW_OK)
            ww__json_no_memory(reader);
    }
}

/* Lines are counted within the table. */
static void read_table(ww__json_reader *reader, const ww__json_place *inputs, size_t which,
                       ww_print_recipe *recipe, const ww_readings **given) {
    const ww__json_place place = ww__json_key(inputs, table_key[which]);
    ww__text text = WW__TEXT_INIT;
    char name[NAME_SIZE];
    if (!ww__json_said(&place) && which != WW_PRINT_RECIPE_NEGATIVE)
        return;
    read_lines(reader, &place, &text);
    snprintf(name, sizeof name, "%.500s, inputs.%s", reader->file, table_key[which]);
    if (reader->status == WW_OK && ww__text_status(&text, NULL) != WW_OK)
        ww__json_no_memory(reader);
    if (reader->status == WW_OK)
        reader->status = ww_readings_file_parse(name, ww__text_string(&text), text.n,
                                                &recipe->table[which], reader->err);
    read_notes(reader, &place, &recipe->table[which].notes);
    if (reader->status == WW_OK)
        *given = &recipe->table[which];
    ww__text_release(&text);
}

static void read_tables(ww__json_reader *reader, const ww__json_place *inputs,
                        ww_print_recipe *recipe) {
    ww_print_request *request = &recipe->request;
    recipe->table = make_room(reader, WW_PRINT_RECIPE_TABLES, sizeof *recipe->table);
    if (!recipe->table)
        return;
    read_table(reader, inputs, WW_PRINT_RECIPE_NEGATIVE, recipe, &request->negative);
    read_table(reader, inputs, WW_PRINT_RECIPE_FLASH, recipe, &request->flash);
    read_table(reader, inputs, WW_PRINT_RECIPE_SPLIT, recipe, &request->split);
}

/* -------------------------------------------------------------------------------- papers */

static void read_papers(ww__json_reader *reader, const ww__json_place *inputs,
                        ww_print_recipe *recipe) {
    const ww__json_place place = ww__json_key(inputs, "papers");
    size_t n;
    if (place.value && json_is_string(place.value) &&
        strcmp(json_string_value(place.value), "nominal") == 0)
        return;
    n = ww__json_read_array(reader, &place, 1, LIST_MOST);
    recipe->curve = make_room(reader, n, sizeof *recipe->curve);
    recipe->paper = make_room(reader, n, sizeof *recipe->paper);
    for (size_t i = 0; i < n && reader->status == WW_OK; i++) {
        const ww__json_place item = ww__json_item(&place, i);
        recipe->curve[i] = (ww_curve)WW_CURVE_INIT;
        recipe->n_curves = i + 1;
        recipe->paper[i] = &recipe->curve[i];
        ww__curve_file_take(reader, &item, &recipe->curve[i]);
    }
    recipe->request.paper = recipe->paper;
    recipe->request.n_papers = recipe->n_curves;
}

/* -------------------------------------------------------------------------------- wishes */

static void read_places(ww__json_reader *reader, const ww__json_place *list, size_t n,
                        ww_print_recipe *recipe) {
    static const char *const known[] = {"tone", "aim"};
    for (size_t i = 0; i < n && reader->status == WW_OK; i++) {
        const ww__json_place item = ww__json_item(list, i);
        ww_print_place *place = &recipe->place[i];
        ww__json_refuse_others(reader, &item, known, 2);
        place->tone = read_name(reader, &item, recipe);
        place->aim =
            ww__json_number_of(reader, &item, "aim", WW_PRINT_AIM_LEAST, WW_PRINT_AIM_MOST);
    }
    recipe->request.place = recipe->place;
    recipe->request.n_places = n;
}

static void read_tests(ww__json_reader *reader, const ww__json_place *list, size_t n,
                       ww_print_recipe *recipe) {
    static const char *const known[] = {"time", "tone", "density"};
    for (size_t i = 0; i < n && reader->status == WW_OK; i++) {
        const ww__json_place item = ww__json_item(list, i);
        ww_print_test *test = &recipe->request.test[i];
        ww__json_refuse_others(reader, &item, known, 3);
        test->time_s =
            ww__json_number_of(reader, &item, "time", WW_PRINT_TEST_LEAST, WW_PRINT_TEST_MOST);
        test->tone = read_name(reader, &item, recipe);
        test->density =
            ww__json_number_of(reader, &item, "density", WW_PRINT_AIM_LEAST, WW_PRINT_AIM_MOST);
    }
    recipe->request.n_tests = n;
}

static void read_moves(ww__json_reader *reader, const ww__json_place *list, size_t n,
                       ww_print_recipe *recipe) {
    static const char *const known[] = {"tone", "stops"};
    for (size_t i = 0; i < n && reader->status == WW_OK; i++) {
        const ww__json_place item = ww__json_item(list, i);
        ww_print_move *move = &recipe->move[i];
        ww__json_refuse_others(reader, &item, known, 2);
        move->tone = read_name(reader, &item, recipe);
        move->stops =
            ww__json_number_of(reader, &item, "stops", -WW_PRINT_MOVE_MOST, WW_PRINT_MOVE_MOST);
    }
    recipe->request.move = recipe->move;
    recipe->request.n_moves = n;
}

static void read_numbers(ww__json_reader *reader, const ww__json_place *inputs,
                         ww_print_request *request) {
    size_t n;
    const ww__print_recipe_number *numbers = ww__print_recipe_numbers(&n);
    for (size_t i = 0; i < n; i++) {
        const ww__json_place place = ww__json_key(inputs, numbers[i].key);
        const ww_optional number =
            ww__json_read_optional(reader, &place, numbers[i].low, numbers[i].high);
        char *at = (char *)request + numbers[i].offset;
        if (!number.set)
            continue;
        if (numbers[i].optional)
            memcpy(at, &number, sizeof number);
        else
            memcpy(at, &number.value, sizeof number.value);
    }
}

/* ------------------------------------------------------------------------------- offsets */

static void read_place(ww__json_reader *reader, const ww__json_place *item, ww_print_recipe *recipe,
                       ww_print_offset *offset) {
    const ww__json_place test_s = ww__json_key(item, "test_time");
    const ww__json_place test_density = ww__json_key(item, "test_density");
    offset->tone = read_label(reader, item, "tone", recipe);
    offset->test_s =
        ww__json_read_optional(reader, &test_s, WW_PRINT_TEST_LEAST, WW_PRINT_TEST_MOST);
    offset->test_density =
        ww__json_read_optional(reader, &test_density, WW_PRINT_AIM_LEAST, WW_PRINT_AIM_MOST);
    if (!offset->tone || !*offset->tone)
        return;
    offset->negative = ww__json_number_of(reader, item, "negative", -negative_most, negative_most);
    offset->density =
        ww__json_number_of(reader, item, "density", WW_PRINT_AIM_LEAST, WW_PRINT_AIM_MOST);
}

static void read_offset(ww__json_reader *reader, const ww__json_place *item,
                        ww_print_recipe *recipe, ww_print_offset *offset) {
    static const char *const known[] = {"paper",   "contrast",  "lot",          "scale",   "tested",
                                        "log_h",   "range",     "sd",           "prints",  "tone",
                                        "density", "test_time", "test_density", "negative"};
    const ww__json_place scale = ww__json_key(item, "scale"), tested = ww__json_key(item, "tested"),
                         prints = ww__json_key(item, "prints");
    ww__json_refuse_others(reader, item, known, sizeof known / sizeof known[0]);
    offset->paper = read_label(reader, item, "paper", recipe);
    offset->contrast = read_label(reader, item, "contrast", recipe);
    offset->lot = read_label(reader, item, "lot", recipe);
    offset->scale =
        ww__json_read_optional(reader, &scale, WW_PRINT_SCALE_LEAST, WW_PRINT_SCALE_MOST);
    offset->tested = ww__json_read_bool(reader, &tested);
    offset->log_h =
        ww__json_number_of(reader, item, "log_h", -WW_PRINT_OFFSET_MOST, WW_PRINT_OFFSET_MOST);
    offset->range = ww__json_number_of(reader, item, "range", -range_most, range_most);
    offset->sd = ww__json_number_of(reader, item, "sd", 0.0, WW_PRINT_OFFSET_MOST);
    offset->prints = (size_t)ww__json_read_integer(reader, &prints, 1, PRINTS_MOST);
    read_place(reader, item, recipe, offset);
}

static void read_offsets(ww__json_reader *reader, const ww__json_place *list, size_t n,
                         ww_print_recipe *recipe) {
    for (size_t i = 0; i < n && reader->status == WW_OK; i++) {
        const ww__json_place item = ww__json_item(list, i);
        read_offset(reader, &item, recipe, &recipe->offset[i]);
    }
    recipe->request.offset = recipe->offset;
    recipe->request.n_offsets = n;
}

/* The lists that name something: tones, papers. */
static void read_lists(ww__json_reader *reader, const ww__json_place *inputs,
                       ww_print_recipe *recipe) {
    const ww__json_place places = ww__json_key(inputs, "places");
    const ww__json_place tests = ww__json_key(inputs, "tests");
    const ww__json_place moves = ww__json_key(inputs, "moves");
    const ww__json_place offsets = ww__json_key(inputs, "offsets");
    const size_t n_places = count_items(reader, &places, LIST_MOST);
    const size_t n_tests = count_items(reader, &tests, WW_PRINT_TESTS_MOST);
    const size_t n_moves = count_items(reader, &moves, LIST_MOST);
    const size_t n_offsets = count_items(reader, &offsets, LIST_MOST);
    recipe->place = make_room(reader, n_places, sizeof *recipe->place);
    recipe->move = make_room(reader, n_moves, sizeof *recipe->move);
    recipe->offset = make_room(reader, n_offsets, sizeof *recipe->offset);
    recipe->name =
        make_room(reader, n_places + n_tests + n_moves + 4 * n_offsets, sizeof *recipe->name);
    if (reader->status != WW_OK)
        return;
    read_places(reader, &places, n_places, recipe);
    read_tests(reader, &tests, n_tests, recipe);
    read_moves(reader, &moves, n_moves, recipe);
    read_offsets(reader, &offsets, n_offsets, recipe);
}

/* ------------------------------------------------------------------------------ the file */

static void read_head(ww__json_reader *reader, const ww__json_place *root) {
    const ww__json_place version = ww__json_key(root, "wedgework");
    const ww__json_place kind = ww__json_key(root, "kind"), inputs = ww__json_key(root, "inputs");
    const long given = ww__json_read_integer(reader, &version, 1, LONG_MAX);
    const char *text;
    char quote[QUOTE_SIZE];
    if (reader->status == WW_OK && given > WW__PRINT_PLAN_VERSION)
        ww__json_refuse(reader, &version,
                        "is %ld, but this program knows files up to version %d; use a newer one",
                        given, WW__PRINT_PLAN_VERSION);
    text = ww__json_read_text(reader, &kind);
    if (text && strcmp(text, "print plan") != 0)
        ww__json_refuse(reader, &kind,
                        "is '%s', not 'print plan'; give a recipe as `print -o` writes it",
                        ww__escape_message(text, quote, sizeof quote));
    if (reader->status == WW_OK && !inputs.value)
        ww__json_refuse(reader, &inputs,
                        "is missing: this plan does not say what it was made from; make it again "
                        "with `print -o`");
    ww__json_read_object(reader, &inputs);
}

static void refuse_slips(ww__json_reader *reader, const ww__json_place *inputs) {
    const char *known[32] = {"papers", "places", "tests", "moves", "offsets"};
    size_t n = 5, n_numbers;
    const ww__print_recipe_number *numbers = ww__print_recipe_numbers(&n_numbers);
    for (size_t i = 0; i < WW_PRINT_RECIPE_TABLES; i++)
        known[n++] = table_key[i];
    assert(n + n_numbers <= sizeof known / sizeof known[0]);
    for (size_t i = 0; i < n_numbers; i++)
        known[n++] = numbers[i].key;
    ww__json_refuse_others(reader, inputs, known, n);
}

ww_status ww_print_recipe_parse(const char *name, const char bytes[], size_t n,
                                ww_print_recipe *recipe, ww_error *err) {
    ww__json_reader reader = {.file = name, .err = err, .status = WW_OK};
    ww_print_recipe fresh = WW_PRINT_RECIPE_INIT;
    ww__json_place root, inputs;
    json_t *document;
    assert(name && recipe);
    reader.status = ww__json_parse(name, bytes, n, &document, err);
    if (reader.status != WW_OK)
        return reader.status;
    root = ww__json_root(document);
    inputs = ww__json_key(&root, "inputs");
    read_head(&reader, &root);
    refuse_slips(&reader, &inputs);
    read_numbers(&reader, &inputs, &fresh.request);
    read_lists(&reader, &inputs, &fresh);
    if (reader.status == WW_OK)
        read_tables(&reader, &inputs, &fresh);
    if (reader.status == WW_OK)
        read_papers(&reader, &inputs, &fresh);
    json_decref(document);
    if (reader.status == WW_OK)
        *recipe = fresh;
    else
        ww_print_recipe_release(&fresh);
    return reader.status;
}

ww_status ww_print_recipe_read(const char *path, ww_print_recipe *recipe, ww_error *err) {
    char *bytes;
    size_t n;
    ww_status status = ww__input_read(path, FILE_MOST, &bytes, &n, err);
    if (status != WW_OK)
        return status;
    status = ww_print_recipe_parse(ww__input_name(path), bytes, n, recipe, err);
    free(bytes);
    return status;
}
