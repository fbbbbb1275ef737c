/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_refuse.h"
#include "support/support.h"
#include <string.h>

/* A page of 16-bit RGB in strips, of which each row changes one thing. */
#define PAGE                                                                                       \
    .width = 37, .height = 29, .depth = 1, .bits = 16, .samples = 3, .format = 1, .planar = 1,     \
    .compression = 1, .orientation = 1, .fill_order = 1, .says_photometric = true,                 \
    .photometric = 2, .chunk_width = 37, .chunk_height = 7, .tile_depth = 1

/* Source: numbers of TIFF 6.0, its supplements and DNG; picture_file.h lists what is read. */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Woverride-init"
static const struct {
    const char *says; /* NULL: not refused */
    ww__tiff_tags tags;
} rows[] = {
    {NULL, {PAGE}},
    {NULL, {PAGE, .photometric = 0, .samples = 1}},
    {NULL, {PAGE, .photometric = 1, .samples = 2, .bits = 2}},
    {NULL, {PAGE, .samples = 64, .bits = 32}},
    {NULL, {PAGE, .format = 2, .bits = 32}},
    {NULL, {PAGE, .format = 4, .bits = 8}},
    {NULL, {PAGE, .format = 3, .bits = 64}},
    {NULL, {PAGE, .format = 3, .bits = 16, .planar = 2, .compression = 5}},
    {NULL, {PAGE, .photometric = 1, .samples = 1, .bits = 8, .compression = 6}},
    {"palette", {PAGE, .photometric = 3, .samples = 1, .bits = 1}},
    {"mask", {PAGE, .photometric = 4}},
    {"CMYK", {PAGE, .photometric = 5, .samples = 4}},
    {"YCbCr", {PAGE, .photometric = 6, .bits = 8, .compression = 7}},
    {"Lab", {PAGE, .photometric = 8}},
    {"Lab", {PAGE, .photometric = 9}},
    {"Lab", {PAGE, .photometric = 10}},
    {"raw mosaic", {PAGE, .photometric = 32803, .samples = 1}},
    {"logarithms", {PAGE, .photometric = 32844}},
    {"logarithms", {PAGE, .photometric = 32845}},
    {"raw data", {PAGE, .photometric = 34892}},
    {"photometric interpretation 2731", {PAGE, .photometric = 2731}},
    {"does not say", {PAGE, .says_photometric = false}},
    {"has 2 samples", {PAGE, .samples = 2}},
    {"1 bit", {PAGE, .bits = 1, .photometric = 0, .samples = 1}},
    {"complex", {PAGE, .format = 5, .bits = 32}},
    {"complex", {PAGE, .format = 6, .bits = 64}},
    {"unknown format", {PAGE, .format = 7}},
    {"integers of 33 bits", {PAGE, .bits = 33}},
    {"integers of 0 bits", {PAGE, .bits = 0}},
    {"floating point of 24 bits", {PAGE, .format = 3, .bits = 24}},
    {"YCbCr", {PAGE, .photometric = 6, .bits = 8, .compression = 6}},
    {"method 2731", {PAGE, .compression = 2731}},
    {"0 x 29 px", {PAGE, .width = 0}},
    {"37 x 0 px", {PAGE, .height = 0}},
    {"volume", {PAGE, .depth = 2}},
    {"volume", {PAGE, .tile_depth = 3}},
    {"strips of 37 x 0", {PAGE, .chunk_height = 0}},
    {"tiles of 0 x 7", {PAGE, .tiled = true, .chunk_width = 0}},
    {"65 samples", {PAGE, .samples = 65}},
    {"0 samples", {PAGE, .photometric = 1, .samples = 0}},
    {"unknown order (3)", {PAGE, .planar = 3}},
};
#pragma GCC diagnostic pop

static void refuses_with_a_remedy(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_error err = WW_ERROR_INIT;
        const char *name = rows[i].says ? rows[i].says : "read";
        test_status(name, ww__tiff_refuse(&rows[i].tags, "a.tif", &err),
                    rows[i].says ? WW_EINPUT : WW_OK, &err);
        if (!rows[i].says)
            continue;
        if (!strstr(err.msg, rows[i].says))
            fail_msg("%zu: '%s' does not say '%s'", i, err.msg, rows[i].says);
        test_true(err.msg, strstr(err.msg, "export") != NULL);
        test_text(name, err.file, "a.tif");
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(refuses_with_a_remedy)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
