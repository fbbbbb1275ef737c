/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <wedgework/picture_file.h>

/*
 * Any bytes are a picture or refused with a message that names the file; every sample that is shown
 * can be read, and every block lies inside the picture.
 */

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

static char path[32];

static void fail(const char *what, const char *detail) {
    fprintf(stderr, "%s: %s\n", what, detail);
    abort();
}

/* A picture is a file, so the bytes become one: without a name, gone when the target ends. */
static void write_file(const uint8_t *bytes, size_t n) {
    static FILE *file;
    if (!file) {
        file = tmpfile();
        if (!file)
            fail("no file", "none can be made");
        snprintf(path, sizeof path, "/dev/fd/%d", fileno(file));
    }
    if (ftruncate(fileno(file), 0) != 0 || pwrite(fileno(file), bytes, n, 0) != (ssize_t)n)
        fail("cannot be written", path);
}

/* The four corners are read, so that a sanitizer sees what lies outside. */
static ww_status look(const ww_block *block, size_t worker, void *context, ww_error *err) {
    const ww_picture *picture = context;
    const ptrdiff_t right = (ptrdiff_t)(block->width - 1) * block->next_x;
    const ptrdiff_t bottom = (ptrdiff_t)(block->height - 1) * block->next_y;
    const ptrdiff_t last = (ptrdiff_t)block->channels - 1;
    volatile double sum = 0.0;
    for (int corner = 0; corner < 4; corner++)
        sum += ww_block_code(block, (corner & 1 ? right : 0) + (corner & 2 ? bottom : 0) +
                                        (corner > 0 ? last : 0));
    (void)worker, (void)err, (void)sum;
    if (block->x + block->width > picture->width || block->y + block->height > picture->height ||
        block->channel + block->channels > picture->channels)
        fail("a block lies outside", picture->file);
    return WW_OK;
}

static void refused(ww_status status, const ww_error *err) {
    if (err->code != status || err->msg[0] == '\0' || strcmp(err->file, path) != 0)
        fail("refused without a message that names the file", err->msg);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
    ww_picture picture = WW_PICTURE_INIT;
    ww_error err = WW_ERROR_INIT;
    ww_status status;
    write_file(bytes, n);
    status = ww_picture_file_open(path, 1, &picture, &err);
    if (status == WW_OK) {
        const ww_region everything = {0, 0, picture.width, picture.height};
        status = ww_picture_visit(&picture, &everything, 1, 1, look, &picture, &err);
    }
    if (status != WW_OK)
        refused(status, &err);
    ww_picture_release(&picture);
    return 0;
}
