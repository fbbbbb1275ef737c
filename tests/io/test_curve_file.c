/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/curve_document.h"
#include "io/curve_sample.h"
#include <jansson.h>
#include <math.h>
#include <wedgework/curve_file.h>

#define SAME(member) assert_memory_equal(&(a->member), &(b->member), sizeof a->member)

static void same_text(const char *a, const char *b) {
    assert_true((a == NULL) == (b == NULL));
    if (a)
        assert_string_equal(a, b);
}

static void same_quantity(const ww_quantity *a, const ww_quantity *b) {
    SAME(value);
    SAME(low);
    SAME(high);
    assert_int_equal(a->how, b->how);
}

static void same_optional(const ww_optional *a, const ww_optional *b) {
    assert_int_equal(a->set, b->set);
    SAME(value);
}

static void same_meta(const ww_meta *a, const ww_meta *b) {
    same_text(a->name, b->name);
    same_text(a->contrast, b->contrast);
    same_text(a->pack, b->pack);
    same_text(a->lot, b->lot);
    same_text(a->date, b->date);
    SAME(material);
    SAME(process);
    SAME(density);
    SAME(status);
    SAME(relative);
    SAME(exposure_unit);
    SAME(emulsion);
    SAME(grain);
    SAME(wedge);
    SAME(exposed_by);
    SAME(read);
    same_optional(&a->log_h0, &b->log_h0);
    same_optional(&a->log_h0_sd, &b->log_h0_sd);
    same_optional(&a->exposure_time_s, &b->exposure_time_s);
    same_optional(&a->development_time_min, &b->development_time_min);
    same_optional(&a->temperature_c, &b->temperature_c);
    same_optional(&a->wedge_sd, &b->wedge_sd);
    same_optional(&a->aperture, &b->aperture);
    same_optional(&a->scale, &b->scale);
}

static void same_points(const ww_channel_curve *x, const ww_channel_curve *y) {
    assert_int_equal(x->n_points, y->n_points);
    for (size_t i = 0; i < x->n_points; i++) {
        const ww_curve_point *a = &x->point[i], *b = &y->point[i];
        same_text(a->step, b->step);
        SAME(log_h);
        SAME(density);
        same_optional(&a->sd, &b->sd);
        SAME(n);
        SAME(state);
        SAME(cut);
        SAME(moved);
    }
    assert_int_equal(x->n_suspects, y->n_suspects);
    for (size_t i = 0; i < x->n_suspects; i++) {
        const ww_suspect *a = &x->suspect[i], *b = &y->suspect[i];
        SAME(point);
        SAME(residual);
        SAME(cause);
    }
}

static void same_construction(const ww_figure_set *a, const ww_figure_set *b) {
    SAME(gradient_from);
    SAME(gradient_to);
    SAME(run_from);
    SAME(run_to);
    SAME(run_density_from);
    SAME(index_centre);
    SAME(index_from);
    SAME(index_to);
    SAME(range_from);
    SAME(range_to);
    SAME(iso_from);
    SAME(iso_to);
}

static void same_channel(const ww_channel_curve *a, const ww_channel_curve *b) {
    const size_t n = a->shape.n;
    SAME(present);
    SAME(fitted);
    SAME(shape.model);
    SAME(shape.falling);
    SAME(shape.n);
    SAME(shape.parameter);
    SAME(shape.knot_low);
    SAME(shape.knot_high);
    assert_true((a->covariance == NULL) == (b->covariance == NULL));
    if (a->covariance)
        assert_memory_equal(a->covariance, b->covariance, n * n * sizeof *a->covariance);
    SAME(domain_low);
    SAME(domain_high);
    SAME(residual_sd);
    SAME(residual_rms);
    same_points(a, b);
    for (size_t f = 0; f < WW_FIGURE_COUNT; f++) {
        same_quantity(&a->figure[f], &b->figure[f]);
        assert_memory_equal(&b->construction.value[f], &a->figure[f].value, sizeof(double));
        assert_int_equal(b->construction.how[f], a->figure[f].how);
    }
    same_construction(&a->construction, &b->construction);
}

static void same_curve(const ww_curve *a, const ww_curve *b) {
    same_meta(&a->meta, &b->meta);
    SAME(exposure);
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        same_channel(&a->channel[c], &b->channel[c]);
    SAME(speed.standard);
    same_quantity(&a->speed.exact, &b->speed.exact);
    SAME(speed.arithmetic);
    SAME(speed.degrees);
    same_optional(&a->speed.density_difference, &b->speed.density_difference);
    SAME(speed.condition_met);
    same_optional(&a->speed.delta_x, &b->speed.delta_x);
    SAME(crossover.found);
    same_quantity(&a->crossover.worst_cc, &b->crossover.worst_cc);
    SAME(crossover.channel);
    SAME(crossover.at);
    SAME(crossover.from);
    SAME(crossover.to);
    SAME(crossover.middle);
    assert_int_equal(a->notes.n, b->notes.n);
    for (size_t i = 0; i < a->notes.n; i++)
        same_text(a->notes.text[i], b->notes.text[i]);
}

