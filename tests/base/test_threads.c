/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/threads.h"
#include "support/support.h"

/* Source: definition (threads.h). */

enum { ITEMS = 5000 };

typedef struct task {
    size_t times[ITEMS];
    double value[ITEMS];
    size_t fail_from, fail_every; /* items that fail; 0: none */
    size_t most_workers;
    _Atomic int bad_worker;
} task;

static ww_status work(size_t item, size_t worker, void *context, ww_error *err) {
    task *all = context;
    double sum = 0.0;
    if (worker >= all->most_workers)
        all->bad_worker = 1;
    for (size_t i = 1; i < 50 + item % 400; i++)
        sum += 1.0 / (double)(i * i + item);
    all->times[item]++;
    all->value[item] = sum;
    if (all->fail_every && item >= all->fail_from && (item - all->fail_from) % all->fail_every == 0)
        return ww_error_set(err, item % 2 ? WW_ENODATA : WW_EDOMAIN, "item %zu", item);
    return WW_OK;
}

static const size_t thread_counts[] = {1, 2, 3, 7, 64, 1000, 0};
enum { COUNTS = sizeof thread_counts / sizeof *thread_counts };

static void each_item_once_and_same_results(void **state) {
    static task one, many;
    (void)state;
    one.most_workers = 1;
    assert_int_equal(ww__threads_for(ITEMS, 1, work, &one, NULL), WW_OK);
    for (size_t c = 0; c < COUNTS; c++) {
        many = (task){.most_workers = ww__threads_count(thread_counts[c])};
        assert_int_equal(ww__threads_for(ITEMS, thread_counts[c], work, &many, NULL), WW_OK);
        assert_false(many.bad_worker);
        for (size_t i = 0; i < ITEMS; i++)
            assert_true(many.times[i] == 1);
        assert_memory_equal(one.value, many.value, sizeof one.value);
    }
}

static void lowest_failure_is_reported(void **state) {
    static task all;
    (void)state;
    for (size_t c = 0; c < COUNTS; c++) {
        ww_error err = WW_ERROR_INIT;
        all = (task){.fail_from = 301, .fail_every = 2, .most_workers = WW__THREADS_MOST};
        test_status("first", ww__threads_for(ITEMS, thread_counts[c], work, &all, &err), WW_ENODATA,
                    &err);
        assert_string_equal(err.msg, "item 301");
        assert_int_equal(ww__threads_for(ITEMS, thread_counts[c], work, &all, NULL), WW_ENODATA);
        all = (task){.fail_from = ITEMS - 1, .fail_every = 1, .most_workers = WW__THREADS_MOST};
        assert_int_equal(ww__threads_for(ITEMS, thread_counts[c], work, &all, &err), WW_ENODATA);
        assert_string_equal(err.msg, "item 4999");
    }
}

static void counts(void **state) {
    static task all;
    (void)state;
    assert_true(ww__threads_count(0) >= 1);
    assert_int_equal(ww__threads_count(1), 1);
    assert_int_equal(ww__threads_count(3), 3);
    assert_int_equal(ww__threads_count(SIZE_MAX), WW__THREADS_MOST);
    all.most_workers = 1;
    assert_int_equal(ww__threads_for(0, 4, work, &all, NULL), WW_OK);
    assert_int_equal(ww__threads_for(1, 4, work, &all, NULL), WW_OK);
    assert_int_equal(all.times[0], 1);
    assert_false(all.bad_worker);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(each_item_once_and_same_results),
                                       cmocka_unit_test(lowest_failure_is_reported),
                                       cmocka_unit_test(counts)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
