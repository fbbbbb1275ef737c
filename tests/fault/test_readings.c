/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings_made.h"
#include "fault/inject.h"
#include "io/same.h"
#include <stdlib.h>
#include <wedgework/readings_file.h>

/* Source: definition (the Status lines of the headers). */

static const char csv[] =
    "# name: made up\n\"# lot: 7\",\n# materail: x\nstep,wedge,tone,red,n,sd\n"
    "base,,a,0.2,1,-\n1,0.3,\"b, c\",0.4,2,0.01\n1,0.3,\"b, c\",0.5,1,-\n"
    "1,0.3,\"b, c\",over,1,-\n#2,0,x,0,1,0\n";
static const char cgats[] = "CGATS.17\nFILE_DESCRIPTOR \"made up\"\nKEYWORD \"WEDGE\"\n"
                            "WEIGHTING_FUNCTION \"Status I\"\n# lot: 7\n# read: damp\n"
                            "BEGIN_DATA_FORMAT\nSAMPLE_ID\tWEDGE\tD_RED\tNM380\tRGB_R\n"
                            "END_DATA_FORMAT\nBEGIN_DATA\n\"a b\"\t0.3\t0.4\t1\t2\n1 0.1 0.2 3 4\n"
                            "END_DATA\nBEGIN_DATA\n1 2 3 4 5\nEND_DATA\n";

static const char spectra[] =
    "CGATS.17\n# emulsion: colour negative\nBEGIN_DATA_FORMAT\nSAMPLE_ID NM400 NM420 NM440 NM460 "
    "NM480 "
    "NM500 NM520 NM540 NM560 NM580 NM600 NM620 NM640 NM660 NM680 "
    "NM700\nEND_DATA_FORMAT\nBEGIN_DATA\n"
    "base 5 8 10 11 12 12 13 14 15 16 22 30 40 50 60 60\n"
    "1 0 0 0 0 0 0.01 0 0 0 0 0 0 0 0 0 0\n2 - - - - - - - - - - - - - - - -\nEND_DATA\n";

static ww_readings parsed(const char *text) {
    ww_readings readings = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("parse", ww_readings_file_parse("f", text, strlen(text), &readings, &err), WW_OK,
                &err);
    return readings;
}

static ww_status parse(void *context, ww_error *err) {
    const char *text = context;
    ww_readings readings = WW_READINGS_INIT;
    ww_status status = ww_readings_file_parse("f", text, strlen(text), &readings, err);
    test_true("all or nothing", (status == WW_OK) == (readings.n > 0));
    ww_readings_release(&readings);
    return status;
}

static ww_status pool(void *context, ww_error *err) {
    ww_readings pooled = WW_READINGS_INIT;
    ww_status status = ww_readings_pool(context, &pooled, err);
    test_true("all or nothing", pooled.n == (status == WW_OK ? 2 : 0));
    ww_readings_release(&pooled);
    return status;
}

static ww_status copy_meta(void *context, ww_error *err) {
    const ww_readings *readings = context;
    ww_meta copy = {.name = NULL};
    ww_status status = ww_meta_copy(&readings->meta, &copy, err);
    test_true("all or nothing", (status == WW_OK) == (copy.name != NULL));
    ww_meta_release(&copy);
    return status;
}

struct pair {
    ww_readings film, wedge;
};

static ww_status through(void *context, ww_error *err) {
    struct pair *pair = context;
    ww_status status = ww_readings_through(&pair->film, &pair->wedge, err);
    test_true("all or nothing", pair->film.row[0].exposure.set == (status == WW_OK));
    pair->film.exposure = WW_EXPOSURE_NONE;
    pair->film.row[0].exposure.set = false;
    return status;
}

struct job {
    ww_readings readings;
    char *path;
};

static ww_status write_csv(void *context, ww_error *err) {
    const struct job *job = context;
    return ww_readings_file_write(&job->readings, job->path, err);
}

static ww_status as_text(void *context, ww_error *err) {
    const struct job *job = context;
    char *text = NULL;
    size_t n;
    const ww_status status = ww_readings_file_text(&job->readings, &text, &n, err);
    test_true("all or nothing", (text != NULL) == (status == WW_OK));
    free(text);
    return status;
}

static ww_status write_cgats(void *context, ww_error *err) {
    const struct job *job = context;
    return ww_readings_file_write_cgats(&job->readings, job->path, err);
}

static ww_status read(void *context, ww_error *err) {
    const struct job *job = context;
    ww_readings readings = WW_READINGS_INIT;
    ww_status status = ww_readings_file_read(job->path, &readings, err);
    if (status == WW_OK)
        test_true("same", difference(&readings, &job->readings) == NULL);
    ww_readings_release(&readings);
    return status;
}

static void reading(void **state) {
    char text[sizeof csv], sheet[sizeof cgats], read_as_spectra[sizeof spectra];
    (void)state;
    memcpy(text, csv, sizeof csv);
    memcpy(sheet, cgats, sizeof cgats);
    memcpy(read_as_spectra, spectra, sizeof spectra);
    inject_each("CSV", parse, text);
    inject_each("CGATS", parse, sheet);
    inject_each("spectra", parse, read_as_spectra);
}

static void core(void **state) {
    ww_readings readings = parsed(csv);
    struct pair pair = {WW_READINGS_INIT, WW_READINGS_INIT};
    (void)state;
    inject_each("ww_readings_pool", pool, &readings);
    inject_each("ww_meta_copy", copy_meta, &readings);
    made_step(&pair.film, "1", WW_COLUMN_RED, 0.4);
    made_step(&pair.wedge, "1", WW_COLUMN_RED, 0.3);
    inject_each("ww_readings_through", through, &pair);
    ww_readings_release(&readings);
    ww_readings_release(&pair.film);
    ww_readings_release(&pair.wedge);
}

static void files(void **state) {
    char *folder = test_folder_new();
    struct job job = {parsed(csv), test_path(folder, "f.csv")};
    (void)state;
    inject_each("ww_readings_file_write_cgats", write_cgats, &job);
    inject_each("CGATS again", read, &job);
    inject_each("ww_readings_file_write", write_csv, &job);
    inject_each("ww_readings_file_text", as_text, &job);
    inject_each("ww_readings_file_read", read, &job);
    assert_int_equal(test_folder_count(folder), 1);
    ww_readings_release(&job.readings);
    free(job.path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(reading), cmocka_unit_test(core),
                                       cmocka_unit_test(files)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
