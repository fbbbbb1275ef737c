/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/slips.h"
#include "base/sizes.h"
#include <stdint.h>
#include <string.h>

static char small(char letter) {
    return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

/* A swap looks back two rows, so three rows of the usual table are kept. */
size_t ww__slips(const char *a, const char *b) {
    size_t row[3][WW__SLIPS_LONGEST + 1];
    const size_t n = strlen(a), m = strlen(b);
    if (n > WW__SLIPS_LONGEST || m > WW__SLIPS_LONGEST)
        return SIZE_MAX;
    for (size_t j = 0; j <= m; j++)
        row[0][j] = j;
    for (size_t i = 1; i <= n; i++) {
        const size_t *above = row[(i + 2) % 3], *two_above = row[(i + 1) % 3];
        size_t *here = row[i % 3];
        here[0] = i;
        for (size_t j = 1; j <= m; j++) {
            const char x = small(a[i - 1]), y = small(b[j - 1]);
            here[j] = ww__least(ww__least(above[j], here[j - 1]) + 1, above[j - 1] + (x != y));
            if (i > 1 && j > 1 && x == small(b[j - 2]) && small(a[i - 2]) == y)
                here[j] = ww__least(here[j], two_above[j - 2] + 1);
        }
    }
    return row[n % 3][m];
}
