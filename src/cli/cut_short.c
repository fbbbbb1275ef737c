/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cut_short.h"
#include "cli/complain.h"
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <unistd.h>
#include <wedgework/output.h>

/* All below runs in a signal's handler, and calls only what may be called there. */

typedef struct lines {
    int fd;
    size_t at, n;
    char bytes[1024];
} lines;

static bool next_byte(lines *from, char *byte) {
    if (from->at == from->n) {
        const ssize_t got = read(from->fd, from->bytes, sizeof from->bytes);
        from->n = got > 0 ? (size_t)got : 0;
        from->at = 0;
    }
    if (from->at == from->n)
        return false;
    *byte = from->bytes[from->at++];
    return true;
}

/* What is longer than `size` is left out. */
static bool next_line(lines *from, char line[], size_t size) {
    size_t n = 0;
    char byte = '\0';
    while (next_byte(from, &byte) && byte != '\n')
        if (n + 1 < size)
            line[n++] = byte;
    line[n] = '\0';
    return byte == '\n';
}

static uintptr_t hexadecimal(const char **text) {
    static const char digits[] = "0123456789abcdef";
    const char *digit;
    uintptr_t number = 0;
    for (; **text && (digit = strchr(digits, **text)); (*text)++)
        number = number << 4 | (uintptr_t)(digit - digits);
    return number;
}

/* A line tells "from-to rights offset device inode name", in hexadecimal; the name alone has a '/'.
 * Source: proc(5). */
static const char *mapped_at(uintptr_t place, const char *line) {
    const uintptr_t from = hexadecimal(&line);
    line += *line == '-';
    return place >= from && place < hexadecimal(&line) ? strchr(line, '/') : NULL;
}

static void say(const char *text) {
    if (write(STDERR_FILENO, text, strlen(text)) < 0)
        return; /* nobody listens */
}

/* Nothing in a name may steer the terminal. */
static void say_name(uintptr_t place) {
    lines maps = {.fd = open("/proc/self/maps", O_RDONLY | O_CLOEXEC)};
    static char line[PATH_MAX + 128];
    const char *name = NULL;
    while (maps.fd >= 0 && !name && next_line(&maps, line, sizeof line))
        name = mapped_at(place, line);
    for (char *c = line; *c; c++)
        if (*c < ' ' || *c > '~')
            *c = '?';
    say(name ? name : "a scan");
}

static void end_by_default(int signal_number) {
    struct sigaction as_ever = {.sa_handler = SIG_DFL};
    sigemptyset(&as_ever.sa_mask);
    sigaction(signal_number, &as_ever, NULL);
}

static void caught(int signal_number, siginfo_t *info, void *context) {
    static atomic_flag told = ATOMIC_FLAG_INIT;
    static const ww_error bad_input = {.code = WW_EINPUT};
    (void)context;
    if (info->si_code != BUS_ADRERR) { /* sent by hand, or a fault of ours, which comes again */
        end_by_default(signal_number);
        if (info->si_code <= 0)
            raise(signal_number);
        return;
    }
    while (atomic_flag_test_and_set(&told))
        pause(); /* another thread is about to end the program */
    ww_output_remove_unfinished();
    say(isatty(STDERR_FILENO) ? "\r\nwedgework: " : "wedgework: "); /* below a progress bar */
    say_name((uintptr_t)info->si_addr);
    say(": ends before the pixels do, or its disk refused them: it was cut or lost while it was "
        "read; scan, export or copy it again\n");
    _exit(ww__complain_status(&bad_input));
}

void ww__cut_short_start(void) {
    struct sigaction tell = {.sa_sigaction = caught, .sa_flags = SA_SIGINFO};
    sigemptyset(&tell.sa_mask);
    sigaction(SIGBUS, &tell, NULL);
}
