/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <wedgework/ramp.h>

enum { COLOURS = 3 };
static const double alike = 1e-4;      /* of the scale: controls of a gray, as files round them */
static const double share_most = 0.01; /* drive of 1 %: the most that shares of 1 come to */

typedef struct kind {
    const char *name;
    ww_column first; /* of one column, or of three side by side */
    size_t columns;
    bool percent;
} kind;

static const kind kinds[] = {
    [WW_RAMP_NONE] = {"none", WW_COLUMN_VALUE, 0, false},
    [WW_RAMP_VALUE] = {"value", WW_COLUMN_VALUE, 1, false},
    [WW_RAMP_GRAY] = {"gray", WW_COLUMN_GRAY, 1, true},
    [WW_RAMP_VALUES] = {"value_red, value_green, value_blue", WW_COLUMN_VALUE_RED, COLOURS, false},
    [WW_RAMP_COLOURANTS] = {"cyan, magenta, yellow", WW_COLUMN_CYAN, COLOURS, true},
};
enum { KINDS = sizeof kinds / sizeof kinds[0] };

static bool is_sent(const ww_cell *cell) {
    return cell->state == WW_CELL_VALUE && cell->value != 0.0;
}

/* Another colourant in the row makes it no step of the scale. */
static bool is_mixed(const ww_row *row, ww_ramp ramp) {
    if (ramp == WW_RAMP_COLOURANTS)
        return is_sent(&row->cell[WW_COLUMN_GRAY]);
    return ramp == WW_RAMP_GRAY &&
           (is_sent(&row->cell[WW_COLUMN_CYAN]) || is_sent(&row->cell[WW_COLUMN_MAGENTA]) ||
            is_sent(&row->cell[WW_COLUMN_YELLOW]));
}

static double drive_of(const kind *k, double control) {
    return k->percent ? control / 100.0 : 1.0 - control;
}

ww_optional ww_ramp_drive(const ww_readings *readings, ww_ramp ramp, size_t row) {
    assert(readings && row < readings->n && (size_t)ramp < KINDS);
    const kind *k = &kinds[ramp];
    const ww_row *r = &readings->row[row];
    const ww_cell *cell = &r->cell[k->first];
    if (ramp == WW_RAMP_NONE)
        return (ww_optional){false, 0.0};
    if (r->is_base)
        return (ww_optional){true, 0.0};
    for (size_t c = 0; c < k->columns; c++)
        if (cell[c].state != WW_CELL_VALUE ||
            fabs(drive_of(k, cell[c].value) - drive_of(k, cell[0].value)) > alike)
            return (ww_optional){false, 0.0};
    if (is_mixed(r, ramp))
        return (ww_optional){false, 0.0};
    return (ww_optional){true, drive_of(k, cell[0].value)};
}

ww_ramp ww_ramp_find(const ww_readings *readings) {
    assert(readings);
    ww_ramp found = WW_RAMP_NONE;
    size_t most = 0;
    for (size_t i = WW_RAMP_VALUE; i < KINDS; i++) {
        size_t n = 0;
        for (size_t row = 0; row < readings->n; row++) {
            const ww_optional drive = ww_ramp_drive(readings, (ww_ramp)i, row);
            n += drive.set && !readings->row[row].is_base && drive.value != 0.0;
        }
        if (n > most) {
            most = n;
            found = (ww_ramp)i;
        }
    }
    return found;
}

double ww_ramp_control(ww_ramp ramp, double drive) {
    assert((size_t)ramp < KINDS);
    return kinds[ramp].percent ? 100.0 * drive : 1.0 - drive;
}

const char *ww_ramp_name(ww_ramp ramp) {
    assert((size_t)ramp < KINDS);
    return kinds[ramp].name;
}

const char *ww_ramp_unit(ww_ramp ramp) {
    assert((size_t)ramp < KINDS);
    return kinds[ramp].percent ? "%" : "";
}

ww_status ww_ramp_check(const ww_readings *readings, ww_ramp ramp, ww_error *err) {
    assert(readings && (size_t)ramp < KINDS);
    size_t n = 0, at = 0;
    double most = 0.0;
    for (size_t i = 0; i < readings->n && kinds[ramp].percent; i++) {
        const ww_optional drive = ww_ramp_drive(readings, ramp, i);
        if (!drive.set || !(drive.value > 0.0))
            continue;
        n++;
        at = drive.value > most ? i : at;
        most = fmax(most, drive.value);
    }
    if (n < 2 || most > share_most)
        return WW_OK;
    return ww_error_set_at(
        err, WW_EDOMAIN, readings->file, readings->row[at].line,
        "%s is %g here, the most of the scale, and 100 %% is full tone; if these "
        "are shares of 1, write 100 times as much",
        ww_ramp_name(ramp), ww_ramp_control(ramp, most));
}
