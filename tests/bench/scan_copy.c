/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scan_copy OUT FILE... - nothing but reading all files, side by side, and writing the bytes of the
 * first, in pieces of 1 MiB; to the disk, and only then under the name.
 */
#include <fcntl.h>
#include <stdio.h>
#include <unistd.h>

enum { PIECE = 1 << 20, FILES = 8 };

static char buffer[PIECE];

int main(int argc, char **argv) {
    char name[4096];
    int file[FILES];
    ssize_t got = 1;
    if (argc < 3 || argc - 2 > FILES ||
        snprintf(name, sizeof name, "%s.new", argv[1]) >= (int)sizeof name)
        return 2;
    const int out = open(name, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    for (int i = 0; i < argc - 2; i++)
        if ((file[i] = open(argv[i + 2], O_RDONLY)) < 0)
            return 1;
    while (got > 0) {
        for (int i = argc - 3; i >= 0; i--) /* the first one last: its bytes are written */
            if ((got = read(file[i], buffer, PIECE)) < 0)
                return 1;
        if (write(out, buffer, (size_t)got) != got)
            return 1;
    }
    return fsync(out) != 0 || rename(name, argv[1]) != 0;
}
