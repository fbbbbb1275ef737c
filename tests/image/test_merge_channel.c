/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_channel.h"
#include "image/merge_made.h"

/* Source: as the pairs are drawn. */

static const made_pair drawn = {.width = 480,
                                .height = 330,
                                .channels = 1,
                                .kind = WW_SAMPLE_16,
                                .ratio = 3.71,
                                .read = 0.0006,
                                .shot = 0.003};

/* The channel of a drawn pair, by a scanner file or none. */
static ww_scan_merge measured(const made_pair *m, const ww_scanner *scanner) {
    ww_picture shorter = made_scan(m, false, 11), longer = made_scan(m, true, 12);
    ww__merge_blocks blocks[WW__MERGE_CHANNELS];
    ww__merge_light light = WW__MERGE_LIGHT_INIT;
    ww_scan_merge merge = {.holds = true, .shift = {.places = 9}};
    ww_error err = WW_ERROR_INIT;
    assert_int_equal(ww__merge_light_new(&shorter, scanner, &light, NULL), WW_OK);
    assert_int_equal(ww__merge_blocks_read(&shorter, &longer, &light, blocks, NULL), WW_OK);
    const ww__merge_both both = {&longer, &shorter, scanner, &light};
    test_status("channel", ww__merge_channel_measure(&both, 0, &blocks[0], &merge, &err), WW_OK,
                &err);
    ww__merge_blocks_release(blocks);
    ww__merge_light_release(&light);
    ww_picture_release(&shorter);
    ww_picture_release(&longer);
    return merge;
}

static void a_channel_has_ratio_and_noise(void **state) {
    (void)state;
    ww_scan_merge merge = measured(&drawn, NULL);
    const ww_scan_merge_channel *c = &merge.channel[WW_VISUAL];
    test_true("sound", c->present && c->flaw == WW_SCAN_MERGE_SOUND);
    test_true("ratio", c->ratio.low < drawn.ratio && drawn.ratio < c->ratio.high);
    test_close("stops", c->stops.value, log2(drawn.ratio), 0.01);
    test_close("read", c->read, drawn.read, 0.1 * drawn.read);
    test_close("shot", c->shot, drawn.shot, 0.1 * drawn.shot);
    ww_scan_merge_release(&merge);
}

static void a_dark_counts_where_it_was_measured(void **state) {
    ww_scanner scanner = WW_SCANNER_INIT;
    (void)state;
    scanner.channel[WW_VISUAL].dark = (ww_quantity){0.013, 0.012, 0.014, WW_MEASURED};
    test_close("none", ww__merge_channel_dark(NULL, WW_VISUAL), 0.0, 0.0);
    test_close("fitted", ww__merge_channel_dark(&scanner, WW_VISUAL), 0.0, 0.0);
    scanner.dark_scan = true;
    test_close("measured", ww__merge_channel_dark(&scanner, WW_VISUAL), 0.013, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_channel_has_ratio_and_noise),
                                       cmocka_unit_test(a_dark_counts_where_it_was_measured)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
