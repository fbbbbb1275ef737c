/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/readings.h>

/* A wedge's steps, sorted by label for looking up. */
typedef struct wedge_steps {
    const ww_row **row;
    size_t n;
    bool exposed; /* the file says what each step got, or what it was exposed through; */
    ww_channel
        channel; /* else each step's density in this channel is what it was exposed through */
} wedge_steps;

static int by_label(const void *a, const void *b) {
    const ww_row *const *left = a;
    const ww_row *const *right = b;
    return strcmp((*left)->step, (*right)->step);
}

static int label_against(const void *label, const void *entry) {
    const ww_row *const *row = entry;
    return strcmp(label, (*row)->step);
}

static ww_status wedge_channel(const ww_readings *wedge, ww_channel *channel, ww_error *err) {
    size_t n = 0;
    ww_channel found = WW_VISUAL;
    for (int c = WW_RED; c < WW_CHANNEL_COUNT; c++) {
        if (wedge->has[c]) {
            found = (ww_channel)c;
            n++;
        }
    }
    if (wedge->has[WW_VISUAL])
        found = WW_VISUAL;
    else if (n != 1)
        return ww_error_set_at(err, WW_ENODATA, wedge->file, 0,
                               n == 0 ? "the wedge has no density column; add visual"
                                      : "the wedge has several density columns and no visual; keep "
                                        "the one for the light that exposed the material");
    *channel = found;
    return WW_OK;
}

static ww_status check_step(const ww_readings *wedge, const wedge_steps *steps, const ww_row *row,
                            ww_error *err) {
    if (steps->exposed && !row->exposure.set)
        return ww_error_set_at(err, WW_ENODATA, wedge->file, row->line,
                               "step '%.40s' has no %s; add what it got", row->step,
                               ww_exposure_column_name(wedge->exposure));
    if (!steps->exposed && row->cell[steps->channel].state != WW_CELL_VALUE)
        return ww_error_set_at(err, WW_ENODATA, wedge->file, row->line,
                               "wedge step '%.40s' has no %s density; read it again", row->step,
                               ww_channel_name(steps->channel));
    return WW_OK;
}

static ww_status sort_wedge(const ww_readings *wedge, wedge_steps *steps, ww_error *err) {
    steps->exposed = wedge->exposure != WW_EXPOSURE_NONE;
    ww_status status = steps->exposed ? WW_OK : wedge_channel(wedge, &steps->channel, err);
    if (status != WW_OK)
        return status;
    if (wedge->n == 0)
        return ww_error_set_at(err, WW_ENODATA, wedge->file, 0, "the wedge has no steps");
    steps->row = calloc(wedge->n, sizeof *steps->row);
    if (steps->row == NULL)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu wedge steps", wedge->n);
    for (size_t i = 0; i < wedge->n; i++) {
        const ww_row *row = &wedge->row[i];
        if (row->is_base)
            continue;
        status = check_step(wedge, steps, row, err);
        if (status != WW_OK)
            return status;
        steps->row[steps->n++] = row;
    }
    qsort(steps->row, steps->n, sizeof *steps->row, by_label);
    for (size_t i = 1; i < steps->n; i++)
        if (strcmp(steps->row[i - 1]->step, steps->row[i]->step) == 0)
            return ww_error_set_at(err, WW_EMISMATCH, wedge->file, steps->row[i]->line,
                                   "wedge step '%.40s' stands there twice; give every step its own "
                                   "label, or average the repeats first",
                                   steps->row[i]->step);
    return WW_OK;
}

