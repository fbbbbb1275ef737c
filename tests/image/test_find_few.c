/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "made_found.h"
#include "support/support.h"
#include "support/wedge_hard.h"

/* Source: the drawings. Few steps tell less about each other than many; their falls and their
 * surround must tell the rest. */
static void few_or_uneven_steps_are_found(void **state) {
    static const struct {
        const char *name;
        wedge_made *make;
        uint64_t least; /* of 20 */
    } rows[] = {{"few steps far apart", wedge_few_steps, 19},
                {"test strip on paper", wedge_test_strip, 19},
                {"11 steps of 0.30 on hard paper", wedge_on_hard_paper, 16},
                {"film's toe on clear base", wedge_on_clear_base, 19}};
    const uint64_t n = test_quick() ? 2 : 20;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        uint64_t good = 0;
        for (uint64_t seed = 1; seed <= n; seed++) {
            double own[21];
            const wedge_scene s = rows[i].make(seed, own);
            ww_picture p = wedge_picture_new(&s);
            ww__strip_found f = WW__STRIP_FOUND_INIT;
            ww_error err = WW_ERROR_INIT;
            double edge = HUGE_VAL;
            const ww_status status = ww__find_strip(&p, NULL, s.steps, NULL, 2, &f, &err);
            if (status == WW_OK)
                edge = made_worst_edge(&s, &f);
            good += edge < 0.15;
            if (edge >= 0.15)
                print_message("%s %d: status %d, edge off by %g steps; %s\n", rows[i].name,
                              (int)seed, (int)status, edge, err.msg);
            ww__strip_found_release(&f);
            ww_picture_release(&p);
        }
        test_true(rows[i].name, test_quick() || good >= rows[i].least);
    }
}

/* Source: the drawings. Rows along the slanting sides of a clean strip on a mask see steps of their
 * own, where they cross from pixel to pixel: longer flights than the strip's few. */
static void few_clean_steps_that_fill_the_glass_are_found(void **state) {
    (void)state;
    for (size_t steps = 4; steps <= 5; steps++)
        for (int turn = 0; turn < 16; turn++) {
            wedge_scene s = wedge_scene_plain();
            s.width = 900, s.height = 300;
            s.steps = steps, s.first = 0.05, s.gap = 2.4 / (double)(steps - 1);
            s.x = 450.0, s.y = 150.0, s.breadth = 110.0;
            s.angle_deg = 1.6 + 0.1 * (turn % 8), s.length = 800.0 + 60.0 * (turn / 8),
            s.seed = 14 + steps, s.surround = WEDGE_ON_DARK;
            s.read_noise = 0.0003, s.shot_noise = 0.0016, s.flare = 0.003, s.blur = 0.7;
            ww_picture p = wedge_picture_new(&s);
            ww__strip_found f = WW__STRIP_FOUND_INIT;
            ww_error err = WW_ERROR_INIT;
            const ww_status status = ww__find_strip(&p, NULL, steps, NULL, 2, &f, &err);
            const double edge = status == WW_OK ? made_worst_edge(&s, &f) : HUGE_VAL;
            if (!(edge < 0.05))
                fail_msg("%d steps turned by %g, %g px: edge off by %g; %s", (int)steps,
                         s.angle_deg, s.length, edge, err.msg);
            ww__strip_found_release(&f);
            ww_picture_release(&p);
        }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(few_clean_steps_that_fill_the_glass_are_found),
        cmocka_unit_test(few_or_uneven_steps_are_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
