/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/suggest.h"
#include "base/slips.h"
#include <string.h>
#include <strings.h>

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
    if (found || length == 0)
        return found;
    for (size_t i = 0; i < n; i++) {
        const size_t count = ww__slips(letters(word), letters(names[i]));
        /* One letter for another is no likeness: "-x" is not "-o". */
        if (count > fewest || count >= length || (found && count == fewest))
            continue;
        found = names[i];
        fewest = count;
    }
    return found;
}
