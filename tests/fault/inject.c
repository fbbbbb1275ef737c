/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include <errno.h>
#include <stdatomic.h>
#include <stdlib.h>

/*
 * The program's own malloc and its kin stand before the C library's, for the shared libraries as
 * well; glibc offers its own under these names. Hence no sanitizer here, nor valgrind.
 */
extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t n, size_t size);
extern void *__libc_realloc(void *old, size_t size);
extern void *__libc_memalign(size_t alignment, size_t size);
extern void __libc_free(void *memory);

static atomic_long left = -1; /* allocations until one fails; below 0: none does */
static atomic_long live;      /* allocations less releases */

static bool fails_now(void) {
    if (atomic_load(&left) <= 0 || atomic_fetch_sub(&left, 1) != 1)
        return false;
    errno = ENOMEM;
    return true;
}

static void *counted(void *memory) {
    if (memory)
        atomic_fetch_add(&live, 1);
    return memory;
}

void *malloc(size_t size) {
    return fails_now() ? NULL : counted(__libc_malloc(size));
}

void *calloc(size_t n, size_t size) {
    return fails_now() ? NULL : counted(__libc_calloc(n, size));
}

void *realloc(void *old, size_t size) {
    if (fails_now())
        return NULL;
    if (!old)
        return counted(__libc_realloc(NULL, size));
    if (size == 0)
        atomic_fetch_sub(&live, 1);
    return __libc_realloc(old, size);
}

void *aligned_alloc(size_t alignment, size_t size) {
    return fails_now() ? NULL : counted(__libc_memalign(alignment, size));
}

int posix_memalign(void **memory, size_t alignment, size_t size) {
    void *made = aligned_alloc(alignment, size);
    if (!made)
        return ENOMEM;
    *memory = made;
    return 0;
}

void free(void *memory) {
    if (memory)
        atomic_fetch_sub(&live, 1);
    __libc_free(memory);
}

void inject_each(const char *row, inject_operation *operation, void *context) {
    inject_each_but(row, operation, context, 0);
}

void inject_each_but(const char *row, inject_operation *operation, void *context, long foreign) {
    enum { MOST = 1000000 };
    bool refused = false;
    /* Once without failure: what the C library keeps for good is then there. */
    test_status(row, operation(context, NULL), WW_OK, NULL);
    for (long k = 1; k < MOST; k++) {
        ww_error err = WW_ERROR_INIT;
        const long before = atomic_load(&live);
        ww_status status;
        long after;
        bool failed;
        atomic_store(&left, k);
        status = operation(context, &err);
        failed = atomic_exchange(&left, -1) == 0;
        after = atomic_load(&live);
        if (after < before || after > before + (failed ? foreign : 0))
            fail_msg("%s: allocation %ld failing leaves %ld behind", row, k, after - before);
        if (!failed) {
            test_status(row, status, WW_OK, &err);
            test_true("some allocation failing is WW_EMEMORY", refused || k == 1);
            return;
        }
        if (status != WW_OK && (status != WW_EMEMORY || err.code != status || !err.msg[0]))
            fail_msg("%s: allocation %ld failing gives status %d: %s", row, k, (int)status,
                     err.msg);
        refused = refused || status == WW_EMEMORY;
    }
    fail_msg("%s: no end of allocations", row);
}
