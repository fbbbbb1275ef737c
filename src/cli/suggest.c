/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/suggest.h"
#include <ctype.h>
#include <string.h>
#include <strings.h>

/* Names in the tables are shorter; a longer word is near to none of them. */
enum { LONGEST = 32 };

static size_t least(size_t a, size_t b) {
    return a < b ? a : b;
}

static int small(char letter) {
    return tolower((unsigned char)letter);
}

/* Slips between two words of at most LONGEST letters; three rows of the usual table are kept. */
static size_t slips(const char *a, size_t n, const char *b, size_t m) {
    size_t row[3][LONGEST + 1];
    for (size_t j = 0; j <= m; j++)
        row[0][j] = j;
    for (size_t i = 1; i <= n; i++) {
        const size_t *above = row[(i - 1) % 3];
        const size_t *two_above = row[(i + 1) % 3];
        size_t *here = row[i % 3];
        here[0] = i;
        for (size_t j = 1; j <= m; j++) {
            const size_t changed = small(a[i - 1]) == small(b[j - 1]) ? 0 : 1;
            here[j] = least(least(above[j], here[j - 1]) + 1, above[j - 1] + changed);
            if (i > 1 && j > 1 && small(a[i - 1]) == small(b[j - 2]) &&
                small(a[i - 2]) == small(b[j - 1]))
                here[j] = least(here[j], two_above[j - 2] + 1);
        }
    }
    return row[n % 3][m];
}

/* The dashes of an option are no letters. */
static const char *letters(const char *word) {
    return word + strspn(word, "-");
}

static const char *begun(const char *word, const char *const names[], size_t n) {
    const size_t length = strlen(letters(word));
    const char *found = NULL;
    if (length < 3)
        return NULL;
    for (size_t i = 0; i < n; i++) {
        if (strncasecmp(letters(names[i]), letters(word), length) != 0)
            continue;
        if (found)
            return NULL;
        found = names[i];
    }
    return found;
}

const char *ww__suggest(const char *word, const char *const names[], size_t n) {
    const size_t length = strlen(letters(word));
    const char *found = begun(word, names, n);
    size_t fewest = length < 3 ? 1 : length / 3;
    if (found || length == 0 || length > LONGEST)
        return found;
    for (size_t i = 0; i < n; i++) {
        const char *name = letters(names[i]);
        const size_t name_length = strlen(name);
        size_t count;
        if (name_length > LONGEST)
            continue;
        count = slips(letters(word), length, name, name_length);
        /* One letter for another is no likeness: "-x" is not "-o". */
        if (count > fewest || count >= length || (found && count == fewest))
            continue;
        found = names[i];
        fewest = count;
    }
    return found;
}
