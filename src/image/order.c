/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/order.h"

#include <assert.h>
#include <stdlib.h>

enum { SHORT = 12 };

static void swap(double *a, double *b) {
    const double was = *a;
    *a = *b, *b = was;
}

static void insert(double value[], size_t n) {
    for (size_t i = 1; i < n; i++) {
        const double own = value[i];
        size_t k = i;
        for (; k > 0 && value[k - 1] > own; k--)
            value[k] = value[k - 1];
        value[k] = own;
    }
}

static int by_size(const void *left, const void *right) {
    const double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* The median of the first, middle and last value, which are left in order. */
static double pivot_of(double value[], size_t n) {
    double *a = &value[0], *b = &value[n / 2], *c = &value[n - 1];
    if (*b < *a)
        swap(a, b);
    if (*c < *b)
        swap(b, c);
    if (*b < *a)
        swap(a, b);
    return *b;
}

double ww__order_nth(double value[], size_t n, size_t place) {
    size_t low = 0, high = n, turns = 0;
    assert(place < n);
    for (size_t left = n; left > 0; left /= 2)
        turns += 2;
    while (high - low > SHORT) {
        if (turns-- == 0) { /* pivots keep falling badly */
            qsort(&value[low], high - low, sizeof value[0], by_size);
            return value[place];
        }
        const double pivot = pivot_of(&value[low], high - low);
        size_t i = low, k = high - 1;
        while (i <= k) {
            while (value[i] < pivot)
                i++;
            while (value[k] > pivot)
                k--;
            if (i <= k)
                swap(&value[i++], &value[k--]);
        }
        /* Now k < i, and what lies between equals the pivot. */
        if (place <= k)
            high = k + 1;
        else if (place >= i)
            low = i;
        else
            return value[place];
    }
    insert(&value[low], high - low);
    return value[place];
}

double ww__order_median(double value[], size_t n) {
    assert(n > 0);
    const double upper = ww__order_nth(value, n, n / 2);
    if (n % 2 == 1)
        return upper;
    double lower = value[0];
    for (size_t i = 1; i < n / 2; i++)
        lower = value[i] > lower ? value[i] : lower;
    return 0.5 * (lower + upper);
}
