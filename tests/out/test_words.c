/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/words.h"
#include "results.h"

/* Source of all rows: the interface's rules for text (stops as a hand sets them, 1/3, 1/6, 1/12;
 * seconds on the timer's step; grades in halves) and fractions reduced by arithmetic. */
static void take(const char *row, ww__text *text, const char *want) {
    test_text(row, ww__text_string(text), want);
    ww__text_release(text);
}

static void stops(void **state) {
    static const struct {
        double stops;
        bool sign;
        const char *want;
    } rows[] = {
        {1.3333, true, "+1 1/3 stop"},   {1.31, true, "+1 1/3 stop"},   {1.0, true, "+1 stop"},
        {0.5, false, "1/2 stop"},        {-0.5, true, "-1/2 stop"},     {-0.5, false, "-1/2 stop"},
        {0.67, true, "+2/3 stop"},       {0.25, true, "+1/4 stop"},     {0.75, true, "+3/4 stop"},
        {0.17, true, "+1/6 stop"},       {0.83, true, "+5/6 stop"},     {0.08, true, "+1/12 stop"},
        {0.42, true, "+5/12 stop"},      {0.58, true, "+7/12 stop"},    {0.92, true, "+11/12 stop"},
        {0.0417, true, "+1/12 stop"},    {0.0416, true, "0 stop"},      {-0.02, true, "0 stop"},
        {2.0, true, "+2 stops"},         {-2.76, true, "-2 3/4 stops"}, {1.97, true, "+2 stops"},
        {1e300, false, "1000000 stops"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww__text text = WW__TEXT_INIT;
        ww__words_stops(&text, rows[i].stops, rows[i].sign);
        take(rows[i].want, &text, rows[i].want);
    }
}

static void doubts(void **state) {
    static const struct {
        double stops;
        const char *want;
    } rows[] = {{0.17, "1/6 stop"},   {0.0, "1/12 stop"}, {0.12, "1/6 stop"}, {0.10, "1/6 stop"},
                {0.087, "1/12 stop"}, {0.26, "1/4 stop"}, {0.27, "1/3 stop"}, {-0.2, "1/4 stop"},
                {0.01, "1/12 stop"},  {1.02, "1 stop"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww__text text = WW__TEXT_INIT;
        ww__words_doubt(&text, rows[i].stops);
        take(rows[i].want, &text, rows[i].want);
    }
}

static void seconds(void **state) {
    static const struct {
        double seconds, step;
        const char *want;
    } rows[] = {{18.3721, 0.1, "18.4 s"},   {18.3721, 0.5, "18.5 s"},   {18.3721, 1, "18 s"},
                {18.3721, 0.25, "18.25 s"}, {18.3721, 0.05, "18.35 s"}, {0.04, 0.1, "under 0.05 s"},
                {-3.14, 0.1, "-3.1 s"},     {18.3721, 2, "18 s"},       {1234.56, 10, "1230 s"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww__text text = WW__TEXT_INIT;
        ww__words_seconds(&text, rows[i].seconds, rows[i].step);
        take(rows[i].want, &text, rows[i].want);
    }
}

static void intervals(void **state) {
    static const struct {
        ww_quantity quantity;
        int decimals;
        const char *want;
    } rows[] = {{{0.611, 0.587, 0.634, WW_FITTED}, 2, "0.61 (0.59 to 0.63)"},
                {{0.611, 0.611, 0.611, WW_GIVEN}, 2, "0.61"},
                {{-0.004, -0.0131, 0.0049, WW_FITTED}, 2, "0.00 (-0.01 to 0.00)"},
                {{118.3, 112.1, 125.2, WW_FITTED}, 0, "118 (112 to 125)"},
                {WW_QUANTITY_INIT, 2, "-"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww__text text = WW__TEXT_INIT;
        ww__words_interval(&text, rows[i].quantity, rows[i].decimals);
        take(rows[i].want, &text, rows[i].want);
    }
}

static void contrasts(void **state) {
    static const char *const rows[][2] = {{"2", "grade 2"},
                                          {"2.5", "grade 2 1/2"},
                                          {"0.5", "grade 1/2"},
                                          {"3.0", "grade 3"},
                                          {"00", "grade 00"},
                                          {"2 1/2", "grade 2 1/2"},
                                          {"2.3", "grade 2.3"},
                                          {"2.x", "grade 2.x"},
                                          {"filter Y30", "filter Y30"},
                                          {"", ""}};
    ww__text text = WW__TEXT_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww__words_contrast(&text, rows[i][0]);
        take(rows[i][0], &text, rows[i][1]);
    }
    ww__words_contrast(&text, NULL);
    take("NULL", &text, "");
}

static void ranges_and_tens(void **state) {
    ww__text text = WW__TEXT_INIT;
    (void)state;
    ww__words_range(&text, 0.1234, 0.0789, 2);
    take("lower first", &text, "0.08 to 0.12");
    ww__words_range(&text, 0.1001, 0.0999, 2);
    take("written alike", &text, "0.10");
    ww__words_tens(&text, 104.9);
    take("104.9", &text, "100");
    ww__words_tens(&text, 105.1);
    take("105.1", &text, "110");
    ww__words_optional(&text, given(0.987));
    take("given", &text, "0.99");
    ww__words_optional(&text, (ww_optional){false, 0.987});
    take("not given", &text, "-");
}

static void keeps_its_point_in_any_locale(void **state) {
    ww__text text = WW__TEXT_INIT;
    (void)state;
    if (!test_comma_locale())
        skip();
    ww__words_seconds(&text, 18.37, 0.1);
    take("comma locale", &text, "18.4 s");
    ww__words_contrast(&text, "2.5");
    take("comma locale", &text, "grade 2 1/2");
}

/* Source: definition. */
static void materials(void **state) {
    ww__text text = WW__TEXT_INIT;
    (void)state;
    ww__words_material(&text, "Heron gloss", "3", "Paper");
    test_text("both", ww__text_string(&text), "Heron gloss, grade 3");
    ww__text_release(&text);
    ww__words_material(&text, "Heron film", NULL, "Film");
    test_text("name", ww__text_string(&text), "Heron film");
    ww__text_release(&text);
    ww__words_material(&text, "", "filter 4", "Paper");
    test_text("contrast", ww__text_string(&text), "Paper, filter 4");
    ww__text_release(&text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(stops),           cmocka_unit_test(doubts),
        cmocka_unit_test(seconds),         cmocka_unit_test(intervals),
        cmocka_unit_test(contrasts),       cmocka_unit_test(materials),
        cmocka_unit_test(ranges_and_tens), cmocka_unit_test(keeps_its_point_in_any_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
