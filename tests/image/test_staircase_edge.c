/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_edge.h"
#include "made_profile.h"
#include "support/support.h"

/* Source: the drawing: edges lie at `from` and every pitch after it. */
static void an_edge_is_placed_where_it_was_drawn(void **state) {
    static made_profile m;
    (void)state;
    made_profile_fill(&made_plain, &m);
    for (int off = -3; off <= 3; off++) {
        const double edge = made_plain.from + 5.0 * made_plain.pitch;
        const double high = m.value[(size_t)edge - 5], low = m.value[(size_t)edge + 5];
        const double line = edge + (double)off * 0.04 * made_plain.pitch;
        const double at = ww__edge_loosened(&m.profile, line, made_plain.pitch, high, low);
        test_true("place", fabs(at - edge) < 1.0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(an_edge_is_placed_where_it_was_drawn)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
