/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <string.h>
#include <wedgework/number.h>
#include <wedgework/readings.h>

static const double repeats_most = 0.05; /* D apart: no instrument reads one step so */

/* Whether two rows of one step cannot be of the same; the column in which they differ. */
static bool differ(const ww_row *a, const ww_row *b, size_t *column) {
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        if (a->cell[c].state == WW_CELL_VALUE && b->cell[c].state == WW_CELL_VALUE &&
            fabs(a->cell[c].value - b->cell[c].value) > repeats_most) {
            *column = c;
            return true;
        }
    return false;
}

static ww_status refuse(const ww_readings *wedge, const ww_row *row, const ww_row *before,
                        size_t column, ww_error *err) {
    char density[32], had[32];
    return ww_error_set_at(
        err, WW_EMISMATCH, wedge->file, row->line,
        "step '%.40s' stands there twice, with densities %s and %s (line %zu), "
        "which are no repeats of one step; give every step its own label",
        row->step, ww_number_format(row->cell[column].value, 3, density, sizeof density),
        ww_number_format(before->cell[column].value, 3, had, sizeof had), before->line);
}

ww_status ww_readings_check_wedge(const ww_readings *wedge, ww_error *err) {
    assert(wedge);
    const ww_material material = wedge->meta.material;
    size_t column = 0;
    if (material != WW_MATERIAL_UNKNOWN && material != WW_MATERIAL_WEDGE)
        return ww_error_set_at(err, WW_EMISMATCH, wedge->file, 0,
                               "these are readings of a %s, not the densities of a wedge; give the "
                               "wedge's own file, or put '# material: wedge' into this one if it "
                               "is one",
                               ww_material_name(material));
    for (size_t i = 0; i < wedge->n; i++)
        for (size_t k = 0; k < i && !wedge->row[i].is_base; k++)
            if (!wedge->row[k].is_base && wedge->row[i].step[0] != '\0' &&
                strcmp(wedge->row[i].step, wedge->row[k].step) == 0 &&
                differ(&wedge->row[i], &wedge->row[k], &column))
                return refuse(wedge, &wedge->row[i], &wedge->row[k], column, err);
    return WW_OK;
}