/* Source: definition ("other commands read it back without loss"), under a decimal comma as well.
 */
static void survives_a_round(void **state) {
    ww_curve curve = WW_CURVE_INIT;
    (void)state;
    fill_curve(&curve);
    curve.channel[WW_GREEN].construction.run_from = 0.0; /* gamma is absent, so are its ends */
    curve.channel[WW_GREEN].construction.run_to = 0.0;
    curve.channel[WW_GREEN].construction.run_density_from = 0.0;
    for (int comma = 0; comma <= 1; comma++) {
        ww_curve back = WW_CURVE_INIT;
        char *first = NULL, *second = NULL;
        size_t n_first = 0, n_second = 0;
        ww_error err = WW_ERROR_INIT;
        if (comma && !test_comma_locale())
            break;
        test_status("text", ww_curve_file_text(&curve, &first, &n_first, &err), WW_OK, &err);
        test_status("parse", ww_curve_file_parse("c.json", first, n_first, &back, &err), WW_OK,
                    &err);
        same_curve(&curve, &back);
        test_status("again", ww_curve_file_text(&back, &second, &n_second, &err), WW_OK, &err);
        assert_int_equal(n_first, n_second);
        assert_string_equal(first, second);
        free(first);
        free(second);
        ww_curve_release(&back);
    }
    ww_curve_release(&curve);
}

static void survives_from_a_document_of_another_hand(void **state) {
    ww_curve curve = WW_CURVE_INIT, back = WW_CURVE_INIT;
    char *text = NULL;
    size_t n = 0;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status(
        "parse",
        ww_curve_file_parse("c.json", curve_document, sizeof curve_document - 1, &curve, &err),
        WW_OK, &err);
    test_status("text", ww_curve_file_text(&curve, &text, &n, &err), WW_OK, &err);
    test_status("parse", ww_curve_file_parse("c.json", text, n, &back, &err), WW_OK, &err);
    same_curve(&curve, &back);
    free(text);
    ww_curve_release(&back);
    ww_curve_release(&curve);
}

static json_t *document_of(const ww_curve *curve) {
    char *text = NULL;
    size_t n = 0;
    json_t *document;
    ww_error err = WW_ERROR_INIT;
    test_status("text", ww_curve_file_text(curve, &text, &n, &err), WW_OK, &err);
    assert_int_equal(n, strlen(text));
    assert_int_equal(text[n - 1], '\n');
    document = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(document);
    free(text);
    return document;
}

/* Source: the description of the curve file, whose keys are fixed. */
static void writes_every_fixed_key(void **state) {
    static const char *const top[] = {
        "wedgework",        "kind",     "name",          "material", "process",
        "density",          "status",   "exposure_unit", "contrast", "exposure_time",
        "development_time", "channels", "speed",         "notes"};
    static const char *const below[] = {"model",         "parameters",       "covariance",
                                        "domain",        "points",           "residual_sd",
                                        "suspect",       "base_fog",         "dmax",
                                        "gamma",         "average_gradient", "contrast_index",
                                        "density_range", "exposure_range",   "speed_point",
                                        "iso_range",     "paper_speed"};
    ww_curve curve = WW_CURVE_INIT;
    const json_t *channel;
    json_t *document;
    (void)state;
    curve.channel[WW_GREEN].present = true;
    document = document_of(&curve);
    for (size_t i = 0; i < sizeof top / sizeof top[0]; i++)
        test_true(top[i], json_object_get(document, top[i]) != NULL);
    channel = json_object_get(json_object_get(document, "channels"), "green");
    for (size_t i = 0; i < sizeof below / sizeof below[0]; i++)
        test_true(below[i], json_object_get(channel, below[i]) != NULL);
    assert_int_equal(json_object_size(json_object_get(document, "channels")), 1);
    assert_true(json_is_null(json_object_get(document, "speed")));
    assert_true(json_is_null(json_object_get(document, "name")));
    assert_true(json_is_null(json_object_get(channel, "gamma")));
    assert_true(json_is_null(json_object_get(channel, "domain")));
    test_text("not said is relative", json_string_value(json_object_get(document, "exposure_unit")),
              "relative");
    assert_null(json_object_get(document, "lot"));
    json_decref(document);
    ww_curve_release(&curve);
}

