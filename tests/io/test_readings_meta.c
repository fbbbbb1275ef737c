/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/meta.h"
#include "io/readings_meta.h"
#include "same.h"
#include "support/support.h"
#include <stdlib.h>
#include <string.h>

/* Reads comment lines, the first as line 1, until one is refused. */
static ww_status read_lines(const char *const lines[], bool comma, bool foreign, ww_meta *meta,
                            ww_notes *notes, ww_error *err) {
    ww__meta_reader reader = {.file = "film.csv", .meta = meta, .notes = notes};
    ww_status status = WW_OK;
    reader.decimal_comma = comma;
    reader.foreign = foreign;
    for (size_t i = 0; lines[i] && status == WW_OK; i++)
        status = ww__readings_meta_line(&reader, lines[i], strlen(lines[i]), i + 1, NULL, err);
    return status;
}

/* Source: definition of the readings file. */
static void takes_every_kind(void **state) {
    static const char *const lines[] = {" name: roll 7, frames 3: 5",
                                        "Material:FILM",
                                        " relative to : base ",
                                        "log_h0: -1.25",
                                        " exposure  unit: Lux Second",
                                        "emulsion: colour negative",
                                        "development time: 6.5",
                                        "temperature: -0",
                                        "read: wet,,,",
                                        "lot: \"a \"\"b\"\";\"",
                                        "contrast: 2;;",
                                        "date:",
                                        "grain:",
                                        "a comment: of the user's own",
                                        "no colon at all",
                                        NULL};
    ww_meta meta = {.name = NULL};
    ww_notes notes = WW_NOTES_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("all kinds", read_lines(lines, false, false, &meta, &notes, &err), WW_OK, &err);
    assert_string_equal(meta.name, "roll 7, frames 3: 5");
    assert_int_equal(meta.material, WW_MATERIAL_FILM);
    assert_int_equal(meta.relative, WW_RELATIVE_BASE);
    test_close("log h0", meta.log_h0.value, -1.25, 0.0);
    assert_int_equal(meta.exposure_unit, WW_UNIT_LUX_SECOND);
    assert_int_equal(meta.emulsion, WW_EMULSION_COLOUR_NEGATIVE);
    test_close("development time", meta.development_time_min.value, 6.5, 0.0);
    assert_true(meta.temperature_c.set);
    assert_int_equal(meta.read, WW_READ_WET);
    assert_string_equal(meta.lot, "a \"b\";");
    assert_string_equal(meta.contrast, "2");
    assert_null(meta.date);
    assert_int_equal(meta.grain, WW_GRAIN_UNKNOWN);
    assert_int_equal(notes.n, 0);
    ww_meta_release(&meta);
}

static const struct {
    const char *name;
    const char *first, *second;
    bool comma;
    ww_status status;
    size_t line;
    const char *says;
} rows[] = {
    {"wrong word: all that are allowed", "read: damp", NULL, false, WW_EINPUT, 1, "wet or dry"},
    {"wrong status", "status: Q", NULL, false, WW_EINPUT, 1,
     "A, M, T, E, visual, printing or scanner"},
    {"unknown is no word for files", "material: unknown", NULL, false, WW_EINPUT, 1, "'unknown'"},
    {"unit behind the number", "exposure time: 10 s", NULL, false, WW_EINPUT, 1, "bare number"},
    {"comma between commas", "log h0: -1,5", NULL, false, WW_EINPUT, 1, "decimal point"},
    {"comma between semicolons", "log h0: -1,5", NULL, true, WW_OK, 0, ""},
    {"point between semicolons", "log h0: -1.5", NULL, true, WW_OK, 0, ""},
    {"nan", "log h0: nan", NULL, false, WW_EINPUT, 1, "'nan'"},
    {"time 0", "exposure time: 0", NULL, false, WW_EINPUT, 1, "above 0"},
    {"sd below 0", "wedge sd: -0.01", NULL, false, WW_EINPUT, 1, "-0.01"},
    {"scale 0", "scale: 0", NULL, false, WW_EINPUT, 1, "above 0"},
    {"two words for one key", "material: film", "material: paper", false, WW_EINPUT, 2, "line 1"},
    {"two numbers for one key", "aperture: 8", "aperture: 11", false, WW_EINPUT, 2, "line 1"},
    {"two texts for one key", "lot: 7", "lot: 8", false, WW_EINPUT, 2, "line 1"},
    {"the same twice", "aperture: 8", "aperture: 8.0", false, WW_OK, 0, ""},
    {"the same word twice", "process: negative", "process: Negative", false, WW_OK, 0, ""},
    {"Latin-1 in a name", "name: Gr\xfcn", NULL, false, WW_EINPUT, 1, "UTF-8"},
    {"Latin-1 in a comment", "Film: Gr\xfcn", NULL, false, WW_OK, 0, ""},
    {"escape in a name", "name: a\x1b[2J", NULL, false, WW_EINPUT, 1, "control"},
};

