/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/tones_sliders.h"
#include "results.h"
#include "support/tones_case.h"
#include <jansson.h>

static json_t *read_curves(const ww__sliders *sliders) {
    json_t *curves = json_loads(ww__text_string(&sliders->curves), 0, NULL);
    assert_non_null(curves);
    return curves;
}

static double number_at(const json_t *object, const char *key) {
    return json_number_value(json_object_get(object, key));
}

static double item(const json_t *array, size_t i) {
    return json_number_value(json_array_get(array, i));
}

/* Source: the cubic of Hermite through two values and two slopes (common numerical practice),
 * halfway: half the sum, and an eighth of the step times the difference of the slopes. */
static double halfway(const json_t *curve, size_t i) {
    const json_t *density = json_object_get(curve, "density"),
                 *slope = json_object_get(curve, "slope");
    return 0.5 * (item(density, i) + item(density, i + 1)) +
           0.125 * number_at(curve, "step") * (item(slope, i) - item(slope, i + 1));
}

/* Density by a closed form, worked out here: both are as tones_case.h says. */
static double film_form(double log_h) {
    const double darkest =
        TONES_CASE_SPEED + 2.2 + log10(2.0 * TONES_CASE_VEIL / (1.0 + TONES_CASE_VEIL));
    const double softness = 0.01, foot = darkest - 0.30 / 0.56;
    return 0.10 + 0.56 * softness * log1p(exp((log_h - foot) / softness));
}

static double paper_form(double log_h) {
    return 0.05 + 2.0 / (1.0 + exp(-5.799090 * log_h));
}

static void expect_curve(const char *name, const json_t *curve, double low, double high,
                         double (*form)(double)) {
    const size_t n = json_array_size(json_object_get(curve, "density"));
    const double step = number_at(curve, "step");
    test_true("rows", n > 1 && json_array_size(json_object_get(curve, "slope")) == n);
    test_true("step", step > 0.0 && step <= WW__TONES_SLIDERS_STEP + 1e-12);
    test_close(name, number_at(curve, "low"), low, 1e-12);
    test_close(name, low + step * (double)(n - 1), high, 1e-9);
    for (size_t i = 0; i < n; i++) {
        const double log_h = low + step * (double)i;
        test_close(name, item(json_object_get(curve, "density"), i), form(log_h), 1e-6);
        if (i + 1 < n)
            test_close("between", halfway(curve, i), form(log_h + 0.5 * step), 5e-4);
    }
}

/* The tables are the curves, between their rows too, to a tenth of 0.005 D: even at a sharp toe. */
static void tables_hold_the_curves(void **state) {
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    ww__sliders sliders = WW__SLIDERS_INIT;
    json_t *curves;
    (void)state;
    tones_case_start(&c);
    c.request.film_stops = 0.75;
    tones_case_make("tones", &c, &tones);
    assert_true(ww__tones_sliders(&tones, &sliders));
    curves = read_curves(&sliders);
    const json_t *chain = json_array_get(json_object_get(curves, "chains"), 0);
    expect_curve("film", json_object_get(chain, "film"), -4.0, 2.0, film_form);
    expect_curve("paper", json_object_get(chain, "paper"), -1.6, 1.6, paper_form);
    test_close("white without the stops more", number_at(chain, "white"), TONES_CASE_SPEED + 2.2,
               1e-9);
    test_close("asked", number_at(json_object_get(curves, "asked"), "expose"), 0.75, 0.0);
    json_decref(curves);
    ww__text_release(&sliders.section);
    ww__text_release(&sliders.curves);
    ww_tones_release(&tones);
}

/* A name is text, in the choice of films and papers alone; what the script reads has none. */
static void names_are_text(void **state) {
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    ww__sliders sliders = WW__SLIDERS_INIT;
    (void)state;
    tones_case_start(&c);
    c.film[0].meta.name = (char[]){"</script><script>x</script>"};
    tones_case_make("tones", &c, &tones);
    assert_true(ww__tones_sliders(&tones, &sliders));
    test_holds("escaped", ww__text_string(&sliders.section),
               "<option value=\"0\">&lt;/script&gt;&lt;script&gt;x&lt;/script&gt; on Heron paper");
    test_lacks("no element", ww__text_string(&sliders.section), "<script");
    test_lacks("no sign that opens one", ww__text_string(&sliders.curves), "<");
    test_lacks("nor in the script", sliders.script->text, "<");
    ww__text_release(&sliders.section);
    ww__text_release(&sliders.curves);
    ww_tones_release(&tones);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(tables_hold_the_curves),
                                       cmocka_unit_test(names_are_text)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