static void writes_what_the_curve_says(void **state) {
    ww_curve curve = WW_CURVE_INIT;
    const json_t *channel, *item;
    json_t *document;
    (void)state;
    fill_channel(&curve.channel[WW_GREEN], WW_MODEL_LOGISTIC, 5);
    curve.speed = (ww_speed){.standard = WW_SPEED_ISO_6,
                             .exact = {118.3, 110.0, 127.0, WW_FITTED},
                             .arithmetic = 125,
                             .degrees = 22,
                             .density_difference = {true, 0.78},
                             .condition_met = true};
    document = document_of(&curve);
    channel = json_object_get(json_object_get(document, "channels"), "green");
    item = json_object_get(channel, "average_gradient");
    assert_int_equal(json_array_size(json_object_get(item, "between")), 2);
    test_close("between", json_number_value(json_array_get(json_object_get(item, "between"), 1)),
               -2.1, 0.0);
    test_text("how", json_string_value(json_object_get(item, "how")), "given");
    item = json_array_get(json_object_get(channel, "points"), 4);
    assert_int_equal(json_array_size(item), 3);
    assert_true(json_is_null(json_array_get(item, 1))); /* over: there is no density */
    item = json_array_get(json_object_get(channel, "suspect"), 0);
    test_text("step", json_string_value(json_object_get(item, "step")), "repeated label");
    test_text("cause", json_string_value(json_object_get(item, "cause")), "skipped");
    item = json_object_get(document, "speed");
    test_text("standard", json_string_value(json_object_get(item, "standard")), "ISO 6");
    test_close("exact", json_number_value(json_object_get(item, "exact")), 118.3, 0.0);
    assert_int_equal(json_integer_value(json_object_get(item, "arithmetic")), 125);
    assert_int_equal(json_integer_value(json_object_get(item, "degrees")), 22);
    item = json_object_get(item, "condition");
    test_close("gain", json_number_value(json_object_get(item, "density_difference")), 0.78, 0.0);
    assert_true(json_is_true(json_object_get(item, "met")));
    json_decref(document);
    ww_curve_release(&curve);
}

static void refuses_what_no_reader_could_take(void **state) {
    ww_curve curve = WW_CURVE_INIT;
    char *text = NULL;
    size_t n = 77;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    fill_curve(&curve);
    curve.channel[WW_RED].figure[WW_FIGURE_GAMMA].high = (double)NAN;
    test_status("NaN", ww_curve_file_text(&curve, &text, &n, &err), WW_EDOMAIN, &err);
    curve.channel[WW_RED].figure[WW_FIGURE_GAMMA].high = 9.0;
    curve.channel[WW_BLUE].covariance[3] = (double)INFINITY;
    test_status("infinite", ww_curve_file_text(&curve, &text, &n, &err), WW_EDOMAIN, &err);
    curve.channel[WW_BLUE].covariance[3] = 0.0;
    curve.meta.name[0] = (char)0xFC;
    test_status("Latin-1", ww_curve_file_text(&curve, &text, &n, &err), WW_EDOMAIN, &err);
    test_status("no record", ww_curve_file_text(&curve, &text, &n, NULL), WW_EDOMAIN, NULL);
    assert_null(text);
    assert_int_equal(n, 77);
    ww_curve_release(&curve);
}

static void writes_files_whole_or_not_at_all(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "c.json");
    char *nowhere = test_path(folder, "no/folder.json");
    ww_curve curve = WW_CURVE_INIT, back = WW_CURVE_INIT;
    ww_error err = WW_ERROR_INIT;
    char *bytes;
    size_t n;
    (void)state;
    fill_curve(&curve);
    test_status("nowhere", ww_curve_file_write(&curve, nowhere, &err), WW_ESYSTEM, &err);
    test_file_write(path, "old");
    curve.channel[WW_RED].residual_sd = (double)NAN;
    test_status("NaN", ww_curve_file_write(&curve, path, &err), WW_EDOMAIN, &err);
    bytes = test_file_read(path, &n);
    test_text("the old file", bytes, "old");
    free(bytes);
    curve.channel[WW_RED].residual_sd = 0.0;
    test_status("write", ww_curve_file_write(&curve, path, &err), WW_OK, &err);
    test_status("read", ww_curve_file_read(path, &back, &err), WW_OK, &err);
    assert_int_equal(back.channel[WW_BLUE].shape.n, 24);
    assert_int_equal(test_folder_count(folder), 1);
    ww_curve_release(&back);
    ww_curve_release(&curve);
    free(nowhere);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(survives_a_round),
        cmocka_unit_test(survives_from_a_document_of_another_hand),
        cmocka_unit_test(writes_every_fixed_key),
        cmocka_unit_test(writes_what_the_curve_says),
        cmocka_unit_test(refuses_what_no_reader_could_take),
        cmocka_unit_test(writes_files_whole_or_not_at_all),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