static void refuses(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *const lines[] = {rows[i].first, rows[i].second, NULL};
        ww_meta meta = {.name = NULL};
        ww_notes notes = WW_NOTES_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].name, read_lines(lines, rows[i].comma, false, &meta, &notes, &err),
                    rows[i].status, &err);
        if (rows[i].status != WW_OK && !strstr(err.msg, rows[i].says))
            fail_msg("%s: '%s' is not in: %s", rows[i].name, rows[i].says, err.msg);
        test_true(rows[i].name, err.line == rows[i].line);
        ww_meta_release(&meta);
        ww_notes_release(&notes);
    }
}

static void notes_slips(void **state) {
    static const char *const lines[] = {"materail: film", "log h = 2", "log h0 = 2",
                                        "weather: dull", NULL};
    ww_meta meta = {.name = NULL};
    ww_notes notes = WW_NOTES_INIT;
    (void)state;
    assert_int_equal(read_lines(lines, false, false, &meta, &notes, NULL), WW_OK);
    assert_int_equal(notes.n, 2);
    assert_non_null(strstr(notes.text[0], "'material:'"));
    assert_non_null(strstr(notes.text[1], "'log h0:'"));
    assert_false(meta.log_h0.set);
    ww_notes_release(&notes);
}

static void notes_what_may_be_anothers(void **state) {
    static const char *const lines[] = {"material: glossy card", "status: M", NULL};
    const char *many[40] = {NULL};
    ww_meta meta = {.name = NULL};
    ww_notes notes = WW_NOTES_INIT;
    (void)state;
    assert_int_equal(read_lines(lines, false, true, &meta, &notes, NULL), WW_OK);
    assert_int_equal(notes.n, 1);
    assert_non_null(strstr(notes.text[0], "glossy card"));
    assert_int_equal(meta.material, WW_MATERIAL_UNKNOWN);
    assert_int_equal(meta.status, WW_STATUS_M);
    ww_notes_release(&notes);
    for (size_t i = 0; i < 39; i++)
        many[i] = "read: damp";
    assert_int_equal(read_lines(many, false, true, &meta, &notes, NULL), WW_OK);
    assert_int_equal(notes.n, WW__META_NOTES_MOST);
    ww_notes_release(&notes);
}

/* Every key filled, with texts that quotes must save. */
static void reads_back_what_it_writes(void **state) {
    static char texts[][24] = {" spaced ", "\"quoted\"", "ends in comma,", "60Y45M", "a;b,c", "-"};
    size_t n, used = 0, lines_n = 0;
    const ww__meta_field *fields = ww__meta_fields(&n);
    ww_meta meta = {.name = NULL}, again = {.name = NULL};
    ww_notes notes = WW_NOTES_INIT;
    ww_error err = WW_ERROR_INIT;
    ww__text text = WW__TEXT_INIT;
    const char *lines[64] = {NULL};
    (void)state;
    for (size_t i = 0; i < n; i++) {
        if (fields[i].kind == WW__META_TEXT)
            *ww__meta_text(&meta, &fields[i]) = texts[used++ % 6];
        else if (fields[i].kind == WW__META_NUMBER)
            *ww__meta_number(&meta, &fields[i]) = (ww_optional){true, 0.1 + 1.0 / 3.0 + (double)i};
        else
            ww__meta_set_word(&meta, &fields[i], (unsigned)fields[i].n_words - 1);
    }
    meta.log_h0_sd.value = 1.0 / 3.0;
    meta.wedge_sd.value = 0.1;
    meta.log_h0.value = -19.0 / 7.0;
    ww__readings_meta_write(&text, &meta);
    for (char *line = strtok(text.bytes, "\n"); line; line = strtok(NULL, "\n"))
        lines[lines_n++] = line + 1;
    test_status("read back", read_lines(lines, false, false, &again, &notes, &err), WW_OK, &err);
    if (meta_difference(&meta, &again))
        fail_msg("differs: %s", meta_difference(&meta, &again));
    assert_int_equal(ww__readings_meta_check(&meta, "f", NULL), WW_OK);
    texts[0][0] = '\n';
    assert_int_equal(ww__readings_meta_check(&meta, "f", &err), WW_EDOMAIN);
    ww_meta_release(&again);
    ww__text_release(&text);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(takes_every_kind),
                                       cmocka_unit_test(refuses), cmocka_unit_test(notes_slips),
                                       cmocka_unit_test(notes_what_may_be_anothers),
                                       cmocka_unit_test(reads_back_what_it_writes)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