/* Finds each row's step; counts the steps that were met, whatever the number of repeats. */
static ww_status match_steps(const ww_readings *readings, const ww_readings *wedge,
                             const wedge_steps *steps, const ww_row **found, ww_error *err) {
    bool *met = calloc(steps->n + 1, sizeof *met);
    if (met == NULL)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu wedge steps", steps->n);
    ww_status status = WW_OK;
    const char *wedge_name = wedge->file != NULL ? wedge->file : "the wedge";
    for (size_t i = 0; i < readings->n && status == WW_OK; i++) {
        const ww_row *row = &readings->row[i];
        if (row->is_base)
            continue;
        const ww_row **at =
            bsearch(row->step, steps->row, steps->n, sizeof *steps->row, label_against);
        if (at == NULL) {
            status =
                ww_error_set_at(err, WW_EMISMATCH, readings->file, row->line,
                                "step '%.40s' is not in %.200s (%zu steps); use the same labels "
                                "in both files",
                                row->step, wedge_name, steps->n);
        } else {
            found[i] = *at;
            met[at - steps->row] = true;
        }
    }
    for (size_t i = 0; i < steps->n && status == WW_OK; i++)
        if (!met[i])
            status =
                ww_error_set_at(err, WW_EMISMATCH, readings->file, 0,
                                "step '%.40s' of %.200s (%zu steps) was not read; add its row, "
                                "with - where it could not be read",
                                steps->row[i]->step, wedge_name, steps->n);
    free(met);
    return status;
}

static void add_exposures(ww_readings *readings, const ww_readings *wedge, const wedge_steps *steps,
                          const ww_row *const found[]) {
    for (size_t i = 0; i < readings->n; i++)
        if (found[i])
            readings->row[i].exposure =
                steps->exposed ? found[i]->exposure
                               : (ww_optional){true, found[i]->cell[steps->channel].value};
    readings->exposure = steps->exposed ? wedge->exposure : WW_EXPOSURE_WEDGE;
    /* Exposures are told of the strip itself; a wedge's material and density are its own. */
    if (steps->exposed && readings->meta.material == WW_MATERIAL_UNKNOWN)
        readings->meta.material = wedge->meta.material;
    if (steps->exposed && readings->meta.density == WW_DENSITY_UNKNOWN)
        readings->meta.density = wedge->meta.density;
    if (wedge->meta.wedge != WW_WEDGE_UNKNOWN)
        readings->meta.wedge = wedge->meta.wedge;
    if (wedge->meta.wedge_sd.set)
        readings->meta.wedge_sd = wedge->meta.wedge_sd;
}

/* What the wedge's reader found worth saying goes with the exposures. */
static ww_status add_notes(ww_readings *readings, const ww_readings *wedge, ww_error *err) {
    ww_notes made = WW_NOTES_INIT;
    ww_status status = ww_notes_copy(&readings->notes, &made, err);
    if (status == WW_OK)
        status = ww_notes_copy_of(&wedge->notes, "of the exposures", &made, err);
    if (status == WW_OK) {
        ww_notes_release(&readings->notes);
        readings->notes = made;
    } else {
        ww_notes_release(&made);
    }
    return status;
}

ww_status ww_readings_through(ww_readings *readings, const ww_readings *wedge, ww_error *err) {
    assert(readings != NULL && wedge != NULL);
    if (readings->exposure != WW_EXPOSURE_NONE)
        return ww_error_set_at(err, WW_EMISMATCH, readings->file, 0,
                               "the readings have their exposure in the column %s already; take "
                               "that column out, or leave the wedge file out",
                               ww_exposure_column_name(readings->exposure));
    wedge_steps steps = {.channel = WW_VISUAL};
    const ww_row **found = NULL;
    ww_status status = sort_wedge(wedge, &steps, err);
    if (status == WW_OK) {
        found = calloc(readings->n + 1, sizeof *found);
        if (found == NULL)
            status = ww_error_set(err, WW_EMEMORY, "no memory for %zu rows", readings->n);
    }
    if (status == WW_OK)
        status = match_steps(readings, wedge, &steps, found, err);
    if (status == WW_OK)
        status = add_notes(readings, wedge, err);
    if (status == WW_OK)
        add_exposures(readings, wedge, &steps, found);
    free(found);
    free(steps.row);
    return status;
}
