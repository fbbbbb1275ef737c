/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <dirent.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/*
 * replay FOLDER - gives each file of a corpus to a fuzz target that was built without a fuzzer.
 * That none crashes under the sanitizers is the test; each file counts as one.
 */

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

static int replay(const char *path) {
    FILE *file = fopen(path, "rb");
    uint8_t *bytes = NULL, *exact;
    size_t n = 0, room = 0;
    if (!file)
        return 1;
    do {
        room = room ? 2 * room : 4096;
        bytes = realloc(bytes, room);
        if (!bytes)
            abort();
        n += fread(bytes + n, 1, room - n, file);
    } while (n == room);
    fclose(file);
    printf("%s, %zu bytes\n", path, n);
    fflush(stdout);
    exact = malloc(n > 0 ? n : 1); /* no slack behind, so that reading past the end is caught */
    if (!exact)
        abort();
    memcpy(exact, bytes, n);
    free(bytes);
    LLVMFuzzerTestOneInput(exact, n);
    free(exact);
    return 0;
}

int main(int argc, char **argv) {
    DIR *folder = argc == 2 ? opendir(argv[1]) : NULL;
    const struct dirent *entry;
    int passed = 0, failed = 0;
    if (!folder) {
        printf("skipped: no corpus folder %s\n", argc == 2 ? argv[1] : "named");
        return 77;
    }
    while ((entry = readdir(folder))) {
        char path[1024];
        if (entry->d_name[0] == '.')
            continue;
        snprintf(path, sizeof path, "%s/%s", argv[1], entry->d_name);
        if (replay(path) == 0)
            passed++;
        else
            failed++;
    }
    closedir(folder);
    printf("%d passed, %d failed, 0 skipped\n", passed, failed);
    return failed > 0;
}
