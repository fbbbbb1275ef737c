/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scan_floor FILE - nothing but reading: two threads take turns at pieces of 1 MiB, each into one
 * buffer that it keeps, and add up the words so that the reading is not in vain.
 */
#include <fcntl.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

enum { PIECE = 1 << 20, THREADS = 2 };

static int file;
static atomic_llong next;
static atomic_ullong total;

static void *read_on(void *unused) {
    uint64_t *buffer = malloc(PIECE);
    unsigned long long sum = 0;
    ssize_t got = buffer ? 1 : 0;
    while (got > 0) {
        got = pread(file, buffer, PIECE, (off_t)atomic_fetch_add(&next, PIECE));
        for (ssize_t i = 0; i < got / (ssize_t)sizeof *buffer; i++)
            sum += buffer[i];
    }
    atomic_fetch_add(&total, sum);
    free(buffer);
    return unused;
}

int main(int argc, char **argv) {
    pthread_t thread[THREADS];
    file = argc == 2 ? open(argv[1], O_RDONLY) : -1;
    if (file < 0)
        return 1;
    for (int i = 0; i < THREADS; i++)
        if (pthread_create(&thread[i], NULL, read_on, NULL))
            return 1;
    for (int i = 0; i < THREADS; i++)
        pthread_join(thread[i], NULL);
    printf("%llu\n", (unsigned long long)total);
    return 0;
}
