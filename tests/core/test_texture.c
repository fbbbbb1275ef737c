/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"

#include <wedgework/texture.h>

/* Closed forms, computed by another program: sd 0.010 through a disc of 48 um. */
static void scaling(void **state) {
    (void)state;
    const double disc = ww_texture_disc(WW_TEXTURE_DISC_UM);
    test_close("disc", disc, 1809.557, 5e-4);
    test_close("rms", ww_texture_rms(0.010, disc), 10.0, 1e-12);
    test_close("G, in um D", ww_texture_selwyn(0.010, disc), 0.601591, 5e-7);
    test_close("24 um disc", ww_texture_scaled(0.010, disc, ww_texture_disc(24.0)), 0.0200, 1e-12);
    test_close("12 um square", ww_texture_scaled(0.010, disc, 144.0), 0.035449, 5e-7);
    test_close("10 um square", ww_texture_scaled(0.010, disc, 100.0), 0.042539, 5e-7);
    test_close("square of equal area", ww_texture_rms(0.010, 42.539 * 42.539), 10.0, 1e-3);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(scaling)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
