/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings.h"
#include "plan/compare_parts.h"
#include <assert.h>
#include <stdlib.h>
#include <string.h>

static void release_print(ww_compare_print *print) {
    for (size_t i = 0; i < print->n; i++)
        free(print->tone[i].label);
    free(print->tone);
    free(print->name);
}

void ww_comparison_release(ww_comparison *comparison) {
    if (!comparison)
        return;
    for (size_t i = 0; i < comparison->n; i++)
        release_print(&comparison->print[i]);
    for (size_t i = 0; i < comparison->n_pairs; i++)
        free(comparison->pair[i].tone);
    free(comparison->print);
    free(comparison->pair);
    ww_notes_release(&comparison->notes);
    *comparison = (ww_comparison)WW_COMPARISON_INIT;
}

ww_status ww__compare_name(const char *name, const char *file, ww_compare_print *print,
                           ww_error *err) {
    const char *slash = file ? strrchr(file, '/') : NULL;
    const char *own = slash ? slash + 1 : file ? file : "";
    return ww__readings_text_copy(name && name[0] ? name : own, &print->name, err);
}

ww_status ww__compare_reserve(ww_compare_print *print, size_t n, ww_error *err) {
    print->tone = calloc(n + 1, sizeof *print->tone);
    return print->tone ? WW_OK : ww_error_set(err, WW_EMEMORY, "no memory for %zu tones", n);
}

static ww_status check(const ww_compare_input input[], size_t n, ww_error *err) {
    if (n < 2 || n > WW_COMPARE_MOST)
        return ww_error_set(err, WW_EDOMAIN,
                            "%zu files cannot be compared; give 2 to %d of readings or of curves",
                            n, WW_COMPARE_MOST);
    for (size_t i = 1; i < n; i++)
        if (!input[i].curve != !input[0].curve)
            return ww_error_set_at(err, WW_EMISMATCH, input[i].file, 0,
                                   "this holds %s, and the first file %s; compare readings with "
                                   "readings, or `fit` them first and compare curves",
                                   input[i].curve ? "a curve" : "readings",
                                   input[0].curve ? "a curve" : "readings");
    return WW_OK;
}

static ww_status make_prints(const ww_compare_input input[], size_t n, ww_comparison *made,
                             ww_error *err) {
    ww_status status = WW_OK;
    made->print = calloc(n, sizeof *made->print);
    made->pair = calloc(n, sizeof *made->pair);
    if (!made->print || !made->pair)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu prints", n);
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        ww_compare_print *print = &made->print[made->n++];
        status = input[i].curve ? ww__compare_curve(&input[i], print, &made->notes, err)
                                : ww__compare_table(&input[i], print, &made->notes, err);
    }
    return status;
}

/* Two that call themselves alike, as a print and its re-run do, go by their files. */
static ww_status part_names(const ww_compare_input input[], ww_comparison *made, ww_error *err) {
    ww_status status = WW_OK;
    bool alike[WW_COMPARE_MOST] = {false};
    for (size_t i = 0; i < made->n; i++)
        for (size_t k = 0; k < made->n; k++)
            alike[i] =
                alike[i] || (k != i && strcmp(made->print[i].name, made->print[k].name) == 0);
    for (size_t i = 0; i < made->n && status == WW_OK; i++) {
        char *own = made->print[i].name;
        if (!alike[i] || !input[i].file)
            continue;
        made->print[i].name = NULL;
        status = ww__compare_name(NULL, input[i].file, &made->print[i], err);
        free(own);
    }
    return status;
}

static ww_status make(const ww_compare_input input[], size_t n, const ww_compare_limits *limits,
                      ww_comparison *made, ww_error *err) {
    ww_status status = check(input, n, err);
    if (status == WW_OK)
        status = make_prints(input, n, made, err);
    if (status == WW_OK)
        status = part_names(input, made, err);
    for (size_t i = 0; i < n && status == WW_OK; i++)
        status = ww__compare_print_fill(&made->print[i], &made->notes, err);
    for (size_t i = 1; i < n && status == WW_OK; i++) {
        ww_compare_pair *pair = &made->pair[made->n_pairs++];
        *pair = (ww_compare_pair){.a = 0, .b = i};
        status = ww__compare_pair(made, pair, &made->notes, err);
        if (status == WW_OK)
            status = ww__compare_judge(made, limits, pair, &made->notes, err);
        if (pair->within == WW_COMPARE_BEYOND || pair->within == WW_COMPARE_UNKNOWN)
            made->holds = false;
    }
    return status;
}

ww_status ww_compare_make(const ww_compare_input input[], size_t n, const ww_compare_limits *limits,
                          ww_comparison *comparison, ww_error *err) {
    ww_comparison made = WW_COMPARISON_INIT;
    assert(input && comparison);
    const ww_status status = make(input, n, limits, &made, err);
    if (status == WW_OK)
        *comparison = made;
    else
        ww_comparison_release(&made);
    return status;
}
