/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "parsed.h"

/* Source of all rows: definition of the readings file; slips of the pen and of spreadsheets that
 * the trade knows (common practice). */

/* The same table in every habit: it must read alike. */
static const struct {
    const char *name;
    const char *text;
} habits[] = {
    {"commas", "step,wedge,red,visual\nbase,,0.21,-\n1,2.05,over,1.23\n"},
    {"semicolons, decimal commas", "step;wedge;red;visual\nbase;;0,21;-\n1;2,05;over;1,23\n"},
    {"semicolons, decimal points", "step;wedge;red;visual\nbase;;0.21;-\n1;2.05;over;1.23\n"},
    {"tabs, decimal commas", "step\twedge\tred\tvisual\nbase\t\t0,21\t-\n1\t2,05\tover\t1,23\n"},
    {"mark and CRLF", "\xef\xbb\xbfstep,wedge,red,visual\r\nbase,,0.21,-\r\n1,2.05,over,1.23\r\n"},
    {"CR", "step,wedge,red,visual\rbase,,0.21,-\r1,2.05,over,1.23\r"},
    {"no end of the last line", "step,wedge,red,visual\nbase,,0.21,-\n1,2.05,over,1.23"},
    {"quotes",
     "\"step\",\"wedge\",red,visual\n\"base\",\"\",\"0.21\",-\n1,\"2.05\",\"over\",1.23\n"},
    {"quoted decimal commas",
     "step;wedge;red;visual\nbase;;\"0,21\";-\n1;\"2,05\";over;\"1,23\"\n"},
    {"blank lines", "\n\nstep,wedge,red,visual\n\nbase,,0.21,-\n   \n,,,\n1,2.05,over,1.23\n\n"},
    {"comments",
     "# a film\nstep,wedge,red,visual\nbase,,0.21,-\n# half way\n1,2.05,over,1.23\n#\n"},
    {"spaces", " step , wedge,red ,visual\n base, - ,0.21 ,-\n1 , 2.05, over, 1.23 \n"},
    {"names in capitals", "STEP,Wedge,RED,Visual\nBASE,,0.21,-\n1,2.05,OVER,1.23\n"},
    {"columns in another order", "visual,red,wedge,step\n-,0.21,,base\n1.23,over,2.05,1\n"},
    {"a spreadsheet's empty columns",
     "step,wedge,red,visual,,\nbase,,0.21,-,,\n1,2.05,over,1.23,,\n"},
    {"empty cells at the ends of rows",
     "step,wedge,red,visual\nbase,,0.21,-,\n1,2.05,over,1.23,,\n"},
    {"base in the tone", "tone,step,wedge,red,visual\nBase,,,0.21,-\n,1,2.05,over,1.23\n"},
};

static void reads_every_habit_alike(void **state) {
    (void)state;
    for (size_t i = 0; i < ROWS(habits); i++) {
        ww_readings got = parsed(habits[i].name, habits[i].text);
        test_true(habits[i].name, got.n == 2 && got.exposure == WW_EXPOSURE_WEDGE);
        test_true(habits[i].name, got.row[0].is_base && !got.row[0].exposure.set);
        test_true(habits[i].name, !got.row[1].is_base && got.row[1].exposure.set);
        test_close(habits[i].name, got.row[1].exposure.value, 2.05, 0.0);
        test_cell(habits[i].name, &got, 0, WW_COLUMN_RED, 0.21);
        test_cell(habits[i].name, &got, 1, WW_COLUMN_VISUAL, 1.23);
        test_true(habits[i].name, got.row[0].cell[WW_COLUMN_VISUAL].state == WW_CELL_MISSING);
        test_true(habits[i].name, got.row[1].cell[WW_COLUMN_RED].state == WW_CELL_OVER);
        test_text(habits[i].name, got.row[1].step, "1");
        test_true(habits[i].name, got.has[WW_COLUMN_RED] && !got.has[WW_COLUMN_GREEN]);
        test_true("nothing to note", got.notes.n == 0);
        ww_readings_release(&got);
    }
}

static void keeps_order_lines_and_repeats(void **state) {
    static const char *const steps[] = {"3", "1", "2", "1", "10"};
    ww_readings got =
        parsed("order", "# x\n\nstep,stop,visual\n3,2,0.9\n1,0,0.4\n\n2,1,0.3\n1,0,0.41\n"
                        "10,9,0.2\n");
    (void)state;
    assert_int_equal(got.n, 5);
    for (size_t i = 0; i < 5; i++)
        test_text("order kept", got.row[i].step, steps[i]);
    assert_int_equal(got.row[0].line, 4);
    assert_int_equal(got.row[2].line, 7);
    ww_readings_release(&got);
}

