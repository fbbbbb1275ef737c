/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_READINGS_COLUMNS_H
#define WEDGEWORK_IO_READINGS_COLUMNS_H

#include <stdbool.h>
#include <wedgework/readings.h>

/* What a column of a file is for. */
typedef enum ww__role {
    WW__ROLE_SKIP,
    WW__ROLE_UNNAMED, /* no heading: only empty cells are allowed under it */
    WW__ROLE_STEP,
    WW__ROLE_TONE,
    WW__ROLE_PART,
    WW__ROLE_PACK,
    WW__ROLE_WIDTH,
    WW__ROLE_EXPOSURE, /* which: ww_exposure_column */
    WW__ROLE_CELL,     /* which: ww_column; so too for the sd and the number of one column */
    WW__ROLE_SD,
    WW__ROLE_N,
    WW__ROLE_SD_ALL,
    WW__ROLE_N_ALL,
    /* Of a spectrum, in CGATS alone; no column of a table. */
    WW__ROLE_WAVELENGTH, /* [nm] of the next value */
    WW__ROLE_SPECTRAL,   /* value; which: its wavelength [nm], 0 where a field before it holds it */
    WW__ROLE_SPECTRAL_PART, /* the same, said to be a part of 1 or percent */
    WW__ROLE_SPECTRAL_PERCENT
} ww__role;

typedef struct ww__field {
    ww__role role;
    unsigned which;
    const char *name; /* as the file writes it; belongs to the header's cells */
} ww__field;

/* The role of a column by its name in our own tables; false where there is no such column. */
bool ww__columns_find(const char *name, ww__field *field);

/* The name that was probably meant, or NULL. */
const char *ww__columns_suggest(const char *name);

/* Range of values that can be true of a column, and what kind of number it is. */
typedef struct ww__range {
    double low;
    double high;
    const char *what; /* "density", "code value" */
    bool above;       /* low itself is excluded */
    bool open;        /* so wide that a thousands comma would go unnoticed */
} ww__range;

ww__range ww__columns_range(const ww__field *field);

#endif
