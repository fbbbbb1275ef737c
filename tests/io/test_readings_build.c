/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/readings_build.h"
#include "parsed.h"

/* Source of all: definition of the readings file. */

static ww_status add_field(ww__build *build, const char *name, ww_error *err) {
    ww__field field = {WW__ROLE_SKIP, 0, name};
    ww__columns_find(name, &field);
    return ww__build_field(build, &field, 1, err);
}

static ww_status add_row(ww__build *build, const char *const cells[], ww_error *err) {
    ww__cells row = WW__CELLS_INIT;
    ww_status status = WW_OK;
    for (size_t i = 0; i < build->n_fields && status == WW_OK; i++)
        status = ww__cells_add(&row, cells[i], strlen(cells[i]), err);
    if (status == WW_OK)
        status = ww__build_row(build, &row, 2 + build->made.n, err);
    ww__cells_release(&row);
    return status;
}

static void columns_that_repeat(void **state) {
    ww__build build = ww__build_begin("film.csv");
    ww_error err = WW_ERROR_INIT;
    (void)state;
    assert_int_equal(add_field(&build, "step", &err), WW_OK);
    assert_int_equal(add_field(&build, "stop", &err), WW_OK);
    test_status("step again", add_field(&build, "Step", &err), WW_EINPUT, &err);
    test_status("second exposure", add_field(&build, "time", &err), WW_EINPUT, &err);
    assert_non_null(strstr(err.msg, "'stop' and by 'time'"));
    assert_int_equal(add_field(&build, "sd_red", &err), WW_OK);
    assert_int_equal(add_field(&build, "sd_blue", &err), WW_OK);
    assert_int_equal(add_field(&build, "n_red", &err), WW_OK);
    assert_int_equal(add_field(&build, "red", &err), WW_OK);
    assert_int_equal(add_field(&build, "not ours", &err), WW_OK);
    assert_int_equal(add_field(&build, "nor this", &err), WW_OK);
    assert_int_equal(build.made.exposure, WW_EXPOSURE_STOP);
    ww__build_release(&build);
}

/* n and sd: of one column before those of the row; the row's sd to densities alone. */
static void counts_and_spreads_go_where_they_belong(void **state) {
    ww_readings got = parsed("spread", "red,green,L,gray,n,sd,n_red,sd_red\n"
                                       "0.5,0.6,50,40,4,0.02,7,0.01\n"
                                       "0.5,over,50,40,4,0.02,-,-\n"
                                       "0.5,0.6,50,40,-,-,-,-\n");
    const ww_cell *cell = got.row[0].cell;
    (void)state;
    test_true("red: its own", cell[WW_COLUMN_RED].n == 7);
    test_close("red: its own", cell[WW_COLUMN_RED].sd.value, 0.01, 0.0);
    test_true("green: the row's", cell[WW_COLUMN_GREEN].n == 4);
    test_close("green: the row's", cell[WW_COLUMN_GREEN].sd.value, 0.02, 0.0);
    test_true("L: no sd beside densities",
              cell[WW_COLUMN_LAB_L].n == 4 && !cell[WW_COLUMN_LAB_L].sd.set);
    test_true("gray was sent", cell[WW_COLUMN_GRAY].n == 1 && !cell[WW_COLUMN_GRAY].sd.set);
    cell = got.row[1].cell;
    test_true("red falls back", cell[WW_COLUMN_RED].n == 4 && cell[WW_COLUMN_RED].sd.set);
    test_true("over: n, no sd", cell[WW_COLUMN_GREEN].n == 4 && !cell[WW_COLUMN_GREEN].sd.set);
    cell = got.row[2].cell;
    test_true("nothing said: one", cell[WW_COLUMN_RED].n == 1 && !cell[WW_COLUMN_RED].sd.set);
    test_true("missing: none", cell[WW_COLUMN_BLUE].n == 0);
    ww_readings_release(&got);
    got = parsed("colours alone", "L,a,b,sd\n50,1,2,0.3\n");
    test_close("sd of L", got.row[0].cell[WW_COLUMN_LAB_L].sd.value, 0.3, 0.0);
    ww_readings_release(&got);
}

