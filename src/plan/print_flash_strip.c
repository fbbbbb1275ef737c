/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_flash.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

void ww__flash_strip_release(ww__flash_strip *strip) {
    free(strip->step);
    *strip = (ww__flash_strip){.step = NULL};
}

static ww_status check_kind(const ww_readings *readings, ww_error *err) {
    const ww_status status = ww__print_readings_check(readings, "a flash strip", err);
    if (status != WW_OK)
        return status;
    if (readings->exposure != WW_EXPOSURE_TIME)
        return ww_error_set_at(err, WW_EMISMATCH, readings->file, 0,
                               "a flash strip gives the seconds of each flash in a column 'time'");
    return WW_OK;
}

static int by_time(const void *left, const void *right) {
    const ww__flash_step *a = left, *b = right;
    return (a->time_s > b->time_s) - (a->time_s < b->time_s);
}

/* Steps of one time are one step. */
static void merge_times(ww__flash_strip *strip) {
    size_t kept = 0;
    for (size_t i = 0; i < strip->n; kept++) {
        const ww__flash_step first = strip->step[i];
        double sum = 0.0, squares = 0.0, n = 0.0;
        for (; i < strip->n && !(strip->step[i].time_s > first.time_s); i++) {
            sum += strip->step[i].net;
            squares += strip->step[i].error * strip->step[i].error;
            n += 1.0;
        }
        strip->step[kept] = (ww__flash_step){first.time_s, sum / n, sqrt(squares) / n, 0.0};
    }
    strip->n = kept;
}

/* Which steps are flashes that were read: not the white, nor those beyond the instrument. */
static ww_status gather(const ww_readings *pooled, ww_channel channel, ww__flash_strip *strip,
                        ww_error *err) {
    double white = 0.0, error = 0.0;
    if (!ww__print_readings_white(pooled, channel, &white, &error))
        return ww_error_set_at(err, WW_ENODATA, pooled->file, 0,
                               "a flash is judged by what it leaves on paper white, which is not "
                               "here; read it in a row 'base', or say that the readings are "
                               "relative to white");
    strip->step = calloc(pooled->n, sizeof *strip->step);
    if (!strip->step)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu steps", pooled->n);
    for (size_t i = 0; i < pooled->n; i++) {
        const ww_row *row = &pooled->row[i];
        const ww_cell *cell = &row->cell[channel];
        if (row->is_base || !row->exposure.set || cell->state != WW_CELL_VALUE)
            continue;
        if (!(row->exposure.value > 0.0 && isfinite(row->exposure.value)))
            return ww_error_set_at(err, WW_EDOMAIN, pooled->file, row->line,
                                   "a flash takes more than 0 s; call bare paper 'base'");
        strip->step[strip->n++] = (ww__flash_step){row->exposure.value, cell->value - white,
                                                   hypot(ww_readings_error(cell), error), 0.0};
    }
    if (strip->n == 0)
        return ww_error_set_at(err, WW_ENODATA, pooled->file, 0,
                               "no step of the flash strip has a density; read its steps");
    qsort(strip->step, strip->n, sizeof *strip->step, by_time);
    merge_times(strip);
    return WW_OK;
}

/*
 * More light leaves no less density: where readings fall, they are replaced by their mean, from the
 * left, until none falls (least squares under that order; Source: textbook, pool of adjacent
 * violators).
 */
static ww_status hold_order(ww__flash_strip *strip, ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < strip->n; i++) {
        size_t from = i;
        double weight = 0.0, sum = 0.0;
        strip->step[i].held = strip->step[i].net;
        while (from > 0 && strip->step[from - 1].held > strip->step[i].held) {
            const double level = strip->step[from - 1].held;
            while (from > 0 && !(strip->step[from - 1].held < level))
                from--;
            weight = sum = 0.0;
            for (size_t k = from; k <= i; k++) {
                const double w = 1.0 / (strip->step[k].error * strip->step[k].error);
                weight += w;
                sum += w * strip->step[k].net;
            }
            for (size_t k = from; k <= i; k++)
                strip->step[k].held = sum / weight;
        }
    }
    for (size_t i = 1; i < strip->n && status == WW_OK; i++) {
        const ww__flash_step *a = &strip->step[i - 1], *b = &strip->step[i];
        if (a->net - b->net > 2.0 * hypot(a->error, b->error))
            status = ww__print_say(notes, err,
                                   "The flash strip reads %.2f over white at %g s and less, %.2f, "
                                   "at %g s: one of them is wrong, and their mean is used; read "
                                   "both again.",
                                   a->net, a->time_s, b->net, b->time_s);
    }
    return status;
}

/* Where the held densities pass the least visible grey, in proportion to log time. */
static void find_flash(ww__flash_strip *strip) {
    const ww__flash_step *step = strip->step;
    size_t over = 0;
    while (over < strip->n && step[over].held < WW__FLASH_GREY)
        over++;
    if (over == 0 || over == strip->n) {
        strip->finds = over == 0 ? WW__FLASH_ALL_GREY : WW__FLASH_ALL_WHITE;
        return;
    }
    const ww__flash_step *a = &step[over - 1], *b = &step[over];
    const double share = (WW__FLASH_GREY - a->held) / (b->held - a->held);
    strip->finds = WW__FLASH_FOUND;
    strip->under_s = a->time_s;
    strip->over_s = b->time_s;
    strip->time_s = a->time_s * pow(b->time_s / a->time_s, share);
}

double ww__flash_strip_net(const ww__flash_strip *strip, double time_s, double *error) {
    const ww__flash_step *step = strip->step;
    size_t over = 0;
    assert(strip->n > 0);
    while (over < strip->n && step[over].time_s < time_s)
        over++;
    const ww__flash_step *b = &step[over < strip->n ? over : strip->n - 1];
    const ww__flash_step *a = over > 0 && over < strip->n ? b - 1 : b;
    const double share = a < b ? log(time_s / a->time_s) / log(b->time_s / a->time_s) : 0.0;
    *error = a->error + (b->error - a->error) * share;
    return a->held + (b->held - a->held) * share;
}

static ww_status read_into(const ww_readings *readings, ww_readings *pooled, ww__flash_strip *strip,
                           ww_notes *notes, ww_error *err) {
    ww_channel channel = WW_VISUAL;
    ww_status status = check_kind(readings, err);
    if (status == WW_OK)
        status = ww_readings_pool(readings, pooled, err);
    if (status == WW_OK)
        status = ww_readings_black_and_white_channel(pooled, &channel, err);
    if (status == WW_OK)
        status = gather(pooled, channel, strip, err);
    if (status == WW_OK)
        status = hold_order(strip, notes, err);
    if (status == WW_OK)
        find_flash(strip);
    return status;
}

ww_status ww__flash_strip_read(const ww_readings *readings, ww__flash_strip *strip, ww_notes *notes,
                               ww_error *err) {
    ww_readings pooled = WW_READINGS_INIT;
    ww__flash_strip made = {.step = NULL};
    const ww_status status = read_into(readings, &pooled, &made, notes, err);
    ww_readings_release(&pooled);
    if (status == WW_OK)
        *strip = made;
    else
        ww__flash_strip_release(&made);
    return status;
}
