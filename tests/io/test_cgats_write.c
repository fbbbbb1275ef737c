/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/readings_write.h"
#include "round_trip.h"

static void reads_back_to_the_bit(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "film.txt");
    (void)state;
    check_round_trips(ww_readings_file_write_cgats, path);
    free(path);
    test_folder_remove(folder);
}

/* The line that begins with a word, without its end; "" where there is none. */
static const char *line_with(const char *text, const char *word, char line[], size_t size) {
    const char *at = strstr(text, word);
    size_t n = at ? strcspn(at, "\n") : 0;
    if (n >= size)
        n = size - 1;
    if (n > 0)
        memcpy(line, at, n);
    line[n] = '\0';
    return line;
}

/* Source: structure, required keywords and unquoted counts of CGATS.17 as its readers restate them;
 * keywords of one's own are declared first. */
static void writes_sheets_by_the_rules(void **state) {
    static const char *const lines[][2] = {
        {"ORIGINATOR", "ORIGINATOR\t\"wedgework\""},
        {"FILE_DESCRIPTOR", "FILE_DESCRIPTOR\t\"a \"\"b\"\"\""},
        {"\nDESCRIPTOR", "\nDESCRIPTOR\t\"a \"\"b\"\"\""},
        {"CREATED", "CREATED\t\"2026-11-25\""},
        {"WEIGHTING", "WEIGHTING_FUNCTION\t\"name,density;value,Status T\""},
        {"KEYWORD", "KEYWORD\t\"WEDGE\""},
        {"NUMBER_OF_FIELDS", "NUMBER_OF_FIELDS\t5"},
        {"SAMPLE_ID", "SAMPLE_ID\tSAMPLE_NAME\tWEDGE\tD_RED\tD_VIS"},
        {"NUMBER_OF_SETS", "NUMBER_OF_SETS\t2"},
        {"\"1\"", "\"1\"\t\"\"\t0.3\tover\t0.5"},
        {"# log h0", "# log h0: 1.5"},
    };
    ww_readings readings =
        parsed("sheet", "# name: a \"b\"\n# date: 2026-11-25\n# status: T\n# log h0: 1.5\n"
                        "step,tone,wedge,red,visual\n1,,0.3,over,0.5\n2,cloud,0.6,0.4,-\n");
    ww__text text = WW__TEXT_INIT;
    char line[128];
    (void)state;
    ww__write_cgats(&text, &readings);
    assert_memory_equal(text.bytes, "CGATS.17\n", 9);
    for (size_t i = 0; i < ROWS(lines); i++) {
        bool broken = lines[i][0][0] == '\n';
        const char *got = line_with(text.bytes, lines[i][0] + broken, line, sizeof line);
        if (broken) /* DESCRIPTOR alone, not FILE_DESCRIPTOR */
            got =
                line_with(strstr(text.bytes, lines[i][0]) + 1, lines[i][0] + 1, line, sizeof line);
        test_text(lines[i][0], got, lines[i][1] + broken);
    }
    assert_true(strstr(text.bytes, "KEYWORD") < strstr(text.bytes, "BEGIN_DATA_FORMAT"));
    assert_string_equal(text.bytes + text.n - 9, "END_DATA\n");
    ww__text_release(&text);
    ww_readings_release(&readings);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(reads_back_to_the_bit),
                                       cmocka_unit_test(writes_sheets_by_the_rules)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
