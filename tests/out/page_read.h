/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_OUT_PAGE_READ_H
#define WEDGEWORK_TESTS_OUT_PAGE_READ_H

#include "results.h"

/* Source: the interface (one self-contained page: nothing is fetched, nothing runs) and the HTML
 * Living Standard (elements closed in order). */

/* Every element that is opened is closed, in order; of the page's own elements, only those that
 * HTML lets stand alone do. The drawing is XML and closes what it opens. */
static inline void expect_balanced(const char *html) {
    enum { DEPTH_MAX = 64 };
    char open[DEPTH_MAX][16];
    size_t depth = 0;
    for (const char *at = strchr(html, '<'); at; at = strchr(at + 1, '<')) {
        const char *end = strchr(at, '>');
        char name[16] = "";
        const bool closes = at[1] == '/';
        if (at[1] == '!') {
            if (strncmp(at, "<!--", 4) == 0)
                at = strstr(at, "-->");
            continue;
        }
        assert_non_null(end);
        sscanf(at + 1 + closes, "%15[A-Za-z0-9]", name);
        test_true("an element has a name", *name != '\0');
        if (end[-1] == '/' || strcmp(name, "meta") == 0 || strcmp(name, "br") == 0 ||
            strcmp(name, "input") == 0)
            continue;
        if (!closes) {
            assert_true(depth < DEPTH_MAX);
            strcpy(open[depth++], name);
        } else {
            assert_true(depth > 0);
            test_text("closed in order", name, open[--depth]);
        }
        at = end;
    }
    assert_int_equal(depth, 0);
}

static inline void expect_nothing_fetched(const char *html) {
    static const char *const never[] = {"<link",   "<img",     "<iframe", "<object",
                                        "@import", "url(http", "src=",    " href=\"http"};
    for (size_t i = 0; i < sizeof never / sizeof *never; i++)
        test_lacks("self-contained", html, never[i]);
}

static inline void expect_self_contained(const char *html) {
    expect_nothing_fetched(html);
    test_lacks("self-contained", html, "<script");
}

/* The page's data and the page's script, and no third one. */
static inline void expect_sliders_alone(const char *html) {
    const char *at = strstr(html, "<script type=\"application/json\" id=\"curves\">{");
    expect_nothing_fetched(html);
    test_true("data", at && strstr(html, "<script") == at);
    at = at ? strstr(at + 1, "<script") : NULL;
    test_true("script", at && strncmp(at, "<script>//", 10) == 0);
    test_true("no other", at && !strstr(at + 1, "<script"));
}

static inline char *read_page(const char *path) {
    size_t n = 0;
    char *html = test_file_read(path, &n);
    if (!html)
        fail_msg("%s was not written", path);
    test_true("begins as HTML", html && strncmp(html, "<!DOCTYPE html>", 15) == 0);
    test_true("ends as HTML", html && n > 8 && strcmp(html + n - 8, "</html>\n") == 0);
    return html;
}

#endif
