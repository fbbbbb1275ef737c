/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/control_log.h"
#include "core/readings.h"
#include <assert.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void *ww__control_room(void **list, size_t n, size_t size) {
    void *grown = *list;
    if (n == 0 || (n & (n - 1)) == 0) {
        const size_t room = n == 0 ? 1 : 2 * n;
        grown = room > SIZE_MAX / size ? NULL : realloc(*list, room * size);
        if (!grown)
            return NULL;
        *list = grown;
    }
    memset((char *)grown + n * size, 0, size);
    return grown;
}

static void release_patch(ww_control_patch *patch) {
    free(patch->step);
    free(patch->tone);
}

ww_status ww__control_patch_add(ww_control_patches *patches, const char *step, const char *tone,
                                ww_control_patch **patch, ww_error *err) {
    ww_control_patch made = {.step = NULL};
    void *list = patches->patch;
    ww_status status = ww__readings_text_copy(step, &made.step, err);
    if (status == WW_OK)
        status = ww__readings_text_copy(tone, &made.tone, err);
    if (status == WW_OK && !ww__control_room(&list, patches->n, sizeof made))
        status = ww_error_set(err, WW_EMEMORY, "no memory for the steps of a control strip");
    patches->patch = list;
    if (status != WW_OK) {
        release_patch(&made);
        return status;
    }
    patches->patch[patches->n] = made;
    *patch = &patches->patch[patches->n++];
    return WW_OK;
}

ww_status ww__control_patches_copy(const ww_control_patches *from, ww_control_patches *to,
                                   ww_error *err) {
    ww_control_patches made = {NULL, 0};
    ww_status status = WW_OK;
    for (size_t i = 0; i < from->n && status == WW_OK; i++) {
        const ww_control_patch *one = &from->patch[i];
        ww_control_patch *patch;
        status = ww__control_patch_add(&made, one->step, one->tone, &patch, err);
        if (status != WW_OK)
            break;
        memcpy(patch->state, one->state, sizeof one->state);
        memcpy(patch->density, one->density, sizeof one->density);
        memcpy(patch->correction, one->correction, sizeof one->correction);
    }
    if (status == WW_OK)
        *to = made;
    else
        ww_control_patches_release(&made);
    return status;
}

const ww_control_patch *ww__control_patch_find(const ww_control_patches *patches,
                                               const char *step) {
    for (size_t i = 0; i < patches->n; i++)
        if (strcmp(patches->patch[i].step, step) == 0)
            return &patches->patch[i];
    return NULL;
}

void ww_control_patches_release(ww_control_patches *patches) {
    if (!patches)
        return;
    for (size_t i = 0; i < patches->n; i++)
        release_patch(&patches->patch[i]);
    free(patches->patch);
    *patches = (ww_control_patches){NULL, 0};
}

void ww_control_reference_release(ww_control_reference *reference) {
    if (!reference)
        return;
    free(reference->lot);
    free(reference->entered);
    ww_control_patches_release(&reference->patches);
    *reference = (ww_control_reference)WW_CONTROL_REFERENCE_INIT;
}

void ww_control_strip_release(ww_control_strip *strip) {
    if (!strip)
        return;
    free(strip->process);
    free(strip->machine);
    free(strip->lot);
    free(strip->date);
    free(strip->entered);
    free(strip->deleted);
    free(strip->why);
    ww_control_patches_release(&strip->patches);
    *strip = (ww_control_strip)WW_CONTROL_STRIP_INIT;
}

void ww_control_limits_release(ww_control_limits *limits) {
    if (!limits)
        return;
    for (size_t i = 0; i < limits->n; i++)
        free(limits->limit[i].measure);
    free(limits->limit);
    free(limits->process);
    free(limits->entered);
    *limits = (ww_control_limits)WW_CONTROL_LIMITS_INIT;
}

static void release_note(ww_control_note *note) {
    free(note->process);
    free(note->machine);
    free(note->date);
    free(note->text);
    free(note->entered);
}

static void release_baseline(ww_control_baseline *baseline) {
    free(baseline->process);
    free(baseline->machine);
    free(baseline->why);
    free(baseline->entered);
}

void ww_control_log_release(ww_control_log *log) {
    if (!log)
        return;
    for (size_t i = 0; i < log->n_references; i++)
        ww_control_reference_release(&log->reference[i]);
    for (size_t i = 0; i < log->n_strips; i++)
        ww_control_strip_release(&log->strip[i]);
    for (size_t i = 0; i < log->n_notes; i++)
        release_note(&log->note[i]);
    for (size_t i = 0; i < log->n_baselines; i++)
        release_baseline(&log->baseline[i]);
    for (size_t i = 0; i < log->n_limits; i++)
        ww_control_limits_release(&log->limits[i]);
    free(log->reference);
    free(log->strip);
    free(log->note);
    free(log->baseline);
    free(log->limits);
    free(log->file);
    *log = (ww_control_log)WW_CONTROL_LOG_INIT;
}

/* Digits at their places: reads `n` of them, -1 where there is something else. */
static int digits(const char *text, size_t n) {
    int value = 0;
    for (size_t i = 0; i < n; i++) {
        if (text[i] < '0' || text[i] > '9')
            return -1;
        value = 10 * value + (text[i] - '0');
    }
    return value;
}

static int days_of(int year, int month) {
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const bool leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    return month == 2 && leap ? 29 : days[month - 1];
}

static bool is_day(const char *text) {
    const int year = digits(text, 4);
    int month, day;
    if (year < 1900 || year > 2999 || text[4] != '-')
        return false;
    month = digits(text + 5, 2);
    if (month < 1 || month > 12 || text[7] != '-')
        return false;
    day = digits(text + 8, 2);
    return day >= 1 && day <= days_of(year, month);
}

static bool is_clock(const char *text) {
    const int hour = digits(text + 1, 2), minute = text[3] == ':' ? digits(text + 4, 2) : -1;
    return (text[0] == 'T' || text[0] == ' ') && hour >= 0 && hour < 24 && minute >= 0 &&
           minute < 60;
}

ww_status ww_control_date_check(const char *text, char date[WW_CONTROL_DATE_SIZE], ww_error *err) {
    const size_t day = 10, clock = 16, n = strlen(text);
    assert(date);
    if ((n != day && n != clock) || !is_day(text) || (n == clock && !is_clock(text + day)))
        return ww_error_set(err, WW_EINPUT,
                            "strips are put in order by date; write it as 2026-11-30, or "
                            "2026-11-30T08:15");
    snprintf(date, WW_CONTROL_DATE_SIZE, "%s", text);
    if (n == clock)
        date[day] = 'T';
    return WW_OK;
}