static void tells_Y_from_y(void **state) {
    ww_readings got = parsed("Yxy", "Y,x,y,yellow\n80.5,0.31,0.33,40\n");
    (void)state;
    test_cell("Y", &got, 0, WW_COLUMN_LUMINANCE, 80.5);
    test_cell("x", &got, 0, WW_COLUMN_CHROMATICITY_X, 0.31);
    test_cell("y", &got, 0, WW_COLUMN_CHROMATICITY_Y, 0.33);
    test_cell("yellow", &got, 0, WW_COLUMN_YELLOW, 40.0);
    ww_readings_release(&got);
}

static void metadata_counts_wherever_it_stands(void **state) {
    ww_readings got = parsed("metadata", "# material: paper\n\"# name: grade 2, \"\"warm\"\"\",,\n"
                                         "# log h0: 1.5,,\nstep,time,visual\n1,2,0.4\n"
                                         "# contrast: 2\n");
    (void)state;
    assert_int_equal(got.meta.material, WW_MATERIAL_PAPER);
    assert_string_equal(got.meta.name, "grade 2, \"warm\"");
    assert_string_equal(got.meta.contrast, "2");
    test_close("log h0", got.meta.log_h0.value, 1.5, 0.0);
    assert_int_equal(got.notes.n, 0);
    assert_string_equal(got.file, "film.csv");
    ww_readings_release(&got);
    got = parsed("decimal comma", "# log h0: -1,25\nstep;time;visual\n1;2,5;0,4\n");
    test_close("log h0", got.meta.log_h0.value, -1.25, 0.0);
    ww_readings_release(&got);
}

static void notes_rows_behind_a_hash(void **state) {
    ww_readings got = parsed("hash", "step,visual\n1,0.4\n#2,0.5\n# said in passing\n#3,0.6\n");
    (void)state;
    assert_int_equal(got.n, 1);
    assert_int_equal(got.notes.n, 1);
    assert_true(noted(&got, "2 lines"));
    assert_true(noted(&got, "line 3"));
    ww_readings_release(&got);
    got = parsed("quoted, it is a label", "step,visual\n\"#2\",0.5\n");
    assert_string_equal(got.row[0].step, "#2");
    ww_readings_release(&got);
}

static const struct refusal refusals[] = {
    {"empty file", "", 0, "no table"},
    {"blank file", "\n \r\n\n", 0, "no table"},
    {"comments alone", "# material: film\n", 0, "no table"},
    {"no data rows", "step,wedge,red\n", 0, "no rows"},
    {"empty rows alone", "step,wedge,red\n,,\n", 0, "no rows"},
    {"soft and hard both 0", "wedge,soft,hard,visual\n0.05,2,0,1.9\n0.05,0,0,0.1\n", 3, "both 0"},
    {"soft below 0", "wedge,soft,hard,visual\n0.05,-2,1,1.9\n", 2, "time in seconds"},
    {"no header", "1,0.05,0.21\n2,0.20,0.24\n", 1, "name the columns"},
    {"no header, decimal commas", "1;0,05;0,21\n", 1, "name the columns"},
    {"two exposures", "step,wedge,logh,red\n1,0.05,2,0.2\n", 1, "'wedge' and by 'logh'"},
    {"the same exposure twice", "step,time,Time,red\n1,2,2,0.2\n", 1, "twice"},
    {"a column twice", "step,wedge,red,RED\n1,0.05,0.2,0.2\n", 1, "'RED'"},
    {"a slip in a name", "step,wegde,red\n1,0.05,0.2\n", 1, "wedge"},
    {"an unknown name", "step,weather,red\n1,0.05,0.2\n", 1, "'weather'"},
    {"names between spaces", "step wedge red\n1 0.05 0.2\n", 1, "between commas"},
    {"tristimulus", "X,Y,Z\n1,2,3\n", 1, "'X'"},
    {"no readings", "step,wedge\n1,0.05\n", 1, "no column of readings"},
    {"decimal commas between commas", "step,wedge,red\n1,0,05,1,23\n", 2, "decimal"},
    {"and the cells happen to be as many", "step,wedge,red,green,blue\n1,0,05,1,23\n", 2, "'05'"},
    {"one column, decimal commas", "visual\n0,05\n", 2, "decimal"},
    {"a thousand in quotes", "step,wedge,red\n1,0.05,\"1,234\"\n", 2, "thousands"},
    {"too few cells", "step,wedge,red\n1,0.05\n", 2, "2 cells"},
    {"too many cells", "step;wedge;red\n1;0,05;0,2;7\n", 2, "4 cells"},
    {"a value under no name", "step,wedge,red,\n1,0.05,0.2,7\n", 2, "no name"},
    {"density above 6", "step,wedge,red\n1,0.05,0.2\n2,0.2,6.5\n", 3, "'6.5'"},
    {"density below -0.1", "step,wedge,red\n1,0.05,-0.2\n", 2, "'-0.2'"},
    {"wedge above 6", "step,wedge,red\n1,15,0.2\n", 2, "'15'"},
    {"nan", "step,wedge,red\n1,0.05,nan\n", 2, "'nan'"},
    {"inf", "step,wedge,red\n1,0.05,inf\n", 2, "'inf'"},
    {"letter O", "step,wedge,red\n1,0.O5,0.2\n", 2, "letter O"},
    {"two points", "step,wedge,red\n1,0.05,1.2.3\n", 2, "'1.2.3'"},
    {"marks mixed in a number", "step;wedge;red\n1;0,05;1.234,5\n", 2, "both"},
    {"marks mixed in a file", "step;wedge;red\n1;0,05;0,2\n2;0.2;0,3\n", 3, "decimal point"},
    {"a thousand or a comma", "step;time;red\n1;1,234;0\n", 2, "thousand"},
    {"no exposure", "step,wedge,red\nbase,,0.2\n1,,0.2\n", 3, "'1'"},
    {"exposed base", "step,wedge,red\nbase,0.05,0.2\n", 2, "base"},
    {"exposed base by tone", "tone,wedge,red\nBASE,0.05,0.2\n", 2, "base"},
    {"exposure over", "step,wedge,red\n1,over,0.2\n", 2, "over"},
    {"time 0", "step,time,red\n1,0,0.2\n", 2, "not above 0"},
    {"n below 1", "step,wedge,red,n\n1,0.05,0.2,0\n", 2, "below 1"},
    {"half a reading", "step,wedge,red,n\n1,0.05,0.2,1.5\n", 2, "whole"},
    {"sd below 0", "step,wedge,red,sd\n1,0.05,0.2,-0.01\n", 2, "below 0"},
    {"sd of nothing", "step,wedge,red,sd_red\n1,0.05,-,0.01\n", 2, "sd_red"},
    {"colourant above 100", "gray,visual\n101,0.2\n", 2, "above 100"},
    {"colourant below 0", "cyan,visual\n-1,0.2\n", 2, "below 0"},
    {"code value above 1", "value,visual\n255,0.2\n", 2, "above 1"},
    {"code value over", "value,visual\nover,0.2\n", 2, "over"},
    {"chromaticity above 1", "Y,x,y\n80,1.2,0.3\n", 2, "above 1"},
    {"part of a tone", "tone,part,visual\ncloud,thick,0.2\n", 2, "thin, dense"},
    {"wrong word", "# material: filn\nstep,red\n1,0.2\n", 1, "film, paper"},
    {"contradiction", "# lot: 7\nstep,red\n1,0.2\n# lot: 8\n", 4, "line 1"},
    {"quote left open", "step,red\n\"1,0.2\n2,0.3\n", 2, "quote"},
    {"quote in the middle", "step,red\n5\" roll,0.2\n", 2, "quote"},
    {"label in Latin-1", "tone,red\nGr\xfcn,0.2\n", 2, "UTF-8"},
    {"escape in a label", "tone,red\n\x1b[2J,0.2\n", 2, "control"},
};

