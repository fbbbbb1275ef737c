/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"

static rows found;

static char *make(const ww_curve *curve, ww__plot_size *size) {
    ww__text script = WW__TEXT_INIT;
    test_status("data", ww__plot_curve_data(curve, &script, size, NULL), WW_OK, NULL);
    return script.bytes;
}

/* Source: the rule that one log unit is as long on both axes, and that the grid is 0.30. */
static void axes_are_equal(void **state) {
    ww_curve curves[] = {make_film(), make_colour(), make_paper()};
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        ww__plot_size size;
        char *script = make(&curves[i], &size);
        const double width = (number_of(script, "main_right") - number_of(script, "main_left")) *
                             size.width / (number_of(script, "x_to") - number_of(script, "x_from"));
        const double height = (number_of(script, "main_top") - number_of(script, "main_bottom")) *
                              size.height /
                              (number_of(script, "y_to") - number_of(script, "y_from"));
        test_close("px a log unit", width, height, 1e-4);
        test_close("grid", remainder(number_of(script, "x_from"), 0.3), 0.0, 1e-8);
        test_close("grid", remainder(number_of(script, "y_to"), 0.3), 0.0, 1e-8);
        test_close("same x axis beneath", number_of(script, "residual_left"),
                   number_of(script, "main_left"), 0.0);
        test_close("same x axis beneath", number_of(script, "residual_right"),
                   number_of(script, "main_right"), 0.0);
        test_true("below each other",
                  number_of(script, "residual_top") < number_of(script, "main_bottom"));
        test_true("legend beside", number_of(script, "main_right") < 0.8);
        free(script);
        ww_curve_release(&curves[i]);
    }
}

static void every_reading_is_shown_once(void **state) {
    ww_curve curve = make_film();
    ww_channel_curve *channel = &curve.channel[WW_VISUAL];
    ww__plot_size size;
    char *script;
    (void)state;
    channel->point[3].sd = given(0.0123);
    add_suspect(channel, 6, 0.14, WW_CAUSE_SLIP);
    channel->point[20].state = WW_CELL_OVER;
    channel->point[19].cut = true;
    channel->point[18].state = WW_CELL_MISSING;
    script = make(&curve, &size);
    rows_of(script, "points", WW_VISUAL, &found);
    assert_int_equal(found.n, 21 - 4);
    test_close("stated sd", found.cell[3][3], 0.0123, 1e-9);
    test_close("else the residual sd", found.cell[4][3], 0.0074, 1e-9);
    test_close("on the curve", found.cell[4][4], 0.0, 1e-9);
    rows_of(script, "suspect", WW_VISUAL, &found);
    assert_int_equal(found.n, 1);
    test_close("its size", found.cell[0][4], 0.14, 1e-9);
    test_true("inside the residual panel", found.cell[0][3] < number_of(script, "residual_limit"));
    rows_of(script, "over", WW_VISUAL, &found);
    assert_int_equal(found.n, 1);
    rows_of(script, "unfitted", WW_VISUAL, &found);
    assert_int_equal(found.n, 1);
    test_holds("name", script, "suspect_name[1] = 'step 7'\n");
    free(script);
    ww_curve_release(&curve);
}

/* Moved readings lie on the curve: a mark of their own, none for a suspect, and a residual from
 * where they stand. */
static void moved_readings_stand_where_the_curve_has_them(void **state) {
    ww_curve curve = make_film();
    ww_channel_curve *channel = &curve.channel[WW_VISUAL];
    ww__plot_size size;
    char *script;
    (void)state;
    add_suspect(channel, 10, -0.1137, WW_CAUSE_SKIPPED);
    channel->point[10].density += 0.1137;
    for (size_t k = 10; k < channel->n_points; k++)
        channel->point[k].moved = 0.207;
    script = make(&curve, &size);
    rows_of(script, "points", WW_VISUAL, &found);
    assert_int_equal(found.n, 10);
    rows_of(script, "suspect", WW_VISUAL, &found);
    assert_int_equal(found.n, 0);
    rows_of(script, "moved", WW_VISUAL, &found);
    assert_int_equal(found.n, 11);
    test_close("where it stands", found.cell[0][1], channel->point[10].log_h, 1e-9);
    test_close("its residual", found.cell[0][4], 0.0, 1e-9);
    test_holds("name", script, "suspect_name[1] = 'from step 11'\n");
    free(script);
    ww_curve_release(&curve);
}

/* A suspect near the others widens the axis and stands where it was read; one far off stands at
 * the edge, with its value. */
static void suspects_do_not_squash_the_curve(void **state) {
    static const struct {
        const char *name;
        double residual, most; /* of the axis */
        const char *label;
        bool edge;
    } far[] = {
        {"near", 0.14, 2.7, "suspect_name[1] = 'step 21'\n", false},
        {"far", 3.21, 2.7, "suspect_name[1] = 'step 21: 5.54 D'\n", true},
    };
    (void)state;
    for (size_t i = 0; i < sizeof far / sizeof far[0]; i++) {
        ww_curve curve = make_film();
        ww_channel_curve *channel = &curve.channel[WW_VISUAL];
        ww__plot_size size;
        channel->point[20].density = 2.33;
        add_suspect(channel, 20, far[i].residual, WW_CAUSE_DECIMAL_POINT);
        char *script = make(&curve, &size);
        rows_of(script, "suspect", WW_VISUAL, &found);
        const double shown = found.cell[0][2], top = number_of(script, "y_to");
        test_true(far[i].name, top <= far[i].most + 1e-9);
        test_true(far[i].name, shown < top && shown > number_of(script, "y_from"));
        if (!far[i].edge)
            test_close(far[i].name, shown, channel->point[20].density, 1e-9);
        test_holds(far[i].name, script, far[i].label);
        free(script);
        ww_curve_release(&curve);
    }
}

static void hostile_names_stay_in_quotes(void **state) {
    ww_curve curve = make_film();
    ww_channel_curve *channel = &curve.channel[WW_VISUAL];
    ww__plot_size size;
    char *script;
    (void)state;
    free(curve.meta.name);
    free(channel->point[6].step);
    curve.meta.name = copy(HOSTILE);
    channel->point[6].step = copy("'\nEND_OF_TABLE\n!touch pwned");
    add_suspect(channel, 6, 0.14, WW_CAUSE_SLIP);
    script = make(&curve, &size);
    test_holds("title", script, "title_text = '\xE2\x80\x99; system(");
    test_holds("step", script, "suspect_name[1] = 'step \xE2\x80\x99?END_OF_TABLE?!touch pwned'\n");
    test_lacks("no line of its own", script, "\n!touch");
    free(script);
    ww_curve_release(&curve);
}

static void without_readings(void **state) {
    ww_curve curve = WW_CURVE_INIT;
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("no channel", ww__plot_curve_data(&curve, &script, &size, &err), WW_ENODATA, &err);
    curve.channel[WW_RED].present = true;
    test_status("no reading", ww__plot_curve_data(&curve, &script, &size, &err), WW_ENODATA, &err);
    ww__text_release(&script);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(axes_are_equal),
        cmocka_unit_test(every_reading_is_shown_once),
        cmocka_unit_test(moved_readings_stand_where_the_curve_has_them),
        cmocka_unit_test(suspects_do_not_squash_the_curve),
        cmocka_unit_test(hostile_names_stay_in_quotes),
        cmocka_unit_test(without_readings),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
