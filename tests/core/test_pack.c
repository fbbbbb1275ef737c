/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <string.h>
#include <wedgework/pack.h>

static void check(const char *row, const ww_pack *pack, double y, double m, double c) {
    test_close(row, pack->cc[WW_YELLOW], y, 1e-9);
    test_close(row, pack->cc[WW_MAGENTA], m, 1e-9);
    test_close(row, pack->cc[WW_CYAN], c, 1e-9);
}

/* Source: definition; pairs R = M + Y, G = C + Y, B = C + M: handbook. */
static void reads_what_people_write(void **state) {
    static const struct {
        const char *text;
        double y, m, c;
    } rows[] = {{"60Y45M", 60, 45, 0},
                {"45M60Y", 60, 45, 0},
                {" 60Y + 45M ", 60, 45, 0},
                {"7.5y2.5m10c", 7.5, 2.5, 10},
                {"20R", 20, 20, 0},
                {"20G", 20, 0, 20},
                {"20B", 0, 20, 20},
                {"20R10Y", 30, 20, 0},
                {"0", 0, 0, 0},
                {"0Y", 0, 0, 0},
                {"0.0", 0, 0, 0},
                {"300C", 0, 0, 300}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_pack pack;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].text, ww_pack_parse(rows[i].text, &pack, &err), WW_OK, &err);
        check(rows[i].text, &pack, rows[i].y, rows[i].m, rows[i].c);
    }
}

static void refuses_what_is_none(void **state) {
    static const struct {
        const char *text, *words;
    } rows[] = {{"60Q", "'60Q' is no filter pack: an amount is followed by Y, M or C"},
                {"", "empty"},
                {"  ", "empty"},
                {"Y60", "an amount of 0 to 300"},
                {"-5Y", "an amount of 0 to 300"},
                {"301Y", "an amount of 0 to 300"},
                {"60Y1.2.3M", "an amount of 0 to 300"},
                {"60Y45", "followed by Y, M or C"},
                {"60", "followed by Y, M or C"},
                {"10M20Y10m", "a letter stands twice"},
                {"200R200Y", "comes to over 300"},
                {"57,5Y60M", "it holds a comma, and decimals stand behind a point"},
                {"60Y,45M", "it holds a comma"},
                {"60Y45M x", "an amount of 0 to 300"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_pack pack = {{1.0, 2.0, 3.0}};
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].text, ww_pack_parse(rows[i].text, &pack, &err), WW_EINPUT, &err);
        test_holds(rows[i].text, err.msg, rows[i].words);
        check(rows[i].text, &pack, 1, 2, 3);
    }
}

static void writes_it_back(void **state) {
    static const struct {
        ww_pack pack;
        const char *text;
    } rows[] = {{{{60, 45, 0}}, "60Y45M"},
                {{{60, 27.5, 0}}, "60Y27.5M"},
                {{{0, 0, 0}}, "0"},
                {{{0, 0.004, 12.25}}, "12.25C"},
                {{{100, 200.1, 3000}}, "100Y200.1M3000C"}};
    char text[WW_PACK_TEXT_SIZE];
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        test_text(rows[i].text, ww_pack_format(&rows[i].pack, text), rows[i].text);
    test_text("yellow", ww_filter_name(WW_YELLOW), "yellow");
    test_text("much density in red", ww_cast_name(WW_RED, true), "cyan");
    test_text("little in green", ww_cast_name(WW_GREEN, false), "green");
    test_text("much in blue", ww_cast_name(WW_BLUE, true), "yellow");
    test_true("channels", ww_filter_channel(WW_YELLOW) == WW_BLUE &&
                              ww_filter_channel(WW_MAGENTA) == WW_GREEN &&
                              ww_filter_channel(WW_CYAN) == WW_RED);
}

/* Source: Army correspondence course SS0514, 46Y + 38M + 12C; below 0 by the same rule. */
static void takes_neutral_density_out(void **state) {
    ww_pack three = {{46, 38, 12}}, below = {{10, -5, 0}}, two = {{60, 45, 0}};
    (void)state;
    test_close("taken out", ww_pack_reduce(&three), 12.0, 1e-12);
    check("34Y + 26M", &three, 34, 26, 0);
    test_close("added", ww_pack_reduce(&below), -5.0, 1e-12);
    check("none below 0", &below, 15, 0, 5);
    test_close("nothing to do", ww_pack_reduce(&two), 0.0, 1e-12);
}

static void rounds_to_steps(void **state) {
    ww_pack pack = {{60.0, 30.4, 1.25}};
    (void)state;
    ww_pack_round(&pack, 2.5);
    check("2.5", &pack, 60, 30, 2.5);
}

/* Source: the half rule of a Navy training manual; direction by Kodak E-142. A print that looks
 * right through 20 green is too magenta: 10 magenta are added, which is 10 green taken out. */
static void halves_the_viewing_filter(void **state) {
    const ww_pack pack = {{60, 45, 0}}, green = {{20, 0, 20}}, with_cyan = {{60, 45, 30}};
    const ww_pack yellow = {{10, 0, 0}};
    ww_pack changed;
    (void)state;
    ww_pack_view(&pack, &green, &changed);
    check("add 10M", &changed, 60, 55, 0);
    ww_pack_view(&with_cyan, &green, &changed);
    check("or take out 10G, and neutral density", &changed, 30, 25, 0);
    ww_pack_view(&pack, &yellow, &changed); /* too blue: yellow is taken out */
    check("take out 5Y", &changed, 55, 45, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_what_people_write), cmocka_unit_test(refuses_what_is_none),
        cmocka_unit_test(writes_it_back),          cmocka_unit_test(takes_neutral_density_out),
        cmocka_unit_test(rounds_to_steps),         cmocka_unit_test(halves_the_viewing_filter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
