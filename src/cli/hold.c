/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/hold.h"
#include <signal.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stddef.h>
#include <time.h>
#include <unistd.h>
#include <wedgework/output.h>

/* How many results are being written; ENDING once a signal has decided that none will be. */
enum { ENDING = -1 };
static atomic_int writing;
static atomic_int waiting;      /* a signal, 0: none */
static atomic_llong waiting_ms; /* since when */

/* Who ends a program from outside often signals it and its group, which comes twice at once; a hand
 * that presses again takes longer. */
static const long long hand_ms = 300;

static long long now_ms(void) {
    struct timespec now = {0, 0};
    clock_gettime(CLOCK_MONOTONIC, &now);
    return 1000LL * now.tv_sec + now.tv_nsec / 1000000;
}

/* As if it had never been caught, so that whoever started the program sees what ended it. */
static void end_by(int signal_number) {
    struct sigaction as_ever = {.sa_handler = SIG_DFL};
    sigset_t only;
    ww_output_remove_unfinished();
    sigemptyset(&as_ever.sa_mask);
    sigaction(signal_number, &as_ever, NULL);
    sigemptyset(&only);
    sigaddset(&only, signal_number);
    pthread_sigmask(SIG_UNBLOCK, &only, NULL);
    kill(getpid(), signal_number);
}

/* The signal is noted before the count is looked at, and ww__hold_end does it the other way round:
 * one of the two sees it. A second signal from a hand is meant in earnest. */
static void caught(int signal_number) {
    int none = 0;
    bool again;
    if (atomic_load(&waiting) == 0)
        atomic_store(&waiting_ms, now_ms());
    again = atomic_exchange(&waiting, signal_number) != 0;
    if ((again && now_ms() - atomic_load(&waiting_ms) >= hand_ms) ||
        atomic_compare_exchange_strong(&writing, &none, ENDING))
        end_by(signal_number);
}

void ww__hold_start(void) {
    static const int polite[] = {SIGINT, SIGTERM, SIGHUP};
    for (size_t i = 0; i < sizeof polite / sizeof polite[0]; i++) {
        struct sigaction now, wait = {.sa_handler = caught, .sa_flags = SA_RESTART};
        sigemptyset(&wait.sa_mask);
        if (sigaction(polite[i], NULL, &now) == 0 && now.sa_handler == SIG_DFL)
            sigaction(polite[i], &wait, NULL);
    }
}

void ww__hold_begin(void) {
    int n = atomic_load(&writing);
    while (n == ENDING || !atomic_compare_exchange_weak(&writing, &n, n + 1))
        if (n == ENDING) { /* another thread is about to end the program */
            pause();
            n = atomic_load(&writing);
        }
}

void ww__hold_end(void) {
    int none = 0;
    atomic_fetch_sub(&writing, 1);
    if (atomic_load(&waiting) != 0 && atomic_compare_exchange_strong(&writing, &none, ENDING)) {
        end_by(atomic_load(&waiting));
        for (;;)
            pause();
    }
}