static void labels_and_parts(void **state) {
    ww__build build = ww__build_begin("film.csv");
    ww_readings got = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    assert_int_equal(add_field(&build, "tone", &err), WW_OK);
    assert_int_equal(add_field(&build, "part", &err), WW_OK);
    assert_int_equal(add_field(&build, "visual", &err), WW_OK);
    test_status("thin", add_row(&build, (const char *const[]){"cloud", "THIN", "1.3"}, &err), WW_OK,
                &err);
    test_status("whole", add_row(&build, (const char *const[]){"-", "", "1.3"}, &err), WW_OK, &err);
    test_status("base", add_row(&build, (const char *const[]){"BASE", "-", "0.3"}, &err), WW_OK,
                &err);
    test_status("thick", add_row(&build, (const char *const[]){"x", "thick", "1"}, &err), WW_EINPUT,
                &err);
    assert_int_equal(err.line, 5);
    assert_int_equal(ww__build_finish(&build, &got, &err), WW_OK);
    assert_int_equal(got.n, 3);
    assert_int_equal(got.row[0].part, WW_PART_THIN);
    assert_string_equal(got.row[1].tone, "-");
    assert_string_equal(got.row[1].step, "");
    assert_string_equal(got.row[1].pack, "");
    assert_int_equal(got.row[1].part, WW_PART_WHOLE);
    assert_true(got.row[2].is_base);
    ww__build_release(&build);
    ww_readings_release(&got);
}

static void nothing_read_is_noted(void **state) {
    ww_readings got = parsed("all missing", "step,red\n1,-\n2,-\n");
    (void)state;
    assert_true(noted(&got, "no row has a reading"));
    ww_readings_release(&got);
    got = parsed("over is a reading", "step,red\n1,-\n2,over\n");
    assert_int_equal(got.notes.n, 0);
    ww_readings_release(&got);
}

/* log H is the column itself for logh; exposure time stands for log h0 beside wedge alone. */
static void what_plays_no_part_is_noted(void **state) {
    ww_readings got = parsed("logh", "# log h0: 1\n# exposure time: 2\nlogh,red\n-1,0.3\n");
    (void)state;
    assert_int_equal(got.notes.n, 2);
    assert_true(noted(&got, "log h0 plays no part beside the column logh"));
    ww_readings_release(&got);
    got = parsed("stop", "# log h0: 1\n# exposure time: 2\nstop,red\n-1,0.3\n");
    assert_int_equal(got.notes.n, 1);
    assert_true(noted(&got, "exposure time"));
    ww_readings_release(&got);
    got = parsed("wedge", "# log h0: 1\n# exposure time: 2\nwedge,red\n1,0.3\n");
    assert_int_equal(got.notes.n, 0);
    ww_readings_release(&got);
}

/* Source: definition of the column: of all steps or none, above 0; base is no step. */
static void widths(void **state) {
    static const struct refusal rows[] = {
        {"zero", "step,width,visual\n1,3,0.1\n2,0,0.2\n", 3, "width"},
        {"negative", "step,width,visual\n1,-3,0.1\n", 2, "width"},
        {"no number", "step,width,visual\n1,wide,0.1\n", 2, "width"},
        {"over", "step,width,visual\n1,over,0.1\n", 2, "width"},
        {"some only", "step,width,visual\n1,3,0.1\n2,3,0.2\n3,,0.2\n", 4,
         "step '3' has no width, but step '1' has one"},
        {"repeats disagree", "step,width,visual\n1,3,0.1\n2,3,0.2\n1,3.5,0.1\n", 4,
         "step '1' is 3.5 wide here and 3 further up"},
        {"twice", "step,width,width,visual\n1,3,3,0.1\n", 1, "twice"}};
    (void)state;
    check_refusals(rows, ROWS(rows));
    ww_readings got = parsed("widths", "step;width;visual\nbase;;0,1\n1;3,25;0,1\n2;13;0,2\n");
    test_true("base", !got.row[0].width.set);
    test_close("first", got.row[1].width.value, 3.25, 0.0);
    test_close("second", got.row[2].width.value, 13.0, 0.0);
    ww_readings_release(&got);
    got = parsed("empty", "step,width,visual\n1,,0.1\n2,-,0.2\n");
    test_true("none", !got.row[0].width.set && !got.row[1].width.set);
    ww_readings_release(&got);
}

/* The piece of a safelight strip that was never under it needs no time; of other tables every row
 * has its exposure. Source: the strip command's own definition. */
static void the_covered_piece(void **state) {
    static const char wedge[] = "step,wedge,visual\ncovered,-,0.3\n1,0.3,0.31\n";
    ww_readings readings = parsed("time", "step,time,visual\nCOVERED,-,0.3\n1,60,0.31\n");
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_true("no time", !readings.row[0].exposure.set && !readings.row[0].is_base);
    ww_readings_release(&readings);
    test_status("a wedge", parse_bytes(wedge, strlen(wedge), &readings, &err), WW_EINPUT, &err);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(columns_that_repeat),
                                       cmocka_unit_test(the_covered_piece),
                                       cmocka_unit_test(counts_and_spreads_go_where_they_belong),
                                       cmocka_unit_test(labels_and_parts),
                                       cmocka_unit_test(what_plays_no_part_is_noted),
                                       cmocka_unit_test(nothing_read_is_noted),
                                       cmocka_unit_test(widths)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
