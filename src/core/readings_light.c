/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <wedgework/readings_light.h>
#include <wedgework/viewing.h>

static double of_luminance(double luminance, double white) {
    return luminance > 0.0 ? log10(white / luminance) : HUGE_VAL;
}

static double of_lightness(double lightness, double unused) {
    double density = HUGE_VAL;
    (void)unused;
    return ww_viewing_density(lightness, &density, NULL) == WW_OK ? density : HUGE_VAL;
}

static double greatest(const ww_readings *readings, ww_column column) {
    double most = 0.0;
    for (size_t i = 0; i < readings->n; i++) {
        const ww_cell *cell = &readings->row[i].cell[column];
        if (cell->state == WW_CELL_VALUE)
            most = fmax(most, cell->value);
    }
    return most;
}

/* The sd is what the light's own makes of the density, towards more light: there always is more. */
static ww_cell density_of(const ww_cell *light, double (*of)(double, double), double white,
                          double sd) {
    ww_cell made = *light;
    if (light->state != WW_CELL_VALUE)
        return made;
    made.value = of(light->value, white);
    if (!isfinite(made.value))
        return (ww_cell){.state = WW_CELL_OVER, .n = light->n};
    const double brighter = of(light->value + (light->sd.set ? light->sd.value : sd), white);
    made.sd = (ww_optional){true, made.value - brighter};
    return made;
}

ww_light ww_readings_light(ww_readings *readings) {
    assert(readings);
    const bool luminance = readings->has[WW_COLUMN_LUMINANCE];
    const ww_column column = luminance ? WW_COLUMN_LUMINANCE : WW_COLUMN_LAB_L;
    if (readings->has[WW_COLUMN_VISUAL] || !readings->has[column])
        return WW_LIGHT_NONE;
    const double white = greatest(readings, column);
    for (size_t i = 0; i < readings->n; i++) {
        const ww_cell *light = &readings->row[i].cell[column];
        readings->row[i].cell[WW_COLUMN_VISUAL] =
            density_of(light, luminance ? of_luminance : of_lightness, white,
                       luminance ? WW_LUMINANCE_SD * light->value : WW_LIGHTNESS_SD);
    }
    readings->has[WW_COLUMN_VISUAL] = true;
    if (luminance || readings->meta.material == WW_MATERIAL_SCREEN)
        readings->meta.relative = WW_RELATIVE_WHITE;
    return luminance ? WW_LIGHT_LUMINANCE : WW_LIGHT_LIGHTNESS;
}