static void refuses_with_line_and_remedy(void **state) {
    (void)state;
    check_refusals(refusals, ROWS(refusals));
}

static void keeps_its_caps(void **state) {
    enum { LINE = (1 << 20) + 64 };
    char *text = malloc(LINE + 1);
    struct refusal row = {"line too long", text, 2, "longer"};
    (void)state;
    assert_non_null(text);
    memset(text, ' ', LINE);
    memcpy(text, "tone,red\n", 9);
    text[LINE - 1] = 'x';
    text[LINE] = '\0';
    check_refusal(&row, LINE);
    memset(text + 9, 'x', 256);
    memcpy(text + 265, ",0.2\n", 6);
    row = (struct refusal){"label too long", text, 2, "255 bytes"};
    check_refusal(&row, strlen(text));
    for (size_t i = 0; i < 5000; i++)
        text[i] = ',';
    text[5000] = '\0';
    row = (struct refusal){"too many columns", text, 1, "columns"};
    check_refusal(&row, 5000);
    free(text);
}

static void keeps_its_cap_of_rows(void **state) {
    const size_t rows = 100001, each = 4, head = 7;
    char *text = malloc(head + rows * each + 1);
    struct refusal row = {"too many rows", text, rows + 1, "rows"};
    (void)state;
    assert_non_null(text);
    memcpy(text, "visual\n", head);
    for (size_t i = 0; i < rows; i++)
        memcpy(text + head + i * each, "0.2\n", each);
    text[head + rows * each] = '\0';
    check_refusal(&row, head + rows * each);
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(reads_every_habit_alike),
                                       cmocka_unit_test(keeps_order_lines_and_repeats),
                                       cmocka_unit_test(tells_Y_from_y),
                                       cmocka_unit_test(metadata_counts_wherever_it_stands),
                                       cmocka_unit_test(notes_rows_behind_a_hash),
                                       cmocka_unit_test(refuses_with_line_and_remedy),
                                       cmocka_unit_test(keeps_its_caps),
                                       cmocka_unit_test(keeps_its_cap_of_rows)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
