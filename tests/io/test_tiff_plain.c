/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/gather.h"
#include "io/tiff_made.h"
#include "io/tiff_plain.h"
#include <fcntl.h>
#include <unistd.h>
#include <wedgework/picture_file.h>

/* Layouts as ww__tiff_layout_set gives them. */
static ww__tiff layout(size_t width, size_t height, size_t samples, size_t chunk_width,
                       size_t chunk_height) {
    ww__tiff tiff = {.turn = {width, height, 1},
                     .samples = {16, WW__TIFF_UNSIGNED, false, false, samples, samples},
                     .planes = 1,
                     .chunk_width = chunk_width,
                     .chunk_height = chunk_height};
    tiff.across = (width - 1) / chunk_width + 1;
    tiff.down = (height - 1) / chunk_height + 1;
    tiff.row_bytes = ww__tiff_samples_row(&tiff.samples, chunk_width);
    return tiff;
}

static const struct {
    const char *name;
    size_t width, height, samples, chunk_width, chunk_height;
} rows[] = {
    {"many small strips", 4001, 300, 3, 4001, 1},
    {"one strip", 4001, 300, 3, 4001, 300},
    {"tiles", 1000, 700, 3, 256, 256},
    {"large tiles", 3000, 1500, 3, 2048, 1024},
    {"wide rows", 300001, 5, 3, 300001, 2},
    {"one pixel", 1, 1, 1, 1, 1},
    {"wide tiles", 300001, 5, 3, 262144, 16},
};

/* Source: definition: every pixel lies in one piece, and no piece is longer than a batch. */
static void pieces_cover_the_picture_once(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ww__tiff tiff = layout(rows[i].width, rows[i].height, rows[i].samples,
                                     rows[i].chunk_width, rows[i].chunk_height);
        const size_t n = ww__tiff_plain_pieces(&tiff);
        unsigned char *seen = calloc(rows[i].width, rows[i].height);
        assert_non_null(seen);
        for (size_t k = 0; k < n; k++) {
            const ww_region part = ww__tiff_plain_piece(&tiff, k).stored;
            test_true(rows[i].name,
                      part.width * part.height * rows[i].samples * 2 <= WW__TIFF_BATCH);
            test_true("begins with a byte", part.x % rows[i].chunk_width % 8 == 0);
            for (size_t y = part.y; y < part.y + part.height; y++)
                for (size_t x = part.x; x < part.x + part.width; x++)
                    seen[y * rows[i].width + x]++;
        }
        for (size_t k = 0; k < rows[i].width * rows[i].height; k++)
            if (seen[k] != 1)
                fail_msg("%s: pixel %zu lies in %d pieces", rows[i].name, k, seen[k]);
        test_true(rows[i].name, ww__tiff_plain_memory(&tiff) <= WW__TIFF_BATCH);
        free(seen);
    }
}

/* A file that was cut after it was opened ends in an error, not in old or invented pixels. */
static void a_file_cut_meanwhile_is_told(void **state) {
    const made file = {"", 37, 29, 3, 2, 16, 1, 1, 1, 0, 1, 0, 7, "wl", false, false};
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    ww_picture picture = WW_PICTURE_INIT;
    ww_error err = WW_ERROR_INIT;
    gathered all;
    (void)state;
    assert_true(made_write(&file, path));
    assert_int_equal(ww_picture_file_open(path, 1, &picture, &err), WW_OK);
    assert_int_equal(truncate(path, 1000), 0);
    test_status("cut", gather_all(&picture, 1, &all, &err), WW_EINPUT, &err);
    test_text("cut", err.file, path);
    gather_release(&all);
    ww_picture_release(&picture);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_cover_the_picture_once),
        cmocka_unit_test(a_file_cut_meanwhile_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
